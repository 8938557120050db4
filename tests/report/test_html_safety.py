import base64
import hashlib
import re
from collections import Counter
from dataclasses import replace
from importlib.resources import files
from itertools import pairwise

import pytest
from lxml import html

from checker.model import Problem, ProblemKind
from checker.report.html import report_html
from checker.result.tables import Result
from tests.contrast import contrast, of_hex
from tests.report.html_pages import circuit, mapped, page, rating, said
from tests.report.results import small_result

HOSTILE = """</title></style></script><script>alert(1)</script>"'><img src=x onerror=alert(1)><!-- &lt; -->"""
#: What the page looks at besides showing it.
KEPT = frozenset({"verdict", "worst_verdict", "unit", "created", "state", "kind_confidence", "dimension_confidence"})


def full_result() -> Result:
    """One with something in every part of the page."""
    result = small_result((0.523, 0.481, 0.31, 0.6, None, 0.4))
    rows = (circuit("C1", other={"note": "kept"}), circuit("C2", routed_by="", reason="no way"))
    found = (
        Problem("line 2", "no ends", "cells are empty", "fill them in"),
        Problem("T-001", "its size is from its name", "so it may be wrong", "give it", ProblemKind.INFERENCE, 3),
    )
    first, *others = result.carriers
    first = replace(
        first, kind_source="a word", kind_confidence="low", dimension_confidence="low", condition="existing"
    )
    left_out = (replace(first.place, tag="T-077"), replace(first.place, tag="T-078"))
    result = replace(result, carriers=(first, *others), demolished=left_out)
    result = replace(result, circuits=rows, problems=found, cautions=("First.", "Last."))
    return replace(result, ratings=(rating(carrier=result.carriers[0].key),))


def directives(tree: html.HtmlElement) -> dict[str, list[str]]:
    policy = tree.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
    return {part.split()[0]: part.split()[1:] for part in policy.split(";")}


def test_the_policy_allows_this_page_s_own_style_and_script_by_digest_and_nothing_else() -> None:
    text = report_html(full_result()).decode()
    tree = html.document_fromstring(text)

    digests = {}
    for name in ("style", "script"):
        (content,) = re.findall(rf"<{name}>(.*?)</{name}>", text, re.DOTALL)
        digests[name] = f"'sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}'"

    assert directives(tree) == {
        "default-src": ["'none'"],
        "style-src": [digests["style"]],
        "script-src": [digests["script"]],
        "img-src": ["data:"],
        "base-uri": ["'none'"],
        "form-action": ["'none'"],
    }
    heads = [element.tag for element in tree.find("head")]
    assert heads.index("style") > heads.index("meta")
    assert tree.find("head")[1].get("http-equiv") == "Content-Security-Policy"  # before all that it rules


def test_nothing_is_asked_for_from_anywhere_and_no_handler_or_style_stands_in_an_element() -> None:
    tree = page(full_result())

    for element in tree.iter():
        for attribute, value in element.attrib.items():
            assert not attribute.startswith("on")
            assert attribute not in {"style", "src", "srcset", "action", "formaction", "ping"}
            if attribute == "href":
                assert value == "data:," or value.startswith("#")
    assert tree.xpath("//iframe | //object | //embed | //form | //base") == []


def test_style_and_script_name_nothing_outside_and_cannot_end_early() -> None:
    for name in ("page.css", "page.js"):
        text = files("checker.report").joinpath(name).read_text(encoding="utf-8")
        assert not re.search(r"@import|https?:|fetch|XMLHttp|innerHTML|insertAdjacent|document\.write|eval", text)
        assert re.findall(r"url\(([^)]*)\)", text) == (['"#hatch"'] if name == "page.css" else [])
        assert "</" not in text
        assert "<!--" not in text


def test_no_text_of_the_data_can_break_out_whichever_field_it_stands_in() -> None:
    harmless = "x" * len(HOSTILE)
    tame = page(mapped(full_result(), lambda text: text + harmless, KEPT))
    wild = page(mapped(full_result(), lambda text: text + HOSTILE, KEPT))

    assert Counter(element.tag for element in wild.iter()) == Counter(element.tag for element in tame.iter())
    # every place that shows the harmless text shows the hostile one, letter by letter
    assert wild.text_content().count(HOSTILE) == tame.text_content().count(harmless) > 100


@pytest.mark.parametrize("unseen", ["\u202e", "\u2066", "\u200f", "\u061c", "\x00", "\x1b", "\x85", "\u200b", "\ufeff"])
def test_what_is_not_seen_is_shown_by_its_number(unseen: str) -> None:
    text = report_html(replace(small_result(), project_name=f"the roof{unseen}top floor")).decode()

    assert f"<h1>the roof[U+{ord(unseen):04X}]top floor</h1>" in text
    assert unseen not in text


def test_half_a_surrogate_does_not_stop_the_page() -> None:
    assert said(page(replace(small_result(), project_name="a\ud83db")).find(".//h1")) == "a[U+D83D]b"


def test_names_from_right_to_left_are_kept_apart_from_their_neighbours() -> None:
    long_name = "חדר טיפולים בקומה הראשונה"

    heading = page(replace(small_result(), project_name=long_name)).find(".//h1/bdi")

    assert said(heading) == long_name
    assert heading.get("class") == "long"  # may be broken over lines


def test_ids_are_unique_and_every_link_within_the_page_leads_somewhere() -> None:
    tree = page(full_result())
    ids = tree.xpath("//@id")

    assert len(ids) == len(set(ids))
    targets = {link[1:] for link in tree.xpath("//a/@href")}
    assert targets <= set(ids)
    assert {"main", "cautions", "todo-1", "todo-2"} <= targets


def test_tables_have_captions_and_scoped_headers_and_headings_skip_no_level() -> None:
    tree = page(full_result())
    levels = [int(heading.tag[1]) for heading in tree.xpath("//h1 | //h2 | //h3 | //h4")]

    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(below - above <= 1 for above, below in pairwise(levels))
    for table in tree.iter("table"):
        assert said(table.find("caption"))
        assert set(table.xpath("./thead/tr/th/@scope")) == {"col"}
        assert all(row[0].tag == "th" and row[0].get("scope") == "row" for row in table.xpath("./tbody/tr"))


def test_text_stands_out_in_light_in_dark_and_on_paper() -> None:
    style = files("checker.report").joinpath("page.css").read_text(encoding="utf-8")
    schemes = [
        {name: of_hex(colour) for name, colour in re.findall(r"--(\w+): (#\w{6})", root)}
        for root in re.findall(r":root \{(.*?)\}", style, re.DOTALL)
    ]

    assert len(schemes) == 3
    for colours in schemes:
        for ink in ("ink", "soft", "link", "fail"):
            for ground in ("paper", "panel"):
                assert contrast(colours[ink], colours[ground]) >= 4.5
        assert contrast(colours["rule"], colours["paper"]) >= 3.0  # frames of controls and bars
        assert contrast(colours["used"], colours["paper"]) >= 3.0

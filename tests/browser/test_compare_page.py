"""The page of a comparison in a browser: it is whole, safe, can be used by keyboard, and sorts and filters as the report does."""

from dataclasses import replace
from typing import Any

import pytest

from checker.compare.comparing import compare
from checker.compare.page import compare_html
from checker.compare.tables import Comparison
from checker.result.tables import Result
from tests.browser.opened import Opened
from tests.report.html_pages import circuit, mapped
from tests.report.results import small_result

pytestmark = pytest.mark.browser

HOSTILE = "</title><script>window.ran = 1</script><img src=x onerror='window.ran = 1'>"
KEPT = frozenset({"verdict", "worst_verdict", "unit", "created", "state"})


def two() -> tuple[Result, Result]:
    """T-001 is fixed, T-002 worse, T-003/1 better, T-003/2 known, T-004 new and wider; one circuit rerouted, one new."""
    old = small_result((0.50, 0.50, 0.50, None, 0.30, 0.20))
    new = small_result((0.40, 0.60, 0.48, 0.20, 0.50, 0.20))
    wider = replace(new.carriers[3], width_mm=150.0)
    carriers = (*new.carriers[:3], wider, *new.carriers[4:])
    way = tuple(row.key for row in old.carriers)
    return (
        replace(old, circuits=(circuit("C1", carriers=way[:2]),)),
        replace(new, carriers=carriers, circuits=(circuit("C1", carriers=way[1:3], length_m=14.0), circuit("C2"))),
    )


def show(opened: Opened, comparison: Comparison) -> None:
    path = opened.folder / "compare.html"
    path.write_bytes(compare_html(comparison))
    opened.driver.get_log("browser")
    opened.driver.get(path.as_uri())


def cells(opened: Opened, table: str, column: int) -> list[str]:
    script = "return [...document.querySelectorAll(`#${arguments[0]}-table tbody tr`)].map((r) => r.cells[arguments[1]].innerText)"
    return list(opened.run(script, table, column))


def test_the_page_opens_without_a_word_on_the_console_and_asks_for_nothing(opened: Opened) -> None:
    show(opened, compare(*two()))

    assert opened.driver.title == "Plant room: what changed"
    assert opened.driver.get_log("browser") == []
    assert opened.run("return performance.getEntriesByType('resource').map((entry) => entry.name)") == []
    assert cells(opened, "findings", 1) == ["new", "worse", "better", "fixed", "known now"]
    assert opened.marks("findings")[:2] == ["T-004, compartment 1", "T-002, compartment 1"]
    assert cells(opened, "carriers", 1) == ["resized"]
    assert cells(opened, "circuits", 1) == ["added", "rerouted"]


def test_texts_of_the_data_do_not_run_and_the_policy_stops_what_is_not_the_page_s_own(opened: Opened) -> None:
    old, new = (mapped(result, lambda text: text + HOSTILE, KEPT) for result in two())
    show(opened, compare(old, new))

    assert opened.run("return window.ran") is None
    assert opened.run("return document.images.length") == 0
    assert opened.driver.get_log("browser") == []
    opened.run("const s = document.createElement('script'); s.textContent = 'window.ran = 1'; document.body.append(s)")
    assert opened.run("return window.ran") is None
    assert "script-src" in " ".join(entry["message"] for entry in opened.driver.get_log("browser"))


def test_findings_are_filtered_and_sorted(opened: Opened) -> None:
    show(opened, compare(*two()))

    opened.choose("findings", "Change", "worse")
    assert opened.marks("findings") == ["T-002, compartment 1"]
    assert opened.count("findings") == "1 of 5 rows shown, 1 found where change is worse."
    opened.choose("findings", "Change", "all")
    opened.header("findings", "Use now, %").click()
    # 0.60, 0.50, 0.48, 0.40 and 0.20 of 0.45
    assert cells(opened, "findings", 7) == ["133.3", "111.1", "106.7", "88.9", "44.4"]


@pytest.mark.parametrize("width", [320, 1280])
def test_nothing_sticks_out_and_everything_has_a_name(opened: Opened, width: int) -> None:
    opened.look(width)
    show(opened, compare(*two()))

    assert opened.run("return document.documentElement.scrollWidth") <= width
    nameless: list[Any] = opened.run(
        "return [...document.querySelectorAll('input, select, button')].filter((e) => e.offsetParent && !(e.labels?.length) && "
        "!e.textContent.trim()).map((e) => e.outerHTML)"
    )
    assert nameless == []
    assert opened.run("return document.documentElement.lang") == "en"
    assert opened.run("return [...document.querySelectorAll('h1, h2, h3')].map((e) => e.tagName)")[:2] == ["H1", "H2"]
    assert opened.run(
        "return [...document.querySelectorAll('table')].every((t) => t.caption && t.querySelector('th[scope=row]'))"
    )
    ids = opened.run("return [...document.querySelectorAll('[id]')].map((e) => e.id)")
    assert len(ids) == len(set(ids))
    links = opened.run(
        "return [...document.querySelectorAll('nav a, a.skip')].map((a) => a.getAttribute('href').slice(1))"
    )
    assert set(links) <= set(ids)


def test_without_a_script_it_is_whole(opened: Opened) -> None:
    opened.command("Emulation.setScriptExecutionDisabled", value=True)
    show(opened, compare(*two()))

    text = opened.one("main").text
    for told in ("T-004, compartment 1", "size 100 × 50 mm → 150 × 50 mm", "now by T-003, no longer by T-001"):
        assert told in text


def test_what_is_the_same_says_so(opened: Opened) -> None:
    show(opened, compare(small_result(), small_result()))

    text = opened.one("main").text
    for what in ("findings", "carriers", "circuits"):
        assert f"Of {what} nothing changed." in text
    assert "Nothing is worse." in opened.one("header").text

"""``wayroom fit --page``: what is written, and what is refused. What the page answers is tested in tests/browser."""

import base64
import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import pytest

from checker.calculator.data import calculator_data
from checker.calculator.page import SCRIPTS, calculator_html
from checker.calculator.write import write_page
from checker.errors import InputError, OutputError
from checker.model import CarrierKind
from checker.rule.plugins import Plugins, load_plugins
from tests.contrast import contrast, of_hex
from tests.test_cli import wayroom

PLUGINS = load_plugins()
CODES = list(PLUGINS.codes.values())
#: What the rules in JavaScript may write as figures: counting, halves and roots, right angles, none to four bends, decimals that are shown,
#: per cent and the most bends that can be asked for, the longest run, how near an answer that is repeated must be, digits of a count.
PLAIN = {"0", "1", "2", "3", "4", "0.5", "9", "90", "100", "1000", "12"}


def with_strange_rule() -> Plugins:
    """A code of somebody else's, of which one kind of carrier goes by a rule that the page doesn't have."""
    ours, rule = PLUGINS.codes["iec-60364"], PLUGINS.rules["fill.area"]
    strange = replace(rule, id="crowd.conduit", kinds=frozenset({CarrierKind.CONDUIT}))
    limits = {"crowd.conduit": ours.limits["fill.area"], "fill.tray": ours.limits["fill.tray"]}
    code = replace(ours, key="strange", limits=limits)
    return replace(PLUGINS, codes={**PLUGINS.codes, "strange": code}, rules={**PLUGINS.rules, "crowd.conduit": strange})


def test_the_page_is_small_and_the_same_each_time() -> None:
    page = calculator_html(CODES, PLUGINS)

    assert page == calculator_html(CODES, PLUGINS)
    assert len(page) < 250_000


def test_the_page_asks_for_nothing_and_its_policy_lets_in_its_own_alone() -> None:
    page = calculator_html(CODES, PLUGINS).decode()

    policy = re.search(r'http-equiv="Content-Security-Policy" content="([^"]+)"', page)
    assert policy is not None
    rules = dict(part.split(" ", 1) for part in policy[1].split("; "))
    for kind in ("style", "script"):
        (content,) = re.findall(rf"<{kind}>(.*?)</{kind}>", page, re.DOTALL)
        digest = base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()
        assert rules[f"{kind}-src"] == f"'sha256-{digest}'"
    assert (rules["default-src"], rules["base-uri"], rules["form-action"]) == ("'none'", "'none'", "'none'")
    assert set(re.findall(r"https?://[^\"'\s]+", page)) == {"http://www.w3.org/2000/svg"}  # a name, not an address
    assert not re.search(r"\s(src|style|on[a-z]+)=", page.split('<script type="application/json"')[0])


def test_texts_of_the_data_do_not_end_the_element_that_they_stand_in() -> None:
    hostile = "</script><script>window.ran = 1</script>"
    code = replace(CODES[0], title=hostile, note=hostile)

    page = calculator_html([code], PLUGINS).decode()

    assert page.count("<script") == 2
    assert "&lt;/script&gt;&lt;script&gt;window.ran" in page
    (data,) = re.findall(r'<script type="application/json" id="data">(.*?)</script>', page, re.DOTALL)
    assert json.loads(data)["codes"][0]["note"] == hostile


def test_the_rules_in_the_page_have_no_figures_of_their_own() -> None:
    for script in SCRIPTS[SCRIPTS.index("data.js") : SCRIPTS.index("state.js")]:
        text = files("checker.calculator").joinpath(script).read_text(encoding="utf-8")
        bare = re.sub(r"/\*.*?\*/|//[^\n]*", "", text, flags=re.DOTALL)
        bare = re.sub(r"\$\{", "` + (", bare)  # what stands in a template is code
        bare = re.sub(r"\"[^\"\n]*\"|[A-Za-z_][\w.]*", "", bare)  # texts and names
        bare = re.sub(r"π/4|Math\.PI / 4|mm²|in²", "", bare)
        figures = set(re.findall(r"(?<![\w/])\d[\d_.]*", bare)) - PLAIN
        # words of clauses and sizes in reasons, as the rules write them: 392.22(B), 4/0 AWG, 250 to 900 kcmil
        assert figures <= {"250", "900", "392.22"}, (script, figures)


def test_all_limits_and_tables_of_the_rules_of_fill_are_those_of_the_codes() -> None:
    data = calculator_data(CODES, PLUGINS)

    for told, code in zip(data["codes"], CODES, strict=True):
        for rule in told["rules"]:
            for name, limit in code.limits[rule["id"]]:
                shown = rule["limits"][name]
                if limit is None:
                    assert shown is None
                elif "table" in shown:
                    table = data["tables"][shown["table"]]
                    assert [dict(zip(table["columns"], row, strict=True)) for row in table["rows"]] == figures_of(
                        limit.rows
                    )
                    assert table["sha256"] == limit.sha256
                else:
                    assert shown == {"value": limit.value, "basis": limit.basis.value, "cited": limit.cited}
    assert [row[0] for row in data["carriers"]] == list(PLUGINS.carriers)
    assert [row[0] for row in data["cables"]] == list(PLUGINS.cables)


def figures_of(rows: tuple[Mapping[str, str], ...]) -> list[dict[str, str]]:
    return [{key: text for key, text in row.items() if key not in {"source", "confidence"}} for row in rows]


def test_each_code_brings_answers_along_that_the_page_repeats_passes_and_fails_or_unknowns() -> None:
    known = calculator_data(CODES, PLUGINS)["known"]

    told = {(answer["asked"]["code"], answer["outcome"]) for answer in known}
    assert {
        ("bs-7671", "pass"),
        ("bs-7671", "fail"),
        ("nfpa-70", "pass"),
        ("nfpa-70", "fail"),
        ("iec-60364", "unknown"),
    } <= told
    assert all(answer["outcome"] for answer in known)  # none was asked wrongly


def test_a_code_with_a_rule_of_fill_that_the_page_lacks_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"crowd\.conduit") as refused:
        write_page(tmp_path / "page.html", "strange", with_strange_rule())

    assert "strange" in refused.value.what
    assert list(tmp_path.iterdir()) == []


def test_where_no_code_is_named_one_with_such_a_rule_is_left_out_and_that_is_said(tmp_path: Path) -> None:
    told = write_page(tmp_path / "page.html", "", with_strange_rule())

    assert "bs-7671, iec-60364, nfpa-70;" in told
    assert "Left out: strange, since the page doesn't have crowd.conduit." in told
    assert '"key":"strange"' not in (tmp_path / "page.html").read_text(encoding="utf-8")


def test_the_command_writes_the_page_of_a_code_or_of_all(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = wayroom(capsys, "fit", "--page", tmp_path / "one.html", "--code", "bs-7671")
    assert (status, err) == (0, "")
    assert f"{tmp_path / 'one.html'}: bs-7671;" in out
    assert wayroom(capsys, "fit", "--page", tmp_path / "all.html")[0] == 0
    status, _, told = wayroom(capsys, "fit", "--page", tmp_path / "page.pdf")
    assert (status, (tmp_path / "page.pdf").exists()) == (2, False)
    assert "'page.pdf' ends in none of .html, .htm" in told

    assert (tmp_path / "one.html").read_bytes() == calculator_html([PLUGINS.codes["bs-7671"]], PLUGINS)
    assert (tmp_path / "all.html").read_bytes() == calculator_html(CODES, PLUGINS)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["all.html", "one.html"]


def test_other_options_beside_the_page_are_refused_and_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, _, err = wayroom(capsys, "fit", "--page", tmp_path / "page.html", "--cable", "h07v-r-16=2", "--json")

    assert status == 2
    assert "--cable, --json" in err
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_page_is_written_over_and_nothing_else_is(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    page, other = tmp_path / "page.html", tmp_path / "notes.html"
    other.write_text("circuit,from,to\n", encoding="utf-8")

    assert wayroom(capsys, "fit", "--page", page, "--code", "bs-7671")[0] == 0
    assert wayroom(capsys, "fit", "--page", page, "--code", "nfpa-70")[0] == 0
    status, _, err = wayroom(capsys, "fit", "--page", other)

    assert b'"key":"nfpa-70"' in page.read_bytes()
    assert status == 2
    assert "no page of ours" in err
    assert other.read_text(encoding="utf-8") == "circuit,from,to\n"
    for wrong, why in ((tmp_path, "is a folder"), (tmp_path / "none" / "page.html", "no such folder")):
        status, _, err = wayroom(capsys, "fit", "--page", wrong)
        assert status == 2
        assert why in err


@pytest.mark.parametrize("name", ["a" * 300 + ".html", "loop/page.html"])
def test_a_name_that_no_file_can_have_is_told_without_a_defect(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (tmp_path / "loop").symlink_to("loop")
    status, _, err = wayroom(capsys, "fit", "--page", tmp_path / name, "--code", "bs-7671")

    assert status == 2
    assert name in err
    assert "defect" not in err
    assert [path.name for path in tmp_path.iterdir()] == ["loop"]


def test_what_can_not_be_written_whole_leaves_the_earlier_page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = tmp_path / "page.html"
    write_page(page, "bs-7671", PLUGINS)
    before = page.read_bytes()

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OutputError, match="can't be written: No space left"):
        write_page(page, "nfpa-70", PLUGINS)

    assert page.read_bytes() == before
    assert [path.name for path in tmp_path.iterdir()] == ["page.html"]


def test_words_stand_out_from_the_paper_in_the_light_and_in_the_dark() -> None:
    style = files("checker.calculator").joinpath("page.css").read_text(encoding="utf-8")
    themes = [
        {name: of_hex(colour) for name, colour in re.findall(r"--(\w+): (#[0-9a-f]{6})", part)}
        for part in re.findall(r":root \{(.*?)\}", style, re.DOTALL)
    ]

    assert contrast(of_hex("#000000"), of_hex("#ffffff")) == pytest.approx(21.0)
    for theme in themes[:2]:  # the third is for paper, black on white
        for name in ("ink", "soft", "link", "fail", "pass", "unknown"):
            assert contrast(theme[name], theme["paper"]) >= 4.5, name
        for name in ("ink", "soft"):
            assert contrast(theme[name], theme["panel"]) >= 4.5, name
        assert contrast(theme["rule"], theme["paper"]) >= 3.0  # what shows where a field is

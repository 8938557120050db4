"""Waivers as the project file says them, and the commands that go by them."""

import json
from datetime import date
from pathlib import Path

import jsonschema
import pytest

import checker
from checker import cli
from checker.checking import code_for
from checker.draw_model import Wanted, draw_carrier
from checker.errors import InputError, ProjectFileError
from checker.manual import manual_page
from checker.read.project import read_project
from checker.read.sources import Sources
from checker.report.json_file import result_schema
from checker.rule.plugins import load_plugins
from checker.rule.waiver import Waiver
from tests.small_models import too_full

PLUGINS = load_plugins()
NOW = "2026-11-28T09:00:00Z"
GUID = "5F0C1A2B-0000-4000-8000-00000000ABCD"
WHO = 'who = "R. Okafor"\nwhy = "one pull only"\nuntil = 2027-06-30\n'
PLACE = f'[[waivers]]\nrule = "fill.compartment"\ncarriers = ["T1"]\n{WHO}'


def sources(folder: Path, text: str) -> Sources:
    path = folder / "wayroom.toml"
    path.write_text(text, encoding="utf-8")
    project, sha256 = read_project(path)
    return Sources((), None, project, path, sha256, ())


def test_the_file_says_rule_place_who_why_and_until(tmp_path: Path) -> None:
    text = (
        '[[waivers]]\nrule = "fill.compartment"\ncarriers = ["T2", " T1 ", "T2"]\ncompartment = 2\ncircuits = ["C*"]\n'
        + WHO
    )
    (spec,) = sources(tmp_path, text).project.waivers
    assert spec.waiver == Waiver(
        "R. Okafor", "one pull only", date(2027, 6, 30), rule="fill.compartment", carriers=("T1", "T2"), compartment=2, circuits=("C*",)
    )  # fmt: skip
    assert spec.waiver.names == "fill.compartment at T1, T2, compartment 2, circuit C*"


@pytest.mark.parametrize("written", [GUID, GUID.lower(), f"{{{GUID}}}", f" {GUID} "])
def test_an_issue_may_be_written_as_programs_write_guids(tmp_path: Path, written: str) -> None:
    (spec,) = sources(tmp_path, f'[[waivers]]\nissue = "{written}"\n{WHO}').project.waivers
    assert spec.waiver.issue == GUID.lower()


@pytest.mark.parametrize(
    ("named", "words"),
    [
        ("", "say what is waived"),
        ('rule = "fill.compartment"\n', "a rule alone is too wide"),
        ('rule = "fill.compartment"\ncompartment = 1\n', "a rule alone is too wide"),
        ('rule = "fill.compartment"\ncircuits = ["C1"]\ncompartment = 1\n', "give the carriers whose compartment"),
        ('rule = "fill.compartment"\ncarriers = ["*"]\n', "would fit everything"),
        ('rule = "fill.compartment"\ncarriers = ["T1", "?*"]\n', "would fit everything"),
        ('rule = "fill.compartment"\ncircuits = ["**"]\n', "would fit everything"),
        ('rule = "fill.compartment"\ncarriers = [" "]\n', "one of carriers, circuits or storeys is empty"),
        ('rule = "fill.compartment"\ncarriers = []\n', "a rule alone is too wide"),
        ('carriers = ["T1"]\n', "say what is waived"),
        ('issue = "no. 4"\n', "issue is no GUID"),
        (f'issue = "{GUID}"\nrule = "fill.compartment"\n', "give issue alone"),
        (f'issue = "{GUID}"\ncarriers = ["T1"]\n', "give issue alone"),
        ('rule = "fill.compartment"\ncarriers = "T1"\n', "it must be a list"),
        ('rule = "fill.compartment"\ncarriers = ["T1"]\ncompartment = 0\n', "compartment"),
        ('rule = "fill.compartment"\ncarriers = ["T1"]\nverdict = "unknown"\n', "there is no such key"),
    ],
)
def test_what_would_waive_too_much_or_nothing_is_refused(tmp_path: Path, named: str, words: str) -> None:
    with pytest.raises(ProjectFileError, match=words) as caught:
        sources(tmp_path, f"[[waivers]]\n{named}{WHO}")
    assert "waivers.1" in str(caught.value)


@pytest.mark.parametrize(
    ("left", "written", "words"),
    [
        ('who = "R. Okafor"', 'who = " "', "waivers.1.who: it is empty"),
        ('who = "R. Okafor"\n', "", "waivers.1.who: it is missing"),
        ('why = "one pull only"\n', "", "waivers.1.why: it is missing"),
        ("until = 2027-06-30\n", "", "waivers.1.until: it is missing"),
        ("2027-06-30", '"soon"', "waivers.1.until: it must be a day"),
    ],
)
def test_it_names_somebody_a_reason_and_a_day(tmp_path: Path, left: str, written: str, words: str) -> None:
    with pytest.raises(ProjectFileError, match=words):
        sources(tmp_path, PLACE.replace(left, written))


@pytest.mark.parametrize(
    ("rule", "words"),
    [("fill.none", "there is no rule fill.none"), ("waiver.expired", "there is no rule waiver.expired")],
)
def test_a_rule_that_there_is_none_of_is_refused(tmp_path: Path, rule: str, words: str) -> None:
    given = sources(tmp_path, PLACE.replace("fill.compartment", rule))
    with pytest.raises(ProjectFileError, match=words) as caught:
        code_for(given, "bs-7671", PLUGINS)
    assert caught.value.where.endswith("wayroom.toml, [[waivers]] 1")


def test_a_rule_of_the_model_makes_no_findings_that_could_be_waived(tmp_path: Path) -> None:
    of_model = next(rule.id for rule in PLUGINS.rules.values() if rule.tells == "model")
    with pytest.raises(ProjectFileError, match="can't be waived"):
        code_for(sources(tmp_path, PLACE.replace("fill.compartment", of_model)), "bs-7671", PLUGINS)


HEAD = '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n'


def run(folder: Path, waivers: str, now: str = NOW) -> int:
    (folder / "wayroom.toml").write_text(HEAD + waivers, encoding="utf-8")
    with pytest.raises(SystemExit) as ended:
        cli.main(["check", str(folder), "--out", str(folder / "out"), "--now", now])
    return int(ended.value.code or 0)


def test_the_command_ends_by_what_is_waived(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    too_full(tmp_path)
    assert run(tmp_path, "") == 1
    assert run(tmp_path, PLACE) == 0
    assert "waived by R. Okafor until 2027-06-30, whatever the figure: one pull only" in capsys.readouterr().out
    document = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    assert (document["exit_status"], document["counts"]["findings_waived"]) == (0, 1)
    (waiver,) = document["result"]["waivers"]
    assert (waiver["who"], waiver["until"], waiver["state"]) == ("R. Okafor", "2027-06-30", "holds")
    jsonschema.validate(document, result_schema())
    assert run(tmp_path, PLACE, "2027-07-01T00:00:00Z") == 1
    assert "ran out on 2027-06-30" in capsys.readouterr().out


def test_the_command_is_not_clean_while_a_waiver_names_nothing(tmp_path: Path) -> None:
    too_full(tmp_path)
    (tmp_path / "circuits.csv").write_text(
        "circuit,from,to,service,diameter_mm,count\nC1,DB,S1,data,10,13\n", encoding="utf-8"
    )
    assert run(tmp_path, "") == 0
    assert run(tmp_path, PLACE) == 3


def test_a_wrong_waiver_ends_with_two_and_writes_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    too_full(tmp_path)
    assert run(tmp_path, PLACE.replace('["T1"]', '["*"]')) == 2
    assert "would fit everything" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


def test_the_checker_inside_a_host_goes_by_them_too(tmp_path: Path) -> None:
    import ifcopenshell

    too_full(tmp_path)
    (tmp_path / "wayroom.toml").write_text(PLACE.replace("2027-06-30", "2999-12-31"), encoding="utf-8")
    model = ifcopenshell.open(str(tmp_path / "model.ifc"))
    result = checker.check(model, tmp_path / "circuits.csv", "bs-7671", project=tmp_path / "wayroom.toml")
    assert [row.verdict for row in result.findings if row.rule == "fill.compartment"] == ["waived"]


def test_a_drawing_says_waived_too(tmp_path: Path) -> None:
    from checker.section.svg import svg

    too_full(tmp_path)
    told = []
    for until in ("2999-12-31", "2000-01-01"):
        (tmp_path / "wayroom.toml").write_text(HEAD + PLACE.replace("2027-06-30", until), encoding="utf-8")
        told.append(svg(draw_carrier(Wanted((tmp_path,), "T1")).sketch))
    assert "Its fill is waived: 47.7 %" in str(told[0])
    assert "Its fill fails: 47.7 %" in str(told[1])


@pytest.mark.parametrize("rule", ["waiver.expired", "waiver.unmatched"])
def test_the_manual_explains_what_is_found_of_waivers(rule: str) -> None:
    page = manual_page(rule, None, 80)
    told = " ".join(page.split())
    assert told.startswith(f"{rule}: Does every waiver")
    for words in ("?", "Clause:", "Worked example.", "Not asked here:", "[[waivers]]"):
        assert words in told
    assert max(map(len, page.split("\n"))) <= 80
    assert manual_page(rule, "bs-7671", 80) == page
    with pytest.raises(InputError, match="there is no code"):
        manual_page(rule, "none")


def test_the_manual_says_of_every_rule_of_findings_that_they_can_be_waived() -> None:
    for rule in PLUGINS.rules.values():
        assert ("[[waivers]]" in manual_page(rule.id, None)) == (rule.tells != "model")

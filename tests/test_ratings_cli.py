"""Ratings as a user meets them: files, messages, other codes."""

import json
import re
from pathlib import Path

import pytest

from checker.rule.plugins import load_plugins
from tests.small_models import two_trunkings
from tests.test_cli import rows, wayroom

HEAD = "circuit,from,to,service,cable,count,loaded_conductors,design_current_a,device_rating_a,ambient_c,method,voltage_v,rated_voltage_v\n"
SIX = "".join(f"P{n},DB,S1,power,h07v-u-2.5,3,2,12,16,30,B1,230,750\n" for n in range(1, 7))

CODES = load_plugins().codes
#: What NFPA 70 has no figures for here.
ONLY_BS = {"grouping.neutral", "grouping.stacked", "segregation.compartment", "segregation.fitting"}


def run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], schedule: str, *more: str, project: str = ""
) -> tuple[int, str, str]:
    two_trunkings(tmp_path / "model.ifc")
    (tmp_path / "circuits.csv").write_text(schedule, encoding="utf-8")
    head = '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\n'
    (tmp_path / "wayroom.toml").write_text(head + project, encoding="utf-8")
    return wayroom(capsys, "check", tmp_path, "--out", tmp_path / "out", *more)


def routes(tmp_path: Path) -> dict[str, dict[str, str]]:
    return {row["circuit"]: row for row in rows(tmp_path / "out" / "routes.csv")}


def problems(tmp_path: Path) -> str:
    return (tmp_path / "out" / "problems.csv").read_text(encoding="utf-8")


def not_asked_in(text: str, code: str) -> set[str]:
    """The rules that a text says nothing was asked by."""
    told = re.search(rf"Under {re.escape(code)} nothing was asked by ([a-z0-9_., ]+):", " ".join(text.split()))
    return set(told[1].split(", ")) if told else set()


def test_six_circuits_fail_by_grouping_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671")
    assert status == 1
    assert "needs 16 A" in out
    row = routes(tmp_path)["P1"]
    # 24 A · 0.57 = 13.68 A (IEC 60364-5-52 B.52.2, B.52.17)
    assert [float(row[name]) for name in ("base_a", "grouping_factor", "capacity_a", "required_a")] == [
        24.0,
        0.57,
        13.68,
        16.0,
    ]
    assert (row["verdict"], row["factors"], row["assumed"]) == ("fail", "Ca=1.0; Cg=0.57", "")
    assert "6 bunched: P1, P2, P3, P4, P5, P6" in row["reason"]
    failing = rows(tmp_path / "out" / "failing.csv")
    assert {(row["rule"], row["circuits"], row["value"], row["limit"], row["unit"]) for row in failing} == {
        ("grouping.rating", f"P{n}", "16.0", "13.68", "A") for n in range(1, 7)
    }
    assert {row["segment"] for row in failing} == {row["governing_segment"]}
    assert all(row["reason"].endswith("; alone it would carry 24 A there") for row in failing)
    # one topic: one trunking makes them all too weak
    assert len({row["topic"] for row in failing}) == 1
    segments = {row["segment"]: row for row in rows(tmp_path / "out" / "segments.csv")}
    here = segments[row["governing_segment"]]
    assert (here["verdict"], here["worst_verdict"]) == ("pass", "fail")


def test_the_result_has_it_factor_by_factor(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671")
    document = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    rating = next(row for row in document["result"]["ratings"] if row["circuit"] == "P3")
    assert [(factor["name"], factor["value"], factor["assumed"]) for factor in rating["factors"]] == [
        ("Ca", 1.0, False), ("Cg", 0.57, False),
    ]  # fmt: skip
    assert all("IEC 60364-5-52" in factor["source"] for factor in rating["factors"])
    counts = document["counts"]
    assert (counts["circuits_rated"], counts["circuits_rating_unknown"], counts["circuits_without_load"]) == (6, 0, 0)


def test_a_finding_of_a_circuit_keeps_its_id_when_its_figure_changes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671")
    first = {(row["finding"], row["circuits"]) for row in rows(tmp_path / "out" / "failing.csv")}
    larger = SIX.replace("h07v-u-2.5", "h07v-u-4").replace(",16,", ",20,")
    run(tmp_path, capsys, HEAD + larger, "--code", "bs-7671")
    # 32 · 0.57 = 18.24 < 20: another figure, the same findings
    again = rows(tmp_path / "out" / "failing.csv")
    assert {(row["finding"], row["circuits"]) for row in again} == first
    assert {row["limit"] for row in again} == {"18.24"}


def test_a_circuit_without_load_has_no_verdict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    more = "S1,DB,S1,power,h07v-u-2.5,3,2,,16,30,B1,230,750\n".replace("S1,DB", "SP,DB", 1)
    schedule = (
        HEAD.strip()
        + ",state\n"
        + "P1,DB,S1,power,h07v-u-2.5,3,2,12,16,30,B1,230,750,new\n"
        + more.strip()
        + ",spare\n"
    )
    status, _, _ = run(tmp_path, capsys, schedule, "--code", "bs-7671")
    assert status == 0
    row = routes(tmp_path)["SP"]
    assert (row["verdict"], row["capacity_a"]) == ("", "")
    assert "spare" in row["reason"]


def test_without_currents_nothing_passes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    schedule = "circuit,from,to,service,cable,count\nP1,DB,S1,power,h07v-u-2.5,3\n"
    status, out, _ = run(tmp_path, capsys, schedule, "--code", "bs-7671")
    assert status == 3
    assert "P1" in out
    row = routes(tmp_path)["P1"]
    assert (row["verdict"], row["required_a"]) == ("unknown", "")
    assert "its device's rating isn't given" in row["reason"]


def test_what_a_code_does_not_ask_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(tmp_path, capsys, HEAD + SIX, "--code", "nfpa-70")
    page = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    # rules that come later may be of one code alone, too
    named = not_asked_in(out, "nfpa-70")
    assert named >= ONLY_BS
    assert named.isdisjoint(CODES["nfpa-70"].limits)
    assert not_asked_in(page, "nfpa-70") == named
    _, out, _ = run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671")
    assert CODES["bs-7671"].limits.keys() >= ONLY_BS
    assert not_asked_in(out, "bs-7671").isdisjoint(CODES["bs-7671"].limits)


def test_declared_loads_change_the_question_and_say_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = '[rating]\nnot_overloaded_together = true\nreason = "ovens are interlocked"\n'
    status, _, _ = run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671", project=project)
    row = routes(tmp_path)["P1"]
    # 24 ≥ max[12/0.57 = 21.05; √(16² + 0.48 · 12² · (1 − 0.57²)/0.57²) = 19.99]
    assert (status, row["verdict"], float(row["capacity_a"]), row["required_a"][:5]) == (0, "pass", 24.0, "21.05")
    assert row["grouping_factor"] == "0.57"
    assert "ovens are interlocked" in row["reason"]


def test_declared_loads_under_a_code_without_a_formula_are_a_problem(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = '[rating]\nnot_overloaded_together = true\nreason = "ovens are interlocked"\n'
    status, _, _ = run(tmp_path, capsys, HEAD + SIX, "--code", "iec-60364", project=project)
    assert status == 1
    assert "iec-60364 has no formula for it" in problems(tmp_path)


def test_terminals_that_nobody_ends_at_are_a_problem(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    project = '[[terminations]]\nname = "DBX-*"\ntemperature_c = 90\n'
    run(tmp_path, capsys, HEAD + SIX, "--code", "bs-7671", project=project)
    assert "DBX-*" in problems(tmp_path)
    assert str(tmp_path) not in problems(tmp_path)


@pytest.mark.parametrize(
    ("project", "words"),
    [
        ('[limits."grouping.rating"]\nring_leg_a = 5\nreason = "easier"\n', "the code has no ring_leg_a"),
        ('[limits."grouping.rating"]\noverload_term = 0.3\nreason = "easier"\n', "the code has no overload_term"),
        ('[limits."grouping.rating"]\nlight_share = 0.4\nreason = "easier"\n', "looser"),
        ("[rating]\nnot_overloaded_together = true\n", "give a reason"),
    ],
)
def test_a_project_does_not_ease_what_a_code_asks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], project: str, words: str
) -> None:
    status, _, err = run(tmp_path, capsys, HEAD + SIX, "--code", "iec-60364", project=project)
    assert status == 2
    assert words in err
    assert not (tmp_path / "out").exists()


def test_a_limit_of_a_rule_that_the_code_does_not_run_is_a_problem(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    project = '[limits."fill.tray"]\nspace_factor = 0.4\nreason = "room"\n'
    run(tmp_path, capsys, HEAD + SIX, "--code", "nfpa-70", project=project)
    assert "nfpa-70 doesn't run that rule" in problems(tmp_path)
    status, _, err = run(
        tmp_path, capsys, HEAD + SIX, "--code", "nfpa-70", project=project.replace("fill.tray", "fill.try")
    )
    assert status == 2
    assert "fill.try" in err


def test_a_stricter_share_of_the_capacity_is_the_projects_to_set(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one = HEAD + "P1,DB,S1,power,h07v-u-2.5,3,2,12,20,30,B1,230,750\n"
    status, _, _ = run(tmp_path, capsys, one, "--code", "bs-7671")
    assert status == 0
    project = '[limits."grouping.rating"]\nload_share = 0.8\nreason = "room for growth"\n'  # 0.8 · 24 = 19.2 < 20
    status, _, _ = run(tmp_path, capsys, one, "--code", "bs-7671", project=project)
    assert status == 1
    row = rows(tmp_path / "out" / "failing.csv")[0]
    assert "room for growth" in row["source"]
    assert (row["value"], row["limit"]) == ("20.0", "19.2")  # what it needs, and what it may take
    assert "carries 24 A" in row["reason"]
    assert "80%" in row["reason"]


def test_a_conductor_that_is_too_thin_even_alone_is_told_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(tmp_path, capsys, HEAD + SIX.replace(",16,", ",32,"), "--code", "bs-7671")
    assert "even alone it would carry only 24 A" in rows(tmp_path / "out" / "failing.csv")[0]["reason"]

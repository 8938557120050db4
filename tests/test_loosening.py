"""A limit of the code that somebody waived to a looser one: what fails only the code's is waived, in sight, and until a day."""

import csv
import io
import json
from dataclasses import replace
from datetime import date
from pathlib import Path

import jsonschema
import pytest

from checker import cli
from checker.checking import check_installation, code_for
from checker.errors import ProjectFileError
from checker.model import Circuit, Installation, Problem, SourceFile
from checker.read.project import read_project
from checker.read.sources import Sources
from checker.report.csv_files import failing_csv, routes_csv, segments_csv
from checker.report.html import report_html
from checker.report.json_file import result_schema
from checker.result.accounting import count, exit_status
from checker.result.tables import FindingRow, Result
from checker.rule import Limit, Limits, Outcome, Verdict
from checker.rule.loosened import Loosened, ask_beside
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened, with_loosened
from checker.rule.verdict import Basis
from tests.installations import carrier, circuit, installation, outlet
from tests.report.test_terminal import printed
from tests.small_models import too_full

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
FILL = Loosened("fill.compartment", "space_factor", 0.5, "R. Okafor", "one pull only", date(2027, 6, 30))
RATED = Loosened("grouping.rating", "light_share", 0.9, "R. Okafor", "measured", date(2027, 6, 30))
NOW = "2026-11-28T09:00:00Z"


def cables(count_: int) -> Circuit:
    """So many of 10 mm: 78.54 mm² each. The inside is 48 · 48 = 2304 mm²: 13 take 44.3 %, 14 take 47.7 %, 15 take 51.1 %."""
    return circuit("C1", "DB", "S1", count=count_)


def plain(number: int) -> Installation:
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    return installation(carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)), cables(number), *outlets)


def checked(number: int, *loosened: Loosened, now: str | None = NOW) -> Result:
    return check_installation(plain(number), with_loosened(CODE, loosened, "wayroom.toml"), PLUGINS, now=now)


def fill(result: Result) -> FindingRow:
    (found,) = [row for row in result.findings if row.rule == "fill.compartment"]
    return found


def told(result: Result) -> list[Problem]:
    return [problem for problem in result.problems if "[[loosened]]" in problem.where]


@pytest.mark.parametrize(("number", "verdict"), [(13, "pass"), (14, "waived"), (15, "fail")])
def test_what_fails_the_code_and_not_the_loosened_limit_is_waived(number: int, verdict: str) -> None:
    assert fill(checked(number, FILL)).verdict == verdict


def test_value_limit_basis_and_source_stay_the_codes() -> None:
    waived, failing = fill(checked(14, FILL)), fill(checked(14))
    assert failing.verdict == "fail"
    assert waived.value == pytest.approx(14 * 78.5398 / 2304, abs=1e-5)
    assert (waived.limit, waived.basis, waived.source) == (0.45, failing.basis, failing.source)
    assert waived.id == failing.id
    assert waived.reason == (
        f"{failing.reason}; fails the code's 45 % (space_factor), waived to 50 % by R. Okafor until 2027-06-30: one pull only"
    )


def test_it_is_counted_apart_and_the_run_ends_as_if_it_passed() -> None:
    result = checked(14, FILL)
    counts = count(result)
    assert (counts.findings_waived, counts.findings_fail) == (1, 0)
    assert counts.carriers_checked == 1
    # all findings but the waived one passed, or what isn't known of ratings is left out: alone it ends with 0
    alone = replace(result, findings=(fill(result),))
    assert exit_status(alone) == 0
    assert exit_status(replace(alone, findings=(fill(checked(15, FILL)),))) == 1


def test_no_issue_is_raised_of_it_and_it_is_in_no_list_of_failing() -> None:
    result = checked(14, FILL)
    assert result.topics == ()
    assert list(csv.DictReader(io.StringIO(failing_csv(result).decode("utf-8")))) == []
    assert len(checked(14).topics) == 1


def test_the_tables_say_waived_and_by_whom() -> None:
    (row,) = csv.DictReader(io.StringIO(segments_csv(checked(14, FILL)).decode("utf-8")))
    assert (row["verdict"], row["limit"]) == ("waived", "0.45")
    assert "waived to 50 % by R. Okafor until 2027-06-30" in row["reason"]


def test_the_terminal_counts_it_and_says_by_whom() -> None:
    lines = printed(checked(14, FILL))
    assert any(" 0 fail, " in line and " 1 waived, " in line for line in lines)
    at = lines.index("Waived, and by whom:")
    assert lines[at + 1].startswith("  T1/1: ")
    assert lines[at + 1].endswith("waived to 50 % by R. Okafor until 2027-06-30: one pull only")
    assert not any("aived" in line.replace("waived.csv", "") for line in printed(checked(13)))


def test_the_page_counts_it_and_lists_it_with_its_reason() -> None:
    page = report_html(checked(14, FILL)).decode("utf-8")
    assert "0 fail, " in page
    assert " 1 waived," in page
    section = page[page.index("Waived (1)") :]
    assert "47.7 %" in section
    assert "waived to 50 % by R. Okafor until 2027-06-30: one pull only" in section
    assert '<span class="verdict waived">waived</span>' in page
    assert "Waived (" not in report_html(checked(15, FILL)).decode("utf-8")


LOAD: dict[str, float | str] = {"design_current_a": 24.5, "device_rating_a": 24.5, "loaded_conductors": 2}


def test_a_circuit_is_waived_too_and_so_says_its_row() -> None:
    # alone in trunking 2.5 mm² in PVC, B1, two loaded, carries 24 A (IEC 60364-5-52 Table B.52.2); In = 24.5 A is more by 2 %.
    # load_share is what of its rating a circuit may carry, 1 at the most, so no project can loosen it:
    with pytest.raises(ProjectFileError, match="more than 1"):
        with_loosened(CODE, [replace(RATED, limit="load_share", value=1.1)], "wayroom.toml")
    # asked about by a code that wants 10 % in hand, which the project waives back to 1
    limits = CODE.limits["grouping.rating"]
    asks_more = limits.load_share.model_copy(update={"value": 0.9})  # type: ignore[attr-defined]
    code = replace(CODE, limits={**CODE.limits, "grouping.rating": limits.model_copy(update={"load_share": asks_more})})
    eased = with_loosened(code, [replace(RATED, limit="load_share", value=1.0)], "wayroom.toml")
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    # 24 A · 0.9 = 21.6 A < 23 A <= 24 A
    load = {**LOAD, "design_current_a": 23.0, "device_rating_a": 23.0}
    one = circuit("C1", "DB", "S1", count=2, electrical=load)
    inst = installation(carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)), one, *outlets)
    before, after = (check_installation(inst, which, PLUGINS, now=NOW) for which in (code, eased))
    assert [row.verdict for row in before.ratings] == ["fail"]
    assert [row.verdict for row in after.ratings] == ["waived"]
    (row,) = csv.DictReader(io.StringIO(routes_csv(after).decode("utf-8")))
    assert row["verdict"] == "waived"
    assert "waived to 100 % by R. Okafor" in row["reason"]
    assert after.compartments[0].worst_verdict == "waived"
    # what it carries is more than it needs: not that is why
    assert "needed: 23 A, and it is waived for another reason" in report_html(after).decode("utf-8")
    assert count(after).circuits_rated == 1


@pytest.mark.parametrize(
    ("now", "verdict"),
    [("2027-06-30T23:59:59Z", "waived"), ("2027-07-01T00:00:00Z", "fail"), ("2020-01-01T00:00:00Z", "waived")],
)
def test_it_holds_to_the_end_of_its_last_day(now: str, verdict: str) -> None:
    assert fill(checked(14, FILL, now=now)).verdict == verdict


def test_one_that_ran_out_is_told() -> None:
    (problem,) = told(checked(14, FILL, now="2027-07-01T00:00:00Z"))
    assert problem.what == "it ran out on 2027-06-30"
    assert "2027-07-01" in problem.why
    assert "R. Okafor" in problem.hint


def test_without_a_time_nothing_is_waived_and_that_is_told() -> None:
    result = checked(14, FILL, now=None)
    assert fill(result).verdict == "fail"
    assert [problem.what for problem in told(result)] == ["whether it has run out isn't known"]


@pytest.mark.parametrize("time", ["1970-01-01T00:00:00Z", "1980-01-01"])
def test_a_time_that_no_model_can_have_is_none(time: str) -> None:
    """By the year that a program without a clock writes a waiver would hold for ever."""
    inst = replace(plain(14), files=(SourceFile("model", "a", "", timestamp=time),))
    result = check_installation(inst, with_loosened(CODE, [FILL], ""), PLUGINS)
    assert fill(result).verdict == "fail"
    (problem,) = told(result)
    assert problem.what == "whether it has run out isn't known"
    assert time[:10] in problem.why


def test_the_time_is_the_newest_models_not_the_clocks() -> None:
    files = tuple(
        SourceFile("model", name, "", timestamp=time) for name, time in (("a", "2027-06-01"), ("b", "2027-07-09"))
    )
    inst = replace(plain(14), files=files)
    late = check_installation(inst, with_loosened(CODE, [FILL], ""), PLUGINS)
    early = check_installation(replace(inst, files=files[:1]), with_loosened(CODE, [FILL], ""), PLUGINS)
    assert (fill(late).verdict, fill(early).verdict) == ("fail", "waived")


@pytest.mark.parametrize("number", [13, 15])
def test_one_that_nothing_needs_is_told(number: int) -> None:
    assert [problem.what for problem in told(checked(number, FILL))] == ["nothing is waived by it"]


def test_one_that_is_needed_is_no_problem() -> None:
    assert told(checked(14, FILL)) == []


class TwoLimits(Limits):
    a: Limit
    b: Limit


def two(a: float, b: float) -> TwoLimits:
    return TwoLimits(**{name: Limit(value=value, basis=Basis.NOTE, source="s", confidence="high") for name, value in (("a", a), ("b", b))})  # type: ignore[arg-type] # fmt: skip


def answer(found_a: float, found_b: float, unsure: float | None = None):  # type: ignore[no-untyped-def]
    def ask(limits: TwoLimits) -> Verdict:
        if unsure is not None and limits.a.value > unsure:
            return Verdict(Outcome.UNKNOWN, "who knows")
        within = found_a <= limits.a.value and found_b <= limits.b.value
        return Verdict(Outcome.PASS if within else Outcome.FAIL, "found", found_a, limits.a.value)

    return ask


A = Loosened("x.y", "a", 3.0, "N. Abara", "first", date(2027, 1, 1))
B = Loosened("x.y", "b", 3.0, "L. Strand", "second", date(2027, 2, 2))


@pytest.mark.parametrize(
    ("found", "outcome", "by"),
    [
        ((1.0, 1.0), Outcome.PASS, ()),
        ((2.0, 1.0), Outcome.WAIVED, (A,)),  # only the one that is needed counts
        ((1.0, 2.0), Outcome.WAIVED, (B,)),
        ((2.0, 2.0), Outcome.WAIVED, (A, B)),
        ((4.0, 2.0), Outcome.FAIL, ()),
    ],
)
def test_of_several_loosened_limits_those_count_that_are_needed(
    found: tuple[float, float], outcome: Outcome, by: tuple[Loosened, ...]
) -> None:
    verdict = ask_beside(answer(*found), two(1.0, 1.0), (A, B))
    assert (verdict.outcome, verdict.waived_by) == (outcome, by)
    assert verdict.limit == 1.0
    assert [item.who in verdict.reason for item in (A, B)] == [item in by for item in (A, B)]


class ThreeLimits(TwoLimits):
    c: Limit


def test_one_of_three_that_two_others_do_without_is_not_said_to_waive_it() -> None:
    """2 and 2 are over 1 and within 3; the third, 1, is within the code's own."""
    third = replace(A, limit="c", who="P. Lind")

    def ask(limits: ThreeLimits) -> Verdict:
        within = limits.a.value >= 2.0 and limits.b.value >= 2.0 and limits.c.value >= 1.0
        return Verdict(Outcome.PASS if within else Outcome.FAIL, "found", 2.0, limits.a.value)

    limits = ThreeLimits(**dict(two(1.0, 1.0)), c=two(1.0, 1.0).a)
    for loosened in ((A, B, third), (third, A, B)):
        verdict = ask_beside(ask, limits, loosened)  # type: ignore[arg-type]
        assert (verdict.outcome, verdict.waived_by) == (Outcome.WAIVED, (A, B))
        assert "P. Lind" not in verdict.reason


def test_what_is_not_known_by_the_loosened_limit_fails_and_says_so() -> None:
    verdict = ask_beside(answer(2.0, 1.0, unsure=1.5), two(1.0, 1.0), (A,))
    assert verdict.outcome is Outcome.FAIL
    assert verdict.reason == "found; whether it is within what the project loosened it to (a = 3) isn't known"


def test_what_is_not_known_by_the_code_stays_unknown() -> None:
    verdict = ask_beside(answer(0.0, 0.0, unsure=0.5), two(1.0, 1.0), (A,))
    assert verdict.outcome is Outcome.UNKNOWN


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"rule": "fill.none"}, "runs no such rule"),
        ({"limit": "space"}, "there is no limit space"),
        ({"value": 0.45}, "isn't looser than the code's 0.45"),
        ({"value": 0.40}, "isn't looser than the code's 0.45"),
        ({"value": 50.0}, "more than 1"),
        ({"value": -0.5}, "isn't a number above 0"),
        ({"rule": "fill.conduit", "limit": "lengths"}, "there is no limit lengths"),
        ({"rule": "fill.tray"}, "the code has no space_factor, so there is nothing to loosen"),
    ],
)
def test_what_is_no_looser_limit_of_the_code_is_refused(changes: dict[str, str | float], words: str) -> None:
    with pytest.raises(ProjectFileError, match=words) as caught:
        with_loosened(CODE, [replace(FILL, **changes)], "wayroom.toml")  # type: ignore[arg-type]
    assert caught.value.where == "wayroom.toml, [[loosened]] 1"


def test_a_floor_is_looser_downwards() -> None:
    code = PLUGINS.codes["nfpa-70"]
    item = replace(FILL, rule="grouping.ampacity", limit="continuous", value=1.1)  # the code asks 1.25
    assert with_loosened(code, [item], "").loosened == (item,)
    with pytest.raises(ProjectFileError, match=r"isn't looser than the code's 1\.25"):
        with_loosened(code, [replace(item, value=1.3)], "")


def test_no_limit_is_loosened_twice_or_tightened_as_well() -> None:
    with pytest.raises(ProjectFileError, match="loosened twice"):
        with_loosened(CODE, [FILL, replace(FILL, value=0.6)], "")
    own = tightened(CODE, {"fill.compartment": {"space_factor": 0.4, "reason": "room"}}, "")
    with pytest.raises(ProjectFileError, match="sets space_factor, too"):
        with_loosened(own, [FILL], "")


TOML = """[[loosened]]
rule = "{rule}"
limit = "space_factor"
value = 0.5
who = "{who}"
why = "one pull only"
until = {until}
"""


def sources(folder: Path, rule: str = "fill.compartment", who: str = "R. Okafor", until: str = "2027-06-30") -> Sources:
    path = folder / "wayroom.toml"
    path.write_text(TOML.format(rule=rule, who=who, until=until), encoding="utf-8")
    project, sha256 = read_project(path)
    return Sources((), None, project, path, sha256, ())


def test_the_project_file_says_it(tmp_path: Path) -> None:
    code, problems = code_for(sources(tmp_path), "bs-7671", PLUGINS)
    assert code.loosened == (FILL,)
    assert problems == []
    assert code.limits == CODE.limits


def test_one_of_a_rule_that_the_code_does_not_run_is_told(tmp_path: Path) -> None:
    code, (problem,) = code_for(sources(tmp_path, rule="fill.area"), "bs-7671", PLUGINS)
    assert code.loosened == ()
    assert problem.where == "wayroom.toml, [[loosened]] space_factor of fill.area"
    assert "doesn't run that rule" in problem.what


@pytest.mark.parametrize(
    ("who", "until", "words"),
    [
        ("  ", "2027-06-30", "line 5: loosened.1.who: it is empty"),
        ("", "2027-06-30", "loosened.1.who: it is empty"),
        ("R. Okafor", '"soon"', "loosened.1.until: it must be a day, as 2027-06-30"),
        ("R. Okafor", "2027-06-30T10:00:00", "loosened.1.until: it must be a day, as 2027-06-30"),
    ],
)
def test_it_names_somebody_and_a_day(tmp_path: Path, who: str, until: str, words: str) -> None:
    with pytest.raises(ProjectFileError, match=words):
        sources(tmp_path, who=who, until=until)


def test_the_command_ends_as_if_it_passed_and_the_result_says_what_is_waived(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    too_full(tmp_path)
    head = '[project]\nmodels = ["model.ifc"]\nschedule = "circuits.csv"\ncode = "bs-7671"\n'
    command = ["check", str(tmp_path), "--out", str(tmp_path / "out"), "--now", NOW]
    for more, status in (("", 1), (TOML.format(rule=FILL.rule, who=FILL.who, until=FILL.until), 0)):
        (tmp_path / "wayroom.toml").write_text(head + more, encoding="utf-8")
        assert exit_of(command) == status
    assert "waived to 50 % by R. Okafor until 2027-06-30" in capsys.readouterr().out
    document = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))
    assert document["exit_status"] == 0
    assert document["counts"]["findings_waived"] == 1
    jsonschema.validate(document, result_schema())


def exit_of(command: list[str]) -> int:
    with pytest.raises(SystemExit) as ended:
        cli.main(command)
    return int(ended.value.code or 0)

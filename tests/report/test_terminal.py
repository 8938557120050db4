"""The accounts in the summary of a run."""

import io
from dataclasses import replace

from rich.console import Console

from checker.model import Problem, ProblemKind
from checker.report.terminal import print_summary
from checker.result.cautions import CAUTIONS
from checker.result.tables import Result
from tests.report.html_pages import circuit
from tests.report.results import small_result


def printed(result: Result) -> list[str]:
    stream = io.StringIO()
    print_summary(
        Console(file=stream, width=120, soft_wrap=True, highlight=False), replace(result, cautions=CAUTIONS), "out"
    )
    return stream.getvalue().splitlines()


def test_problems_are_counted_by_kind_in_one_line() -> None:
    found = (
        Problem("a", "b", "c", "d", ProblemKind.ASSUMPTION),
        Problem("a", "b", "c", "d"),
        Problem("e", "b", "c", "d", ProblemKind.ASSUMPTION, 70),
    )

    lines = printed(replace(small_result(), problems=found))

    assert "Problems listed: 3 (1 gap, 2 assumptions), the most serious first in problems.csv." in lines


def test_no_problem_is_said_too() -> None:
    assert "Problems listed: 0." in printed(small_result())


def test_the_sum_of_carriers_has_the_demolished_ones_only_where_there_are_any() -> None:
    result = small_result()
    without, with_some = printed(result), printed(replace(result, demolished=(result.carriers[0].place,) * 3))

    assert any(line.startswith("Carriers: 5 read = 5 checked + 0 unknown. Circuits:") for line in without)
    assert any(
        line.startswith(
            "Carriers: 5 read = 5 checked + 0 unknown; 8 in the models = 5 read + 3 marked as demolished and left out. Circuits:"
        )
        for line in with_some
    )


def test_a_gap_of_a_circuit_that_is_routed_is_told_and_one_of_a_circuit_that_is_listed_above_is_not() -> None:
    gaps = (
        Problem("circuit P1", "it shares T-1 with circuit P2, which it has to keep apart from", "why", "hint"),
        Problem("circuit P3", "nothing in the model is called 'X'", "why", "hint"),
    )
    circuits = (circuit("P1"), circuit("P3", routed_by="", reason="nothing in the model is called 'X'"))

    lines = printed(replace(small_result(), problems=gaps, circuits=circuits))

    assert "  circuit P1: it shares T-1 with circuit P2, which it has to keep apart from" in lines
    assert [line for line in lines if "is called 'X'" in line] == ["  P3: nothing in the model is called 'X'"]


def test_a_finding_at_a_fitting_goes_by_the_fitting() -> None:
    result = small_result()
    first = result.findings[0]
    at = replace(first, verdict="unknown", reason="not declared", at="TEE-7", compartment=None)

    assert "  TEE-7: not declared" in printed(replace(result, findings=(at,)))


def test_the_gravest_comes_first_in_the_rule_s_own_words() -> None:
    result = small_result()
    failing = next(row for row in result.findings if row.verdict == "fail")
    own = replace(
        failing, id="a", basis="project", value=19.0, limit=0.0, unit="m", found="19.00 m shared", wanted="none may be"
    )
    spare = replace(failing, id="b", basis="requirement", value=0.5, limit=0.45, found="50 % with 5 % spare")

    lines = printed(replace(result, findings=(own, spare)))

    first, second = (line for line in lines if line.startswith("T-001"))
    assert "50 % with 5 % spare" in first
    assert "45 %" in first
    assert "19.00 m shared" in second
    assert "none may be" in second


def test_circuits_without_a_way_come_before_what_is_unknown_and_what_is_waived_last() -> None:
    result = small_result()
    first, second, *_ = result.findings
    rows = (replace(first, verdict="waived", reason="by whom"), replace(second, verdict="unknown", reason="no size"))

    text = "\n".join(printed(replace(result, findings=rows, circuits=(circuit("P3", routed_by="", reason="none"),))))

    assert text.index("Not routed") < text.index("Unknown, and why") < text.index("Waived, and by whom")


def test_what_is_as_bad_stands_in_the_order_in_which_people_count() -> None:
    result = small_result()
    failing = next(row for row in result.findings if row.verdict == "fail")
    keys = [row.key for row in result.carriers[:3]]
    labels = dict(zip(keys, ("CP-10", "CP-9", "CP-11"), strict=True))
    carriers = [
        replace(row, place=replace(row.place, tag=labels.get(row.key, row.place.tag))) for row in result.carriers
    ]
    rows = tuple(replace(failing, id=key, carriers=(key,), compartment=1) for key in keys)

    lines = printed(replace(result, findings=rows, carriers=tuple(carriers)))

    assert [line.split("/")[0] for line in lines if line.startswith("CP-")] == ["CP-9", "CP-10", "CP-11"]

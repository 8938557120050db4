"""The accounts in the summary of a run."""

import io
from dataclasses import replace

from rich.console import Console

from checker.model import Problem, ProblemKind
from checker.report.terminal import print_summary
from checker.result.cautions import CAUTIONS
from checker.result.tables import Result
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

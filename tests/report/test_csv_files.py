import csv
import io
from dataclasses import replace

import pytest

from checker.model import Problem
from checker.report.csv_files import WRITERS, failing_csv, problems_csv, segments_csv, text_of
from checker.result.tables import Result


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        ("=1+1", "'=1+1"), ("+49", "'+49"), ("-x", "'-x"), ("@here", "'@here"), ("\tx", "'\tx"), ("plain", "plain"), ("a=b", "a=b"),
        ("", ""), (None, ""), (-1.5, "-1.5"), (-3, "-3"), (0.1 + 0.2, "0.3"), (-0.0, "0.0"), (1e-9, "0.0"), (2169.4, "2169.4"), (1, "1"),
    ],
)  # fmt: skip
def test_a_text_never_runs_as_a_formula_and_a_number_stays_one(cell: str | float | None, text: str) -> None:
    assert text_of(cell) == text


@pytest.mark.parametrize("name", WRITERS)
def test_rows_have_as_many_cells_as_the_header(vet_result: Result, name: str) -> None:
    rows = list(csv.reader(io.StringIO(WRITERS[name](vet_result).decode("utf-8"))))
    assert len(rows) > 1
    assert {len(row) for row in rows} == {len(rows[0])}


def test_rows_do_not_depend_on_the_order_of_the_tables(vet_result: Result) -> None:
    turned = replace(vet_result, compartments=vet_result.compartments[::-1], findings=vet_result.findings[::-1])
    assert segments_csv(turned) == segments_csv(vet_result)
    assert failing_csv(turned) == failing_csv(vet_result)


def test_a_name_that_is_a_formula_is_disarmed(vet_result: Result) -> None:
    evil = replace(vet_result, problems=(Problem("=HYPERLINK()", "a", "b", "c"),))
    assert problems_csv(evil).decode().splitlines()[1] == "'=HYPERLINK(),a,b,c"

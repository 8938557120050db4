"""The page and ``result.json`` say how the lengths were found to belong together."""

import json
from dataclasses import replace

from jsonschema import Draft202012Validator

from checker.report.json_file import result_json, result_schema
from checker.result.network_tables import JoinRow
from tests.report.html_pages import page, rows_of, said
from tests.report.results import small_result

JOINS = (
    JoinRow("A", "B", "connected ports", 0.0),
    JoinRow("A", "C", "ends that meet", 3.25),
    JoinRow("B", "D", "ends that meet", None),
    JoinRow("C", "E", "fittings that touch", None),
)


def test_the_page_counts_joins_by_how_they_were_found() -> None:
    there = page(replace(small_result(), joins=JOINS))
    assert rows_of(there, "joins") == [
        ["ends that meet", "2", "3.2"],
        ["connected ports", "1", "0.0"],
        ["fittings that touch", "1", "not known"],
    ]
    assert "4 places" in said(there.xpath("//section[@id='joins']")[0])


def test_the_page_says_so_where_nothing_is_joined() -> None:
    assert "No two elements are joined" in said(page(small_result()).xpath("//section[@id='joins']")[0])


def test_the_file_has_every_join_and_its_schema_knows_them() -> None:
    document = json.loads(result_json(replace(small_result(), joins=JOINS), 1, {}))
    Draft202012Validator(result_schema()).validate(document)
    assert document["result"]["joins"][1:3] == [
        {"one": "A", "other": "C", "found_by": "ends that meet", "gap_mm": 3.25, "point_mm": None},
        {"one": "B", "other": "D", "found_by": "ends that meet", "gap_mm": None, "point_mm": None},
    ]

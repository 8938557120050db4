"""The page lists open ends, and the breaks that keep circuits from their way."""

from dataclasses import replace

from checker.result.network_tables import BreakRow, OpenEndRow
from tests.report.html_pages import page, rows_of, said, two_storeys


def test_open_ends_say_of_which_carrier_on_which_storey_and_where() -> None:
    assert rows_of(page(two_storeys()), "open-ends") == [
        [
            "T-002",
            "Ground",
            "Plant room",
            "end",
            "0",
            "9.95",
            "5.00",
            "0.03",
        ]
    ]


def test_a_break_says_between_what_how_wide_and_who_needs_it() -> None:
    assert rows_of(page(two_storeys()), "breaks") == [
        ["T-003", "T-004", "987.5", "C3", "Ground, First", "3 and 1", "5.01 1.01 3.00 and 5.01 2.00 3.02"]
    ]


def test_the_break_that_most_circuits_need_comes_first() -> None:
    result = two_storeys()
    one, two, *_ = (row.key for row in result.carriers)
    more = BreakRow(one, two, 12.0, (0.0, 0.0, 0.0), (12.0, 0.0, 0.0), 1, 1, ("C1", "C2"))

    rows = rows_of(page(replace(result, breaks=(*result.breaks, more))), "breaks")

    assert [row[3] for row in rows] == ["C1, C2", "C3"]


def test_open_ends_are_in_the_order_in_which_people_count_and_a_place_that_is_no_number_is_not_known() -> None:
    result = two_storeys()
    four = result.carriers[3].key
    ends = (
        OpenEndRow("CP-11", "start", (float("nan"), 0.0, -1.0)),
        OpenEndRow("CP-9", "start", (1.0, 0.0, 0.0)),
        OpenEndRow(four, "end", (0.0, 0.0, 0.0)),
    )

    rows = rows_of(page(replace(result, open_ends=ends)), "open-ends")

    assert [row[0] for row in rows] == ["CP-9", "CP-11", "T-004"]
    assert rows[1][1] == "not given"  # no carrier of that key was read
    assert rows[1][5:] == ["not known", "0.00", "0.00"]  # −1 mm isn't −0.00 m


def test_the_page_says_so_where_there_is_none() -> None:
    section = page(replace(two_storeys(), open_ends=(), breaks=())).xpath("//section[@id='breaks']")[0]

    assert said(section) == (
        "Open ends and breaks"
        "No break is listed that keeps a circuit from its way."
        "No end of a carrier is listed as open."
    )

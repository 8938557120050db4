"""The page says how much of which cable is needed."""

from dataclasses import replace

from tests.report.html_pages import page, rows_of, said, two_storeys


def totals_of(tree: object) -> list[list[str]]:
    (table,) = tree.xpath("//section[@id='take-off']//table[not(@id)]")  # type: ignore[attr-defined]
    return [[said(cell) for cell in row] for row in table.xpath("./tbody/tr")]


def test_totals_are_the_sum_of_count_times_length_and_say_what_they_lack() -> None:
    tree = page(two_storeys())

    # h07v-u-4: 3 · 13.25 = 39.75, and one row isn't known; h07v-r-10: 2 · 21 + 2 · 4.5 = 51
    assert totals_of(tree) == [
        ["h07v-r-10", "existing", "51.00", "2", "0"],
        ["h07v-u-4", "new", "at least 39.75", "2", "1"],
    ]
    assert "Of 1 of the 4 rows the total isn't known" in said(tree.xpath("//section[@id='take-off']/p")[0])


def test_every_leg_has_a_row_with_its_length_and_its_total_or_the_reason_why_not() -> None:
    rows = rows_of(page(two_storeys()), "take-off-legs")

    assert [row[1:] for row in rows] == [
        ["1", "h07v-u-4", "new", "DB-1", "S-1", "3", "12.50", "0.75", "13.25", "39.75", ""],
        ["1", "h07v-r-10", "existing", "DB-1", "S-2", "2", "20.00", "1.00", "21.00", "42.00", ""],
        ["2", "h07v-r-10", "existing", "S-2", "S-4", "2", "4.00", "0.50", "4.50", "9.00", ""],
        [
            "1",
            "h07v-u-4",
            "new",
            "DB-1",
            "S-3",
            "3",
            "not known",
            "not known",
            "not known",
            "not known",
            "nothing leads there",
        ],
    ]
    assert rows[0][0] == "C1Way: T-001 → T-002"


def test_without_a_count_the_total_is_not_known_though_the_length_is() -> None:
    result = two_storeys()
    tree = page(replace(result, take_off=(replace(result.take_off[0], count=None, cable=""),)))

    assert totals_of(tree) == [["no key given (may be several kinds)", "new", "not known", "1", "1"]]
    assert rows_of(tree, "take-off-legs")[0][6:11] == ["not known", "12.50", "0.75", "13.25", "not known"]


def test_what_is_there_already_is_counted_apart_from_what_is_new() -> None:
    result = two_storeys()
    rows = (*result.take_off[2:], replace(result.take_off[3], state="new"))

    # existing: 2 · 21 + 2 · 4.5; new: 2 · 4.5
    assert totals_of(page(replace(result, take_off=rows))) == [
        ["h07v-r-10", "existing", "51.00", "2", "0"],
        ["h07v-r-10", "new", "9.00", "1", "0"],
    ]


def test_where_every_length_is_known_nothing_is_said_to_lack() -> None:
    result = two_storeys()
    tree = page(replace(result, take_off=result.take_off[2:]))

    assert totals_of(tree) == [["h07v-r-10", "existing", "51.00", "2", "0"]]
    assert "isn't known:" not in said(tree.xpath("//section[@id='take-off']/p")[0])


def test_without_cables_the_page_says_so() -> None:
    assert "No cable is listed" in said(page(replace(two_storeys(), take_off=())).xpath("//section[@id='take-off']")[0])

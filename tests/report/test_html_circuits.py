from dataclasses import replace

import pytest

from checker.result.tables import RatingRow
from tests.report.html_pages import circuit, factor, page, rating, rows_of, said
from tests.report.results import small_result


def test_a_circuit_has_its_way_length_and_drops() -> None:
    result = small_result()
    keys = (result.carriers[3].key, result.carriers[0].key)
    rows = (
        circuit("C2", routed_by="", length_m=None, drops_m=(), reason="no carrier near S-1"),
        circuit("C1", carriers=keys),
    )

    first, second = rows_of(page(replace(result, circuits=rows)), "circuits")

    assert first[:8] == ["C1", "DB-1", "S-1", "power", "new", "T-004 → T-001 (shortest way)", "12.50", "0.50 + 0.25"]
    assert second[5:8] == ["(no way: no carrier near S-1)", "not known", "not known"]


def test_a_drop_that_is_not_known_is_said() -> None:
    rows = (circuit("C1", drops_m=(0.5, None)),)

    assert rows_of(page(replace(small_result(), circuits=rows)), "circuits")[0][7] == "0.50 + not known"


def test_ratings_that_were_not_judged_are_unknown() -> None:
    tree = page(replace(small_result(), circuits=(circuit("C1"), circuit("C2", state="removed", is_loaded=False))))

    assert [row[8] for row in rows_of(tree, "circuits")] == [
        "unknown not judged in this run",
        "no load, so none is asked for",
    ]
    assert rows_of(tree, "unknown") == [["not judged in this run", "rating", "1", "C1"]]  # a removed one needs none


@pytest.mark.parametrize(
    ("row", "chain"),
    [
        (rating(), "27 A × Ca 0.94 × Cg 0.65 (assumed) = 16.5 A ≥ 16 A"),  # 27 × 0.94 × 0.65 = 16.497
        (rating(required_a=20.0), "27 A × Ca 0.94 × Cg 0.65 (assumed) = 16.5 A < 20 A"),
        (rating(required_a=16.4971), "27 A × Ca 0.94 × Cg 0.65 (assumed) = 16.497 A < 16.4971 A"),
        (rating(required_a=None), "27 A × Ca 0.94 × Cg 0.65 (assumed) = 16.5 A; needed: not known"),
        (
            rating(base_a=None, capacity_a=None),
            "carries: not known (base not known × Ca 0.94 × Cg 0.65 (assumed)); needs 16 A",
        ),
        (
            rating(factors=(factor("Ci", None),), capacity_a=None),
            "carries: not known (27 A × Ci not known); needs 16 A",
        ),
        (rating(base_a=None, factors=(), capacity_a=None), "carries: not known; needs 16 A"),
        (rating(base_a=None, factors=(), capacity_a=None, required_a=None), "carries: not known; needs not known"),
    ],
)
def test_a_rating_shows_its_chain(row: RatingRow, chain: str) -> None:
    result = replace(small_result(), circuits=(circuit("C1"),), ratings=(row,))

    assert rows_of(page(result), "circuits")[0][8] == f"pass {chain}"
    assert rows_of(page(result), "ratings")[0][4] == chain


def test_a_rating_names_the_source_of_each_figure_and_what_it_assumes() -> None:
    result = small_result()
    row = rating(carrier=result.carriers[1].key, verdict="unknown", reason="the method isn't known")
    tree = page(replace(result, circuits=(circuit("C1"),), ratings=(row,)))

    row = tree.xpath("//table[@id='ratings-table']/tbody/tr")[0]

    assert [said(cell) for cell in row][:4] == ["C1", "T-002", "single 2.5", "unknown"]
    assert said(row[5]) == "16 A: the protective device's rating"
    assert [said(line) for line in row[6].iter("li")] == [
        "27 A: a guide, table of ratings",
        "Ca 0.94: a guide, table of factors",
        "Cg 0.65 (assumed): a guide, table of factors",
    ]
    assert said(row[7]) == "all cables are loaded"
    tables = [said(table.find("caption")) for table in tree.xpath("//section[@id='unknown']//table")]
    assert tables == ["What is unknown, by reason", "Assumed for ratings"]
    assert rows_of(tree, "unknown") == [["the method isn't known", "grouping.rating", "1", "C1"]]


def test_the_worst_of_several_ratings_of_a_circuit_stands_in_its_row() -> None:
    failing = rating(required_a=20.0, verdict="fail")
    result = replace(small_result(), circuits=(circuit("C1"),), ratings=(rating(), failing))

    cell = rows_of(page(result), "circuits")[0][8]

    assert cell.startswith("fail ")
    assert cell.endswith("and 1 more below")


def test_a_fail_that_is_no_matter_of_capacity_does_not_read_as_enough() -> None:
    row = rating(verdict="fail", required_a=15.0, reason="its device is larger than its size may have")
    result = replace(small_result(), circuits=(circuit("C1"),), ratings=(row,))
    shown = rows_of(page(result), "ratings")[0][4]
    assert "≥" not in shown
    assert "= 16.5 A; needed: 15 A, and it fails for another reason; its device is larger" in shown

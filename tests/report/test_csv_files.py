import csv
import io
from dataclasses import replace

import pytest

from checker.model import Problem, ProblemKind
from checker.report.csv_files import WRITERS, failing_csv, problems_csv, routes_csv, segments_csv, text_of, waived_csv
from checker.result.network_tables import NearWayRow
from checker.result.tables import Result
from checker.result.waiver_tables import WaivedBy
from tests.report.html_pages import circuit
from tests.report.results import small_result


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


def test_a_failing_row_says_at_what_it_is_and_what_was_found_in_the_rule_s_own_words() -> None:
    result = small_result()
    keys = tuple(row.key for row in result.carriers[:2])
    shared = replace(
        result.findings[0],
        carriers=keys,
        at="JB-1",
        value=19.0,
        limit=0.0,
        unit="m",
        found="19.00 m shared",
        wanted="none may be",
    )
    rows = list(csv.DictReader(io.StringIO(failing_csv(replace(result, findings=(shared,))).decode())))
    assert [row["tag"] for row in rows] == ["T-001", "T-002"]  # a row for each segment
    assert {(row["value"], row["limit"], row["at"], row["found"], row["wanted"]) for row in rows} == {
        ("19.0", "0.0", "JB-1", "19.00 m shared", "none may be")
    }


def test_what_is_waived_has_a_row_though_it_names_no_segment_and_whoever_waived_it_isn_t_known() -> None:
    result = small_result()
    by = WaivedBy("A", "for now", "2027-06-30", 0.5), WaivedBy("B", "as well", "2027-01-31")
    nowhere, by_two = (replace(row, verdict="waived") for row in result.findings[:2])
    waived = replace(nowhere, carriers=()), replace(by_two, waived_by=by)
    rows = list(csv.reader(io.StringIO(waived_csv(replace(result, findings=waived)).decode())))
    assert {len(row) for row in rows} == {len(rows[0])}
    found = [dict(zip(rows[0], row, strict=True)) for row in rows[1:]]
    told = [(row["tag"], row["waived_by"], row["why"], row["until"], row["up_to"]) for row in found]
    assert told == [("", "", "", "", ""), ("T-002", "A; B", "for now; as well", "2027-06-30; 2027-01-31", "0.5; ")]


def test_a_name_that_is_a_formula_is_disarmed(vet_result: Result) -> None:
    evil = replace(vet_result, problems=(Problem("=HYPERLINK()", "a", "b", "c"),))
    assert problems_csv(evil).decode().splitlines()[1] == "'=HYPERLINK(),a,b,c,gap,1,1"


def test_problems_stand_in_their_groups_the_most_serious_first_with_how_many_elements_the_group_touches() -> None:
    found = (
        Problem("T-11", "its size is from its name", "so it may be wrong", "give it", ProblemKind.INFERENCE),
        Problem("T-9", "its size is from its name", "so it may be wrong", "give it", ProblemKind.INFERENCE, 4),
        Problem("line 3", "-5 isn't more than 0", "so it isn't known", "mend the number", ProblemKind.CORRECTION),
        Problem("C1", "it isn't routed", "no way leads there", ""),
        Problem("a.ifc", "no storey", "none is given", "", ProblemKind.GAP, 2),
    )

    for problems in (found, found[::-1]):
        assert problems_csv(replace(small_result(), problems=problems)).decode().splitlines() == [
            "where,what,why,hint,kind,elements,group",
            "a.ifc,no storey,none is given,,gap,2,1",
            "C1,it isn't routed,no way leads there,,gap,1,2",
            "line 3,'-5 isn't more than 0,so it isn't known,mend the number,correction,1,3",
            "T-9,its size is from its name,so it may be wrong,give it,inference,5,4",  # 4 + 1
            "T-11,its size is from its name,so it may be wrong,give it,inference,5,4",
        ]


def rows_of(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"))))


def test_routes_say_how_much_cable_is_cut_and_which_other_ways_are_near() -> None:
    result = small_result()
    first, other = circuit("P1"), circuit("P2")
    by = result.carriers[1]
    near = (NearWayRow(first.circuit, 0, 0.8, by.key, (by.key,)), NearWayRow(first.circuit, 0, 1.25, by.key, (by.key,)))
    found = rows_of(
        routes_csv(replace(result, circuits=(replace(first, cable_m=12.5), other), near_ways=near, near_m=2.0))
    )
    by_mark = {row["circuit"]: (row["cable_length_m"], row["near_ways"]) for row in found}
    label = by.place.label
    assert by_mark.pop(first.circuit) == ("12.5", f"by {label} 0.80 m longer; by {label} 1.25 m longer")
    assert set(by_mark.values()) <= {("", "")}


def test_segments_and_failing_say_zone_condition_and_how_sure_kind_and_size_are() -> None:
    result = small_result()  # T-001, T-002 and the second compartment of T-003 fail
    first, *others = result.carriers
    named = replace(
        first, place=replace(first.place, zone="Wing B"), kind_source="words in its name", kind_confidence="low",
        dimension_confidence="medium", condition="existing",
    )  # fmt: skip
    result = replace(result, carriers=(named, *others))

    added = ("kind_source", "kind_confidence", "dimension_confidence", "condition", "zone")
    segments = {row["tag"]: tuple(row[column] for column in added) for row in rows_of(segments_csv(result))}
    assert segments["T-001"] == ("words in its name", "low", "medium", "existing", "Wing B")
    assert segments["T-002"] == ("", "", "", "", "")
    assert tuple(rows_of(segments_csv(result))[0])[-11:] == (
        *added,
        "bore_mm",
        "other_ways",
        "mark",
        "fill_least",
        "fill_most",
        "untoleranced",
    )  # at the end, where no reader of old columns stumbles
    assert {row["tag"]: row["zone"] for row in rows_of(failing_csv(result))} == {
        "T-001": "Wing B",
        "T-002": "",
        "T-003": "",
    }


def test_segments_say_between_what_fill_lies_by_the_tolerances_of_sizes() -> None:
    result = small_result()
    first, *others = result.compartments
    ranged = replace(first, fill_least=0.35, fill_most=0.523, untoleranced=("C1", "C2"))
    rows = rows_of(segments_csv(replace(result, compartments=(ranged, *others))))
    told = {
        (row["tag"], row["compartment"]): (row["fill_least"], row["fill_most"], row["untoleranced"]) for row in rows
    }
    assert told.pop(("T-001", "1")) == ("0.35", "0.523", "C1; C2")
    assert set(told.values()) == {("", "", "")}  # nothing is known of the others


def test_a_failing_row_without_advice_ends_with_what_was_tried_in_vain() -> None:
    result = small_result()
    vain = replace(result.findings[0], tried="nothing helped: 3 thicker cables; no other way")
    (row,) = csv.DictReader(io.StringIO(failing_csv(replace(result, findings=(vain,))).decode()))
    assert list(row)[-1] == "tried"
    assert (row["tried"], row["advice"]) == ("nothing helped: 3 thicker cables; no other way", "")

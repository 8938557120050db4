"""Tolerances of sizes through a whole check: from the tables to the compartments, the findings, the page and the machine's file."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from checker.model import Cable, Carrier, CarrierKind, Circuit, Place, Section, Service
from checker.model.tolerance import Tolerance
from checker.network.placing import placed
from checker.network.sizing import empty_compartment, insides
from checker.report.json_file import result_json, result_schema
from checker.result.tables import CompartmentRow, Result
from checker.rule.plugins import load_plugins
from tests.read.test_schedule import HEAD, only, read
from tests.report.html_pages import page, rows_of, said
from tests.report.results import small_result


def row_of(result: Result, tag: str, number: int) -> CompartmentRow:
    keys = {row.place.tag: row.key for row in result.carriers}
    return next(row for row in result.compartments if (row.carrier, row.number) == (keys[tag], number))


def test_the_sample_s_full_floor_trunking_is_within_the_tolerance(vet_result: Result) -> None:
    """FT-01/1 holds 18 of 25 mm² (8.1 to 9.7 mm), 10 of 16 mm² (6.4 to 7.8) and 9 of 10 mm², solid (5.3 to 6.4).

    With the least 18 · 51.530 + 10 · 32.170 + 9 · 22.062 = 1447.8 mm², with the most 1330.2 + 477.8 + 289.5 = 2097.5 mm², of 4305.6 mm².
    """
    row = row_of(vet_result, "FT-01", 1)
    assert (row.fill_least, row.fill_most) == (pytest.approx(0.336259, abs=2e-6), pytest.approx(0.487164, abs=2e-6))
    assert (row.verdict, row.untoleranced) == ("fail", ())
    told = (
        "within the tolerance of the cables' sizes: fill lies between 33.6 and 48.7 %, limit 45 %,"
        " and with the smallest it would be within"
    )
    assert told in row.reason
    (finding,) = [
        item
        for item in vet_result.findings
        if item.rule == "fill.compartment" and item.carriers == (row.carrier,) and item.compartment == 1
    ]
    assert (finding.verdict, told in finding.reason) == ("fail", True)


def test_no_range_is_told_where_nothing_lies_or_where_terms_count(vet_result: Result) -> None:
    for row in vet_result.compartments:
        if row.cables == 0 or row.measure == "term":
            assert (row.fill_least, row.fill_most, row.untoleranced) == (None, None, ())
        if row.fill_least is not None and row.fill_most is not None and row.fill is not None:
            assert row.fill_least <= row.fill <= row.fill_most + 1e-12


@pytest.mark.parametrize(
    ("line", "tolerance"),
    [
        ("h07v-r-16,,2", Tolerance(6.4, 7.8)),
        ("h07v-r-16,7.8,2", None),  # a size that is given is the maker's
        ("h07v-r-16,7.0-7.8,2", None),
        ("h07v-r-500,,2", None),
        ("6242y-2.5,,2", Tolerance(None, None, 9.8, 11.5, 5.2, 6.2)),
    ],
)
def test_the_size_of_the_table_alone_has_the_table_s_tolerance(
    tmp_path: Path, line: str, tolerance: Tolerance | None
) -> None:
    circuit = only(read(tmp_path, f"{HEAD}P1,DB,S1,power,{line}\n"))
    assert circuit.cables[0].tolerance == tolerance
    assert placed(circuit, circuit.cables[0]).tolerance == tolerance


def test_a_cable_of_the_project_has_none() -> None:
    circuit = Circuit("P1", "A", ("B",), Service.POWER, cables=(Cable(2, key="own", diameter_mm=7.8),))
    assert placed(circuit, circuit.cables[0]).tolerance is None


@pytest.mark.parametrize(
    ("material", "size", "tolerance_mm"),
    [
        ("steel", {}, 0.3),  # of the wall 0.15 mm, on both sides
        ("steel", {"bore_mm": 16.8}, None),
        ("steel", {"wall_mm": 1.6}, None),
        ("", {}, None),
    ],
    ids=["the table's bore", "a bore of the model's", "a wall of the model's", "no wall is known"],
)
def test_the_bore_of_the_code_s_table_alone_has_its_tolerance(
    material: str, size: dict[str, float], tolerance_mm: float | None
) -> None:
    sizes = load_plugins().codes["iec-60364"].sizes
    section = Section(outside_diameter_mm=20.0, source="read", **size)  # type: ignore[arg-type]
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, section, material=material)
    found = empty_compartment(carrier, 1, insides(carrier, sizes)[0])
    assert found.bore_tolerance_mm == (None if tolerance_mm is None else pytest.approx(tolerance_mm))


def test_page_and_file_have_the_range() -> None:
    result = small_result()
    first, *others = result.compartments
    ranged = replace(first, fill_least=0.35, fill_most=0.523, untoleranced=("C1", "C2"))
    result = replace(result, compartments=(ranged, *others))
    shown = [" ".join(row) for row in rows_of(page(result), "compartments")]
    words = "By the tolerances of sizes its fill lies between 35 % and 52.3 %; none is known of cables of C1, C2"
    assert sum(words in row for row in shown) == 1
    assert sum("tolerances" in row for row in shown) == 1
    assert said(page(small_result())).count("tolerances of sizes") == 0
    written = json.loads(result_json(result, 1, {}))["result"]["compartments"]
    assert [(row["fill_least"], row["fill_most"], row["untoleranced"]) for row in written[:2]] == [
        (0.35, 0.523, ["C1", "C2"]),
        (None, None, []),
    ]
    fields = result_schema()["$defs"]["CompartmentRow"]["properties"]
    assert {"fill_least", "fill_most", "untoleranced"} <= fields.keys()

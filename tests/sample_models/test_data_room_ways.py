"""The data room's circuits that go apart, what is missing for those that can't, and what cable is cut, against the worked answers."""

import csv
import tomllib

import pytest

from checker.checking import Request, check
from checker.model.words import wildcard
from checker.read.sources import find_sources
from checker.report.csv_files import cables_csv
from checker.result.tables import Result
from tests.sample_models.test_data_room import FOLDER, expected, near


@pytest.fixture(scope="module")
def result() -> Result:
    return check(Request(find_sources([FOLDER], None)))


def carriers_of(result: Result) -> dict[str, set[str]]:
    labels = {row.key: row.place.tag for row in result.carriers}
    return {row.circuit: {labels[key] for key in row.carriers} for row in result.circuits}


def test_circuits_that_go_apart_share_what_the_plan_leaves_them_to_share_and_nothing_else(result: Result) -> None:
    carriers = carriers_of(result)
    worked = expected("pair")
    assert len(worked) == 3 + 12 + 2
    for row in worked:
        assert carriers[row["key"]], row
        assert carriers[row["other"]], row
        shared = carriers[row["key"]] & carriers[row["other"]]
        assert shared == set(filter(None, row["carriers"].split("; "))), row


def test_a_pair_for_which_there_is_no_second_way_is_told_and_no_other(result: Result) -> None:
    told = [problem for problem in result.problems if "keep apart from" in problem.what]
    [row] = [row for row in expected("pair") if row["carriers"]]
    assert [(problem.where, problem.kind.value, problem.elements) for problem in told] == [
        (f"circuit {row['key']}", "gap", len(row["carriers"].split("; ")))
    ]
    assert row["other"] in told[0].what
    assert "no two ways" in told[0].why  # it was looked for


def test_fibre_link_1_would_go_by_the_first_riser_if_the_second_link_did_not(result: Result) -> None:
    # MM-1 at (11500, 7000, 1000) is √(0² + 1650²) = 1650 mm from BR-00 and √(500² + 1500² + 1650²) = 2285 mm from BR-04
    drops = {row.circuit: row.drops_m for row in result.circuits}
    assert drops["FO-02"][0] == pytest.approx(1.650, abs=1e-3)
    assert drops["FO-01"][0] == pytest.approx(2.285, abs=1e-3)


def test_every_pair_of_supplies_is_asked_to_go_apart_by_the_project_file_or_the_schedule() -> None:
    specs = tomllib.loads((FOLDER / "wayroom.toml").read_text(encoding="utf-8"))["redundant"]
    with (FOLDER / "circuits.csv").open(encoding="utf-8", newline="") as stream:
        said = {frozenset((row["circuit"], row["apart_from"])) for row in csv.DictReader(stream) if row["apart_from"]}
    for row in expected("pair"):
        marks = row["key"], row["other"]
        asked = [
            all(wildcard(pattern).fullmatch(mark) for pattern, mark in zip(spec["circuits"], marks, strict=True))
            for spec in specs
        ]
        assert any(asked) != (frozenset(marks) in said), row


def test_breaks_are_those_that_keep_a_circuit_from_its_way(result: Result) -> None:
    labels = {row.key: row.place.tag for row in result.carriers}
    found = {frozenset((labels[row.one], labels[row.other])): row for row in result.breaks}
    worked = expected("break")
    assert len(worked) == len(found) == 1
    for row in worked:
        here = found[frozenset((row["key"], row["other"]))]
        assert near(here.gap_mm, row["gap_mm"])
        assert here.circuits == (row["words"],)
        assert sorted((here.carriers_one, here.carriers_other)) == [1, 3]  # BU-04 alone, and BU-01 to BU-03


def test_the_gap_in_the_west_is_told_though_every_circuit_has_a_way_round(result: Result) -> None:
    # the two rows are joined in the east, so it is no break; DX-02 is what goes without for it
    assert any(problem.where == "BD-31 / BD-32" and "60 mm" in problem.what for problem in result.problems)
    assert {row.circuit for row in result.circuits if not row.carriers} == {"LD-02", "EX-02"}  # the one removed


def test_what_is_cut_is_way_drops_and_allowance(result: Result) -> None:
    found = {row["circuit"]: row for row in csv.DictReader(cables_csv(result).decode().splitlines())}
    worked = expected("cable")
    assert len(worked) == 3
    for row in worked:
        here = found[row["key"]]
        assert near(float(here["way_m"]), row["length_m"]), row
        assert near(float(here["drops_m"]), row["drops_m"]), row
        assert near(float(here["length_m"]), row["cable_m"]), row
        assert here["count"] == row["number"], row
        # the worked length is rounded to half a millimetre, each drop is read to a tenth of one
        assert float(here["total_m"]) == pytest.approx(float(row["total_m"]), abs=0.001 * int(row["number"])), row
        assert here["reason"] == ""
    assert found["LD-02"]["total_m"] == ""
    assert "no way" in found["LD-02"]["reason"]
    assert "EX-02" not in found  # it is removed

"""Figures of a schedule that can't be: voltages in kilovolts, cables smaller than the metal in them. They are unread, never believed."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.errors import ProjectFileError
from checker.model import Cable, Problem, ProblemKind
from checker.read.project import Project, read_project
from checker.read.schedule import Schedule, read_schedule
from checker.read.sources import find_sources
from checker.rule.plugins import load_plugins
from tests.small_models import two_trunkings

OWN = '[[cables]]\nkey = "mine"\nsource = "data sheet"\n'


def read(tmp_path: Path, columns: str, row: str, own: str = "") -> Schedule:
    """One row of a circuit, by its columns beside those that are needed."""
    path, toml = tmp_path / "circuits.csv", tmp_path / "wayroom.toml"
    path.write_text(f"circuit,from,to,service,count,{columns}\nP1,DB,S1,power,3,{row}\n", encoding="utf-8")
    toml.write_text(own, encoding="utf-8")
    project = read_project(toml)[0] if own else Project()
    return read_schedule(path, project, load_plugins().cables)


def cable(schedule: Schedule) -> Cable:
    (circuit,) = schedule.circuits
    (found,) = circuit.cables
    return found


def told(schedule: Schedule, column: str) -> Problem:
    (found,) = (item for item in schedule.problems if item.where == f"circuits.csv, line 2, {column}")
    return found


@pytest.mark.parametrize(
    ("cell", "voltage_v", "hint"),
    [
        ("0.23", None, "give it in volts: 0.23 kV is 230"),
        ("0.4", None, "give it in volts: 0.4 kV is 400"),
        ("1.99", None, "give it in volts: 1.99 kV is 1990"),
        ("2", 2.0, ""),
        ("12", 12.0, ""),
        ("230", 230.0, ""),
    ],
)
def test_a_circuits_voltage_below_2_v_is_unread(tmp_path: Path, cell: str, voltage_v: float | None, hint: str) -> None:
    schedule = read(tmp_path, "diameter_mm,voltage_v", f"4,{cell}")
    (circuit,) = schedule.circuits
    assert circuit.voltage_v == voltage_v
    assert ("voltage_v" in circuit.unread) is (voltage_v is None)
    if hint:
        problem = told(schedule, "voltage_v")
        assert (problem.hint, problem.kind) == (hint, ProblemKind.GAP)


@pytest.mark.parametrize(
    ("cell", "rated_v"), [("0.6", None), ("0.75", None), ("29.9", None), ("30", 30.0), ("750", 750.0)]
)
def test_a_rated_voltage_below_30_v_is_unread_and_the_tables_is_not_used(
    tmp_path: Path, cell: str, rated_v: float | None
) -> None:
    schedule = read(tmp_path, "cable,rated_voltage_v", f"h07v-r-16,{cell}")
    assert cable(schedule).rated_voltage_v == rated_v
    assert bool([item for item in schedule.problems if "in volts" in item.hint]) is (rated_v is None)


@pytest.mark.parametrize(("voltage", "verdicts"), [("230", {"fail"}), ("0.23", {"unknown"})])
def test_a_slip_of_a_thousand_makes_no_pass_of_a_fail(tmp_path: Path, voltage: str, verdicts: set[str]) -> None:
    """Power of 230 V beside data cables made for 100 V: in volts it fails; written in kilovolts it can't be told."""
    path = two_trunkings(tmp_path / "model.ifc")
    rows = f"P1,DB,S1,power,5,3,{voltage},750\nD1,DB,S1,data,5,1,12,100\n"
    table = tmp_path / "circuits.csv"
    table.write_text(f"circuit,from,to,service,diameter_mm,count,voltage_v,rated_voltage_v\n{rows}", encoding="utf-8")
    result = check(Request(find_sources([path], table), code="bs-7671"))
    asked = [item for item in result.findings if item.rule == "segregation.compartment"]
    assert {item.verdict for item in asked} == verdicts


@pytest.mark.parametrize(
    ("columns", "row", "metal"),
    [
        # 1.13 cm for 11.3 mm: a circle of 1.13 mm has 1.0 mm², and each core 16
        ("diameter_mm,csa_mm2,cores", "1.13,16,1", "1.13 mm has no room for the 16 mm²"),
        # a circle of 5 mm has 19.6 mm²: room for one core of 6 mm², none for four, 24 mm²
        ("diameter_mm,csa_mm2,cores", "5,6,4", "5 mm has no room for the 24 mm²"),
        # flat, 0.9 x 0.5 mm has less than 0.45 mm², three cores of 2.5 mm² are 7.5 mm²
        ("width_mm,height_mm,csa_mm2,cores", "0.9,0.5,2.5,3", "0.9 × 0.5 mm has no room for the 7.5 mm²"),
        # a range of which one end can't be
        ("diameter_mm,csa_mm2,cores", "1-12,16,1", "1 to 12 mm has no room for the 16 mm²"),
        # AWG 4/0 is 107 mm²; an inch and a bit is no diameter in mm
        ("diameter_mm,awg_kcmil", "0.64,4/0", "0.64 mm has no room for the 107.2 mm²"),
    ],
)
def test_a_size_smaller_than_the_metal_of_its_row_is_unread(tmp_path: Path, columns: str, row: str, metal: str) -> None:
    schedule = read(tmp_path, columns, row)
    found = cable(schedule)
    assert (found.diameter_mm, found.width_mm, found.height_mm, found.area_mm2, found.source) == (None,) * 4 + ("",)
    assert (found.diameter_least_mm, found.width_least_mm, found.height_least_mm) == (None, None, None)
    problem = told(schedule, columns.split(",", 1)[0])
    assert metal in problem.what
    assert problem.kind is ProblemKind.GAP
    assert "in mm, not cm" in problem.hint


def test_of_a_size_and_a_cross_section_of_one_row_that_cannot_both_be_neither_is_believed(tmp_path: Path) -> None:
    """The mistake may be in either: 250 for 2.5 mm² would make a rating pass."""
    schedule = read(tmp_path, "diameter_mm,csa_mm2,cores", "4,250,1")
    (circuit,) = schedule.circuits
    assert (cable(schedule).csa_mm2, cable(schedule).diameter_mm) == (None, None)
    assert {"csa_mm2", "diameter_mm"} <= set(circuit.unread)


@pytest.mark.parametrize(("cable_key", "is_doubtful"), [("", True), ("thhn-12", False)])
def test_an_awg_size_beside_a_size_that_has_no_room_for_it_is_believed_only_where_the_table_has_it_too(
    tmp_path: Path, cable_key: str, *, is_doubtful: bool
) -> None:
    # 12 AWG is 3.31 mm²; 0.13 in written as 0.13 mm is 0.013 mm²
    schedule = read(tmp_path, "cable,diameter_mm,awg_kcmil", f"{cable_key},0.13,12")
    (circuit,) = schedule.circuits
    assert cable(schedule).diameter_mm is None
    assert ("awg_kcmil" in circuit.unread) is is_doubtful


def test_a_size_smaller_than_the_metal_of_the_tables_cable_is_unread_and_the_tables_conductors_stay(
    tmp_path: Path,
) -> None:
    # 0.75 mm across is 0.44 mm², and the table has 16 mm²
    schedule = read(tmp_path, "cable,diameter_mm", "h07v-r-16,0.75")
    found = cable(schedule)
    assert (found.diameter_mm, found.area_mm2, found.csa_mm2) == (None, None, 16.0)
    assert "no room for the 16 mm²" in told(schedule, "diameter_mm").what


@pytest.mark.parametrize(
    "row",
    [
        "1.78,2.5,1",  # bare and solid: 2.49 mm² of metal is called 2.5
        "3.5,10,1",  # 9.62 mm², within a tenth of 10
        "11.3,16,1",
        "4,,",  # nothing is said of its conductors
    ],
)
def test_a_size_that_has_room_for_its_metal_is_read(tmp_path: Path, row: str) -> None:
    schedule = read(tmp_path, "diameter_mm,csa_mm2,cores", row)
    assert cable(schedule).diameter_mm == float(row.split(",", 1)[0])
    assert [item for item in schedule.problems if "no room" in item.what] == []


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("diameter_mm = 1.13\ncsa_mm2 = 16", "no room for the 16 mm²"),
        ("diameter_mm = 5\ncsa_mm2 = 6\ncores = 4", "no room for the 24 mm²"),  # 19.6 mm² of room
        ("width_mm = 0.9\nheight_mm = 0.5\ncsa_mm2 = 2.5", "no room for the 2.5 mm²"),
        ("diameter_mm = [1.0, 12.0]\ncsa_mm2 = 16", "no room for the 16 mm²"),
        ("diameter_mm = 11.3\nrated_voltage_v = 0.6", "0.6 kV is 600"),
    ],
)
def test_a_cable_of_the_projects_own_that_cannot_be_is_refused(tmp_path: Path, keys: str, words: str) -> None:
    with pytest.raises(ProjectFileError, match=words) as caught:
        read(tmp_path, "cable", "mine", f"{OWN}{keys}\n")
    assert "line 1" in caught.value.where


def test_a_cable_of_the_projects_own_that_can_be_is_read(tmp_path: Path) -> None:
    keys = "diameter_mm = 11.3\ncsa_mm2 = 16\nrated_voltage_v = 600\n"
    assert cable(read(tmp_path, "cable", "mine", OWN + keys)).diameter_mm == 11.3


@pytest.mark.parametrize(("csa", "read_mm2"), [("16", 16.0), ("160", None)])
def test_a_cross_section_that_has_no_room_in_a_cable_of_the_projects_own_is_unread(
    tmp_path: Path, csa: str, read_mm2: float | None
) -> None:
    # a circle of 11.3 mm has 100.3 mm²
    schedule = read(tmp_path, "cable,csa_mm2", f"mine,{csa}", f"{OWN}diameter_mm = 11.3\n")
    assert (cable(schedule).csa_mm2, cable(schedule).diameter_mm) == (read_mm2, 11.3)
    words = "160 mm² of conductors have no room in mine of 11.3 mm"
    assert bool([item for item in schedule.problems if item.what == words]) is (read_mm2 is None)


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ("9.5-8.0", "the row names no cable, and its size can't be read"),
        ("0", "the row names no cable, and its size can't be read"),
        ("", "the row names no cable and no size"),
    ],
)
def test_a_row_whose_size_cannot_be_read_is_not_said_to_have_none(tmp_path: Path, row: str, what: str) -> None:
    schedule = read(tmp_path, "cable,diameter_mm", f",{row}")
    assert told(schedule, "cable").what == what
    assert {item.kind for item in schedule.problems} == {ProblemKind.GAP}

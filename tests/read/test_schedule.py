from pathlib import Path

import pytest

from checker.errors import InputError
from checker.model import Circuit, Service, State
from checker.read.project import CableSpec, Project
from checker.read.schedule import Schedule, read_schedule
from checker.rule.plugins import load_plugins

HEAD = "circuit,from,to,service,cable,diameter_mm,count\n"


def read(tmp_path: Path, text: str) -> Schedule:
    path = tmp_path / "circuits.csv"
    path.write_text(text, encoding="utf-8")
    return read_schedule(path, Project(), load_plugins().cables)


def only(schedule: Schedule) -> Circuit:
    assert len(schedule.circuits) == 1
    return schedule.circuits[0]


def test_a_circuit_of_two_rows_has_two_kinds_of_cable(tmp_path: Path) -> None:
    circuit = only(read(tmp_path, HEAD + "P1,DB,S1,power,h07v-u-2.5,,2\nP1,DB,S1,power,h07v-u-1.5,,1\n"))
    assert [(cable.key, cable.count, cable.diameter_mm) for cable in circuit.cables] == [
        ("h07v-u-2.5", 2, 3.9),
        ("h07v-u-1.5", 1, 3.2),
    ]
    assert (circuit.service, circuit.state, circuit.sets) == (Service.POWER, State.NEW, 1)
    assert all(cable.cores == 1 for cable in circuit.cables)


@pytest.mark.parametrize("written", ["h07v-u-4", "H07V-U-4", "H07v-u-4", " h07V-U-4 "])
def test_a_cable_has_the_catalogues_spelling_however_the_schedule_writes_it(tmp_path: Path, written: str) -> None:
    assert only(read(tmp_path, HEAD + f"P1,DB,S1,power,{written},,2\n")).cables[0].key == "h07v-u-4"
    # a size of its own changes the size, not what it is called
    assert only(read(tmp_path, HEAD + f"P1,DB,S1,power,{written},4.7,2\n")).cables[0].key == "h07v-u-4"


def test_a_cable_that_isnt_known_keeps_the_schedules_spelling(tmp_path: Path) -> None:
    assert only(read(tmp_path, HEAD + "P1,DB,S1,power,Own-4,4.7,2\n")).cables[0].key == "Own-4"


def test_the_projects_own_cable_has_the_projects_spelling(tmp_path: Path) -> None:
    path = tmp_path / "circuits.csv"
    path.write_text(HEAD + "P1,DB,S1,power,OWN-4,,2\nP1,DB,S1,power,own-4,,1\n", encoding="utf-8")
    project = Project(cables=(CableSpec(key="Own-4", diameter_mm=4.7, source="measured"),))
    cables = only(read_schedule(path, project, {})).cables
    assert [(cable.key, cable.diameter_mm) for cable in cables] == [("Own-4", 4.7)] * 2


def test_the_schedules_diameter_wins_over_the_table_and_the_difference_is_told(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,power,h07v-u-2.5,4.5,2\n")
    assert only(schedule).cables[0].diameter_mm == 4.5
    assert any("4.5 mm" in problem.what and "3.9" in problem.what for problem in schedule.problems)


@pytest.mark.parametrize(
    ("row", "column", "words"),
    [
        ("P1,DB,S1,power,,thick,2", "diameter_mm", "'thick' isn't a number"),
        ("P1,DB,S1,power,,-4,2", "diameter_mm", "isn't more than 0"),
        ("P1,DB,S1,power,,nan,2", "diameter_mm", "isn't a number"),
        ("P1,DB,S1,power,,4,three", "count", "'three' isn't a whole number"),
        ("P1,DB,S1,power,,4,2.5", "count", "isn't a whole number"),
        ("P1,DB,S1,power,,4,", "count", "how many"),
        ("P1,DB,S1,lighting,,4,2", "service", "'lighting' isn't one of"),
        ("P1,DB,S1,,,4,2", "service", "has no service"),
        ("P1,DB,S1,power,h07v-u-2.6,,2", "cable", "no cable"),
        ("P1,DB,S1,power,,,2", "cable", "no cable and no size"),
        (",DB,S1,power,,4,2", "circuit", "names no circuit"),
    ],
)
def test_a_bad_cell_is_a_problem_with_row_and_column(tmp_path: Path, row: str, column: str, words: str) -> None:
    schedule = read(tmp_path, HEAD + row + "\nP2,DB,S2,power,,4,1\n")
    told = [problem for problem in schedule.problems if problem.where == f"circuits.csv, line 2, {column}"]
    assert any(words in problem.what for problem in told)
    assert all(problem.hint for problem in told)
    assert "P2" in {circuit.mark for circuit in schedule.circuits}  # the rest goes on


def test_a_wrong_cable_key_gets_the_nearest_spellings(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,power,H07V-U-2.6,,2\n")
    assert any("h07v-u-2.5" in problem.hint for problem in schedule.problems)


def test_what_cannot_be_read_is_unknown_and_never_nothing(tmp_path: Path) -> None:
    circuit = only(read(tmp_path, HEAD + "P1,DB,S1,power,,thick,two\n"))
    assert circuit.cables[0].diameter_mm is None
    assert circuit.cables[0].count is None


def test_a_row_without_a_mark_is_lost_and_said(tmp_path: Path) -> None:
    assert read(tmp_path, HEAD + ",DB,S1,power,,4,2\n").lost_rows == (2,)


@pytest.mark.parametrize("column", ["circuit", "from", "to"])
def test_a_missing_needed_column_ends_the_run_and_is_named(tmp_path: Path, column: str) -> None:
    with pytest.raises(InputError, match=f"'{column}' is missing") as caught:
        read(tmp_path, HEAD.replace(column, f"{column}_x", 1) + "P1,DB,S1,power,,4,2\n")
    assert "line 1" in caught.value.where
    assert f"{column}_x" in caught.value.hint


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (b"", "empty"),
        (b"\n\n", "empty"),
        (b"sep=;\n\n", "empty"),
        (b"\xff\xfe\x00", "isn't UTF-16 text"),  # half a sign
        (b"\xff\xfec\x00", "'circuit', 'from' and 'to' are missing"),
        (b"\xef\xbb\xbfcircuit,\xff", "isn't UTF-8 text"),  # it says that it is
        (b"circuit,\x81", "isn't UTF-8 text"),  # nor Windows-1252, which has no such sign
        (b"circuit,from,to\nP1,\0,S1\n", "isn't text"),
        (b"PK\x03\x04circuit,from,to", "packed"),
        (b"\xff\xfe\0\0c\0\0\0", "UTF-32"),
    ],
)
def test_a_file_that_is_no_schedule_ends_the_run(tmp_path: Path, content: bytes, what: str) -> None:
    path = tmp_path / "circuits.csv"
    path.write_bytes(content)
    with pytest.raises(InputError, match=what):
        read_schedule(path, Project(), {})


def test_semicolons_decimal_commas_and_a_byte_order_mark(tmp_path: Path) -> None:
    circuit = only(read(tmp_path, "\ufeff" + (HEAD + "P1,DB,S1,power,,4§5,2\n").replace(",", ";").replace("§", ",")))
    assert circuit.cables[0].diameter_mm == 4.5


def test_unknown_columns_are_kept(tmp_path: Path) -> None:
    circuit = only(read(tmp_path, HEAD.replace("count", "count,Remark") + "P1,DB,S1,power,,4,2,by night\n"))
    assert circuit.other == {"remark": "by night"}


def test_a_route_may_name_compartments(tmp_path: Path) -> None:
    circuit = only(
        read(tmp_path, HEAD.replace("count", "count,route,compartment") + "P1,DB,S1,power,,4,2,T1/2|T2; A/B/3 ,1\n")
    )
    assert [(step.name, step.compartment) for step in circuit.route] == [("T1", 2), ("T2", None), ("A/B", 3)]
    assert circuit.compartment == 1


def test_where_rows_of_a_circuit_contradict_each_other_neither_is_believed(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,power,,4,2\nP1,DB,S9,data,,4,2\n")
    circuit = only(schedule)
    assert circuit.service is None
    assert {"to", "service"} <= set(circuit.unread)
    assert any("'S9' differs" in problem.what for problem in schedule.problems)


@pytest.mark.parametrize("text", ["20 cm", "-3", "thick", "1_0", "#N/A", "'0,5'"])
def test_a_size_that_is_given_but_cannot_be_read_is_not_the_tables(tmp_path: Path, text: str) -> None:
    assert only(read(tmp_path, HEAD + f'P1,DB,S1,power,h07v-u-2.5,"{text}",2\n')).cables[0].diameter_mm is None


@pytest.mark.parametrize("column", ["csa_mm2", "cores", "rated_voltage_v"])
def test_no_figure_that_is_given_but_cannot_be_read_is_the_tables(tmp_path: Path, column: str) -> None:
    text = HEAD.replace("count", f"count,{column}") + "P1,DB,S1,power,h07v-u-2.5,,2,some\n"
    circuit = only(read(tmp_path, text))
    assert getattr(circuit.cables[0], column) is None
    assert column in circuit.unread


@pytest.mark.parametrize(
    ("text", "count"),
    [("3", 3), ("3.0", 3), ("1.000", None), ("1,000", None), ("1_0", None), ("1e3", None), ("9" * 5000, None)],
)
def test_a_count_is_digits_and_never_thousands_by_mistake(tmp_path: Path, text: str, count: int | None) -> None:
    row = HEAD.replace(",", ";") + f"P1;DB;S1;power;;4;{text}\n"
    assert only(read(tmp_path, row)).cables[0].count == count


def test_a_flat_cable_given_as_a_thin_round_one_is_said(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,power,6242y-10,8,2\n")
    assert any("19 × 9.6 mm" in problem.what for problem in schedule.problems)


def test_cross_sections_that_differ_from_the_table_are_said(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD.replace("count", "count,csa_mm2,cores") + "P1,DB,S1,power,h07v-u-10,,2,2.5,3\n")
    assert {problem.where.split(", ")[2] for problem in schedule.problems} >= {"csa_mm2", "cores"}


def test_where_rows_differ_in_state_the_cables_count(tmp_path: Path) -> None:
    head = HEAD.replace("count", "count,state")
    schedule = read(tmp_path, head + "P1,DB,S1,power,,4,2,removed\nP1,DB,S1,power,,4,2,new\n")
    assert only(schedule).state is State.NEW


def test_a_planning_value_is_told(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "D1,R,O1,data,cat6-u-utp,,4\n")
    assert only(schedule).cables[0].diameter_mm == 6.6
    assert any("planning value" in problem.what for problem in schedule.problems)


def test_a_whole_missing_column_is_told_once(tmp_path: Path) -> None:
    schedule = read(tmp_path, "circuit,from,to,service,diameter_mm\nP1,DB,S1,power,4\nP2,DB,S1,power,4\n")
    assert [problem.where for problem in schedule.problems if "count" in problem.what] == ["circuits.csv, line 1"]
    assert all(circuit.cables[0].count is None for circuit in schedule.circuits)

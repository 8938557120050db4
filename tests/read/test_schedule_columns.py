"""Columns and words as a project calls them: ``[schedule]`` of wayroom.toml."""

from pathlib import Path

import pytest

from checker.errors import InputError, ProjectFileError
from checker.model import ProblemKind, Service, State
from checker.read.project import read_project
from checker.read.schedule import Schedule, read_schedule
from tests.read.test_schedule import only

THEIRS = "Circuit ref;Origin;Destination;System;OD [mm];No. off;Status\n"
RENAMED = """[schedule]
services = { "Small Power" = "power", "L&P" = "power" }
states = { "Ex." = "existing" }

[schedule.columns]
circuit = "circuit  REF"
from = "Origin"
to = "Destination"
service = "System"
diameter_mm = "OD"
count = "No. off"
state = "Status"
"""


def read(folder: Path, project: str, text: str) -> Schedule:
    (folder / "wayroom.toml").write_text(project, encoding="utf-8")
    (folder / "circuits.csv").write_text(text, encoding="utf-8")
    return read_schedule(folder / "circuits.csv", read_project(folder / "wayroom.toml")[0], {})


def test_renamed_columns_and_words_are_read_in_any_case(tmp_path: Path) -> None:
    schedule = read(tmp_path, RENAMED, THEIRS + "P1;DB;S1;small  POWER;4,5;2;ex.\n")
    circuit = only(schedule)
    assert (circuit.mark, circuit.origin, circuit.calls) == ("P1", "DB", ("S1",))
    assert (circuit.service, circuit.state) == (Service.POWER, State.EXISTING)
    assert (circuit.cables[0].diameter_mm, circuit.cables[0].count) == (4.5, 2)
    assert not schedule.problems


def test_our_own_words_hold_beside_theirs(tmp_path: Path) -> None:
    assert only(read(tmp_path, RENAMED, THEIRS + "P1;DB;S1;Power;4,5;2;New\n")).service is Service.POWER


def test_another_word_is_told_with_theirs_and_ours(tmp_path: Path) -> None:
    schedule = read(tmp_path, RENAMED, THEIRS + "P1;DB;S1;Lights;4,5;2;\n")
    (told,) = schedule.problems
    assert "data, elv, Small Power, L&P" in told.what


@pytest.mark.parametrize(
    "heading",
    [
        "circuit",
        " Circuit ",
        "CIRCUIT",
        '"Cir cuit"',
        '"circuit\n"',
        "circuit (ref)",
        "circuit [no.]",
        '"\ncircuit\n(ref)"',
    ],
)
def test_headings_are_compared_without_case_blanks_and_brackets(tmp_path: Path, heading: str) -> None:
    text = f"{heading},from,to,service,diameter_mm (mm),csa_mm2 [mm²],count (-)\nP1,DB,S1,power,4,1.5,2\n"
    if heading == '"Cir cuit"':
        with pytest.raises(InputError, match="'circuit' is missing"):
            read(tmp_path, "", text)
        return
    schedule = read(tmp_path, "", text)
    assert (only(schedule).mark, only(schedule).cables[0].diameter_mm, only(schedule).cables[0].csa_mm2) == (
        "P1",
        4.0,
        1.5,
    )
    assert not schedule.problems


def test_a_unit_in_brackets_is_part_of_the_name_where_it_tells_columns_apart(tmp_path: Path) -> None:
    project = '[schedule]\ncolumns = { csa_mm2 = "Size (mm²)", awg_kcmil = "Size (AWG)" }\n'
    schedule = read(
        tmp_path,
        project,
        "circuit,from,to,service,diameter_mm,Size (AWG),Size (mm²),count\nP1,DB,S1,power,4,14,2.08,2\n",
    )
    # 14 AWG: π/4 · (0.127 · 92^(22/39))² = 2.081 mm²
    assert (only(schedule).cables[0].csa_mm2, only(schedule).cables[0].awg_kcmil) == (2.08, "14")
    assert not schedule.problems


def test_a_heading_in_another_unit_is_not_our_column(tmp_path: Path) -> None:
    schedule = read(tmp_path, "", "circuit,from,to,service,diameter_mm (in),count\nP1,DB,S1,power,0.5,2\n")
    assert only(schedule).cables[0].diameter_mm is None
    assert any("'diameter_mm (in)' isn't one that is read" in problem.what for problem in schedule.problems)


def test_a_name_of_theirs_that_isnt_there_is_told_with_the_nearest(tmp_path: Path) -> None:
    project = '[schedule]\ncolumns = { service = "Sistem" }\n'
    schedule = read(tmp_path, project, "circuit,from,to,System,diameter_mm,count\nP1,DB,S1,power,4,2\n")
    told = [problem for problem in schedule.problems if "'Sistem' isn't there" in problem.what]
    assert [(problem.where, problem.hint) for problem in told] == [("circuits.csv, line 1", "did you mean 'system'?")]
    assert only(schedule).service is None


def test_a_needed_one_ends_the_run(tmp_path: Path) -> None:
    project = '[schedule]\ncolumns = { from = "Orgin" }\n'
    with pytest.raises(InputError, match=r"'Orgin' \(our 'from'\) is missing") as caught:
        read(tmp_path, project, "circuit,Origin,to,count\nP1,DB,S1,2\n")
    assert caught.value.hint == (
        "rename the column 'Origin' to 'Orgin', or say which it is: [schedule] columns = { from = \"Origin\" }"
    )


@pytest.mark.parametrize(
    ("project", "header", "words", "hint"),
    [
        (
            "",
            "Circuit,Feeds,Board,Count",  # neither is spelled like one of ours
            "the columns 'from' and 'to' are missing; it has Circuit, Feeds, Board, Count",
            "add columns 'from' and 'to' to the header row, or say which they are: [schedule] columns = { from = \"…\", to = \"…\" }",
        ),
        (
            "",
            "Circuit,Form,Serves,Count",
            "the columns 'from' and 'to' are missing; it has Circuit, Form, Serves, Count",
            (
                "rename the column 'Form' to 'from', add a column 'to' to the header row, "
                'or say which they are: [schedule] columns = { from = "Form", to = "…" }'
            ),
        ),
        (
            '[schedule]\ncolumns = { from = "Board A", to = "Board B" }\n',  # one heading isn't offered for two
            "circuit,Board,count",
            "the columns 'Board A' (our 'from') and 'Board B' (our 'to') are missing; it has circuit, Board, count",
            (
                "rename the column 'Board' to 'Board A', add a column 'Board B' to the header row, "
                'or say which they are: [schedule] columns = { from = "Board", to = "…" }'
            ),
        ),
        (
            '[schedule]\ncolumns = { to = "Load served" }\n',
            "circuit,from,Serves,count",
            "the column 'Load served' (our 'to') is missing; it has circuit, from, Serves, count",
            "add a column 'Load served' to the header row, or say which it is: [schedule] columns = { to = \"…\" }",
        ),
    ],
)
def test_all_needed_ones_that_are_missing_are_named_at_once_as_they_are_written(
    tmp_path: Path, project: str, header: str, words: str, hint: str
) -> None:
    with pytest.raises(InputError) as caught:
        read(tmp_path, project, f"{header}\nP1,DB,S1,2\n")
    assert (caught.value.what, caught.value.hint) == (words, hint)


def test_what_the_hint_says_of_columns_mends_the_schedule(tmp_path: Path) -> None:
    text = 'circuit,"Form ""A""",to,service,diameter_mm,count\nP1,DB,S1,power,4,2\n'
    with pytest.raises(InputError) as caught:
        read(tmp_path, '[schedule]\ncolumns = { from = "Form A" }\n', text)
    entry = caught.value.hint.split("[schedule] ")[1]
    assert only(read(tmp_path, f"[schedule]\n{entry}\n", text)).origin == "DB"


def test_a_column_of_our_name_isnt_read_where_another_is_named_for_it(tmp_path: Path) -> None:
    project = '[schedule]\ncolumns = { from = "Origin" }\n'
    schedule = read(tmp_path, project, "circuit,from,Origin,to,service,diameter_mm,count\nP1,level 1,DB,S1,power,4,2\n")
    assert (only(schedule).origin, only(schedule).other) == ("DB", {"from (not read)": "level 1"})
    assert [problem.kind for problem in schedule.problems] == [ProblemKind.ASSUMPTION]


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        ('columns = { circit = "Ref" }', "there is no column 'circit'; did you mean 'circuit'?"),
        ('columns = { circuit = " " }', "circuit is empty"),
        ('columns = { circuit = "Ref", from = "REF " }', "two columns of ours can't both be 'REF '"),
        ('columns = { diameter_mm = "OD (in)" }', "in another unit than diameter_mm"),
        ('services = { "Lights" = "lighting" }', "services.Lights"),
        ('services = { "Lights" = "power", "LIGHTS" = "data" }', "two entries are for 'LIGHTS'"),
        ('states = { "Ex." = "there" }', "states.Ex."),
        ('states = { "" = "existing" }', "a word is empty"),
        ('group_headings = ["Ground floor", " "]', "a text is empty"),
        ('tab = "A"', "no such key"),
    ],
)
def test_a_wrong_entry_ends_the_run_with_its_line(tmp_path: Path, entry: str, words: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        read(tmp_path, f"[schedule]\n{entry}\n", "")
    assert words in str(caught.value)
    assert "line 2" in caught.value.where or "line 1" in caught.value.where

"""Schedules as text: every separator, encoding and quoting that spreadsheets write, and what a person sees of it."""

import codecs
from pathlib import Path

import pytest

from checker.errors import InputError
from checker.model import ProblemKind
from checker.read.project import Project
from checker.read.project_schedule import ScheduleSpec
from checker.read.schedule import Schedule, read_schedule
from tests.read.test_schedule import HEAD, only, read

TEXT = "circuit,from,to,service,diameter_mm,count\nKüche,DB-1,Öfen,power,4.5,2\n"


def read_bytes(folder: Path, data: bytes, name: str = "circuits.csv") -> Schedule:
    path = folder / name
    path.write_bytes(data)
    return read_schedule(path, Project(), {})


@pytest.mark.parametrize("name", ["circuits.csv", "circuits.txt", "circuits.tsv", "CIRCUITS.CSV"])
@pytest.mark.parametrize("separator", [",", ";", "\t"])
def test_each_separator_is_told_by_the_header(tmp_path: Path, separator: str, name: str) -> None:
    schedule = read_bytes(tmp_path, TEXT.replace(",", separator).encode(), name)
    assert (only(schedule).mark, only(schedule).cables[0].diameter_mm) == ("Küche", 4.5)
    assert not schedule.problems


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (TEXT.encode(), ""),
        (codecs.BOM_UTF8 + TEXT.encode(), ""),
        (codecs.BOM_UTF16_LE + TEXT.encode("utf-16-le"), ""),
        (codecs.BOM_UTF16_BE + TEXT.encode("utf-16-be"), ""),
        (TEXT.encode("utf-16-le"), "UTF-16"),
        (TEXT.encode("utf-16-be"), "UTF-16"),
        (TEXT.encode("cp1252"), "Windows-1252"),
    ],
)
def test_each_encoding_is_read_and_a_guessed_one_told_once(tmp_path: Path, data: bytes, told: str) -> None:
    schedule = read_bytes(tmp_path, data)
    assert (only(schedule).mark, only(schedule).calls) == ("Küche", ("Öfen",))
    assert [(item.what, item.kind) for item in schedule.problems] == (
        [(f"it is read as {told}", ProblemKind.INFERENCE)] if told else []
    )


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_each_line_end_is_one(tmp_path: Path, end: str) -> None:
    schedule = read_bytes(tmp_path, (TEXT + ",DB,S\n").replace("\n", end).encode())
    assert only(schedule).mark == "Küche"
    assert schedule.lost_rows == (3,)


@pytest.mark.parametrize("first", ["sep=;", "SEP=;", '"sep=;"', "sep=; "])
def test_a_separator_that_is_said_counts_and_so_does_its_line(tmp_path: Path, first: str) -> None:
    rows = HEAD.replace(",", ";") + ";DB;S1;power;;4;2\nP1;DB;S,1;power;;4;2\n"
    schedule = read(tmp_path, f"{first}\n{rows}")
    assert only(schedule).calls == ("S,1",)
    assert schedule.lost_rows == (3,)  # sep is line 1, the header 2


def test_a_separator_that_is_said_may_be_another(tmp_path: Path) -> None:
    assert only(read(tmp_path, "sep=|\n" + HEAD.replace(",", "|") + "P1|DB|S1|power||4|2\n")).cables[0].count == 2


def test_the_separator_is_that_of_the_header_and_not_of_the_title(tmp_path: Path) -> None:
    title = "Circuits, of the whole house, as of May, revision C\n\nDrawn, by; nobody\n"
    schedule = read(tmp_path, title + HEAD.replace(",", ";") + "P1;DB;S1;power;;4,5;2\n")
    assert only(schedule).cables[0].diameter_mm == 4.5
    (told,) = schedule.problems
    assert (told.where, told.kind) == ("circuits.csv, lines 1, 3", ProblemKind.INFERENCE)


def test_the_header_is_found_among_the_first_fifty_lines_that_arent_blank(tmp_path: Path) -> None:
    row = "P1,DB,S1,power,,4,2\n"
    assert only(read(tmp_path, "title\n\n" * 49 + HEAD + row)).mark == "P1"
    with pytest.raises(InputError, match="'circuit', 'from' and 'to' are missing"):
        read(tmp_path, "title\n" * 50 + HEAD + row)


def test_without_a_header_the_line_that_is_most_like_one_is_named(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'from' is missing; it has circuit, form, to, count") as caught:
        read(tmp_path, "Schedule\n\ncircuit,form,to,count\nP1,DB,S1,2\n")
    assert caught.value.where.endswith("circuits.csv, line 3")
    assert "'form'" in caught.value.hint


def test_a_column_of_ours_that_stands_there_twice_ends_the_run(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="'count' stands there twice"):
        read(tmp_path, "circuit,from,to,count,Count\nP1,DB,S1,2,3\n")


def test_others_may_and_both_are_kept(tmp_path: Path) -> None:
    schedule = read(tmp_path, "circuit,from,to,service,diameter_mm,count,Note,note\nP1,DB,S1,power,4,2,a,b\n")
    assert only(schedule).other == {"note": "a", "note, column 8": "b"}


def test_quotes_hold_separators_quotes_and_line_breaks_and_lines_are_counted_as_seen(tmp_path: Path) -> None:
    rows = '"P1","D,B","S1\nS2;S3",power,,4,2\nP2,DB,"S ""x""",power,,4,2\n,DB,S1,power,,4,2\n'
    schedule = read(tmp_path, HEAD + rows)
    one, two = schedule.circuits
    assert (one.origin, one.calls, two.calls) == ("D,B", ("S1", "S2", "S3"), ('S "x"',))
    assert (one.cables[0].row, two.cables[0].row) == (2, 4)  # the first runs over lines 2 and 3
    assert schedule.lost_rows == (5,)


def test_a_quote_that_is_never_closed_ends_the_run(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="never closed") as caught:
        read(tmp_path, HEAD + 'P1,DB,S1,power,,4,2\nP2,DB,"S2,power,,4,2\nP3,DB,S3,power,,4,2\n')
    assert "line 3" in caught.value.where


def test_rows_that_a_quote_swallowed_could_lie_anywhere(tmp_path: Path) -> None:
    rows = 'P1,DB,"S1,power,,4,2\nP2,DB,S2,power,,4,2\nP3,DB,S3",power,,4,2\nP4,DB,S4,power,,4,2\n'
    schedule = read(tmp_path, HEAD + rows)
    assert schedule.lost_rows == (2,)
    assert any("look like rows" in problem.what for problem in schedule.problems)
    assert "P4" in {circuit.mark for circuit in schedule.circuits}


def test_a_row_with_more_cells_than_the_header_is_lost_since_an_unquoted_comma_moves_cells(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,S1,power,,4,5,2\nP2,DB,S2,power,,4,5\n")
    assert [circuit.mark for circuit in schedule.circuits] == ["P2"]
    assert schedule.lost_rows == (2,)


def test_what_stands_in_a_column_without_a_heading_is_told(tmp_path: Path) -> None:
    schedule = read(
        tmp_path, "circuit,from,to,service,,diameter_mm,count,\nP1,DB,S1,power,x,4,2,y\nP2,DB,S1,power,,4,2,\n"
    )
    (told,) = schedule.problems
    assert (told.where, told.kind, told.elements) == ("circuits.csv, line 2", ProblemKind.ASSUMPTION, 1)
    assert len(schedule.circuits) == 2


def test_control_characters_are_shown_as_such_and_told(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P\x011,DB,S\x1f1,power,,4,2\n")
    assert only(schedule).mark == "P\ufffd1"
    (told,) = schedule.problems
    assert (told.kind, told.elements) == (ProblemKind.CORRECTION, 2)


def test_error_values_that_were_exported_are_unread(tmp_path: Path) -> None:
    schedule = read(tmp_path, HEAD + "P1,DB,#REF!,power,,#N/A,2\n#N/A,DB,S1,power,,4,2\n")
    assert {"to", "diameter_mm"} <= set(only(schedule).unread)
    assert schedule.lost_rows == (3,)


def test_a_sheet_is_asked_for_in_vain_in_a_text_file(tmp_path: Path) -> None:
    path = tmp_path / "circuits.csv"
    path.write_text(HEAD + "P1,DB,S1,power,,4,2\n", encoding="utf-8")
    schedule = read_schedule(path, Project(schedule=ScheduleSpec(sheet="Data")), {})
    assert [problem.kind for problem in schedule.problems] == [ProblemKind.ASSUMPTION]


@pytest.mark.parametrize("name", ["circuits.xls", "circuits.ods", "circuits.pdf", "circuits"])
def test_another_format_ends_the_run(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="of this format") as caught:
        read_bytes(tmp_path, TEXT.encode(), name)
    assert caught.value.hint == "save it as .csv or .xlsx"


@pytest.mark.parametrize("name", ["a.csv", "a.xlsx"])
def test_a_folder_and_a_file_that_isnt_there_end_the_run(tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match="can't be read"):
        read_schedule(tmp_path / name, Project(), {})
    (tmp_path / name).mkdir()
    with pytest.raises(InputError, match="can't be read"):
        read_schedule(tmp_path / name, Project(), {})


def test_too_many_columns_end_the_run(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="more than 1000 columns"):
        read(tmp_path, HEAD.strip() + "," + ",".join(f"x{number}" for number in range(1000)) + "\n")

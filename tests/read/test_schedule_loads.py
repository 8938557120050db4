"""What the electrical columns are read as, and what could mean two things is unread."""

from pathlib import Path

import pytest

from checker.read.schedule import Schedule
from tests.read.test_schedule import only, read

COLUMNS = "circuit,from,to,service,cable,count,loaded_conductors,design_current_a,device_rating_a"


def with_cell(tmp_path: Path, column: str, text: str, separator: str = ",") -> Schedule:
    """One power circuit of which one cell is another."""
    cells = {"circuit": "P1", "from": "DB", "to": "S1", "service": "power", "cable": "h07v-u-2.5", "count": "3",
             "loaded_conductors": "2", "design_current_a": "8", "device_rating_a": "10"}  # fmt: skip
    cells[column] = text
    lines = [separator.join(cells), separator.join(cells.values())]
    return read(tmp_path, "\n".join(lines) + "\n")


@pytest.mark.parametrize(
    ("column", "text", "value"),
    [
        ("ambient_c", "35", 35.0),
        ("ambient_c", "-5", -5.0),
        ("third_harmonic", "0", 0.0),
        ("third_harmonic", "0.4", 0.4),
        ("third_harmonic", "40", 40.0),  # per cent: what is made of it stands in the network
        ("third_harmonic", "40 %", 0.4),
        ("third_harmonic", "1.5%", 0.015),
        ("loaded_conductors", "3", 3),
        ("design_current_a", "7.5", 7.5),
        ("method", "B1", "B1"),
        ("device", "C", "C"),
    ],
)
def test_a_cell_is_read(tmp_path: Path, column: str, text: str, value: float | str) -> None:
    schedule = with_cell(tmp_path, column, text)
    assert only(schedule).electrical[column] == value
    assert not only(schedule).unread
    assert not schedule.problems


@pytest.mark.parametrize(
    ("column", "text", "words"),
    [
        ("ambient_c", "hot", "isn't a number"),
        ("ambient_c", "0", "blank that was filled in"),
        ("ambient_c", "400", "no ambient"),
        ("third_harmonic", "-0.1", "no share"),
        ("third_harmonic", "1.5", "ratio or per cent"),
        ("third_harmonic", "140", "no share"),
        ("loaded_conductors", "2.5", "whole number"),
        ("loaded_conductors", "0", "though a current is given"),
        ("design_current_a", "0", "isn't more than 0"),
        ("device_rating_a", "1.250", "thousands or thousandths"),
        ("method", "BI", "no reference method"),
        ("awg_kcmil", "twelve", "no conductor size"),
        ("awg_kcmil", "120", "no conductor size"),
        ("awg_kcmil", "5000", "no conductor size"),
        ("awg_kcmil", "10", "which is 5.261 mm², beside 2.5 mm²"),
        ("conductor", "coper", "no conductor's metal"),
        ("conductor", "aluminium", "in the table it is copper"),
        ("insulation", "XLPE", "in the table it is PVC"),
        ("csa_mm2", "4", "in the table it is 2.5"),
        ("cores", "3", "in the table it is 1"),
    ],
)
def test_a_cell_that_could_be_wrong_is_unread_and_told(tmp_path: Path, column: str, text: str, words: str) -> None:
    schedule = with_cell(tmp_path, column, text)
    assert column in only(schedule).unread
    assert column not in only(schedule).electrical
    assert any(words in problem.what and column in problem.where for problem in schedule.problems)


def test_a_decimal_comma_with_three_digits_may_be_thousands(tmp_path: Path) -> None:
    schedule = with_cell(tmp_path, "device_rating_a", "1,250", ";")
    assert "device_rating_a" in only(schedule).unread
    assert with_cell(tmp_path, "device_rating_a", "12,5", ";").circuits[0].electrical["device_rating_a"] == 12.5


@pytest.mark.parametrize(
    ("text", "size"),
    [("#6", "6"), ("2 AWG", "2"), ("250 kcmil", "250"), ("4/0", "4/0"), ("0", "1/0"), ("00", "2/0"), ("000 AWG", "3/0"), ("0000", "4/0")],
)  # fmt: skip
def test_sizes_of_conductors_are_read_as_people_write_them(tmp_path: Path, text: str, size: str) -> None:
    assert only(with_cell(tmp_path, "awg_kcmil", text)).cables[0].awg_kcmil == size


@pytest.mark.parametrize(
    ("columns", "cells", "words"),
    [
        ("awg_kcmil", "thhn-14,3,2,12,20,12", "given as 12, 14 in the table"),
        ("awg_kcmil", "thhn-12,3,2,12,20,12", ""),
        # 12 AWG: π/4 · (0.127 · 92^(24/39))² = 3.309 mm²; two hundredths of it are 0.066
        ("csa_mm2", "thhn-12,3,2,12,20,3.31", ""),
        ("csa_mm2", "thhn-12,3,2,12,20,3.37", ""),
        ("csa_mm2", "thhn-12,3,2,12,20,3.38", "which is 3.309 mm², beside 3.38 mm²"),
        ("csa_mm2", "thhn-12,3,2,12,20,4", "which is 3.309 mm², beside 4 mm²"),
    ],
)
def test_two_sizes_of_one_conductor_make_it_unread(tmp_path: Path, columns: str, cells: str, words: str) -> None:
    schedule = read(tmp_path, f"{COLUMNS},{columns}\nP1,DB,S1,power,{cells}\n")
    assert ("awg_kcmil" in only(schedule).unread) is bool(words)
    assert any(words in problem.what for problem in schedule.problems) is bool(words)


def test_a_spare_may_have_no_load(tmp_path: Path) -> None:
    schedule = read(tmp_path, f"{COLUMNS},state\nP1,DB,S1,power,h07v-u-2.5,3,2,0,16,spare\n")
    assert not schedule.problems


def test_types_that_one_cable_bears_are_no_contradiction(tmp_path: Path) -> None:
    assert not with_cell(tmp_path, "conductor", "copper").problems
    schedule = read(tmp_path, f"{COLUMNS},insulation\nP1,DB,S1,power,thhn-12,3,2,12,20,THWN-2\n")
    assert not schedule.problems
    assert only(schedule).cables[0].insulation == "THWN-2"


@pytest.mark.parametrize(
    ("written", "meant"), [("device_rating", "device_rating_a"), ("design_curent_a", "design_current_a")]
)
def test_a_heading_that_is_nearly_one_of_ours_is_told(tmp_path: Path, written: str, meant: str) -> None:
    schedule = read(tmp_path, f"circuit,from,to,service,cable,count,{written}\nP1,DB,S1,power,h07v-u-2.5,3,8\n")
    assert any(repr(written) in problem.what and repr(meant) in problem.hint for problem in schedule.problems)


def test_a_heading_of_ones_own_is_kept_without_a_word(tmp_path: Path) -> None:
    schedule = read(tmp_path, "circuit,from,to,service,cable,count,room\nP1,DB,S1,power,h07v-u-2.5,3,G01\n")
    assert not schedule.problems
    assert only(schedule).other == {"room": "G01"}

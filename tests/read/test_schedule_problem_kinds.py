"""What sort of problem each defect of a schedule is."""

from pathlib import Path

import pytest

from checker.model import ProblemKind
from checker.read.project import Project
from checker.read.schedule import read_schedule
from checker.rule.plugins import load_plugins

HEAD = "circuit,from,to,service,cable,diameter_mm,count,state,ambient_c,third_harmonic,loaded_conductors,design_current_a\n"


@pytest.mark.parametrize(
    ("rows", "words", "kind"),
    [
        # it can't be read, or could be read in two ways
        ("P1,DB,S1,power,,thick,2", "isn't a number", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,three", "isn't a whole number", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,2,new,,1.5", "could be a ratio or per cent", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,2,new,,,0,8", "it is 0, though a current is given", ProblemKind.GAP),
        # it is a figure, and can't be: it is unread, and nothing was put right
        ("P1,DB,S1,power,,-4,2", "isn't more than 0", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,2,new,0", "an ambient of 0", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,2,new,900", "is no ambient", ProblemKind.GAP),
        ("P1,DB,S1,power,,4,2,new,,-1", "is no share", ProblemKind.GAP),
        # one of two is believed
        ("P1,DB,S1,power,h07v-u-2.5,4.5,2", "in the table it is 3.9 mm", ProblemKind.ASSUMPTION),
        ("P1,DB,S1,power,,4,2,new\nP1,DB,S1,power,,4,2,spare", "differ in their state", ProblemKind.ASSUMPTION),
    ],
)
def test_the_kind_of_a_bad_cell(tmp_path: Path, rows: str, words: str, kind: ProblemKind) -> None:
    path = tmp_path / "circuits.csv"
    path.write_text(f"{HEAD}{rows}\n", encoding="utf-8")

    told = [
        problem for problem in read_schedule(path, Project(), load_plugins().cables).problems if words in problem.what
    ]

    assert [problem.kind for problem in told] == [kind]


def test_another_size_than_the_table_s_is_told_once_for_each_cable_and_size_with_its_rows(tmp_path: Path) -> None:
    path = tmp_path / "circuits.csv"
    sizes = [
        4.5,
        4.5,
        3.9,
        4.7,
        4.5,
    ]  # the table has 3.9: rows 2, 3 and 6 below the header are of one other size, row 5 of another
    rows = "".join(f"P{number},DB,S1,power,h07v-u-2.5,{size},2\n" for number, size in enumerate(sizes))
    path.write_text(HEAD + rows, encoding="utf-8")

    told = read_schedule(path, Project(), load_plugins().cables).problems

    assert [(problem.where, problem.what, problem.elements) for problem in told] == [
        ("circuits.csv, lines 2, 3, 6", "4.5 mm is given for h07v-u-2.5, in the table it is 3.9 mm", 3),
        ("circuits.csv, line 5", "4.7 mm is given for h07v-u-2.5, in the table it is 3.9 mm", 1),
    ]


def test_a_planning_value_is_an_assumption_about_as_many_elements_as_rows_use_it(tmp_path: Path) -> None:
    path = tmp_path / "circuits.csv"
    rows = "".join(f"P{number},DB,S1,data,cat6-u-utp,,1\n" for number in range(12))
    path.write_text(HEAD + rows, encoding="utf-8")

    (told,) = read_schedule(path, Project(), load_plugins().cables).problems

    assert (told.kind, told.elements) == (ProblemKind.ASSUMPTION, 12)

"""A size may be given as a range, in the schedule and in wayroom.toml: the most counts as the size, the least is kept beside it."""

from pathlib import Path

import pytest

from checker.errors import ProjectFileError
from checker.model import Cable, ProblemKind
from checker.read.project import read_project
from checker.read.schedule import Schedule, read_schedule

HEADER = "circuit;from;to;service;cable;diameter_mm;width_mm;height_mm;count\n"
CABLE = '[[cables]]\nkey = "feed"\nsource = "invented"\ndiameter_mm = '


def read(folder: Path, *cells: str, project: str = "") -> Schedule:
    (folder / "wayroom.toml").write_text(project, encoding="utf-8")
    (folder / "circuits.csv").write_text(HEADER + f"C1;DB;S1;power;{';'.join(cells)};1\n", encoding="utf-8")
    return read_schedule(folder / "circuits.csv", read_project(folder / "wayroom.toml")[0], {})


def cable_of(schedule: Schedule) -> Cable:
    (circuit,) = schedule.circuits
    return circuit.cables[0]


@pytest.mark.parametrize(
    "text",
    [
        "10.9-12.4", "10.9 - 12.4", "10.9–12.4", "10,9 – 12,4", "10.9 to 12.4", "10.9..12.4", "10.9 … 12.4", "10.9 mm to 12.4 mm",
        "10.9-12.4 mm",
    ],
)  # fmt: skip
def test_a_range_is_read_however_it_is_written(tmp_path: Path, text: str) -> None:
    schedule = read(tmp_path, "", text, "", "")
    cable = cable_of(schedule)
    assert (cable.diameter_least_mm, cable.diameter_mm) == (10.9, 12.4)
    assert not schedule.problems


def test_a_flat_cable_may_have_a_range_of_each_side(tmp_path: Path) -> None:
    cable = cable_of(read(tmp_path, "", "", "14-15", "7.5"))
    assert (cable.width_least_mm, cable.width_mm, cable.height_least_mm, cable.height_mm) == (14.0, 15.0, None, 7.5)


@pytest.mark.parametrize(
    ("sides", "ends"),
    [
        (("8.6", "5.4"), (None, 8.6, None, 5.4)),
        (("5.4", "8.6"), (None, 8.6, None, 5.4)),
        (("5", "8-10"), (8.0, 10.0, None, 5.0)),
        (("6-12", "8-11"), (8.0, 12.0, 6.0, 11.0)),  # 6 × 8 at least, 12 × 11 at most: the wider side is 8 to 12
        (("11", "6-12"), (11.0, 12.0, 6.0, 11.0)),
    ],
)
def test_the_wider_side_of_a_flat_cable_is_its_width_whichever_is_written_first(
    tmp_path: Path, sides: tuple[str, str], ends: tuple[float | None, ...]
) -> None:
    cable = cable_of(read(tmp_path, "", "", *sides))
    assert (cable.width_least_mm, cable.width_mm, cable.height_least_mm, cable.height_mm) == ends


def test_a_range_of_one_figure_is_that_figure(tmp_path: Path) -> None:
    cable = cable_of(read(tmp_path, "", "12.4-12.4", "", ""))
    assert (cable.diameter_least_mm, cable.diameter_mm) == (None, 12.4)


@pytest.mark.parametrize(
    ("text", "words", "kind"),
    [
        ("12.4-10.9", "larger end first", ProblemKind.GAP),
        ("0-12.4", "isn't more than 0", ProblemKind.GAP),
        ("1,500-1,600", "thousands or thousandths", ProblemKind.GAP),
        ("10.9-", "isn't a number", ProblemKind.GAP),
        ("10.9-12.4 in", "isn't a number", ProblemKind.GAP),
        ("9-10-11", "isn't a number", ProblemKind.GAP),
    ],
)
def test_what_is_no_range_is_told_and_the_size_unknown(
    tmp_path: Path, text: str, words: str, kind: ProblemKind
) -> None:
    schedule = read(tmp_path, "", text, "", "")
    assert cable_of(schedule).diameter_mm is None
    told = [problem for problem in schedule.problems if words in problem.what]
    assert [problem.kind for problem in told] == [kind]
    assert told[0].where.endswith("diameter_mm")


def test_a_cable_of_the_project_may_have_a_range(tmp_path: Path) -> None:
    cable = cable_of(read(tmp_path, "feed", "", "", "", project=f"{CABLE}[10.9, 12.4]\n"))
    assert (cable.diameter_least_mm, cable.diameter_mm) == (10.9, 12.4)


@pytest.mark.parametrize(("said", "is_told"), [("10-12", False), ("12.5-13", True), ("12", True), ("11", False)])
def test_a_range_in_which_the_known_size_lies_does_not_differ_from_it(
    tmp_path: Path, said: str, *, is_told: bool
) -> None:
    schedule = read(tmp_path, "feed", said, "", "", project=f"{CABLE}11.0\n")
    assert any("in the table it is 11 mm" in problem.what for problem in schedule.problems) is is_told


def test_a_size_in_the_schedule_wins_over_the_range_of_its_cable(tmp_path: Path) -> None:
    cable = cable_of(read(tmp_path, "feed", "11", "", "", project=f"{CABLE}[10.9, 12.4]\n"))
    assert (cable.diameter_least_mm, cable.diameter_mm) == (None, 11.0)


def test_a_wall_may_be_a_range(tmp_path: Path) -> None:
    (tmp_path / "wayroom.toml").write_text('[[types]]\nname = "T"\nwall_mm = [0.8, 1.5]\n', encoding="utf-8")
    spec = read_project(tmp_path / "wayroom.toml")[0].types[0]
    assert (spec.wall_mm, spec.wall_range_mm) == (None, (0.8, 1.5))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[1.5, 0.8]", "smaller end of a range first"),
        ("[0.8]", "a list of the least and the most"),
        ("[0.8, 1.0, 1.5]", "a list of the least and the most"),
        ('["0.8", 1.5]', "a list of the least and the most"),
        ("true", "a list of the least and the most"),
        ("-1", "0 or more"),
        ("[0.8, inf]", "a plain number"),
    ],
)
def test_a_wrong_range_in_the_project_file_is_told_with_its_line(tmp_path: Path, text: str, words: str) -> None:
    (tmp_path / "wayroom.toml").write_text(f'[[types]]\nname = "T"\nwall_mm = {text}\n', encoding="utf-8")
    with pytest.raises(ProjectFileError) as caught:
        read_project(tmp_path / "wayroom.toml")
    assert "line 3" in caught.value.where
    assert "types.1.wall_mm" in caught.value.what
    assert words in caught.value.what

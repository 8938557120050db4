from pathlib import Path

import pytest

from checker.errors import InputError, ProjectFileError
from checker.read.project import read_project
from checker.read.sources import find_sources


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "wayroom.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ('[project]\nkey = "a"\ncolour = "red"\n', 3, "project.colour: there is no such key"),
        ("[project]\nreach_m = -1\n", 2, "project.reach_m"),
        ('[[types]]\nname = "A"\n\n[[types]]\nname = "B"\nwall_mm = "thin"\n', 6, "types.2.wall_mm"),
        ('[[types]]\nname = "A"\ncount = 2\ncompartments = [{ width_mm = 10 }]\n', 1, "either count or compartments"),
        ('[[types]]\nname = "A"\ncompartments = [{ services = ["gas"] }]\n', 3, "services"),
        ('[[cables]]\nkey = "mine"\ndiameter_mm = 8\n', 1, "source"),
    ],
)
def test_a_wrong_key_is_told_with_its_line(tmp_path: Path, text: str, line: int, words: str) -> None:
    with pytest.raises(ProjectFileError) as caught:
        read_project(written(tmp_path, text))
    assert f"line {line}" in caught.value.where
    assert words in caught.value.what


def test_a_file_that_is_not_toml_is_told_with_its_line(tmp_path: Path) -> None:
    with pytest.raises(ProjectFileError, match="line 2"):
        read_project(written(tmp_path, "[project]\nkey = \n"))


def test_types_are_found_by_wildcards_and_the_first_wins(tmp_path: Path) -> None:
    text = '[[types]]\nname = "Floor 225x50"\ncount = 3\n[[types]]\nname = "Floor*"\ncount = 2\n'
    project, digest = read_project(written(tmp_path, text))
    assert len(digest) == 64
    counts = [spec.count for name in ("Floor 225x50", "Floor 150x50") if (spec := project.type_spec(name))]
    assert counts == [3, 2]
    assert project.type_spec("Wall 100x50") is None


def test_a_folder_is_read_through_its_project_file(tmp_path: Path) -> None:
    written(tmp_path, '[project]\nmodels = ["m.ifc"]\nschedule = "c.csv"\n')
    for name in ("m.ifc", "c.csv"):
        (tmp_path / name).touch()
    sources = find_sources([tmp_path], None)
    assert sources.models == (tmp_path / "m.ifc",)
    assert sources.schedule == tmp_path / "c.csv"


@pytest.mark.parametrize(
    ("text", "words"),
    [('[project]\nmodels = ["gone.ifc"]\n', "no such file"), ("[project]\n", "no model is named")],
)
def test_a_project_file_that_names_nothing_is_told(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        find_sources([written(tmp_path, text)], None)


def test_a_folder_without_a_project_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no such file") as caught:
        find_sources([tmp_path], None)
    assert "wayroom.toml" in caught.value.hint

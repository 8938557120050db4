"""The life of notes as the command leads it, from run to run in one folder, and of those of a sample."""

from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.earlier_notes import notes_to_go_on_with
from checker.errors import InputError
from checker.read.sources import find_sources
from checker.result.dialect import V2, V3, Dialect
from checker.result.tables import Result
from tests.history.people import comments, edited, repacked, run, set_status, status, unpacked
from tests.test_cli import site, wayroom


def test_what_people_closed_is_opened_only_where_the_run_is_asked_to(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")
    notes = tmp_path / "out" / "issues.bcf"

    wayroom(capsys, *arguments)
    notes.write_bytes(edited(notes.read_bytes(), "full", set_status("Closed")))
    wayroom(capsys, *arguments)
    assert (status(notes.read_bytes(), "full"), len(comments(notes.read_bytes(), "full"))) == ("Closed", 1)
    wayroom(capsys, *arguments, "--reopen")
    assert (status(notes.read_bytes(), "full"), len(comments(notes.read_bytes(), "full"))) == ("Open", 2)
    before = notes.read_bytes()
    wayroom(capsys, *arguments, "--reopen")
    assert notes.read_bytes() == before


def test_a_folder_with_brackets_in_its_name_is_told_as_it_is_where_its_results_did_not_agree(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)
    out = tmp_path / "issue [p01][/]"
    arguments = ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", out)
    wayroom(capsys, *arguments)
    (out / "failing.csv").write_text("changed", encoding="utf-8")

    exit_status, told, err = wayroom(capsys, *arguments)

    assert exit_status == 1
    assert f"The earlier results in {out} didn't agree (failing.csv); they were made anew." in err
    assert f"Results are in {out}:" in told


def test_to_begin_anew_and_to_open_what_was_closed_is_told_to_be_no_sense(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    model, schedule = site(tmp_path, 100)

    exit_status, _, err = wayroom(
        capsys,
        "check",
        model,
        "--circuits",
        schedule,
        "--code",
        "bs-7671",
        "--out",
        tmp_path / "out",
        "--fresh",
        "--reopen",
    )

    assert exit_status == 2
    assert "--reopen" in err
    assert "give one of them" in err
    assert not (tmp_path / "out").exists()


def test_a_folder_as_earlier_notes_is_told_which_file_in_it_is_meant(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="is a folder") as caught:
        notes_to_go_on_with(tmp_path / "out", tmp_path, fresh=False, reopen=False)
    assert str(tmp_path / "issues.bcf") in caught.value.hint


@pytest.fixture(scope="module")
def by_both(vet_practice: Path) -> list[Result]:
    """The sample without its project file, of which some limits are looser than the other code's, judged by two codes."""
    sources = find_sources([vet_practice / "model.ifc"], vet_practice / "circuits.csv")
    return [check(Request(sources, code)) for code in ("bs-7671", "iec-60364")]


@pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)
def test_a_sample_that_another_code_judges_and_then_the_first_again_settles_after_each_run(
    dialect: Dialect, by_both: list[Result]
) -> None:
    """Each run is repeated, on notes without entries for folders: it changes nothing, and no topic is lost."""
    bs, iec = by_both
    assert bs.project_key == iec.project_key
    notes = None
    guids: set[str] = set()
    for result in (bs, iec, bs):
        once = run(result, notes, dialect)
        assert run(result, once, dialect) == once
        files = unpacked(once)
        found = {path.partition("/")[0] for path in files if path.endswith("/markup.bcf")}
        assert len(found) >= len(result.topics) + len(result.requests)
        assert guids <= found
        guids = found
        notes = repacked(files)
    assert guids


def test_a_run_without_a_project_file_goes_on_with_the_key_of_its_notes(tmp_path: Path) -> None:
    model, schedule = site(tmp_path, 100)
    project = tmp_path / "wayroom.toml"
    project.write_text(f'[project]\nkey = "depot"\ncode = "bs-7671"\nmodels = ["{model.name}"]\n', encoding="utf-8")
    first = check(Request(find_sources([project], schedule)))
    notes = run(first)

    later = check(Request(find_sources([model], schedule), "bs-7671", notes, "notes.bcf"))

    assert first.project_key == later.project_key == "depot"
    assert [topic.guid for topic in later.topics] == [topic.guid for topic in first.topics] != []
    assert "depot" not in check(Request(find_sources([model], schedule), "bs-7671")).project_key

"""Notes in the folder that a run writes to: what people wrote there goes on, or the run is refused and all stays as it was."""

import json
from pathlib import Path

import pytest

import checker.run
from checker.history.previous import said_by_people
from checker.report.standing import Standing
from tests.history.people import comment, comments, edited, run, set_status
from tests.report.results import small_result
from tests.test_cli import site, wayroom

LINE = "T-001"


def asked(tmp_path: Path) -> tuple[object, ...]:
    model, schedule = site(tmp_path, 100)
    return ("check", model, "--circuits", schedule, "--code", "bs-7671", "--out", tmp_path / "out")


def test_notes_that_people_worked_on_are_not_replaced_by_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """They are edited where they lie; then they lie there as a run wrote them, with words of people that the others haven't."""
    arguments, notes, sent = asked(tmp_path), tmp_path / "out" / "issues.bcf", tmp_path / "sent.bcf"
    wayroom(capsys, *arguments)
    sent.write_bytes(notes.read_bytes())
    worked = edited(notes.read_bytes(), "full", comment("I will look at it."))
    notes.write_bytes(worked)
    for content in (worked, None):
        before = notes.read_bytes()
        assert content in {before, None}
        status, _, err = wayroom(capsys, *arguments, "--previous", sent)
        assert status == 2
        assert "people have worked on these notes" in " ".join(err.split())
        assert notes.read_bytes() == before
        wayroom(capsys, *arguments)  # goes on with them

    # what came back with all of it in it is gone on with, though it isn't what lies there
    sent.write_bytes(edited(notes.read_bytes(), "full", set_status("In Progress")))
    assert wayroom(capsys, *arguments, "--previous", sent)[0] == 1
    assert comments(notes.read_bytes(), "full", "reviewer@example.org") == ["I will look at it."]


def test_notes_without_a_result_that_vouches_for_them_are_not_replaced_by_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments, out = asked(tmp_path), tmp_path / "out"
    out.mkdir()
    (out / "issues.bcf").write_bytes(b"of somebody")
    (tmp_path / "sent.bcf").write_bytes(run(small_result()))

    assert wayroom(capsys, *arguments, "--previous", tmp_path / "sent.bcf")[0] == 2
    assert [(path.name, path.read_bytes()) for path in out.iterdir()] == [("issues.bcf", b"of somebody")]


def test_notes_that_somebody_saves_while_a_check_runs_stay(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    arguments, notes = asked(tmp_path), tmp_path / "out" / "issues.bcf"
    wayroom(capsys, *arguments)
    result = (tmp_path / "out" / "result.json").read_bytes()
    check = checker.run.check

    def meanwhile(*given: object) -> object:
        notes.write_bytes(edited(notes.read_bytes(), "full", comment("Saved meanwhile.")))
        return check(*given)  # type: ignore[arg-type]

    with monkeypatch.context() as patch:
        patch.setattr(checker.run, "check", meanwhile)
        status, _, err = wayroom(capsys, *arguments)

    assert status == 2
    assert "changed while the check ran" in " ".join(err.split())
    assert comments(notes.read_bytes(), "full", "reviewer@example.org") == ["Saved meanwhile."]
    assert (tmp_path / "out" / "result.json").read_bytes() == result
    assert json.loads(result)["outputs"]


def test_what_stands_there_differs_only_where_there_is_something(tmp_path: Path) -> None:
    path = tmp_path / "issues.bcf"
    assert not Standing.of(path).differs(b"one")
    path.write_bytes(b"one")
    assert not Standing.of(path).differs(b"one")
    assert Standing.of(path).differs(b"two")


def test_what_people_said_is_told_from_what_we_did() -> None:
    first = run(small_result())
    again = run(small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4)), first)
    assert said_by_people(first) == said_by_people(again) == frozenset()

    ((_, said),) = said_by_people(edited(again, LINE, comment("Mine.")))
    assert said == "6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a4e5f"

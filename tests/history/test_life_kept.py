"""Notes in the folder that a run writes to: what people wrote there goes on, or the run is refused and all stays as it was."""

import errno
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest

import checker.run
from checker.earlier_notes import standing
from checker.errors import OutputError
from checker.history.said import said_by_people
from checker.report.standing import Standing
from checker.result.dialect import V2, V3, Dialect
from checker.result.note_words import NoteWords
from tests.history.people import PERSON, comment, comments, edited, repacked, run, set_status, unpacked
from tests.history.revisions import (
    FAILS,
    MENDED,
    attaches,
    checked,
    labels,
    of_length,
    says,
    sets,
    sets_status,
    status,
    topics,
    worked,
)
from tests.report.results import small_result
from tests.test_cli import site, wayroom


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


def test_notes_are_given_up_only_where_a_result_vouches_for_them_and_people_said_nothing_there(tmp_path: Path) -> None:
    """Those in the folder are of the same run as those gone on with, with a file more, of which no topic tells."""
    first = checked(FAILS)
    (tmp_path / "issues.bcf").write_bytes(repacked({**unpacked(first), "plan.pdf": b"%PDF"}))

    def is_refused(*broken: str) -> bool:
        try:
            standing(tmp_path, Path("sent.bcf"), io.BytesIO(first), broken)
        except OutputError:
            return True
        return False

    assert is_refused()  # there is no result beside them
    (tmp_path / "result.json").write_bytes(b"{}")
    assert not is_refused()
    assert not is_refused("failing.csv")
    assert is_refused("issues.bcf")
    assert is_refused("result.json")


def test_what_stands_there_differs_only_where_there_is_something(tmp_path: Path) -> None:
    path = tmp_path / "issues.bcf"
    assert not Standing.of(path).differs(b"one")
    path.write_bytes(b"one")
    assert not Standing.of(path).differs(b"one")
    assert Standing.of(path).differs(b"two")


def test_what_people_decided_is_not_lost_either_once_a_run_has_gone_on_with_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    arguments, notes, sent = asked(tmp_path), tmp_path / "out" / "issues.bcf", tmp_path / "sent.bcf"
    wayroom(capsys, *arguments)
    sent.write_bytes(notes.read_bytes())
    notes.write_bytes(edited(notes.read_bytes(), "full", set_status("Won't do")))
    wayroom(capsys, *arguments)
    before = notes.read_bytes()

    assert wayroom(capsys, *arguments, "--previous", sent)[0] == 2
    assert notes.read_bytes() == before

    # what came back says more of the same: somebody has changed their mind
    sent.write_bytes(edited(sent.read_bytes(), "full", set_status("Closed")))
    assert wayroom(capsys, *arguments, "--previous", sent)[0] == 1


@pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)
def test_what_people_said_is_told_from_what_we_did(dialect: Dialect) -> None:
    """We write a new title, text and status, people something else; we go on with that, and it is still known to be theirs."""
    words = NoteWords(
        labels=("M&E ",), stage="Tender", assigned={"other": "a@example.org"}, due_days=7, priorities={"High": "1"}
    )
    first = run(FAILS.result(), None, dialect, words)
    mended = run(MENDED.result(), first, dialect, words)
    assert status(mended, of_length(mended, 3)) == "Review"
    ours = run(replace(FAILS, fills={1: 0.55, 2: 0.481, 3: 0.6}).result(), mended, dialect)
    assert said_by_people(first) == said_by_people(mended) == said_by_people(ours) == frozenset()

    third = of_length(ours, 3)
    text = topics(ours)[third].findtext("Topic/Description")
    for change, what in {
        says("Mine.", 7): "6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a0007",
        sets_status("In Progress"): "status",
        sets("Title", "Mine"): "title",
        sets("Description", f"Mine. {text}"): "text",
        sets("Description", f"{text} Mine."): "text",
        sets("AssignedTo", "b@example.org"): "fields",
        sets("DueDate", "2027-01-01T00:00:00Z"): "fields",
        sets("Priority", "Low"): "fields",
        labels("Mine"): "fields",
        attaches("drawing.pdf"): "0d9c7c1e-5b0a-4b53-9a57-0e9f3d1c2b4a",
    }.items():
        theirs = repacked(worked(ours, {third: [change]}, dialect))
        assert said_by_people(theirs) == {(third, what)}
        assert said_by_people(run(FAILS.result(), theirs, dialect, words)) == {(third, what)}


def test_a_topic_of_others_is_all_theirs() -> None:
    notes = checked(FAILS)
    third = of_length(notes, 3)
    theirs = repacked(worked(notes, {third: [sets("CreationAuthor", PERSON), sets("Description", "Mine.")]}, V2))

    assert said_by_people(theirs) == {(third, "")}


def test_where_notes_have_no_room_all_stays_as_it_was(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    arguments = asked(tmp_path)
    wayroom(capsys, *arguments)
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    monkeypatch.setattr("checker.earlier_notes.pack", full)
    status, _, err = wayroom(capsys, *arguments)
    assert status == 2
    assert "the issue notes can't be put together: No space left on device" in " ".join(err.split())
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


def test_notes_that_were_kept_are_not_written_over_by_the_same_that_are_kept_again(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The same check begins anew each time, so that what it sets aside is the same each time; people work on the first of those."""
    arguments = (*asked(tmp_path), "--fresh")
    wayroom(capsys, *arguments[:-1])
    ours = (tmp_path / "out" / "issues.bcf").read_bytes()
    wayroom(capsys, *arguments)
    (first,) = (tmp_path / "out").glob("issues-*.bcf")
    assert first.read_bytes() == ours
    worked = edited(ours, "full", comment("I will look at it."))
    first.write_bytes(worked)
    for _ in range(2):  # what is there by the next name is the same, so that no third one is needed
        out = wayroom(capsys, *arguments)[1]
        (second,) = set((tmp_path / "out").glob("issues-*.bcf")) - {first}
        assert (first.read_bytes(), second.read_bytes()) == (worked, ours)
        assert f"are kept there as {second.name}." in out


def test_where_notes_go_away_while_a_check_begins_anew_all_else_stays(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    arguments, out = asked(tmp_path), tmp_path / "out"
    wayroom(capsys, *arguments)
    before = {path.name: path.read_bytes() for path in out.iterdir() if path.name != "issues.bcf"}
    check = checker.run.check

    def meanwhile(*given: object) -> object:
        (out / "issues.bcf").unlink()
        return check(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(checker.run, "check", meanwhile)
    status, _, err = wayroom(capsys, *arguments, "--fresh")

    assert status == 2
    assert "changed while the check ran" in " ".join(err.split())
    assert {path.name: path.read_bytes() for path in out.iterdir()} == before


def test_notes_that_cannot_be_read_are_not_taken_for_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    notes = tmp_path / "issues.bcf"
    assert Standing.of(notes).sha256 == ""
    notes.write_bytes(b"of somebody")
    monkeypatch.setattr("checker.report.standing.digest_at", lambda _: "")  # as where the permissions don't let us
    with pytest.raises(OutputError, match="can't be read"):
        Standing.of(notes)

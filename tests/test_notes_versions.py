"""Issue notes of both versions of BCF as a user of the command meets them, and what the project file says of them."""

import csv
import json
import zipfile
from pathlib import Path

import pytest
from lxml import etree

from checker.result.dialect import DIALECTS, V3
from tests.test_cli import site, wayroom

PROJECT = """[project]
code = "bs-7671"
models = ["model.ifc"]
schedule = "circuits.csv"
[notes]
{words}
"""


def checked(folder: Path, capsys: pytest.CaptureFixture[str], *more: str, words: str = "") -> tuple[int, str]:
    if not (folder / "model.ifc").exists():
        site(folder, 100)  # 100 · 11.946 mm² of 2304 mm² is 51.8 %
    (folder / "wayroom.toml").write_text(PROJECT.format(words=words), encoding="utf-8")
    status, _, err = wayroom(capsys, "check", folder, "--out", folder / "out", *more)
    return status, err


def topics(folder: Path) -> dict[str, etree._Element]:
    with zipfile.ZipFile(folder / "out" / "issues.bcf") as archive:
        return {
            name: etree.fromstring(archive.read(name)) for name in archive.namelist() if name.endswith("markup.bcf")
        }


def problems(folder: Path) -> list[tuple[str, str]]:
    with (folder / "out" / "problems.csv").open(encoding="utf-8", newline="") as stream:
        return sorted((row["where"], row["what"]) for row in csv.DictReader(stream))


@pytest.mark.parametrize("version", DIALECTS)
def test_each_version_is_written_gone_on_with_and_the_same_the_second_time(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], version: str
) -> None:
    assert checked(tmp_path, capsys, "--bcf", version)[0] == 1
    first = (tmp_path / "out" / "issues.bcf").read_bytes()
    with zipfile.ZipFile(tmp_path / "out" / "issues.bcf") as archive:
        assert etree.fromstring(archive.read("bcf.version")).get("VersionId") == version

    assert checked(tmp_path, capsys, "--bcf", version)[0] == 1
    assert (tmp_path / "out" / "issues.bcf").read_bytes() == first


@pytest.mark.parametrize(("theirs", "ours"), [("2.1", "3.0"), ("3.0", "2.1")])
def test_notes_of_the_other_version_are_refused_with_what_to_do_and_stay(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], theirs: str, ours: str
) -> None:
    checked(tmp_path, capsys, "--bcf", theirs)
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}

    status, err = checked(tmp_path, capsys, "--bcf", ours)

    told = " ".join(err.split())
    assert status == 2
    assert f"it is BCF {theirs}, and these notes are {ours}" in told
    assert f"--bcf {theirs}" in told
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before
    assert checked(tmp_path, capsys, "--bcf", ours, "--fresh")[0] == 1


@pytest.mark.parametrize("version", DIALECTS)
@pytest.mark.parametrize("is_named", [False, True])
def test_without_a_version_notes_go_on_in_their_own(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], version: str, *, is_named: bool
) -> None:
    checked(tmp_path, capsys, "--bcf", version)
    first = (tmp_path / "out" / "issues.bcf").read_bytes()
    (tmp_path / "sent.bcf").write_bytes(first)

    more = ("--previous", tmp_path / "sent.bcf") if is_named else ()
    assert checked(tmp_path, capsys, *map(str, more))[0] == 1

    assert (tmp_path / "out" / "issues.bcf").read_bytes() == first


def test_notes_that_begin_are_of_the_older_version(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    checked(tmp_path, capsys, "--bcf", "3.0")

    assert checked(tmp_path, capsys, "--fresh")[0] == 1

    with zipfile.ZipFile(tmp_path / "out" / "issues.bcf") as archive:
        assert etree.fromstring(archive.read("bcf.version")).get("VersionId") == "2.1"


def test_a_version_that_there_is_not_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, err = checked(tmp_path, capsys, "--bcf", "2.0")

    assert status == 2
    assert "--bcf 2.1 or --bcf 3.0" in " ".join(err.split())
    assert not (tmp_path / "out").exists()


def test_a_project_s_words_are_in_its_notes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = (
        'stage = "Tender"\ndue = 2027-06-30\n[notes.assigned]\nfill = "a@example.org"\n[notes.status]\nopen = "Offen"'
    )

    checked(tmp_path, capsys, "--bcf", "3.0", words=words)

    (topic,) = [root.find("Topic") for root in topics(tmp_path).values() if "51.8" in root.findtext("Topic/Title")]
    assert topic.get("TopicStatus") == "Offen"
    assert [topic.findtext(tag) for tag in ("Stage", "DueDate", "AssignedTo")] == [
        "Tender", "2027-06-30T23:59:59Z", "a@example.org",
    ]  # fmt: skip


@pytest.mark.parametrize("stamp", ["", "1970-01-01T00:00:00"])  # programs without a clock write the latter
def test_words_for_rules_that_do_not_run_and_days_from_no_time_are_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], stamp: str
) -> None:
    words = 'due_days = 14\n[notes.types]\nfil = "Clash"\nother = "Remark"\n[notes.assigned]\n"fill.compartment" = "a"\n"fill.x" = "b"'
    site(tmp_path, 100)
    model = tmp_path / "model.ifc"
    head, _, rest = model.read_text(encoding="utf-8").partition("FILE_NAME(")
    name, _, after = rest.partition(",")
    its, _, end = after.partition(",")
    model.write_text(f"{head}FILE_NAME({name},'{stamp}',{end}", encoding="utf-8")
    assert its.startswith("'")

    checked(tmp_path, capsys, words=words)

    told = [problem for problem in problems(tmp_path) if "[notes" in problem[0]]
    assert told == [
        ("wayroom.toml, [notes.assigned] fill.x", "the code bs-7671 has no rule or family of rules of that name"),
        ("wayroom.toml, [notes.types] fil", "the code bs-7671 has no rule or family of rules of that name"),
        ("wayroom.toml, [notes] due_days", "when notes are due isn't known"),
    ]
    checked(tmp_path, capsys, "--now", "2026-11-02T09:00:00Z", "--fresh", words=words)
    assert not any("due_days" in where for where, _ in problems(tmp_path))
    assert {root.findtext("Topic/DueDate") for root in topics(tmp_path).values()} == {"2026-11-16T23:59:59Z"}


def test_what_is_odd_in_earlier_notes_is_told_with_the_results(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    checked(tmp_path, capsys)
    notes = tmp_path / "out" / "issues.bcf"
    with zipfile.ZipFile(notes, "a") as archive:
        archive.writestr("broken/markup.bcf", b"<Markup")
        archive.writestr("../evil.txt", b"evil")

    checked(tmp_path, capsys)

    assert [problem for problem in problems(tmp_path) if "issues.bcf" in problem[0]] == [
        ("issues.bcf, ../evil.txt", "this file isn't kept"),
        ("issues.bcf, broken/markup.bcf", "no topic can be read in it"),
    ]
    assert not (tmp_path / "evil.txt").exists()
    with zipfile.ZipFile(notes) as archive:
        assert archive.read("broken/markup.bcf") == b"<Markup"
    counts = json.loads((tmp_path / "out" / "result.json").read_text(encoding="utf-8"))["counts"]
    assert counts["carriers_read"] == 2


def test_comments_are_added_inside_a_topic_of_the_newer_version(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    checked(tmp_path, capsys, "--bcf", "3.0")
    schedule = tmp_path / "circuits.csv"
    schedule.write_text(schedule.read_text(encoding="utf-8").replace(",100,", ",110,"), encoding="utf-8")

    checked(tmp_path, capsys, "--bcf", "3.0")

    (root,) = [root for root in topics(tmp_path).values() if "full" in root.findtext("Topic/Title")]
    (comment,) = root.findall(V3.comments)
    assert "51.8 % / 45 % → 57 % / 45 %" in comment.findtext("Comment")  # 110 · 11.946 of 2304
    assert root.find("Comment") is None

"""What people and their programs do to a file of notes between two runs, and the runs themselves."""

import io
import zipfile
from collections.abc import Callable
from dataclasses import replace

from lxml import etree

from checker.history.merge import merged, topic_identity
from checker.report.bcf import draft, pack
from checker.result.dialect import V2, Dialect
from checker.result.facts import RunFacts, run_facts
from checker.result.note_words import NoteWords
from checker.result.notes import Draft
from checker.result.tables import Result

PERSON = "reviewer@example.org"


def run(
    result: Result,
    previous: bytes | None = None,
    dialect: Dialect = V2,
    words: NoteWords | None = None,
    *,
    reopen: bool = False,
) -> bytes:
    """Notes of a result, merged with those of an earlier run, as the command does it."""
    notes, facts = noted(result, previous, dialect, words)
    return pack(notes) if previous is None else merged(previous, notes, facts, reopen=reopen)


def noted(
    result: Result, previous: bytes | None = None, dialect: Dialect = V2, words: NoteWords | None = None
) -> tuple[Draft, RunFacts]:
    """The notes of a result, with Guids of those of an earlier run, and what the merger must know besides."""
    every = (*result.topics, *result.requests)
    guids = topic_identity(previous, [topic.members for topic in every])
    named = tuple(replace(topic, guid=guid) for topic, guid in zip(every, guids, strict=True))
    result = replace(result, topics=named[: len(result.topics)], requests=named[len(result.topics) :])
    return draft(result, dialect, words), run_facts(result)


def again(result: Result, notes: bytes) -> bytes:
    """The notes after another run, having made sure that the same run once more changes nothing."""
    once = run(result, notes)
    assert run(result, once) == once
    return once


def unpacked(data: bytes) -> dict[str, bytes]:
    """The files of an archive by path, without entries of folders."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist() if not name.endswith("/")}


def repacked(files: dict[str, bytes]) -> bytes:
    """An archive of files as some program would write it: no folder entries, names as they are given."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, content in files.items():
            info = zipfile.ZipInfo("x")
            info.filename = name  # set afterwards, or backslashes would be put right
            archive.writestr(info, content)
    return target.getvalue()


def markup_path(data: bytes, word: str) -> str:
    """The path of the topic whose title or description has a word in it."""
    found = [
        path
        for path, content in unpacked(data).items()
        if path.endswith("markup.bcf") and word in "".join(etree.fromstring(content).find("Topic").itertext())
    ]
    assert len(found) == 1, found
    return found[0]


def markup(data: bytes, word: str) -> etree._Element:
    """The markup of that topic."""
    return etree.fromstring(unpacked(data)[markup_path(data, word)])


def edited(data: bytes, word: str, change: Callable[[etree._Element], None]) -> bytes:
    """The archive after a person changed the markup of that topic."""
    files = unpacked(data)
    path = markup_path(data, word)
    root = etree.fromstring(files[path])
    change(root)
    files[path] = etree.tostring(root, xml_declaration=True, encoding="UTF-8")
    return repacked(files)


def set_status(status: str) -> Callable[[etree._Element], None]:
    """A person sets a status."""
    return lambda root: root.find("Topic").set("TopicStatus", status)


def set_child(tag: str, text: str) -> Callable[[etree._Element], None]:
    """A person changes a text of a topic."""

    def change(root: etree._Element) -> None:
        root.find("Topic").find(tag).text = text

    return change


def comment(text: str) -> Callable[[etree._Element], None]:
    """A person comments."""

    def change(root: etree._Element) -> None:
        added = etree.Element("Comment", Guid="6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a4e5f")
        for tag, value in (("Date", "2024-05-02T09:00:00+02:00"), ("Author", PERSON), ("Comment", text)):
            etree.SubElement(added, tag).text = value
        root.insert(root.index(root.find("Topic")) + 1, added)

    return change


def comments(data: bytes, word: str, author: str = "wayroom") -> list[str]:
    """What an author has commented on that topic."""
    found = markup(data, word).findall("Comment")
    return [one.findtext("Comment") for one in found if one.findtext("Author") == author]


def status(data: bytes, word: str) -> str:
    """The status of that topic."""
    return str(markup(data, word).find("Topic").get("TopicStatus"))

"""Lives that nobody has thought out: revisions, people and their programs at random, the same ones each time."""

import random
from dataclasses import replace

import pytest
from lxml import etree

from checker.report.snapshot import Gallery
from checker.result.dialect import V2, V3, Dialect
from checker.result.note_state import split_text
from tests.history.people import PERSON, unpacked
from tests.history.revisions import Revision, checked, comments, says, status, topics, zipped

CLOSED = ("Closed", "Won't do")


def revision(rng: random.Random, day: int) -> Revision:
    numbers = [number for number in range(1, 7) if rng.random() < 0.8] or [1]
    return Revision(
        {number: rng.choice([0.3, 0.4, 0.5, 0.6, None]) for number in numbers},
        f"2024-05-{day:02}T08:30:00Z",
        together=[number for number in numbers if rng.random() < 0.5],
        made_again=[number for number in numbers if rng.random() < 0.1],
        waived=[number for number in numbers if rng.random() < 0.1],
        unasked=[number for number in numbers if rng.random() < 0.05],
        edition=rng.choice(["Guidance (2018)", "Guidance (2018)", "Guidance (2026)"]),
    )


def as_a_program_saves_it(root: etree._Element, rng: random.Random) -> bytes:
    """Wrapped, trimmed and indented otherwise, in another encoding, with Guids in capitals."""
    topic = root.find("Topic")
    topic.set("Guid", rng.choice([str.upper, str.lower])(topic.get("Guid")))
    description = topic.find("Description")
    description.text = rng.choice([" ".join, "\r\n".join])(description.text.split())
    if rng.random() < 0.3:
        topic.find("CreationAuthor").text = PERSON
    etree.indent(root, rng.choice(["", "    "]))
    content: bytes = etree.tostring(root, xml_declaration=True, encoding=rng.choice(["UTF-8", "UTF-16", "ISO-8859-1"]))
    return content


@pytest.mark.parametrize("dialect", [V2, V3], ids=lambda dialect: dialect.version)
def test_nothing_is_lost_and_nothing_is_called_mended_that_does_not_pass(
    dialect: Dialect, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Gallery, "snapshot", lambda _gallery, _topic: b"\x89PNG")
    lives = [live(random.Random(f"{seed} {dialect.version}"), dialect) for seed in range(10)]  # noqa: S311

    assert sum(lives) > 0  # or it would not have been looked at


def live(rng: random.Random, dialect: Dialect) -> int:
    """How many topics of a life were called mended."""
    notes, said, closed, number, mended = None, {}, {}, 0, 0
    for day in (1, 8, 15, 14, 22):
        state = replace(revision(rng, day), code=rng.choice(["bs-7671", "bs-7671", "iec-60364"]))
        passes = {row.id for row in state.result().findings if row.verdict == "pass"}
        told = {guid: len(comments(notes, guid, dialect)) for guid in topics(notes)} if notes else {}

        notes = checked(state, notes, dialect)

        found = topics(notes)
        assert told.keys() <= found.keys()
        assert {guid: comments(notes, guid, dialect, PERSON) for guid in said} == said
        assert {guid: status(notes, guid) for guid in closed} == closed
        for guid, root in found.items():
            new = comments(notes, guid, dialect)[told.get(guid, 0) :]
            if any("look at it and close it" in text for text in new):
                assert set(split_text(root.findtext("Topic/Description")).state.values) <= passes
                mended += 1

        files = unpacked(notes)
        for path in [path for path in files if path.endswith("/markup.bcf")]:
            root = etree.fromstring(files[path])
            guid = root.find("Topic").get("Guid").lower()
            if rng.random() < 0.4:
                number += 1
                says(f"Word {number}.", number)(root, dialect)
                said.setdefault(guid, []).append(f"Word {number}.")
            if rng.random() < 0.2:
                closed[guid] = rng.choice(CLOSED)
                root.find("Topic").set("TopicStatus", closed[guid])
            files[path] = as_a_program_saves_it(root, rng)
        notes = zipped(files, folders=rng.random() < 0.5, backslashes=rng.random() < 0.3)
    return mended

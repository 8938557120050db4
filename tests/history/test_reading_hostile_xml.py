"""XML files in an archive that were made to do harm, or are broken: kept as they are, and told, or refused by name."""

import random
import socket
import uuid
from pathlib import Path

import pytest
from lxml import etree

from checker.errors import InputError
from checker.history import previous
from checker.history.previous import read_previous
from checker.history.topic import Topic
from checker.result.dialect import DIALECTS, Dialect
from checker.result.note_state import split_text
from tests.history.people import repacked, run, unpacked
from tests.history.test_reading_hostile import FIRST, THEIRS, told
from tests.report.results import small_result

FULLER = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))
GUID = 'Guid="c2a3f2d8-1d55-4b6e-9c7a-0a1b2c3d4e60"'
BOMB = '<!ENTITY e0 "x">' + "".join(f'<!ENTITY e{k} "{f"&e{k - 1};" * 10}">' for k in range(1, 8))  # e7: 10 MB
#: But for the harm in them, those with a Guid are topics that can be read; a parser that let the harm through would tell of none.
HARM = {
    "bomb": f'<!DOCTYPE Markup [{BOMB}]><Markup><Topic {GUID} TopicStatus="&e7;"/></Markup>',
    "bomb in a text": f"<!DOCTYPE Markup [{BOMB}]><Markup><Topic {GUID}><Title>&e7;</Title></Topic></Markup>",
    "file": f'<!DOCTYPE Markup [<!ENTITY x SYSTEM "file:///etc/hostname">]><Markup><Topic {GUID} TopicStatus="&x;"/></Markup>',
    "deep": f"<Markup><Topic {GUID}/>" + "<a>" * 300 + "</a>" * 300 + "</Markup>",
    "very deep": f"<Markup><Topic {GUID}/>" + "<a>" * 100_000 + "</a>" * 100_000 + "</Markup>",
    "long": f"<Markup><Topic {GUID}><Title>{'x' * 10_000_001}</Title></Topic></Markup>",
    "cut": f"<Markup><Topic {GUID}",
    "nothing": "",
    "zeros": "\0" * 100,
    "namespace": f'<Markup xmlns="urn:other"><Topic {GUID}/></Markup>',
}
#: What comes before the markup, and a title that asks for something: each would be filled in by a parser that trusts what it reads.
ASKING = {
    "file": ('<!DOCTYPE Markup [<!ENTITY x SYSTEM "{folder}/secret.txt">]>', "&x;"),
    "definitions": ('<!DOCTYPE Markup SYSTEM "{folder}/secret.dtd">', "&x;"),
    "parameter": ('<!DOCTYPE Markup [<!ENTITY % p SYSTEM "{folder}/secret.dtd"> %p;]>', "&x;"),
    "definitions that are nowhere": ('<!DOCTYPE Markup SYSTEM "{folder}/none.dtd">', "&x;"),
    "include": (
        "",
        '<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="{folder}/secret.txt" parse="text"/>',
    ),
}


def asking(kind: str, folder: Path) -> tuple[str, str]:
    """What asks for a secret in a folder: what comes before the markup, and what stands in a text."""
    (folder / "secret.txt").write_text("a secret")
    (folder / "secret.dtd").write_text('<!ENTITY x "a secret">')
    before, text = (part.replace("{folder}", folder.as_uri()) for part in ASKING[kind])
    return before, text


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
@pytest.mark.parametrize("kind", HARM)
def test_a_topic_that_would_do_harm_or_cannot_be_read_is_kept_as_it_is_and_told(kind: str, dialect: Dialect) -> None:
    version = f'<Version VersionId="{dialect.version}"/>'.encode()
    data = repacked({"bcf.version": version, "t/markup.bcf": HARM[kind].encode(), "kept/markup.bcf": THEIRS})

    after = unpacked(run(FIRST, data, dialect))

    assert after["t/markup.bcf"] == HARM[kind].encode()
    assert after["kept/markup.bcf"] == THEIRS
    assert told(data) == [("old.bcf, t/markup.bcf", "no topic can be read in it")]


@pytest.mark.parametrize("kind", ASKING)
def test_a_topic_that_asks_for_other_files_is_read_without_them(kind: str, tmp_path: Path) -> None:
    before, text = asking(kind, tmp_path)
    theirs = f"{before}<Markup><Topic {GUID}><Title>Door {text}</Title></Topic></Markup>".encode()
    data = repacked({"t/markup.bcf": theirs})

    previous_notes = read_previous(data, "old.bcf")

    assert [topic.title for topic in previous_notes.topics] == ["Door "]
    assert previous_notes.problems == []
    tree = previous_notes.topics[0].tree
    assert tree.docinfo.externalDTD is None
    assert b"a secret" not in etree.tostring(tree)
    assert unpacked(run(FIRST, data))["t/markup.bcf"] == theirs


@pytest.mark.parametrize("kind", ASKING)
@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
def test_nothing_of_other_files_gets_into_a_list_of_words_that_is_written_anew(
    kind: str, dialect: Dialect, tmp_path: Path
) -> None:
    before, text = asking(kind, tmp_path)
    words = {
        "2.1": '<schema xmlns="http://www.w3.org/2001/XMLSchema"><redefine schemaLocation="markup.xsd">'
        '<simpleType name="TopicStatus"><annotation><documentation>{}</documentation></annotation>'
        '<restriction base="TopicStatus"><enumeration value="Parked"/></restriction></simpleType></redefine></schema>',
        "3.0": "<Extensions><TopicStatuses><TopicStatus>Parked {}</TopicStatus></TopicStatuses></Extensions>",
    }[dialect.version]
    version = f'<Version VersionId="{dialect.version}"/>'.encode()
    path = {"2.1": "extensions.xsd", "3.0": "extensions.xml"}[dialect.version]

    after = unpacked(
        run(FIRST, repacked({"bcf.version": version, path: (before + words.format(text)).encode()}), dialect)
    )

    assert b"Review" in after[path]  # ours are added
    assert text.removesuffix("/>").encode() in after[path]  # and what they wrote stays
    assert b"a secret" not in after[path]


def test_of_very_much_that_is_odd_so_much_is_told() -> None:
    before = read_previous(repacked({f"{number}/markup.bcf": b"" for number in range(60)}), "old.bcf")

    assert len(before.problems) == 51
    assert before.problems[-1].elements == 10


@pytest.mark.parametrize("path", ["t/markup.bcf", "extensions.xml", "t/a.bcfv"])
def test_what_would_take_far_too_much_memory_as_a_tree_is_refused(path: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(previous, "MOST_NODES", 1000)

    read_previous(repacked({path: b"<a/>" * 1000, "t/photo.png": b"<" * 2000}), "old.bcf")
    with pytest.raises(InputError, match="far more than issue notes do"):
        read_previous(repacked({path: b"<a b='1'/>" * 501}), "old.bcf")


def test_the_topics_of_a_file_are_bounded_together(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(previous, "MOST_NODES", 1000)

    with pytest.raises(InputError, match="far more than issue notes do"):
        read_previous(repacked({f"{number}/markup.bcf": b"<a/>" * 101 for number in range(10)}), "old.bcf")


def test_a_name_with_signs_that_move_a_terminal_is_told_spelled_out() -> None:
    data = repacked({"t\x1b[2J/markup.bcf": b""})

    assert told(data) == [("old.bcf, 't\\x1b[2J/markup.bcf'", "no topic can be read in it")]


def test_a_text_of_spaces_does_not_hold_up_the_reading_of_our_lines() -> None:
    """With as many steps as pairs of spaces this would take hours."""
    text = f"wayroom: {uuid.UUID(int=1)}\nwayroom state:{' ' * 1_000_000}x"

    assert split_text(text).state is not None


@pytest.mark.parametrize("how", ['SYSTEM "{}"', '[<!ENTITY % x SYSTEM "{}"> %x;]', '[<!ENTITY x SYSTEM "{}">]'])
def test_nothing_is_fetched(how: str) -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.setblocking(False)
        doctype = f"<!DOCTYPE Markup {how.format(f'http://127.0.0.1:{server.getsockname()[1]}/x')}>".encode()
        theirs = doctype + THEIRS.replace(b"too low", b"too low &x;" if b"ENTITY x" in doctype else b"too low")

        data = repacked({"t/markup.bcf": theirs})
        after = unpacked(run(FIRST, data))

        with pytest.raises(BlockingIOError):  # nobody has called
            server.accept()
    assert after["t/markup.bcf"] == theirs
    assert told(data) == []  # it was read: a parser that tried, and wasn't let, would have given up on it


def test_a_topic_that_is_there_twice_is_told() -> None:
    data = repacked({"one/markup.bcf": THEIRS, "two/markup.bcf": THEIRS})

    assert told(data) == [("old.bcf, two/markup.bcf", "its topic has the same Guid as that in one/markup.bcf")]


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
def test_a_list_of_words_that_would_do_harm_stays_as_it_is(dialect: Dialect) -> None:
    for content in (HARM["bomb"].encode(), HARM["cut"].encode(), b"<Markup/>"):
        files = {"bcf.version": f'<Version VersionId="{dialect.version}"/>'.encode(),
                 "extensions.xsd": content, "extensions.xml": content, "project.bcfp": content}  # fmt: skip

        after = unpacked(run(FIRST, repacked(files), dialect))

        assert {path: after[path] for path in files} == files


def harmed(content: bytes, chance: random.Random) -> bytes:
    """Parts of a file doubled, cut out or changed at random; now and then none."""
    for _ in range(chance.choice([0, 1, 1, 5])):
        first, last = sorted(chance.randrange(len(content) + 1) for _ in range(2))
        signs = chance.choice([b"", b"<", b"&x;", b"\0", b"/>", content[first:last] * 2, content[last : last + 50]])
        content = content[:first] + signs + content[last:]
    return content


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
@pytest.mark.parametrize("seed", range(40))
def test_any_damage_to_a_file_in_it_is_either_refused_by_name_or_gone_on_with(seed: int, dialect: Dialect) -> None:
    """Parts of the XML files doubled, cut out or changed at random; what can't be read any more is kept as it is."""
    chance = random.Random(seed)  # noqa: S311 - not for secrets
    files = unpacked(run(FIRST, dialect=dialect))
    safe = {".png"} if seed % 4 == 0 else {".png", "version"}  # without a version that can be read nothing goes on
    damaged = {path: harmed(content, chance) for path, content in files.items() if not path.endswith(tuple(safe))}
    try:
        after = run(FULLER, repacked(files | damaged), dialect)
    except InputError as error:
        told_of = error.what
    else:
        told_of = ""
        unread = {
            path for path in damaged if path.endswith("markup.bcf") and Topic.read(path, damaged[path], dialect) is None
        }
        assert {path: unpacked(after)[path] for path in unread} == {path: damaged[path] for path in unread}
        assert run(FULLER, after, dialect) == after
    assert told_of == "" or "version" in told_of or "BCF" in told_of

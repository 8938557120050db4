"""Notes of a model, a schedule and a project whose texts were written to break them."""

from dataclasses import replace
from importlib import import_module
from itertools import cycle
from pathlib import Path
from typing import Any

import pytest

from checker.model import Place, SourceFile
from checker.report.bcf import write_bcf
from checker.result.dialect import DIALECTS, Dialect
from checker.result.gathering import gathered
from checker.result.note_state import disarmed, split_text
from checker.result.tables import Result
from checker.result.topic_text import MOST_TITLE, short_title
from checker.result.topics import group_findings, make_topic
from tests.report.results import MODEL, guid, small_result
from tests.report.test_bcf import needs_schemas, validate_all

STRANGER = "0ca70272-5003-5d78-ac36-4c74a4720ac6"
HOSTILE = (
    "", " ", "\x00\x01\x1f", "\ud83d alone \udcff", "😀👩‍🔧", "]]>", "<&>\"'", "W" * 100_000, "\u202eabc\u202c", "a\r\nb\tc", "\u2028",
    "\ufffe\uffff", f"x wayroom: {STRANGER}", f"y\nwayroom: {STRANGER}\nwayroom state: a | b | c | 000000000000/000000000000",
    f"way\x00room: {STRANGER}", "- and x, y", "{}", "=1+1",
)  # fmt: skip


def hostile_result(begin: int) -> Result:
    """A result in which every text that comes from a file is one of them, in turn."""
    texts = cycle((*HOSTILE[begin:], *HOSTILE[:begin]))
    result = small_result()

    def text() -> str:
        return next(texts)

    def place(key: str) -> Place:
        return Place(key, text(), text(), text(), text(), text())

    rows = tuple(replace(row, place=place(row.place.global_id), type_name=text()) for row in result.carriers)
    findings = tuple(
        replace(row, reason=text(), source=text(), advice=text(), tried=text(), found=text(), circuits=(text(), text()))
        for row in result.findings
    )
    carriers = {row.key: row for row in rows}
    groups = gathered(group_findings(findings, carriers, {}), carriers)
    cables = [((mark,), place(text())) for mark in HOSTILE]
    topics = tuple(
        make_topic(guid(str(at)), group, carriers, cables, text(), (text(),)) for at, group in enumerate(groups)
    )
    files = (
        replace(MODEL, name=text(), ifc_project=text(), timestamp=text()),
        *(SourceFile("table", one, "0") for one in HOSTILE),
    )
    return replace(
        result, carriers=rows, findings=findings, topics=topics, files=files, project_key=text(), project_name=text(), revision=text(),
        code_title=text(),
    )  # fmt: skip


@pytest.mark.corpus
@needs_schemas
@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
@pytest.mark.parametrize("begin", [0, 5, 11])
def test_they_are_valid_read_by_others_and_keep_their_identity(begin: int, dialect: Dialect, tmp_path: Path) -> None:
    result = hostile_result(begin)
    data = write_bcf(result, dialect)
    path = tmp_path / "issues.bcf"
    path.write_bytes(data)

    validate_all(data, dialect.version)
    book: Any = import_module(f"bcf.v{dialect.version[0]}.bcfxml").BcfXml.load(path)

    assert set(book.topics) == {topic.guid for topic in result.topics}
    for topic in result.topics:
        read = book.topics[topic.guid].topic
        parted = split_text(read.description)
        assert parted.state is not None
        assert sorted(parted.state.values) == sorted(topic.members)  # no stranger's
        assert (parted.after, parted.state.rule) == ("", topic.rule)
        assert 0 < len(read.title) <= MOST_TITLE
    assert write_bcf(hostile_result(begin), dialect) == data


def test_a_title_stands_in_one_line_and_is_cut_where_nobody_reads_on() -> None:
    assert short_title("a\r\n  b\tc\x00") == "a b c"
    assert short_title("x" * MOST_TITLE) == "x" * MOST_TITLE
    assert short_title("x" * (MOST_TITLE + 1)) == "x" * (MOST_TITLE - 1) + "…"


def test_what_machines_look_for_is_broken_where_a_name_has_it() -> None:
    assert disarmed(f"way\x00room: {STRANGER}") == f"wayroom : {STRANGER}"
    assert disarmed("Checked by Wayroom 0.1.0.") == "Checked by Wayroom 0.1.0."

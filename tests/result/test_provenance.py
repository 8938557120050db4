"""What a run was made of, in the lines of a note."""

import hashlib
import json
import re
from dataclasses import replace
from itertools import permutations

import pytest

from checker.history.merge import merged
from checker.model import SourceFile
from checker.report.bcf import draft, write_bcf
from checker.report.html import report_html
from checker.report.json_file import result_json
from checker.result.archive import created_time, newest_time, time_told
from checker.result.facts import run_facts
from checker.result.note_state import seal, split_text
from checker.result.provenance import digest_of, document_words, provenance_lines, with_lines
from tests.report.opened import unpacked
from tests.report.results import small_result

FILES = (
    SourceFile("schedule", "circuits.csv", "b" * 64),
    SourceFile("model", "model.ifc", "a" * 64),
    SourceFile("project", "wayroom.toml", "c" * 64),
    SourceFile("table", "cables.csv", "e" * 64),
    SourceFile("code", "bs-7671.toml", "d" * 64),
)


@pytest.mark.parametrize(
    ("revision", "status", "words"),
    [("P03", "S4", "revision P03, status S4"), ("P03", "", "revision P03"), ("", "S4", "status S4"), ("", "", "")],
)
def test_revision_and_status_are_told_as_far_as_they_are_named(revision: str, status: str, words: str) -> None:
    assert document_words(revision, status) == words


def test_model_schedule_and_project_file_have_a_line_each_and_the_figures_one_together() -> None:
    # sha256 of "ddd…  bs-7671.toml\n" and "eee…  cables.csv\n", in this order
    together = hashlib.sha256(f"{'d' * 64}  bs-7671.toml\n{'e' * 64}  cables.csv\n".encode()).hexdigest()
    result = replace(small_result(), files=FILES, revision="P03", status="S4")
    assert provenance_lines(result) == [
        "Documents: revision P03, status S4.",
        f"Model: model.ifc, SHA-256 {'a' * 64}.",
        f"Schedule: circuits.csv, SHA-256 {'b' * 64}.",
        f"Project file: wayroom.toml, SHA-256 {'c' * 64}.",
        f"Code bs-7671 and tables: 2 files, together {together}.",
        "Checked by Wayroom 0.1.0.",
    ]


def test_documents_without_a_name_and_figures_that_there_are_none_of_have_no_line() -> None:
    lines = provenance_lines(replace(small_result(), files=FILES[1:2]))
    assert lines == [f"Model: model.ifc, SHA-256 {'a' * 64}.", "Checked by Wayroom 0.1.0."]


def test_the_hash_of_the_figures_changes_with_any_of_them_and_not_with_their_order() -> None:
    figures = FILES[3:]
    assert len({digest_of(turned) for turned in permutations(figures)}) == 1
    assert digest_of(figures) != digest_of([figures[0], replace(figures[1], sha256="f" * 64)])
    assert digest_of(figures) != digest_of([figures[0], replace(figures[1], name="other.toml")])


def test_a_note_has_the_lines_before_the_one_for_machines_and_its_seal_is_of_all_of_them() -> None:
    result = replace(small_result(), files=FILES, revision="P03")
    note = draft(result).notes[0]
    assert note.text.rstrip().endswith("\n".join(provenance_lines(result)))
    assert note.state.body_seal == seal(note.text)
    assert sorted(note.state.values) == sorted(result.topics[0].members)


def test_lines_go_before_the_last_one_whatever_a_reason_says() -> None:
    topic = replace(small_result().topics[0], description="Odd: wayroom: in a text.\n\nwayroom: 1 2")
    assert with_lines(topic.description, ["One.", "Two."]) == "Odd: wayroom: in a text.\n\nOne.\nTwo.\n\nwayroom: 1 2"
    none = replace(topic, description="No line for machines.")
    assert with_lines(none.description, ["One."]) == none.description
    assert split_text(with_lines(small_result().topics[0].description, ["One."])).state is not None


def test_the_page_and_the_result_say_revision_and_status() -> None:
    result = replace(small_result(), revision="P03", status="S4")
    page = report_html(result).decode()
    assert re.search(r"<dt>Revision</dt><dd>.*P03", page)
    assert re.search(r"<dt>Status</dt><dd>.*S4", page)
    assert "<dt>Revision</dt>" not in report_html(small_result()).decode()
    told = json.loads(result_json(result, 0, {}))["result"]
    assert (told["revision"], told["status"]) == ("P03", "S4")


def test_a_comment_on_a_change_says_of_which_revision_the_model_is() -> None:
    before = small_result()
    after = replace(small_result((0.4, 0.481, 0.31, 0.6, 0.12, 0.4)), revision="P04", status="S3")
    notes = merged(write_bcf(before), draft(after), run_facts(after), "notes")
    assert "Checked again; the model is of 2024-05-01T08:30:00Z, revision P04, status S3." in texts_of(notes)
    plain = merged(
        write_bcf(before),
        draft(replace(after, revision="", status="")),
        run_facts(replace(after, revision="", status="")),
        "notes",
    )
    assert "Checked again; the model is of 2024-05-01T08:30:00Z." in texts_of(plain)


def test_a_time_that_the_run_was_asked_to_go_by_is_not_called_the_model_s() -> None:
    before = small_result()
    after = replace(small_result((0.4, 0.481, 0.31, 0.6, 0.12, 0.4)), created="2024-06-30T00:00:00Z", revision="P04")
    texts = texts_of(merged(write_bcf(before), draft(after), run_facts(after), "notes"))
    page = report_html(after).decode()

    assert "Checked again as of 2024-06-30T00:00:00Z, revision P04." in texts  # the model is of 2024-05-01
    assert "the model is of" not in texts
    assert re.search(r"As of <time[^>]*>30 June 2024, 00:00 UTC</time> \(revision P04\)", page)
    assert "<dt>Time of the run</dt>" in page
    assert "<dt>Time of the model</dt>" in report_html(before).decode()


def test_the_time_that_stands_for_none_is_neither_asked_for_nor_shown() -> None:
    result = small_result()
    silent = tuple(replace(file, timestamp="") for file in result.files)
    before, after = (
        replace(one, files=silent, created=created_time(newest_time(silent)))
        for one in (result, small_result((0.4, 0.481, 0.31, 0.6, 0.12, 0.4)))
    )
    texts = texts_of(merged(write_bcf(before), draft(after), run_facts(after), "notes"))
    page = report_html(after).decode()

    assert "Checked again; the model is of an unknown time" in texts
    assert "Checked again as of" not in texts
    assert "As of the model of an unknown time" in page
    assert "<dt>Time of the model</dt><dd>an unknown time</dd>" in page
    # a time that it was asked to go by is told as such, though the models name none
    asked = replace(after, created="2024-06-30T00:00:00Z")
    assert "<dt>Time of the run</dt>" in report_html(asked).decode()


@pytest.mark.parametrize("none", ["", "1980-01-01T00:00:00Z", "soon"])
def test_no_sentence_takes_what_is_no_time_for_one(none: str) -> None:
    assert time_told(none) == "an unknown time"
    assert time_told("2024-05-01T08:30:00Z") == "2024-05-01T08:30:00Z"


def texts_of(notes: bytes) -> str:
    """All markup of a file of notes."""
    return "".join(content.decode() for name, content in unpacked(notes).items() if name.endswith("markup.bcf"))

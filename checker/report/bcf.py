"""Issue notes, BCF 2.1 or 3.0: a zip archive with a folder for each topic, which other programs open.

A draft holds this run's notes. They are written as they are, or merged with previous ones first by
``checker.history.merge``.
"""

import zipfile
from functools import partial
from typing import IO

from checker.model import Place, SourceFile
from checker.report.bcf_markup import SNAPSHOT, VIEWPOINT, markup
from checker.report.bcf_project import head_files
from checker.report.bcf_viewpoint import viewpoint
from checker.report.snapshot import Gallery
from checker.result.archive import packed
from checker.result.camera import fit_camera
from checker.result.dialect import V2, Dialect
from checker.result.note_state import fields_seal, split_text
from checker.result.note_words import NoteWords
from checker.result.notes import Draft, Note, code_word, topic_state
from checker.result.provenance import document_words, provenance_lines, with_lines
from checker.result.tables import Camera, Result, Topic


def write_bcf(result: Result, dialect: Dialect = V2, words: NoteWords | None = None) -> bytes:
    """The notes of a result that has no previous ones, as the bytes of a ``.bcf`` file."""
    return pack(draft(result, dialect, words))


def pack(notes: Draft) -> bytes:
    """The bytes of a ``.bcf`` file."""
    return packed(notes.files(), notes.created)


def draft(result: Result, dialect: Dialect = V2, words: NoteWords | None = None) -> Draft:
    """The notes of a result. Their pictures are drawn when they are written.

    Args:
        result: What was found.
        dialect: The version of BCF.
        words: The project's; None: ours.
    """
    words = words or NoteWords()
    gallery = Gallery(result)
    places = {row.key: row.place for row in result.carriers}
    findings = {row.id: row for row in result.findings}
    models = tuple(file for file in result.files if file.role == "model")
    elsewhere = None if dialect is V2 else _camera_on_all(result)
    code = code_word(result)
    notes: list[Note] = []
    said: dict[tuple[str, str, tuple[str, ...]], tuple[dict[str, list[str]], str]] = {}
    made_of = provenance_lines(result)
    issue = document_words(result.revision, result.status)
    for index, topic in enumerate((*result.topics, *result.requests), start=1):
        parted = split_text(with_lines(topic.description, made_of))
        kind = topic.rule, topic.priority, topic.labels
        if kind not in said:  # many topics say the same
            fields = words.fields(topic, result.created)
            said[kind] = fields, fields_seal(fields)
        state = topic_state(topic, parted, findings, code, result.project_key, words.statuses.open, said[kind][1])
        carriers = [places[key] for key in topic.carriers if key in places]
        camera = topic.camera or elsewhere
        text, concerned = parted.rejoined(state), _concerned(models, carriers)
        view = _view(topic, carriers, camera, dialect)
        content = markup(
            topic,
            text,
            index,
            result.created,
            concerned,
            said[kind][0],
            status=words.statuses.open,
            dialect=dialect,
            issue=issue,
            has_view=view is not None,
        )
        files = {"markup.bcf": content} | ({} if view is None else {VIEWPOINT: view})
        pictures = {SNAPSHOT: partial(gallery.snapshot, topic)}
        notes.append(Note(topic.guid, topic.title, parted.text, state, files, pictures))
    return Draft(result.created, head_files(result, dialect, words), tuple(notes), dialect, words)


def _view(topic: Topic, carriers: list[Place], camera: Camera | None, dialect: Dialect) -> bytes | None:
    if camera is None and dialect is not V2:
        return None  # 3.0 has no viewpoint without a camera
    return viewpoint(topic.guid, (*carriers, *topic.cables), camera, dialect, topic.clip_m)


def _camera_on_all(result: Result) -> Camera | None:
    """A camera that has the whole installation in view; None where nothing has a geometry."""
    boxes = [box for row in result.carriers for box in row.boxes] or list(result.surroundings)
    return fit_camera(boxes) if boxes else None


def _concerned(models: tuple[SourceFile, ...], places: list[Place]) -> tuple[SourceFile, ...]:
    """The models that elements stand in; all where none says so."""
    names = {place.model for place in places}
    return tuple(model for model in models if model.name in names) or models


def topics_in(file: IO[bytes]) -> int:
    """How many topics a ``.bcf`` file of ours holds."""
    with zipfile.ZipFile(file) as archive:
        return sum(name.lower().endswith("/markup.bcf") for name in archive.namelist())

"""Issue notes, BCF 2.1: a zip archive with a folder for each topic, which other programs open.

A draft holds this run's notes. They are written as they are, or merged with previous ones first by
``checker.history.merge``.
"""

import io
import zipfile

from checker.model import Place, SourceFile
from checker.report.bcf_markup import SNAPSHOT, VIEWPOINT, markup
from checker.report.bcf_project import head_files
from checker.report.bcf_viewpoint import viewpoint
from checker.report.snapshot import Gallery
from checker.result.archive import packed
from checker.result.notes import Draft, Note, split_text, topic_state
from checker.result.tables import Result


def write_bcf(result: Result) -> bytes:
    """The notes of a result that has no previous ones, as the bytes of a ``.bcf`` file."""
    return pack(draft(result))


def pack(notes: Draft) -> bytes:
    """The bytes of a ``.bcf`` file."""
    return packed(notes.files(), notes.created)


def draft(result: Result) -> Draft:
    """The notes of a result, with their pictures."""
    gallery = Gallery(result)
    places = {row.key: row.place for row in result.carriers}
    findings = {row.id: row for row in result.findings}
    models = tuple(file for file in result.files if file.role == "model")
    notes = []
    for index, topic in enumerate(result.topics, start=1):
        state = topic_state(topic, findings)
        parted = split_text(topic.description)
        carriers = [places[key] for key in topic.carriers if key in places]
        files = {
            "markup.bcf": markup(topic, parted.rejoined(state), index, result.created, _concerned(models, carriers)),
            VIEWPOINT: viewpoint(topic.guid, (*carriers, *topic.cables), topic.camera),
            SNAPSHOT: gallery.snapshot(topic),
        }
        notes.append(Note(topic.guid, topic.title, parted.text, state, files))
    return Draft(result.created, head_files(result), tuple(notes))


def _concerned(models: tuple[SourceFile, ...], places: list[Place]) -> tuple[SourceFile, ...]:
    """The models that elements stand in; all where none says so."""
    names = {place.model for place in places}
    return tuple(model for model in models if model.name in names) or models


def topics_in(content: bytes) -> int:
    """How many topics a ``.bcf`` file of ours holds."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return sum(name.endswith("/markup.bcf") for name in archive.namelist())

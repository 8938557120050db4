"""A short row of trunking over its revisions, in either version of BCF, and what people and their programs do to its notes in between."""

import io
import zipfile
from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace

from lxml import etree

from checker.model.geometry import Vec, add, scale
from checker.result.dialect import V2, Dialect
from checker.result.tables import CarrierRow, FindingRow, Result, Topic
from tests.history.people import PERSON, run, unpacked
from tests.report.results import MODEL, box_mm, carrier, compartment, finding, global_id, small_result, topic

OTHER = "containment roof.ifc"
Change = Callable[[etree._Element, Dialect], None]


def length(number: int, *, made_again: bool = False, away_m: Vec = (0.0, 0.0, 0.0)) -> CarrierRow:
    """The length T-<number>, 3 m long, 3 m further along than the one before; perhaps with another GlobalId, or further away."""
    row = carrier(
        number, box_mm(add((3000.0 * number, 0.0, 2700.0), scale(away_m, 1000.0)), (3000.0, 0.0, 0.0), 100.0, 50.0)
    )
    if not made_again:
        return row
    own = global_id(1000 + number)
    return replace(row, key=own, place=replace(row.place, global_id=own))


@dataclass(frozen=True, slots=True)
class Revision:
    """A revision of the model: how full each length in it is (None: not known).

    ``together``: those that make one topic; each other one makes its own. ``made_again``: those that have another GlobalId than before.
    ``away_m``: by how much these aren't where they were. ``waived``: those whose failing somebody waives. ``unasked``: those that
    the rule has no question about. ``files``: the models that were read.
    """

    fills: Mapping[int, float | None]
    created: str = "2024-05-01T08:30:00Z"
    together: Collection[int] = (1, 2)
    made_again: Collection[int] = ()
    away_m: Vec = (0.0, 0.0, 0.0)
    waived: Collection[int] = ()
    unasked: Collection[int] = ()
    code: str = "bs-7671"
    edition: str = "Guidance (2018)"
    rule: str = "fill.compartment"
    files: Sequence[str] = (MODEL.name,)
    limit: float = 0.45
    projects: Mapping[str, str] = field(default_factory=lambda: {MODEL.name: MODEL.ifc_project})

    def result(self) -> Result:
        """What a check finds."""
        rows = {
            number: length(number, made_again=True, away_m=self.away_m) if number in self.made_again else length(number)
            for number in self.fills
        }
        parts = {
            number: compartment(rows[number], 1, (97.6, 47.6), fill, self.limit) for number, fill in self.fills.items()
        }
        found = {
            number: self._waived(number, finding(rows[number], part, self.rule, self.code))
            for number, part in parts.items()
            if number not in self.unasked
        }
        return replace(
            small_result(),
            created=self.created,
            code=self.code,
            code_title=self.edition,
            carriers=tuple(rows.values()),
            compartments=tuple(parts.values()),
            findings=tuple(found.values()),
            topics=tuple(self._topics(rows, found)),
            files=tuple(replace(MODEL, name=name, ifc_project=self.projects.get(name, "")) for name in self.files),
        )

    def _waived(self, number: int, row: FindingRow) -> FindingRow:
        if number not in self.waived:
            return row
        return replace(row, verdict="waived", reason="the lid stays off until June")

    def _topics(self, rows: Mapping[int, CarrierRow], found: Mapping[int, FindingRow]) -> list[Topic]:
        failing = [number for number, row in found.items() if row.verdict == "fail"]
        groups = [[number for number in failing if number in self.together]]
        groups += [[number] for number in failing if number not in self.together]
        return [topic([rows[one] for one in group], [found[one] for one in group]) for group in groups if group]


#: 45 % is the limit. T-001 and T-002 are one stretch.
FAILS = Revision({1: 0.523, 2: 0.481, 3: 0.6, 4: 0.3})
MENDED = replace(FAILS, fills={1: 0.523, 2: 0.481, 3: 0.4, 4: 0.3})


def checked(revision: Revision, previous: bytes | None = None, dialect: Dialect = V2, *, reopen: bool = False) -> bytes:
    """The notes after a check of a revision, having made sure that the same check once more changes nothing."""
    return run_of(revision.result(), previous, dialect, reopen=reopen)


def run_of(result: Result, previous: bytes | None = None, dialect: Dialect = V2, *, reopen: bool = False) -> bytes:
    """The same of a result."""
    once = run(result, previous, dialect, reopen=reopen)
    assert run(result, once, dialect, reopen=reopen) == once
    return once


def of_roof(result: Result, number: int) -> Result:
    """A result with one length in the other model."""
    rows = (
        replace(row, place=replace(row.place, model=OTHER)) if row.place.tag == f"T-{number:03}" else row
        for row in result.carriers
    )
    return replace(result, carriers=tuple(rows))


def topics(data: bytes) -> dict[str, etree._Element]:
    """The markup of every topic, by its Guid in lower case."""
    found = {}
    for path, content in unpacked(data).items():
        if path.replace("\\", "/").endswith("/markup.bcf"):
            root = etree.fromstring(content)
            found[root.find("Topic").get("Guid").lower()] = root
    return found


def of_length(data: bytes, number: int) -> str:
    """The Guid of the one topic whose title begins with the length, or whose text lists it."""
    word = f"T-{number:03}"
    found = [guid for guid, root in topics(data).items() if word in (root.findtext("Topic/Description") or "")]
    assert len(found) == 1, found
    return found[0]


def comments(data: bytes, guid: str, dialect: Dialect = V2, author: str = "wayroom") -> list[str]:
    """What an author has commented on a topic."""
    found = topics(data)[guid].findall(dialect.comments)
    return [one.findtext("Comment") for one in found if one.findtext("Author") == author]


def status(data: bytes, guid: str) -> str:
    """The status of a topic."""
    return str(topics(data)[guid].find("Topic").get("TopicStatus"))


def related(data: bytes, guid: str, dialect: Dialect = V2) -> list[str]:
    """The Guids of the topics that a topic names as related."""
    return [one.get("Guid") for one in topics(data)[guid].findall(dialect.related)]


def worked(
    data: bytes, work: Mapping[str, Sequence[Change]], dialect: Dialect, added: Mapping[str, bytes] | None = None
) -> dict[str, bytes]:
    """The files after people changed topics, by their Guids, and added files."""
    files = unpacked(data)
    for path, content in files.items():
        if path.endswith("/markup.bcf"):
            root = etree.fromstring(content)
            changes = work.get(root.find("Topic").get("Guid").lower(), ())
            for change in changes:
                change(root, dialect)
            if changes:
                files[path] = etree.tostring(root, xml_declaration=True, encoding="UTF-8")
    return files | dict(added or {})


def zipped(files: Mapping[str, bytes], *, folders: bool = False, backslashes: bool = False) -> bytes:
    """An archive as one program or another writes it: with entries for folders or without, with slashes of either kind."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        seen = set()
        for name, content in files.items():
            folder = name.rpartition("/")[0]
            if folders and folder and folder not in seen:
                seen.add(folder)
                archive.writestr(f"{folder}/", b"")
            info = zipfile.ZipInfo("x")
            info.filename = name.replace("/", "\\") if backslashes else name  # set afterwards, or it would be put right
            archive.writestr(info, content)
    return target.getvalue()


def says(text: str, number: int = 1) -> Change:
    """A person comments; each comment has its number."""

    def change(root: etree._Element, dialect: Dialect) -> None:
        comment = etree.Element("Comment", Guid=f"6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a{number:04d}")
        for tag, value in (("Date", "2024-05-02T09:00:00+02:00"), ("Author", PERSON), ("Comment", text)):
            etree.SubElement(comment, tag).text = value
        dialect.add(root, dialect.comments, comment)

    return change


def sets(tag: str, text: str) -> Change:
    """A person sets a text of a topic, such as to whom it is assigned."""

    def change(root: etree._Element, dialect: Dialect) -> None:
        there = root.find(f"Topic/{tag}")
        if there is None:
            there = etree.Element(tag)
            dialect.add(root, f"Topic/{tag}", there)
        there.text = text

    return change


def sets_status(word: str) -> Change:
    """A person sets the status."""
    return lambda root, _: root.find("Topic").set("TopicStatus", word)


def labels(word: str) -> Change:
    """A person puts a label of theirs in place of the first one."""

    def change(root: etree._Element, dialect: Dialect) -> None:
        root.findall(dialect.labels)[0].text = word

    return change


def attaches(name: str) -> Change:
    """A person attaches a document that lies elsewhere."""

    def change(root: etree._Element, dialect: Dialect) -> None:
        document = etree.Element("DocumentReference", Guid="0d9c7c1e-5b0a-4b53-9a57-0e9f3d1c2b4a")
        etree.SubElement(document, "ReferencedDocument" if dialect is V2 else "Url").text = name
        dialect.add(root, dialect.documents, document)

    return change

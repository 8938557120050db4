"""One topic of an earlier file as a tree: what people wrote stays where it is, and a little is changed or added."""

import re
from dataclasses import dataclass, field

from lxml import etree

from checker.history.identity import is_minted
from checker.result.archive import xml_time
from checker.result.dialect import V2, Dialect
from checker.result.note_state import NO_SEAL, OPEN, REVIEW, Parted, clean, project_seal, split_text, status_seal
from checker.result.note_words import Statuses
from checker.result.notes import AUTHOR
from checker.result.provenance import SAID_AS

#: What a topic's text says of a finding that another topic has taken over.
MOVED = "moved"

#: What a text says of files that were read, by their role.
_TOLD = {
    role: re.compile(rf"{said}: ((?:(?!SHA-256).){{1,300}}?),\s+SHA-256\s+([0-9a-f]{{64}})", re.DOTALL)
    for role, said in SAID_AS.items()
}

#: Statuses of a topic that is not done with. Any other one is somebody's decision.
_OPEN = frozenset({
    "", "open", "reopened", "re-opened", "in progress", "inprogress", "active", "assigned", "new", "review",
})  # fmt: skip


def parsed(content: bytes) -> etree._ElementTree:
    """The tree of a file that nobody vouches for.

    Raises:
        etree.XMLSyntaxError: It isn't XML.
    """
    parser = etree.XMLParser(
        resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False, strip_cdata=False
    )
    return etree.ElementTree(etree.fromstring(content.lstrip(b" \t\r\n"), parser))


def written(tree: etree._ElementTree) -> bytes:
    """The file of a tree, in the encoding that it came in."""
    info = tree.docinfo
    try:
        content: bytes = etree.tostring(
            tree, encoding=info.encoding or "UTF-8", xml_declaration=True, standalone=info.standalone
        )
    except LookupError:
        content = etree.tostring(tree, encoding="UTF-8", xml_declaration=True)
    return content


@dataclass(slots=True)
class Topic:
    """A topic of an earlier file. ``changed``: its tree isn't what was read any more; ``dialect`` says where things stand in it.

    ``is_rewritten``: of what it says itself, its status, title or text was changed; ``said``: the comments that were added.
    """

    path: str
    guid: str
    tree: etree._ElementTree
    element: etree._Element
    changed: bool = False
    dialect: Dialect = V2
    is_rewritten: bool = False
    said: list[etree._Element] = field(default_factory=list)

    @classmethod
    def read(cls, path: str, content: bytes, dialect: Dialect = V2) -> "Topic | None":
        """The topic of a markup file; None where it has none that can be read."""
        try:
            tree = parsed(content)
        except etree.XMLSyntaxError:
            return None
        element = tree.getroot().find("Topic")
        guid = "" if element is None else element.get("Guid", "").strip()
        return cls(path, guid, tree, element, dialect=dialect) if guid else None

    @property
    def folder(self) -> str:
        """The path of its folder, without the last slash."""
        return self.path.rpartition("/")[0]

    @property
    def is_ours(self) -> bool:
        """Whether we made it: by its author or, where a program has put in its own, by our lines and kind of Guid."""
        if (self.element.findtext("CreationAuthor") or "").strip().lower() == AUTHOR:
            return True
        state = self.description.state
        return state is not None and state.body_seal != NO_SEAL and is_minted(self.guid)

    def is_of(self, project_key: str) -> bool:
        """Whether we made it, and for this project: coordinators put the notes of several into one file."""
        state = self.description.state
        return self.is_ours and (state is None or state.project_seal in {NO_SEAL, project_seal(project_key)})

    @property
    def title(self) -> str:
        """Its title."""
        return self.element.findtext("Title") or ""

    @property
    def description(self) -> Parted:
        """Its description, parted."""
        return split_text(self.element.findtext("Description") or "")

    @property
    def status(self) -> str:
        """Its status as it stands there."""
        return str(self.element.get("TopicStatus", "")).strip()

    def is_open_by(self, statuses: Statuses) -> bool:
        """Whether nobody has decided that it is done with, as the project calls that."""
        if self.is_set(OPEN) or self.is_set(REVIEW):
            return True  # whatever the project calls that now
        status = self.status.lower()
        return status != statuses.closed.lower() and status in _OPEN | {statuses.open.lower(), statuses.review.lower()}

    def is_set(self, role: str) -> bool:
        """Whether its status is still the one that we set last, as ``OPEN`` or ``REVIEW``."""
        state = self.description.state
        return state is not None and state.status_seal == status_seal(role, self.status) != NO_SEAL

    def asks_for_review(self, statuses: Statuses) -> bool:
        """Whether we have asked to look at what is mended, and nobody has decided on that."""
        state = self.description.state
        if state is None or state.status_seal != NO_SEAL:
            return self.is_set(REVIEW)
        passed = set(state.values.values()) in ({"pass"}, {"answered"})  # of notes of before status had a seal
        return passed and self.status.lower() == statuses.review.lower()

    @property
    def has_view(self) -> bool:
        """Whether it has a viewpoint or a snapshot."""
        return bool(self._all(self.dialect.views))

    def models(self) -> list[tuple[str, str]]:
        """IfcProject and file name of each model in its header."""
        files = self._all(self.dialect.files)
        found = [(file.get("IfcProject", "").strip(), (file.findtext("Filename") or "").strip()) for file in files]
        return [model for model in found if any(model)]  # programs may leave nothing of it

    def schedules(self) -> list[tuple[str, str]]:
        """Name and SHA-256 of the schedules that its text says were read."""
        return self._told("schedule")

    def told_models(self) -> set[str]:
        """The models that its text says were read."""
        return {name for name, _ in self._told("model")}

    def _told(self, role: str) -> list[tuple[str, str]]:
        text = self.description.text
        found = _TOLD[role].findall(text) if f"{SAID_AS[role]}: " in text else []
        return [(" ".join(name.split()), sha256) for name, sha256 in found]

    @property
    def created(self) -> str:
        """When it was made, as XML has it; empty where that can't be told."""
        return xml_time(self.element.findtext("CreationDate") or "") or ""

    def newest(self) -> tuple[str, str]:
        """When we wrote in it last, and the time of its newest model, as XML has them; empty where that can't be told.

        A comment of ours that was put after somebody's, and so dated as that, says nothing of when.
        """
        comments = [(one.findtext("Author"), one.findtext("Date")) for one in self._all(self.dialect.comments)]
        changed = (self.element.findtext("ModifiedAuthor"), self.element.findtext("ModifiedDate"))
        ours, others = {self.created}, set[str]()
        for author, date in (*comments, changed):
            (ours if (author or "").strip().lower() == AUTHOR else others).add(xml_time(date or "") or "")
        models = (xml_time(file.findtext("Date") or "") or "" for file in self._all(self.dialect.files))
        return max(ours - others, default=""), max(models, default="")

    def comments(self, author: str | None = None) -> list[str]:
        """The Guids of its comments, or of one author's, in their order and in lower case."""
        return [
            comment.get("Guid", "").strip().lower()
            for comment in self._all(self.dialect.comments)
            if author is None or (comment.findtext("Author") or "").strip().lower() == author
        ]

    def added(self) -> list[str]:
        """The Guids of viewpoints, documents and links that others put there; what they say where they have none, as links haven't."""
        paths = self.dialect.views, self.dialect.documents, self.dialect.links
        every = [element for path in paths for element in self._all(path)]
        named = [(one.get("Guid", "").strip().lower(), " ".join("".join(one.itertext()).split())) for one in every]
        return [guid or text for guid, text in named if not is_minted(guid)]

    def fields(self) -> dict[str, list[str]]:
        """What it says besides its title, text and status, by tag, as ``NoteWords.fields`` has it."""
        found = {tag: [self.element.findtext(tag) or ""] for tag in ("Priority", "AssignedTo", "Stage")}
        found["TopicType"] = [self.element.get("TopicType", "")]
        found["DueDate"] = [xml_time(self.element.findtext("DueDate") or "") or ""]
        found["Labels"] = [label.text or "" for label in self._all(self.dialect.labels)]
        return {tag: [one for text in texts if (one := text.strip())] for tag, texts in found.items()}

    def held(self) -> set[str]:
        """The ids of the findings that it is about: those in its text that no other topic has taken over."""
        state = self.description.state
        return {key for key, word in state.values.items() if word != MOVED} if state else set()

    def content(self) -> bytes:
        """Its file."""
        return written(self.tree)

    def set_text(self, tag: str, text: str) -> None:
        """Changes the text of a child that it has, up to the first part in it, such as an entity that nobody resolves."""
        child = self.element.find(tag)
        if child is not None and (child.text or "") != clean(text):
            child.text = clean(text)
            self.changed = self.is_rewritten = True

    def set_status(self, status: str) -> None:
        """Changes its status."""
        if self.status != status:
            self.element.set("TopicStatus", status)
            self.changed = self.is_rewritten = True

    def add_comment(self, guid: str, date: str, text: str) -> None:
        """Adds a comment of ours after those that are there, and dates it no earlier than the last of them."""
        dates = [time for found in self._all(self.dialect.comments) if (time := xml_time(found.findtext("Date") or ""))]
        date = max([date, *dates])
        comment = etree.Element("Comment", Guid=guid)
        for tag, value in (("Date", date), ("Author", AUTHOR), ("Comment", clean(text))):
            etree.SubElement(comment, tag).text = value
        self._add(self.dialect.comments, comment)
        self.said.append(comment)

    def documents(self) -> list[etree._Element]:
        """Its references to documents."""
        return self._all(self.dialect.documents)

    def views(self) -> list[etree._Element]:
        """Its viewpoints, in their order."""
        return self._all(self.dialect.views)

    def view_guids(self) -> list[str]:
        """Their Guids, in lower case."""
        return [view.get("Guid", "").strip().lower() for view in self.views()]

    def add_view(self, view: etree._Element) -> None:
        """Adds the viewpoint of another markup file of the same version; the comment that was added first names it, if there is one."""
        self._add(self.dialect.views, view)
        for comment in self.said[:1]:
            named = etree.SubElement(comment, "Viewpoint", Guid=view.get("Guid", ""))
            named.tail, named.getprevious().tail = named.getprevious().tail, comment.text

    def _all(self, path: str) -> list[etree._Element]:
        found: list[etree._Element] = self.tree.getroot().findall(path)
        return found

    def _add(self, path: str, element: etree._Element) -> None:
        self.dialect.add(self.tree.getroot(), path, element)
        self.changed = True

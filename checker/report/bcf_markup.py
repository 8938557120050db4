"""``markup.bcf``: what a topic says, and of which files. Children stand in the order of the schema, see ``checker.result.dialect``."""

from collections.abc import Mapping, Sequence

from lxml import etree

from checker.model import SourceFile
from checker.report.bcf_xml import child, document, filled, is_global_id, place_of
from checker.result.archive import created_time, xml_time
from checker.result.dialect import V2, Dialect
from checker.result.guids import stable_guid, viewpoint_guid
from checker.result.notes import AUTHOR
from checker.result.tables import Topic

VIEWPOINT = "viewpoint.bcfv"
SNAPSHOT = "snapshot.png"
FIRST_VIEW = "first"
_UNTITLED = "Untitled"


def markup(
    topic: Topic,
    description: str,
    index: int,
    created: str,
    models: tuple[SourceFile, ...],
    fields: Mapping[str, Sequence[str]],
    *,
    status: str,
    dialect: Dialect = V2,
    issue: str = "",
    has_view: bool = True,
) -> bytes:
    """The file of a topic.

    Args:
        topic: The topic.
        description: All of its text, with the lines for machines.
        index: Its place among the topics, counted from 1.
        created: Time of the run, ISO 8601.
        models: The models that it is about.
        fields: What it says besides, as ``NoteWords.fields``.
        status: What its status is called.
        dialect: The version of BCF.
        issue: What the project calls this issue of its models; empty where it says nothing of it.
        has_view: Whether there is a viewpoint beside the snapshot.
    """
    root = etree.Element("Markup")
    for model in models:
        _file(root, model, dialect)
    element = child(root, "Topic", Guid=topic.guid, TopicType="".join(fields["TopicType"]), TopicStatus=status)
    child(element, "Title", filled(topic.title) or _UNTITLED)
    for text in fields["Priority"]:
        child(element, "Priority", text)
    child(element, "Index", str(index))
    for text in fields["Labels"]:
        parent, tag = place_of(root, dialect.labels)
        child(parent, tag, text)
    child(element, "CreationDate", created_time(created))
    child(element, "CreationAuthor", AUTHOR)
    for tag in ("DueDate", "AssignedTo", "Stage"):
        for text in fields[tag]:
            child(element, tag, text)
    if filled(description):
        child(element, "Description", description)
    for model in models if issue else ():
        _document(root, topic, model, issue, dialect)
    parent, tag = place_of(root, dialect.views)
    view = child(parent, tag, Guid=viewpoint_guid(topic.guid, FIRST_VIEW))
    if has_view:
        child(view, "Viewpoint", VIEWPOINT)
    child(view, "Snapshot", SNAPSHOT)
    child(view, "Index", "0")
    return document(root)


def _file(root: etree._Element, model: SourceFile, dialect: Dialect) -> None:
    parent, tag = place_of(root, dialect.files)
    project = {"IfcProject": model.ifc_project} if is_global_id(model.ifc_project) else {}
    element = child(parent, tag, **project, **{dialect.external: "true"})
    if filled(model.name):
        child(element, "Filename", model.name)
    date = xml_time(model.timestamp)
    if date:
        child(element, "Date", date)


def _document(root: etree._Element, topic: Topic, model: SourceFile, issue: str, dialect: Dialect) -> None:
    """A reference to a model in the project's own words. Where the file is kept isn't ours to know, so 3.0's has no address."""
    parent, tag = place_of(root, dialect.documents)
    guid = stable_guid("document", topic.guid.lower(), model.name)
    if dialect is V2:
        element = child(parent, tag, Guid=guid, isExternal="true")
        child(element, "ReferencedDocument", model.name)
    else:
        element = child(parent, tag, Guid=guid)
    child(element, "Description", f"{model.name}, {issue}")

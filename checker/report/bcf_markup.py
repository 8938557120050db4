"""``markup.bcf``: what a topic says, and of which files. Children stand in the order of the schema."""

from lxml import etree

from checker.model import SourceFile
from checker.report.bcf_project import STATUSES, topic_type
from checker.report.bcf_xml import child, document, is_global_id
from checker.result.archive import created_time, xml_time
from checker.result.guids import viewpoint_guid
from checker.result.notes import AUTHOR
from checker.result.tables import Topic

VIEWPOINT = "viewpoint.bcfv"
SNAPSHOT = "snapshot.png"
FIRST_VIEW = "first"


def markup(topic: Topic, description: str, index: int, created: str, models: tuple[SourceFile, ...]) -> bytes:
    """The file of a topic.

    Args:
        topic: The topic.
        description: All of its text, with the lines for machines.
        index: Its place among the topics, counted from 1.
        created: Time of the run, ISO 8601.
        models: The models that it is about.
    """
    root = etree.Element("Markup")
    if models:
        header = child(root, "Header")
        for model in models:
            _file(header, model)
    element = child(root, "Topic", Guid=topic.guid, TopicType=topic_type(topic.rule), TopicStatus=STATUSES[0])
    child(element, "Title", topic.title)
    if topic.priority:
        child(element, "Priority", topic.priority)
    child(element, "Index", str(index))
    for label in topic.labels:
        child(element, "Labels", label)
    child(element, "CreationDate", created_time(created))
    child(element, "CreationAuthor", AUTHOR)
    child(element, "Description", description)
    view = child(root, "Viewpoints", Guid=viewpoint_guid(topic.guid, FIRST_VIEW))
    child(view, "Viewpoint", VIEWPOINT)
    child(view, "Snapshot", SNAPSHOT)
    child(view, "Index", "0")
    return document(root)


def _file(header: etree._Element, model: SourceFile) -> None:
    project = {"IfcProject": model.ifc_project} if is_global_id(model.ifc_project) else {}
    element = child(header, "File", **project, isExternal="true")
    child(element, "Filename", model.name)
    date = xml_time(model.timestamp)
    if date:
        child(element, "Date", date)

"""The files beside the topics' folders: which version of BCF, which project, and which words topics may use."""

from collections.abc import Iterable, Sequence

from lxml import etree

from checker.report.bcf_xml import child, document
from checker.result.tables import Result, Topic

VERSION = "2.1"
EXTENSIONS = "extensions.xsd"

#: The first is what a new topic has; the second what the merger asks for where everything passes now.
STATUSES = ("Open", "Review", "Closed")
_TYPE_OF_FAMILY = {"fill": "Capacity", "segregation": "Segregation", "grouping": "Rating", "rating": "Rating"}
_OTHER_TYPE = "Issue"
_XS = "http://www.w3.org/2001/XMLSchema"


def topic_type(rule: str) -> str:
    """The type of a topic, from the family of its rule."""
    return _TYPE_OF_FAMILY.get(rule.split(".", 1)[0], _OTHER_TYPE)


def head_files(result: Result) -> dict[str, bytes]:
    """Every file that isn't in a topic's folder, by path."""
    return {
        "bcf.version": _version(),
        "project.bcfp": _project(result.project_key, result.project_name),
        EXTENSIONS: _extensions(result.topics),
    }


def _version() -> bytes:
    root = etree.Element("Version", VersionId=VERSION)
    child(root, "DetailedVersion", VERSION)
    return document(root)


def _project(key: str, name: str) -> bytes:
    root = etree.Element("ProjectExtension")
    project = child(root, "Project", ProjectId=key)
    if name:
        child(project, "Name", name)
    child(root, "ExtensionSchema", EXTENSIONS)
    return document(root)


def _extensions(topics: Sequence[Topic]) -> bytes:
    """A schema that narrows the one of markup files, which whoever validates has beside it, to words in use."""
    words: dict[str, Iterable[str]] = {
        "TopicType": {*_TYPE_OF_FAMILY.values(), _OTHER_TYPE},
        "TopicStatus": STATUSES,
        "TopicLabel": {label for topic in topics for label in topic.labels},
        "Priority": {topic.priority for topic in topics if topic.priority},
    }
    root = etree.Element(f"{{{_XS}}}schema", nsmap={"xs": _XS})
    redefine = child(root, f"{{{_XS}}}redefine", schemaLocation="markup.xsd")
    for kind, values in words.items():
        simple = child(redefine, f"{{{_XS}}}simpleType", name=kind)
        restriction = child(simple, f"{{{_XS}}}restriction", base=kind)
        for value in values if kind == "TopicStatus" else sorted(values):
            child(restriction, f"{{{_XS}}}enumeration", value=value)
    return document(root)

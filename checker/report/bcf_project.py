"""The files beside the topics' folders: which version of BCF, which project, and which words topics may use."""

from collections.abc import Mapping, Sequence

from lxml import etree

from checker.report.bcf_xml import child, document, filled
from checker.result.dialect import V2, Dialect
from checker.result.note_words import PRIORITIES, NoteWords
from checker.result.notes import AUTHOR
from checker.result.tables import Result, Topic

EXTENSIONS = "extensions.xsd"
EXTENSIONS_3 = "extensions.xml"
_XS = "http://www.w3.org/2001/XMLSchema"


def head_files(result: Result, dialect: Dialect = V2, words: NoteWords | None = None) -> dict[str, bytes]:
    """Every file that isn't in a topic's folder, by path. ``words`` are the project's; None: ours."""
    words = words or NoteWords()
    lists = _lists((*result.topics, *result.requests), words)
    files = {"bcf.version": _version(dialect)}
    if dialect is V2:
        files["project.bcfp"] = _project_2(result.project_key, result.project_name)
        files[EXTENSIONS] = _extensions_2(lists)
        return files
    if filled(result.project_key):  # the file isn't needed, and no project in it may be nameless
        files["project.bcfp"] = _project_3(result.project_key, result.project_name)
    people = {AUTHOR, *words.people, *words.assigned.values()}
    files[EXTENSIONS_3] = _extensions_3(lists, sorted(people))
    return files


def _lists(topics: Sequence[Topic], words: NoteWords) -> dict[str, list[str]]:
    """The words in use, by what they are of."""
    priorities = {words.priority(ours) for ours in (*PRIORITIES, *(topic.priority for topic in topics))}
    labels = {*words.labels, *(label for topic in topics for label in topic.labels)}
    found = {
        "TopicType": words.all_types(),
        "TopicStatus": list(dict.fromkeys(words.statuses)),
        "Priority": sorted(priorities),
        "TopicLabel": sorted(labels),
        "Stage": list(dict.fromkeys((*words.stages, words.stage))),
    }
    return {kind: [word for word in values if filled(word)] for kind, values in found.items()}


def _version(dialect: Dialect) -> bytes:
    root = etree.Element("Version", VersionId=dialect.version)
    if dialect is V2:
        child(root, "DetailedVersion", dialect.version)
    return document(root)


def _project_2(key: str, name: str) -> bytes:
    root = etree.Element("ProjectExtension")
    project = child(root, "Project", ProjectId=key)
    if name:
        child(project, "Name", name)
    child(root, "ExtensionSchema", EXTENSIONS)
    return document(root)


def _project_3(key: str, name: str) -> bytes:
    root = etree.Element("ProjectInfo")
    project = child(root, "Project", ProjectId=key)
    if filled(name):
        child(project, "Name", name)
    return document(root)


def _extensions_2(lists: Mapping[str, Sequence[str]]) -> bytes:
    """A schema that narrows the one of markup files, which whoever validates has beside it, to words in use.

    People aren't listed: whoever isn't in the list couldn't comment. Nor are stages where the project names none.
    """
    root = etree.Element(f"{{{_XS}}}schema", nsmap={"xs": _XS})
    redefine = child(root, f"{{{_XS}}}redefine", schemaLocation="markup.xsd")
    for kind in ("TopicType", "TopicStatus", "TopicLabel", "Priority", "Stage"):
        if kind == "Stage" and not lists[kind]:
            continue
        simple = child(redefine, f"{{{_XS}}}simpleType", name=kind)
        restriction = child(simple, f"{{{_XS}}}restriction", base=kind)
        for value in lists[kind]:
            child(restriction, f"{{{_XS}}}enumeration", value=value)
    return document(root)


def _extensions_3(lists: Mapping[str, Sequence[str]], people: Sequence[str]) -> bytes:
    root = etree.Element("Extensions")
    for group, kind in (
        ("TopicTypes", "TopicType"),
        ("TopicStatuses", "TopicStatus"),
        ("Priorities", "Priority"),
        ("TopicLabels", "TopicLabel"),
        ("Users", "User"),
        ("SnippetTypes", "SnippetType"),
        ("Stages", "Stage"),
    ):
        parent = child(root, group)
        for word in people if kind == "User" else lists.get(kind, ()):
            child(parent, kind, word)
    return document(root)

"""Viewpoints of an earlier topic: those that are there are never touched, and what none of them selects yet is shown by one more."""

from collections.abc import Iterable

from lxml import etree

from checker.history.identity import viewpoint_guid
from checker.history.outcome import Run
from checker.history.topic import Topic, parsed, written
from checker.result.archive import Content
from checker.result.notes import Note

MARKUP = "markup.bcf"


def new_views(topic: Topic, note: Note, run: Run, *, has_grown: bool) -> dict[str, Content]:
    """Gives a topic this run's viewpoint where it has lost its own, or where it has grown by elements that none of its own select.

    Args:
        topic: The topic.
        note: This run's with the same Guid.
        run: This run.
        has_grown: Whether it has findings that it hadn't.

    Returns:
        The viewpoint's files, by path.
    """
    added = {f"{topic.folder}/{name}": content for name, content in note.contents().items() if name != MARKUP}
    view = parsed(note.files[MARKUP]).getroot().find(topic.dialect.views) if has_grown or not topic.has_view else None
    if view is None:
        return {}
    if topic.has_view:
        return _of_more(topic, note, view, run)
    if any(path in run.files for path in added):
        return {}
    topic.add_view(view)
    return added


def _of_more(topic: Topic, note: Note, view: etree._Element, run: Run) -> dict[str, Content]:
    """One more viewpoint, named by what it selects: a program that has dropped the selection is given none twice."""
    name = view.findtext("Viewpoint") or ""
    if name not in note.files:
        return {}
    tree = parsed(note.files[name])
    selection = _selection([tree.getroot()])
    guid = viewpoint_guid(topic.guid, " ".join(sorted(selection)))
    if selection <= _selection(_readable(run.views(topic))) or guid in topic.view_guids():
        return {}
    tree.getroot().set("Guid", guid)
    files: dict[str, Content] = {}
    for tag, content in (
        ("Viewpoint", written(tree)),
        ("Snapshot", note.contents().get(view.findtext("Snapshot") or "")),
    ):
        child = view.find(tag)
        if child is not None and content is not None:
            child.text = f"{guid}.{(child.text or '').rpartition('.')[2]}"
            files[f"{topic.folder}/{child.text}"] = content
    view.set("Guid", guid)
    index = view.find("Index")
    if index is not None:
        index.text = str(len(topic.view_guids()))
    topic.add_view(view)
    return files


def _selection(views: Iterable[etree._Element]) -> set[str]:
    return {
        own for view in views for one in view.iterfind("Components/Selection/Component") if (own := one.get("IfcGuid"))
    }


def _readable(contents: Iterable[bytes]) -> Iterable[etree._Element]:
    for content in contents:
        try:
            yield parsed(content).getroot()
        except etree.XMLSyntaxError:
            continue

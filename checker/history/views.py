"""Viewpoints of an earlier topic: those that are there are never touched.

What none of them selects yet is shown by one more, and so is what has moved since the newest of ours that selects the same. That a
camera stands elsewhere by a hair, or where a program has rounded its numbers, isn't a move.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal, InvalidOperation

from lxml import etree

from checker.history.identity import is_minted, viewpoint_guid
from checker.history.outcome import Run
from checker.history.topic import Topic, parsed, written
from checker.result.archive import Content, content_of
from checker.result.notes import Note

MARKUP = "markup.bcf"
#: A camera that stands nearer than this to where it stood shows the same, in m.
LEAST_MOVE_M = Decimal("0.05")
#: Of the files of a viewpoint, in lower case.
_KINDS = ("bcfv", "png")


def new_views(topic: Topic, note: Note, run: Run, *, has_grown: bool) -> dict[str, Content]:
    """Gives a topic this run's viewpoint where it has lost its own, has grown by elements that none of its own select, or has moved.

    Args:
        topic: The topic.
        note: This run's with the same Guid.
        run: This run.
        has_grown: Whether it has findings that it hadn't.

    Returns:
        The viewpoint's files, by path.
    """
    if not has_grown and len(topic.views()) == 1 and _is_unchanged(topic, note, run):
        return {}
    view = parsed(note.files[MARKUP]).getroot().find(topic.dialect.views)
    name = "" if view is None else view.findtext("Viewpoint") or ""
    if view is None:
        return {}
    if topic.has_view:
        return _of_more(topic, note, view, name, run, has_grown=has_grown) if name in note.files else {}
    added = {f"{topic.folder}/{name}": content for name, content in note.contents().items() if name != MARKUP}
    if any(path.lower() in run.taken for path in added):
        return {}
    topic.add_view(view)
    return added


def _is_unchanged(topic: Topic, note: Note, run: Run) -> bool:
    """Whether the viewpoint is there, byte for byte: that is quick to tell, and so it is of most."""
    files = [(name, content) for name, content in note.files.items() if name != MARKUP]
    return bool(files) and all(run.files.get(f"{topic.folder}/{name}") == content for name, content in files)


def _of_more(
    topic: Topic, note: Note, view: etree._Element, name: str, run: Run, *, has_grown: bool
) -> dict[str, Content]:
    """One more viewpoint, named by what it selects: a program that has dropped the selection is given none twice."""
    tree = parsed(note.files[name])
    selection = _selection([tree.getroot()])
    what = " ".join(sorted(selection))
    guid = _free_guid(topic, what, run, is_told_once=True)
    if not has_grown or guid is None or selection <= _selection(_readable(run.views(topic))):
        moved = _moved_to(topic, tree.getroot(), selection, run)
        guid = None if moved is None else _free_guid(topic, f"{what} from {moved}", run)
    if guid is None:
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


def _free_guid(topic: Topic, what: str, run: Run, *, is_told_once: bool = False) -> str | None:
    """The Guid of one more viewpoint: of no other, and such that no file is named by it, whoever put that there and for what.

    ``is_told_once``: None where there is a viewpoint of the first Guid that no other file is named by.
    """
    there = topic.view_guids()
    guid, times = viewpoint_guid(topic.guid, what), 1
    while (is_there := guid in there) or any(f"{topic.folder}/{guid}.{kind}".lower() in run.taken for kind in _KINDS):
        if is_there and is_told_once:
            return None
        times += 1
        guid = viewpoint_guid(topic.guid, f"{what}, time {times}")
    return guid


def _moved_to(topic: Topic, view: etree._Element, selection: set[str], run: Run) -> str | None:
    """From where this run sees what a topic selects, if that has moved since our newest viewpoint of it; else None.

    A viewpoint of another kind of Guid after that one may be ours, saved by a program that gives its own: it speaks against a move alone.
    """
    now = _point(view)
    placed = any(own in run.by_global_id and run.by_global_id[own].boxes for own in selection)
    if now is None or not placed:  # what has no place is shown by a camera on all there is, which moves with that
        return None
    for old, is_ours in _newest_first(topic, run):
        if _selection([old]) != selection:
            continue
        before = _point(old)
        if before is not None and _is_there(before, now):
            return None
        if is_ours:
            return None if before is None else " ".join(f"{axis:.3f}" for axis in now)
    return None


def _newest_first(topic: Topic, run: Run) -> Iterator[tuple[etree._Element, bool]]:
    """The viewpoints of a topic that can be read, the last first, and whether each may be ours by its Guid."""
    for view in reversed(topic.views()):
        content = run.files.get(f"{topic.folder}/{(view.findtext('Viewpoint') or '').strip()}")
        for root in _readable([] if content is None else [content_of(content)]):
            yield root, is_minted(view.get("Guid", "").strip())


def _point(view: etree._Element) -> tuple[Decimal, ...] | None:
    """Where the camera of a viewpoint stands, in m, with the digits that are written there."""
    try:
        axes = tuple(
            Decimal((view.findtext(f"PerspectiveCamera/CameraViewPoint/{axis}") or "").strip()) for axis in "XYZ"
        )
    except InvalidOperation:
        return None
    return axes if all(axis.is_finite() for axis in axes) else None


def _is_there(before: tuple[Decimal, ...], now: tuple[Decimal, ...]) -> bool:
    """Whether two points are one, as far as the digits of the first go; a program leaves out zeros at the end."""
    last = min(int(axis.as_tuple().exponent) for axis in before)
    slack = LEAST_MOVE_M + Decimal(5).scaleb(min(last, 0) - 1)
    return all(abs(one - other) <= slack for one, other in zip(before, now, strict=True))


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

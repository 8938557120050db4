"""The files beside the topics' folders: an earlier file keeps its own, and learns the words that our topics use."""

from collections.abc import Iterator

from lxml import etree

from checker.history.topic import parsed, written
from checker.result.archive import Content, content_of

_XS = "{http://www.w3.org/2001/XMLSchema}"
_PROJECT = "project.bcfp"
_EXTENSIONS = "extensions.xsd"
_EXTENSIONS_3 = "extensions.xml"


def with_our_words(files: dict[str, Content], head: dict[str, bytes]) -> dict[str, Content]:
    """The files with what is missing of ours, and with their extensions allowing our words.

    Args:
        files: An earlier file's, by path.
        head: This run's files beside the topics' folders, of the same version of BCF.
    """
    there = {path.lower(): path for path in files}
    missing = {path: content for path, content in head.items() if path.lower() not in there}
    if _EXTENSIONS_3 in head:
        path = there.get(_EXTENSIONS_3, "")
        found = {**missing, **files}
        return found | {path: extended_3(content_of(files[path]), head[_EXTENSIONS_3])} if path else found
    named = _schema_path(content_of(files[there[_PROJECT]])) if _PROJECT in there else _EXTENSIONS
    path = there.get(named.lower(), "")
    if _PROJECT in there and named.lower() != _EXTENSIONS:
        missing.pop(_EXTENSIONS, None)  # their project doesn't look for it there
    found = {**missing, **files}
    if path:
        found[path] = extended(content_of(files[path]), head[_EXTENSIONS])
    return found


def extended(theirs: bytes, ours: bytes) -> bytes:
    """Their extension schema with our words added to its lists; as it was where none is missing or it can't be read."""
    try:
        tree = parsed(theirs)
    except etree.XMLSyntaxError:
        return theirs
    redefine = tree.getroot().find(f"{_XS}redefine")
    if redefine is None:
        return theirs
    is_changed = False
    for kind in parsed(ours).getroot().iter(f"{_XS}simpleType"):
        restriction = redefine.find(f"{_XS}simpleType[@name='{kind.get('name')}']/{_XS}restriction")
        if restriction is None:
            continue  # a kind of word that isn't listed may be anything
        words = {value.get("value") for value in restriction.iter(f"{_XS}enumeration")}
        if not words:
            continue
        for value in kind.iter(f"{_XS}enumeration"):
            if value.get("value") not in words:
                _append(restriction, etree.Element(f"{_XS}enumeration", value=value.get("value")))
                is_changed = True
    return written(tree) if is_changed else theirs


def extended_3(theirs: bytes, ours: bytes) -> bytes:
    """The same for the list of words of BCF 3.0. An empty list offers nothing, so it gets ours; one that isn't there is left out.

    Users are never added but where some are listed: whoever lists none hasn't said who may write.
    """
    try:
        tree = parsed(theirs)
    except etree.XMLSyntaxError:
        return theirs
    is_changed = False
    for group in parsed(ours).getroot():
        lists = tree.getroot().find(group.tag)
        if lists is None:
            continue
        words = set(_texts(lists))
        if group.tag == "Users" and not words:
            continue
        for word in _texts(group):
            if word not in words:
                added = etree.Element(group[0].tag)
                added.text = word
                _append(lists, added)
                is_changed = True
    return written(tree) if is_changed else theirs


def _texts(group: etree._Element) -> Iterator[str]:
    """The words of a list; what is in a comment is none."""
    return ((word.text or "").strip() for word in group.iterchildren("*"))


def _append(parent: etree._Element, element: etree._Element) -> None:
    """Adds an element at the end, spaced as those before it."""
    if len(parent):
        element.tail, parent[-1].tail = parent[-1].tail, parent.text
    parent.append(element)


def _schema_path(project: bytes) -> str:
    """Where a project says that its extension schema is; empty where it doesn't."""
    try:
        named = parsed(project).getroot().findtext("ExtensionSchema")
    except etree.XMLSyntaxError:
        return ""
    return str(named or "").strip().replace("\\", "/").removeprefix("./")

"""The files beside the topics' folders: an earlier file keeps its own, and learns the words that our topics use."""

from lxml import etree

from checker.history.topic import parsed, written

_XS = "{http://www.w3.org/2001/XMLSchema}"
_PROJECT = "project.bcfp"
_EXTENSIONS = "extensions.xsd"


def with_our_words(files: dict[str, bytes], head: dict[str, bytes]) -> dict[str, bytes]:
    """The files with what is missing of ours, and with their extension schema allowing our words.

    Args:
        files: An earlier file's, by path.
        head: This run's files beside the topics' folders.
    """
    there = {path.lower(): path for path in files}
    missing = {path: content for path, content in head.items() if path.lower() not in there}
    named = _schema_path(files.get(there.get(_PROJECT, ""), b"")) if _PROJECT in there else _EXTENSIONS
    path = there.get(named.lower(), "")
    if _PROJECT in there and named.lower() != _EXTENSIONS:
        missing.pop(_EXTENSIONS, None)  # their project doesn't look for it there
    found = {**missing, **files}
    if path:
        found[path] = extended(files[path], head[_EXTENSIONS])
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
    before = etree.tostring(tree)
    for kind in parsed(ours).getroot().iter(f"{_XS}simpleType"):
        restriction = redefine.find(f"{_XS}simpleType[@name='{kind.get('name')}']/{_XS}restriction")
        if restriction is None:
            continue  # a kind of word that isn't listed may be anything
        words = [value.get("value") for value in restriction.iter(f"{_XS}enumeration")]
        if not words:
            continue
        for value in kind.iter(f"{_XS}enumeration"):
            if value.get("value") not in words:
                last = restriction[-1]
                added = etree.SubElement(restriction, f"{_XS}enumeration", value=value.get("value"))
                added.tail, last.tail = last.tail, restriction.text
    return written(tree) if etree.tostring(tree) != before else theirs


def _schema_path(project: bytes) -> str:
    """Where a project says that its extension schema is; empty where it doesn't."""
    try:
        named = parsed(project).getroot().findtext("ExtensionSchema")
    except etree.XMLSyntaxError:
        return ""
    return str(named or "").strip().replace("\\", "/").removeprefix("./")

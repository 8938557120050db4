"""The little that all XML files of the notes share."""

import re

from lxml import etree

from checker.result.note_state import clean

_GLOBAL_ID = re.compile(r"[0-9A-Za-z_$]{22}")


def child(parent: etree._Element, tag: str, text: str | None = None, **attributes: str) -> etree._Element:
    """Adds an element. ``text`` loses what XML can't hold."""
    element = etree.SubElement(parent, tag)
    for name, value in attributes.items():  # set one by one: lxml takes twice as long over a mapping
        element.set(name, value if value.isprintable() else clean(value))
    if text is not None:
        element.text = text if text.isprintable() else clean(text)
    return element


def filled(text: str) -> str:
    """A text as XML can hold it, without space around it: BCF 3.0 allows no text that is nothing but space."""
    return clean(text).strip()


def place_of(root: etree._Element, path: str) -> tuple[etree._Element, str]:
    """Where an element of a path is added, and its name; what it lies in is made where it is missing."""
    *around, tag = path.split("/")
    parent = root
    for name in around:
        last = parent[-1] if len(parent) else None  # most are made in order, and lxml takes long to look
        found = last if last is not None and last.tag == name else parent.find(name)
        parent = child(parent, name) if found is None else found
    return parent, tag


def document(root: etree._Element) -> bytes:
    """The file of a tree, in UTF-8."""
    written: bytes = etree.tostring(root, encoding="UTF-8", xml_declaration=True, pretty_print=True)
    return written


def is_global_id(text: str) -> bool:
    """Whether a text has the form of a GlobalId: 22 characters of the alphabet that IFC packs 128 bits into."""
    return _GLOBAL_ID.fullmatch(text) is not None

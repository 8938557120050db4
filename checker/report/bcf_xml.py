"""The little that all XML files of the notes share."""

import re

from lxml import etree

from checker.result.notes import clean

_GLOBAL_ID = re.compile(r"[0-9A-Za-z_$]{22}")


def child(parent: etree._Element, tag: str, text: str | None = None, **attributes: str) -> etree._Element:
    """Adds an element. ``text`` loses what XML can't hold."""
    element = etree.SubElement(parent, tag, {name: clean(value) for name, value in attributes.items()})
    if text is not None:
        element.text = clean(text)
    return element


def document(root: etree._Element) -> bytes:
    """The file of a tree, in UTF-8."""
    written: bytes = etree.tostring(root, encoding="UTF-8", xml_declaration=True, pretty_print=True)
    return written


def is_global_id(text: str) -> bool:
    """Whether a text has the form of a GlobalId: 22 characters of the alphabet that IFC packs 128 bits into."""
    return _GLOBAL_ID.fullmatch(text) is not None

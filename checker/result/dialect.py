"""Where things stand in a topic's file (``markup.bcf``), in each version of BCF.

Both versions say much the same. 3.0 wraps its lists, and has comments and viewpoints inside the topic. Paths go from the root of the
file: ``root.findall(dialect.comments)`` finds all comments, ``dialect.add(root, dialect.comments, comment)`` adds one where the schema
wants it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

_HEAD = (
    "Title", "Priority", "Index", "Labels", "CreationDate", "CreationAuthor", "ModifiedDate", "ModifiedAuthor", "DueDate", "AssignedTo",
    "Stage", "Description", "BimSnippet",
)  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Dialect:
    """A version of BCF; there is one object for each.

    Attributes:
        version: As ``bcf.version`` has it.
        files: Path of the models that a topic is about; so are ``links``, ``labels``, ``documents`` (references to them), ``related``
            (topics), ``comments`` and ``views`` (viewpoints).
        external: The attribute that says that a file is outside the archive.
        order: The children of an element as its schema orders them, by the element's tag.
    """

    version: str
    files: str
    links: str
    labels: str
    documents: str
    related: str
    comments: str
    views: str
    external: str
    order: Mapping[str, tuple[str, ...]]

    def add(self, root: etree._Element, path: str, element: etree._Element) -> None:
        """Adds an element after those of its kind, and what it lies in where that is missing; all else stays as it is.

        Args:
            root: Of a topic's file.
            path: One of this dialect's paths; the last name in it is the element's own.
            element: What is added, without space between its parts.
        """
        is_spaced = "\n" in (root.text or "")
        parent, depth = root, 1
        for tag in path.split("/")[:-1]:
            child = parent.find(tag)
            if child is None:
                child = etree.Element(tag)
                self._put(parent, child, depth, is_spaced=is_spaced)
            parent, depth = child, depth + 1
        if is_spaced:
            etree.indent(element, space="  ", level=depth)
        self._put(parent, element, depth, is_spaced=is_spaced)

    def _put(self, parent: etree._Element, element: etree._Element, depth: int, *, is_spaced: bool) -> None:
        """Puts an element among the children of another; what the schema doesn't know stays behind what it follows."""
        place = self._place(parent, element.tag)
        element.tail = None
        if is_spaced:
            within, after = "\n" + "  " * depth, "\n" + "  " * (depth - 1)
            first = parent.text if len(parent) and parent.text and not parent.text.strip() else within
            if not len(parent):
                parent.text = parent.text if (parent.text or "").strip() else within
                element.tail = after
            elif place:
                before = parent[place - 1]
                element.tail, before.tail = before.tail, first
            else:
                element.tail = first
        parent.insert(place, element)

    def _place(self, parent: etree._Element, tag: str) -> int:
        order = self.order.get(parent.tag)
        if order is None:
            return len(parent)
        place = 0
        for number, child in enumerate(parent):
            follows = order.index(child.tag) <= order.index(tag) if child.tag in order else place == number
            place = number + 1 if follows else place
        return place


V2 = Dialect(
    version="2.1",
    files="Header/File",
    links="Topic/ReferenceLink",
    labels="Topic/Labels",
    documents="Topic/DocumentReference",
    related="Topic/RelatedTopic",
    comments="Comment",
    views="Viewpoints",
    external="isExternal",
    order={
        "Markup": ("Header", "Topic", "Comment", "Viewpoints"),
        "Topic": ("ReferenceLink", *_HEAD, "DocumentReference", "RelatedTopic"),
    },
)
V3 = Dialect(
    version="3.0",
    files="Header/Files/File",
    links="Topic/ReferenceLinks/ReferenceLink",
    labels="Topic/Labels/Label",
    documents="Topic/DocumentReferences/DocumentReference",
    related="Topic/RelatedTopics/RelatedTopic",
    comments="Topic/Comments/Comment",
    views="Topic/Viewpoints/ViewPoint",
    external="IsExternal",
    order={
        "Markup": ("Header", "Topic"),
        "Topic": ("ReferenceLinks", *_HEAD, "DocumentReferences", "RelatedTopics", "Comments", "Viewpoints"),
    },
)
#: By version; the first is what is written where nobody asks for another.
DIALECTS = {dialect.version: dialect for dialect in (V2, V3)}

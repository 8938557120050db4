"""A workbook's parts by the open standard (ISO/IEC 29500): its sheets, the texts that they share, and which styles are dates.

Read as streams and within bounds, since a workbook is a packed file that may unfold into anything.
"""

import io
import posixpath
import re
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import IO

from lxml import etree

from checker.errors import InputError

#: More than any schedule unpacks to, all its parts together.
MOST_UNPACKED_BYTES = 400 << 20
MOST_SHARED_TEXTS = 2_000_000
#: Numbers of formats that are dates or times in every workbook.
DATE_FORMATS = frozenset({*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)})
ESCAPED = re.compile(r"_x(0009|000A|000D|005F)_", re.IGNORECASE)
WORKBOOK = "xl/workbook.xml"


class _Counted(io.RawIOBase):
    """A stream of a part; all of them share one count of bytes, which has an end."""

    def __init__(self, stream: IO[bytes], budget: list[int]) -> None:
        self._stream, self._budget = stream, budget

    def readable(self) -> bool:
        return True

    def read(self, size: int = -1) -> bytes:
        data = self._stream.read(size if size > 0 else 1 << 16)
        self._budget[0] -= len(data)
        if self._budget[0] < 0:
            what = f"it unpacks to more than {MOST_UNPACKED_BYTES >> 20} MB, which no schedule does"
            raise InputError("", what, "copy the schedule into a workbook of its own")
        return data

    def close(self) -> None:
        self._stream.close()
        super().close()


@dataclass(frozen=True, slots=True)
class Workbook:
    """An open workbook.

    ``sheets`` are parts by the sheet's name, in order; ``hidden``: names of those that nobody sees; ``dates``: places of styles that show
    dates.
    """

    archive: zipfile.ZipFile
    budget: list[int]
    sheets: Mapping[str, str]
    texts: list[str]
    dates: frozenset[int]
    is_1904: bool
    hidden: frozenset[str] = frozenset()

    def part(self, name: str) -> _Counted:
        """A part as a stream."""
        return _Counted(self.archive.open(name), self.budget)


def open_workbook(data: bytes) -> Workbook:
    """Opens a workbook.

    Raises:
        InputError: It is encrypted or too large.
        Exception: It is damaged; of several kinds.
    """
    archive = zipfile.ZipFile(io.BytesIO(data))
    if any(entry.flag_bits & 1 for entry in archive.infolist()):
        raise InputError("", "it has a password", "save it again as .xlsx, without a password")
    budget = [MOST_UNPACKED_BYTES]
    there = set(archive.namelist())
    main = _main_part(archive, budget, there)
    targets = _targets(archive, budget, there, main)
    sheets: dict[str, str] = {}
    hidden: set[str] = set()
    is_1904 = False
    for tag, element in _elements(_Counted(archive.open(main), budget), "sheet", "workbookPr"):
        if tag == "workbookPr":
            is_1904 = element.get("date1904", "0") in {"1", "true"}
            continue
        key = next((value for name, value in element.attrib.items() if name.endswith("}id")), "")
        kind, target = targets.get(key, ("", ""))
        name = element.get("name", "")
        if kind == "worksheet" and target in there and name not in sheets:
            sheets[name] = target
            hidden |= {name} if element.get("state", "visible") != "visible" else set()
    by_kind = {kind: target for kind, target in targets.values() if target in there}
    texts = _texts(_Counted(archive.open(by_kind["sharedStrings"]), budget)) if "sharedStrings" in by_kind else []
    dates = _dates(_Counted(archive.open(by_kind["styles"]), budget)) if "styles" in by_kind else frozenset()
    return Workbook(archive, budget, sheets, texts, dates, is_1904, frozenset(hidden))


def text_of(element: etree._Element) -> str:
    """The text of a string: all its runs, without what only tells how it is spoken."""
    parts = []
    for child in element:
        kind = local(child)
        if kind == "t":
            parts.append(child.text or "")
        elif kind == "r":
            parts.extend(run.text or "" for run in child if local(run) == "t")
    return ESCAPED.sub(lambda found: chr(int(found[1], 16)), "".join(parts))


def local(element: etree._Element) -> str:
    """A tag without its namespace, which differs between the two forms of the standard."""
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def parse(stream: IO[bytes] | io.RawIOBase, *tags: str) -> Iterator[etree._Element]:
    """Elements of some tags as they end. Nothing is fetched from elsewhere, and nothing unfolds."""
    found = etree.iterparse(
        stream, events=("end",), tag=[f"{{*}}{tag}" for tag in tags], resolve_entities=False, no_network=True, huge_tree=False,
        remove_comments=True, remove_pis=True, load_dtd=False,
    )  # fmt: skip
    for _, element in found:
        yield element


def drop(element: etree._Element) -> None:
    """Lets go of an element that was read, and of those before it."""
    element.clear()
    parent = element.getparent()
    while parent is not None and element.getprevious() is not None:
        del parent[0]


def _elements(stream: _Counted, *tags: str) -> Iterator[tuple[str, etree._Element]]:
    with stream:
        for element in parse(stream, *tags):
            yield local(element), element
            drop(element)


def _main_part(archive: zipfile.ZipFile, budget: list[int], there: set[str]) -> str:
    for kind, target in _targets(archive, budget, there, "").values():
        if kind == "officeDocument" and target in there:
            return target
    if WORKBOOK not in there:
        raise InputError("", "it is a zip archive with no workbook in it", "save it again as .xlsx")
    return WORKBOOK


def _targets(archive: zipfile.ZipFile, budget: list[int], there: set[str], part: str) -> dict[str, tuple[str, str]]:
    """What a part refers to: kind and part by key."""
    folder, name = posixpath.split(part)
    relations = posixpath.join(folder, "_rels", f"{name}.rels")
    if relations not in there:
        return {}
    return {
        element.get("Id", ""): (
            element.get("Type", "").rpartition("/")[2],
            posixpath.normpath(posixpath.join("/", folder, element.get("Target", ""))).lstrip("/"),
        )
        for _, element in _elements(_Counted(archive.open(relations), budget), "Relationship")
    }


def _texts(stream: _Counted) -> list[str]:
    texts: list[str] = []
    for _, element in _elements(stream, "si"):
        texts.append(text_of(element))
        if len(texts) > MOST_SHARED_TEXTS:
            raise InputError(
                "",
                f"it has more than {MOST_SHARED_TEXTS} texts, which no schedule has",
                "check that it is the schedule",
            )
    return texts


def _dates(stream: _Counted) -> frozenset[int]:
    from openpyxl.styles.numbers import is_date_format

    own: dict[str, str] = {}
    dates = []
    place = 0
    for tag, element in _elements(stream, "numFmt", "cellXfs"):
        if tag == "numFmt":
            own[element.get("numFmtId", "")] = element.get("formatCode", "")
            continue
        for style in element:
            key = style.get("numFmtId", "0")
            if is_date_format(own[key]) if key in own else key.isdecimal() and int(key) in DATE_FORMATS:
                dates.append(place)
            place += 1
    return frozenset(dates)

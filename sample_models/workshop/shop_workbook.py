"""Writes the schedule as the shop keeps it: a workbook with a title block, its own headings and words, and marks merged over their rows.

The same rows give the same bytes: the properties and the times in the packed file are fixed, and nothing is compressed, as that may differ.
"""

import io
import re
import zipfile
from collections.abc import Iterable
from datetime import datetime
from itertools import groupby
from pathlib import Path

import openpyxl
from openpyxl.styles import Alignment, Font
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet
from shop_circuits import ROWS

WORKBOOK_NAME = "circuits.xlsx"
BUILDER = "Wayroom sample builder"
WRITTEN_AT = datetime(2026, 11, 16, 9, 0, 0)  # noqa: DTZ001 - a workbook's times have no zone
TITLE: tuple[tuple[str, str], ...] = (
    ("Workshop, joinery and metal", "Schedule of circuits"),
    ("Revision P02", "16 November 2026"),
)
HEADER_ROW = len(TITLE) + 2  # one row is left blank

#: The shop's heading for each of our columns, in its order.
HEADINGS: dict[str, str] = {
    "circuit": "Ckt",
    "from": "Panel",
    "to": "Feeds",
    "service": "For",
    "count": "Wires",
    "awg_kcmil": "Size",
    "insulation": "Type",
    "cable": "Wire",
    "diameter_mm": "Outside dia. (mm)",
    "cores": "Conductors in each",
    "conductor": "Metal",
    "voltage_v": "Volts",
    "ambient_c": "Ambient (°C)",
    "loaded_conductors": "Current-carrying",
    "sets": "In parallel",
    "design_current_a": "Load (A)",
    "device_rating_a": "Breaker (A)",
    "device": "Protected by",
    "state": "Status",
    "route": "Way",
    "remarks": "Remarks",
}
#: The shop's words for ours.
WORDS: dict[str, dict[str, str]] = {
    "service": {"power": "Power", "fire-alarm": "Alarm", "data": "Signal"},
    "state": {"new": "New", "existing": "In place", "removed": "Taken out", "spare": "For later"},
}


def write_workbook(path: Path) -> None:
    """Write the schedule to `path`."""
    book = openpyxl.Workbook()
    book.properties.creator = BUILDER
    book.properties.created = WRITTEN_AT
    sheet = book.active
    sheet.title = "Circuits"
    _fill(sheet)
    packed = io.BytesIO()
    book.save(packed)
    path.write_bytes(_fixed(packed.getvalue()))


def _fill(sheet: Worksheet) -> None:
    for number, (left, right) in enumerate(TITLE, start=1):
        sheet.cell(number, 1, left).font = Font(bold=True)
        sheet.cell(number, 5, right)
    for column, heading in enumerate(HEADINGS.values(), start=1):
        sheet.cell(HEADER_ROW, column, heading).font = Font(bold=True)
        sheet.column_dimensions[get_column_letter(column)].width = max(9, len(heading) + 2)
    sheet.freeze_panes = sheet.cell(HEADER_ROW + 1, 2)
    line = HEADER_ROW + 1
    for _, rows in groupby(ROWS, key=lambda row: row["circuit"]):
        line = _circuit(sheet, line, rows)


def _circuit(sheet: Worksheet, first: int, rows: Iterable[dict[str, str]]) -> int:
    """Write the rows of one circuit, its mark merged over them, and return the next line."""
    line = first
    for row in rows:
        for column, ours in enumerate(HEADINGS, start=1):
            text = WORDS.get(ours, {}).get(row[ours], row[ours])
            if text and (ours != "circuit" or line == first):
                sheet.cell(line, column, _value(text))
        line += 1
    if line - first > 1:
        sheet.merge_cells(start_row=first, end_row=line - 1, start_column=1, end_column=1)
        sheet.cell(first, 1).alignment = Alignment(vertical="top")
    return line


def _value(text: str) -> str | int | float:
    """Return a number as a workbook holds it, and a text as it is."""
    if re.fullmatch(r"[0-9]+", text):
        return int(text)
    return float(text) if re.fullmatch(r"[0-9]+\.[0-9]+", text) else text


def _fixed(packed: bytes) -> bytes:
    """Return a workbook with fixed times, and with the names of no other program."""
    stamp = WRITTEN_AT.strftime("%Y-%m-%dT%H:%M:%SZ")
    fixed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(packed)) as source, zipfile.ZipFile(fixed, "w", zipfile.ZIP_STORED) as target:
        for name in source.namelist():
            text = source.read(name).decode("utf-8")
            if name == "docProps/core.xml":
                text = re.sub(r"(<dcterms:modified[^>]*>)[^<]*", rf"\g<1>{stamp}", text)
            if name == "docProps/app.xml":
                text = re.sub(r"(<Application>)[^<]*", rf"\g<1>{BUILDER}", text)
                text = re.sub(r"<AppVersion>[^<]*</AppVersion>", "", text)
            if name == "xl/theme/theme1.xml":
                # fonts of other scripts go by their makers' names
                text = re.sub(r"<a:font [^>]*/>", "", text.replace('name="Office', 'name="Workshop'))
            entry = zipfile.ZipInfo(name, WRITTEN_AT.timetuple()[:6])
            entry.create_system, entry.external_attr = 0, 0
            target.writestr(entry, text.encode("utf-8"))
    return fixed.getvalue()

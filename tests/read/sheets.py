"""Workbooks for tests: written by an independent library, or part by part so that any cell can be in them."""

import zipfile
from collections.abc import Callable
from pathlib import Path

import openpyxl

from checker.model import Problem
from checker.read.project import Project
from checker.read.project_schedule import ScheduleSpec
from checker.read.schedule import Schedule, read_schedule

HEAD = ("circuit", "from", "to", "service", "diameter_mm", "count", "remark")
ROW = ("P1", "DB", "S1", "power", 4.5, 2, None)
MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
#: The other form of the standard has other namespaces for the same.
STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
STRICT_RELATIONS = "http://purl.oclc.org/ooxml/officeDocument/relationships"

Sheet = openpyxl.worksheet.worksheet.Worksheet
Change = Callable[[Sheet], None]


def unchanged(_: Sheet) -> None:
    """Leaves a sheet as it is."""


def book(path: Path, *rows: tuple[object, ...], change: Change = unchanged, name: str = "Circuits") -> Path:
    """Writes a workbook with one sheet."""
    workbook = openpyxl.Workbook()
    workbook.active.title = name
    for row in rows:
        workbook.active.append(row)
    change(workbook.active)
    workbook.save(path)
    return path


def read(path: Path, sheet: str = "") -> Schedule:
    return read_schedule(path, Project(schedule=ScheduleSpec(sheet=sheet)), {})


def rows_of(folder: Path, *rows: tuple[object, ...], change: Change = unchanged) -> Schedule:
    return read(book(folder / "circuits.xlsx", HEAD, *rows, change=change))


def by_hand(
    path: Path, rows: str, texts: tuple[str, ...] = (), main: str = MAIN, relations: str = RELATIONS, after: str = ""
) -> Path:
    """Writes the parts of a workbook as they are given, so that any cell can be in it."""
    shared = "".join(f"<si>{text}</si>" for text in texts)
    parts = {
        "_rels/.rels": relation("a", f"{relations}/officeDocument", "xl/book.xml"),
        "xl/book.xml": f'<workbook xmlns="{main}" xmlns:r="{relations}"><sheets>'
        '<sheet name="Circuits" sheetId="1" r:id="s"/></sheets></workbook>',
        "xl/_rels/book.xml.rels": relation("s", f"{relations}/worksheet", "sheets/one.xml")
        + relation("t", f"{relations}/sharedStrings", "/xl/texts.xml"),
        "xl/sheets/one.xml": f'<worksheet xmlns="{main}"><sheetData>{rows}</sheetData>{after}</worksheet>',
        "xl/texts.xml": f'<sst xmlns="{main}">{shared}</sst>',
    }
    parts |= {
        name: f'<Relationships xmlns="{PACKAGE}">{text}</Relationships>'
        for name, text in parts.items()
        if "rels" in name
    }
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return path


def relation(key: str, kind: str, target: str) -> str:
    return f'<Relationship Id="{key}" Type="{kind}" Target="{target}"/>'


def inline(*texts: str) -> str:
    return "".join(f'<c t="inlineStr"><is><t>{text}</t></is></c>' for text in texts)


HEAD_XML = f"<row>{inline('circuit', 'from', 'to', 'service', 'diameter_mm', 'count')}</row>"


def told(schedule: Schedule, words: str) -> list[Problem]:
    return [problem for problem in schedule.problems if words in problem.what]

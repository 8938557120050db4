"""Workbooks that are none, are damaged, or were made to unfold without end."""

import io
import zipfile
from pathlib import Path

import pytest

from checker.errors import InputError
from checker.read import sheet_cells, sheet_workbook
from tests.read.sheets import HEAD, HEAD_XML, ROW, book, by_hand, inline, read, told
from tests.read.test_schedule import only

ZIP = io.BytesIO()
with zipfile.ZipFile(ZIP, "w") as _archive:
    _archive.writestr("picture.svg", "<svg/>")


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "isn't a workbook"),
        (b"circuit,from,to\n", "isn't a workbook"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "encrypted"),
        (ZIP.getvalue(), "no workbook in it"),
        (b"PK\x03\x04" + bytes(100), "isn't a workbook"),
    ],
)
def test_what_is_no_workbook_ends_the_run(tmp_path: Path, data: bytes, words: str) -> None:
    (tmp_path / "c.xlsx").write_bytes(data)
    with pytest.raises(InputError, match=words):
        read(tmp_path / "c.xlsx")


def test_a_damaged_workbook_ends_the_run(tmp_path: Path) -> None:
    data = bytearray(book(tmp_path / "c.xlsx", HEAD, ROW).read_bytes())
    at = data.index(b"xl/worksheets/sheet1.xml") + 40
    data[at : at + 40] = bytes(40)
    (tmp_path / "c.xlsx").write_bytes(data)
    with pytest.raises(InputError, match="can't be read as a workbook"):
        read(tmp_path / "c.xlsx")


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ('<row r="99999999999"><c><v>1</v></c></row>', "no row"),
        ('<row><c r="ZZZ1"><v>1</v></c></row>', "no cell"),
        ('<row><c r="A"><v>1</v></c></row>', "no cell"),
        ('<row><c t="s"><v>7</v></c></row>', "can't be read"),  # there are no shared texts
        ("<row>" + "<c/>" * 20_000 + "</row>", "a row has more cells than"),
        ('<row r="1">' + inline("x") + '</row><row r="1">' + inline("y") + "</row>", "two rows of one number"),
        ("<row>" + "".join(inline(f"h{number}") for number in range(1001)) + "</row>", "more than 1000 columns"),
        ("<row><c><v>1</v></c>", "can't be read"),
    ],
)
def test_cells_that_cant_be_end_the_run(tmp_path: Path, rows: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read(by_hand(tmp_path / "c.xlsx", rows))


def test_many_blank_rows_are_skipped(tmp_path: Path) -> None:
    blank = "".join(
        f'<row r="{number}" s="3" customFormat="1" hidden="1"><c r="A{number}" s="3"/></row>'
        for number in range(3, 50_000)
    )
    schedule = read(by_hand(tmp_path / "c.xlsx", f"{HEAD_XML}<row>{inline(*map(str, ROW[:6]))}</row>{blank}"))
    assert only(schedule).mark == "P1"
    assert not schedule.problems


def test_without_end_they_end_the_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet_cells, "MOST_BLANK", 1000)
    with pytest.raises(InputError, match="formatted and blank"):
        read(by_hand(tmp_path / "c.xlsx", HEAD_XML + "<row/>" * 1002))


def test_a_part_that_unfolds_without_end_ends_the_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = by_hand(tmp_path / "c.xlsx", HEAD_XML + "<row/>" * 200_000)
    monkeypatch.setattr(sheet_workbook, "MOST_UNPACKED_BYTES", 1 << 20)
    assert path.stat().st_size < 20_000
    with pytest.raises(InputError, match="unpacks to more than 1 MB"):
        read(path)


def test_so_do_texts_without_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sheet_workbook, "MOST_SHARED_TEXTS", 10)
    with pytest.raises(InputError, match="more than 10 texts"):
        read(by_hand(tmp_path / "c.xlsx", HEAD_XML, ("<t>x</t>",) * 11))


def test_merged_cells_that_overlap_or_span_everything_cost_no_more_than_the_rows(tmp_path: Path) -> None:
    rows = "".join(
        f'<row r="{number}">{inline("P1" if number == 2 else "")}<c r="B{number}"><v>1</v></c></row>'
        for number in range(2, 2000)
    )
    ranges = "".join(f'<mergeCell ref="A{number}:XFD1048576"/>' for number in range(2, 2000))
    schedule = read(by_hand(tmp_path / "c.xlsx", HEAD_XML + rows, after=f"<mergeCells>{ranges}</mergeCells>"))
    assert len(only(schedule).cables) == 1998


def test_entities_neither_unfold_nor_fetch(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("secret", encoding="utf-8")
    path = by_hand(tmp_path / "c.xlsx", HEAD_XML + f"<row>{inline('&a;', 'DB', 'S1', 'power', '4', '2')}</row>")
    with zipfile.ZipFile(path) as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist()}
    kind = f'<!DOCTYPE w [<!ENTITY a SYSTEM "{secret.as_uri()}">]>'
    parts["xl/sheets/one.xml"] = kind + parts["xl/sheets/one.xml"]
    with zipfile.ZipFile(path, "w") as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    schedule = read(path)
    assert schedule.lost_rows == (2,)
    assert not told(schedule, "secret")

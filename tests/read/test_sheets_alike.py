"""The same circuits, however they are written down, are read to the same circuits."""

import codecs
import csv
import io
from collections import Counter
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.model import Circuit
from checker.read.project import Project
from checker.read.schedule import read_schedule

COLUMNS = ("circuit", "from", "to", "service", "diameter_mm", "count", "remark")
BEGINNINGS = {
    "utf-8": b"",
    "utf-8-sig": b"",
    "utf-16": b"",
    "utf-16-be": codecs.BOM_UTF16_BE,
    "cp1252": b"",
}
WITHOUT_MARK = ("utf-16-le", "utf-16-be")

#: Words that need quotes, other signs than ASCII's, or neither; none that begins as a formula does.
words = st.text(st.sampled_from("abXY09äöé ,\t\"'/.-|"), min_size=1, max_size=8).map(lambda text: f"w{text}w")


@dataclass(frozen=True)
class Row:
    """One row: everything as it is meant."""

    mark: str
    origin: str
    calls: tuple[str, ...]
    tenths_mm: int
    count: int
    remark: str

    def cells(self, sign: str) -> list[str]:
        size = f"{self.tenths_mm // 10}{sign}{self.tenths_mm % 10}"
        return [self.mark, self.origin, ";".join(self.calls), "power", size, str(self.count), self.remark]


@st.composite
def schedules(draw: st.DrawFn) -> list[Row]:
    """Rows of circuits, those of one together. Those of one circuit have the same ends and remark.

    Marks differ in more than blanks, since else that would be told.
    """
    rows = []
    for mark in draw(st.lists(words, min_size=1, max_size=4, unique_by=lambda mark: "".join(mark.split()))):
        origin, remark = draw(words), draw(words)
        calls = tuple(draw(st.lists(words, min_size=1, max_size=3)))
        sizes = draw(st.lists(st.tuples(st.integers(1, 400), st.integers(0, 99)), min_size=1, max_size=3))
        rows.extend(Row(mark, origin, calls, tenths, count, remark) for tenths, count in sizes)
    return rows


def read(name: str, data: bytes) -> tuple[list[Circuit], int]:
    """The circuits without the numbers of their rows, and how many problems there are."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / name
        path.write_bytes(data)
        schedule = read_schedule(path, Project(), {})
    assert not schedule.lost_rows
    plain = [
        replace(circuit, cables=tuple(replace(cable, row=0) for cable in circuit.cables))
        for circuit in schedule.circuits
    ]
    return plain, len(schedule.problems)


def told(circuits: list[Circuit]) -> list[tuple[object, ...]]:
    return [
        (one.mark, one.origin, one.calls, [(cable.diameter_mm, cable.count) for cable in one.cables], one.other)
        for one in circuits
    ]


def meant(rows: list[Row]) -> list[tuple[object, ...]]:
    """What is to be read: by mark, in the order of the rows."""
    found = []
    for mark in dict.fromkeys(row.mark for row in rows):
        own = [row for row in rows if row.mark == mark]
        cables = [(row.tenths_mm / 10, row.count) for row in own]
        found.append((mark, own[0].origin, own[0].calls, cables, {"remark": own[0].remark}))
    return found


def same(rows: list[Row]) -> int:
    """How often it is told that rows are the same: once for all that are."""
    return sum(times > 1 for times in Counter(tuple(row.cells(".")) for row in rows).values())


def as_text(rows: list[Row], separator: str, sign: str, quoting: int, end: str) -> str:
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=separator, quoting=quoting, lineterminator=end)
    writer.writerow(COLUMNS)
    writer.writerows(row.cells(sign) for row in rows)
    return out.getvalue()


@settings(max_examples=100, deadline=None)
@given(
    schedules(),
    st.sampled_from(",;\t"),
    st.sampled_from(",."),
    st.sampled_from([csv.QUOTE_MINIMAL, csv.QUOTE_ALL]),
    st.sampled_from(["\n", "\r\n"]),
    st.sampled_from(sorted(BEGINNINGS)),
    st.booleans(),
)
def test_a_text_in_any_form_is_what_was_meant(
    rows: list[Row],
    separator: str,
    sign: str,
    quoting: int,
    end: str,
    encoding: str,
    says: bool,  # noqa: FBT001
) -> None:
    text = as_text(rows, separator, sign, quoting, end)
    if says:
        text = f"sep={separator}{end}{text}"
    circuits, _ = read("circuits.csv", BEGINNINGS[encoding] + text.encode(encoding))
    assert told(circuits) == meant(rows)
    assert all(circuit.unread == () for circuit in circuits)


@settings(max_examples=60, deadline=None)
@given(schedules(), st.sampled_from(WITHOUT_MARK))
def test_wide_text_without_a_mark_is_what_was_meant_too(rows: list[Row], encoding: str) -> None:
    text = as_text(rows, "\t", ".", csv.QUOTE_MINIMAL, "\r\n")
    circuits, problems = read("circuits.txt", text.encode(encoding))
    assert (told(circuits), problems) == (meant(rows), 1 + same(rows))


@settings(max_examples=60, deadline=None)
@given(schedules(), st.booleans(), st.integers(0, 3))
def test_a_workbook_is_what_was_meant_and_what_the_text_is(rows: list[Row], as_numbers: bool, above: int) -> None:  # noqa: FBT001
    workbook = openpyxl.Workbook()
    for _ in range(above):
        workbook.active.append(["title"])
    workbook.active.append(COLUMNS)
    for row in rows:
        cells: list[object] = list(row.cells("."))
        if as_numbers:
            cells[4:6] = [row.tenths_mm / 10, row.count]
        workbook.active.append(cells)
    out = io.BytesIO()
    workbook.save(out)
    circuits, problems = read("circuits.xlsx", out.getvalue())
    assert (told(circuits), problems) == (meant(rows), bool(above) + same(rows))
    assert circuits == read("circuits.csv", as_text(rows, ",", ".", csv.QUOTE_ALL, "\n").encode())[0]


@settings(max_examples=100, deadline=None)
@given(schedules(), st.randoms())
def test_rows_of_different_circuits_may_be_mixed_in_any_order(rows: list[Row], random: st.DataObject) -> None:
    """As long as those of one circuit keep theirs."""
    queues: dict[str, list[Row]] = {}
    for row in rows:
        queues.setdefault(row.mark, []).append(row)
    mixed = []
    while queues:
        mark = random.choice(sorted(queues))  # type: ignore[attr-defined]
        mixed.append(queues[mark].pop(0))
        if not queues[mark]:
            del queues[mark]
    one = read("circuits.csv", as_text(rows, ",", ".", csv.QUOTE_MINIMAL, "\n").encode())[0]
    other = read("circuits.csv", as_text(mixed, ",", ".", csv.QUOTE_MINIMAL, "\n").encode())[0]
    assert {circuit.mark: circuit for circuit in one} == {circuit.mark: circuit for circuit in other}

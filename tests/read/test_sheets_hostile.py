"""No bytes at all end in anything but circuits or an error with a place, a reason and a hint."""

import io
import zipfile
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.errors import InputError
from checker.read.project import Project
from checker.read.schedule import read_schedule
from tests.read.sheets import HEAD_XML, by_hand, inline

TEXT = 'circuit,from,to,service,diameter_mm,count,state\nP1,DB,"S1\nS2",power,"2,5 mm",2,new\nTotal,,,,,4,\n,,S3,data,3,1,\n'
ENDINGS = (".csv", ".txt", ".xlsx", ".xlsm")


@cache
def workbook() -> bytes:
    """A workbook with everything that is treated in a way of its own."""
    made = openpyxl.Workbook()
    for row in (("title",), ("circuit", "from", "to", "count"), ("P1", "=A1", 3.5, "#N/A"), (None, True, "x", 2)):
        made.active.append(row)
    made.active.merge_cells("A3:A4")
    made.active.row_dimensions[4].hidden = True
    made.create_sheet("Other")
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def survives(data: bytes, ending: str) -> None:
    """Reads it; what comes of it can be written down."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / f"circuits{ending}"
        path.write_bytes(data)
        try:
            schedule = read_schedule(path, Project(), {})
        except InputError as error:
            said = error
        else:
            said = None
    if said is not None:
        assert said.where.startswith(str(path))
        assert said.what
        assert said.hint
        return
    repr(schedule).encode("utf-8")
    assert all(problem.where.startswith(path.name) and problem.what and problem.hint for problem in schedule.problems)


def mutated(data: bytes, changes: list[tuple[int, int, bytes]]) -> bytes:
    """Some stretches replaced by others; places and lengths go by the data's own length."""
    for place, length, by in changes:
        at = place % (len(data) + 1)
        data = data[:at] + by + data[at + length :]
    return data


changes = st.lists(
    st.tuples(st.integers(0, 1 << 20), st.integers(0, 12), st.binary(max_size=6)), min_size=1, max_size=4
)


@settings(max_examples=150, deadline=None)
@given(st.binary(max_size=60), st.sampled_from(ENDINGS))
def test_any_bytes(data: bytes, ending: str) -> None:
    survives(data, ending)


@settings(max_examples=150, deadline=None)
@given(
    st.text(st.sampled_from("circuitfromto,;\t\"'\n\r=|sep0123456789.#/A()\0\ufeffé"), max_size=80),
    st.sampled_from(["utf-8", "utf-16-le", "utf-16"]),
)
def test_any_text_below_a_header(text: str, encoding: str) -> None:
    survives(f"circuit,from,to,count,diameter_mm,state\n{text}".encode(encoding), ".csv")


@settings(max_examples=150, deadline=None)
@given(changes)
def test_a_text_that_was_tampered_with(places: list[tuple[int, int, bytes]]) -> None:
    survives(mutated(TEXT.encode(), places), ".csv")


@settings(max_examples=100, deadline=None)
@given(changes)
def test_a_workbook_that_was_tampered_with(places: list[tuple[int, int, bytes]]) -> None:
    survives(mutated(workbook(), places), ".xlsx")


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 20), changes)
def test_a_workbook_with_a_part_that_was_tampered_with(part: int, places: list[tuple[int, int, bytes]]) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook())) as source, zipfile.ZipFile(out, "w") as target:
        names = [name for name in source.namelist() if name.startswith(("xl/w", "xl/s", "xl/_", "_"))]
        for name in source.namelist():
            data = source.read(name)
            target.writestr(name, mutated(data, places) if name == names[part % len(names)] else data)
    survives(out.getvalue(), ".xlsx")


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.sampled_from(["", "n", "s", "str", "b", "e", "d", "inlineStr", "z"]),
            st.sampled_from(["", "0", "1", "-1", "2.5", "1e999", "nan", "x", "9" * 400, "2026-03-04", "#N/A", "TRUE"]),
            st.sampled_from(["", "0", "1", "99", "x"]),
            st.booleans(),
        ),
        max_size=6,
    )
)
def test_any_cells(cells: list[tuple[str, str, str, bool]]) -> None:
    row = "".join(
        f'<c t="{kind}" s="{style}">{"<f>A1</f>" if formula else ""}<v>{value}</v></c>'
        for kind, value, style, formula in cells
    )
    with TemporaryDirectory() as folder:
        path = by_hand(
            Path(folder) / "c.xlsx", f"{HEAD_XML}<row>{inline('P1')}{row}</row><row>{row}</row>", ("<t>x</t>",)
        )
        data = path.read_bytes()
    survives(data, ".xlsx")

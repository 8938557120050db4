"""The workshop's schedule as a workbook: the same plan gives the same bytes, and what is read from it is what the plan has."""

import importlib.util
import sys
import tomllib
import zipfile
from datetime import datetime
from pathlib import Path
from types import ModuleType

import openpyxl
import pytest

from checker.model import Installation, State
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.rule.plugins import load_plugins

FOLDER = Path(__file__).parents[2] / "sample_models" / "workshop"
WORKBOOK = FOLDER / "circuits.xlsx"
MILL = "DP-1/19,21,23"


def of_sample(name: str) -> ModuleType:
    """A module of the sample's own folder, under a name that no other sample's has."""
    spec = importlib.util.spec_from_file_location(f"workshop_{name}", FOLDER / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.path.insert(0, str(FOLDER))
    try:
        spec.loader.exec_module(module)
    finally:
        sys.path.remove(str(FOLDER))
    return module


@pytest.fixture(scope="module")
def installation() -> Installation:
    return read_installation(find_sources([FOLDER], None), load_plugins().cables, lambda _: None)


def test_writing_it_again_gives_the_same_bytes_whenever_it_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Later(datetime):
        @classmethod
        def now(cls, **_: object) -> datetime:  # type: ignore[override]
            return datetime(2031, 5, 4, 3, 2, 1)  # noqa: DTZ001 - a workbook's times have no zone

    module = of_sample("shop_workbook")
    module.write_workbook(tmp_path / "now.xlsx")
    monkeypatch.setattr("time.time", lambda: 1_900_000_000.0)  # the packed file's own times
    monkeypatch.setattr("openpyxl.writer.excel.datetime.datetime", Later)
    module.write_workbook(tmp_path / "later.xlsx")
    assert (tmp_path / "now.xlsx").read_bytes() == (tmp_path / "later.xlsx").read_bytes()


def test_the_workbook_that_is_checked_in_is_the_one_that_is_written(tmp_path: Path) -> None:
    of_sample("shop_workbook").write_workbook(tmp_path / "again.xlsx")
    again, checked_in = (openpyxl.load_workbook(path).active for path in (tmp_path / "again.xlsx", WORKBOOK))
    assert list(again.values) == list(checked_in.values)
    assert again.merged_cells.ranges == checked_in.merged_cells.ranges
    with zipfile.ZipFile(WORKBOOK) as packed:
        assert {entry.date_time for entry in packed.infolist()} == {(2026, 11, 16, 9, 0, 0)}


def test_it_is_as_awkward_as_the_readme_says() -> None:
    sheet = openpyxl.load_workbook(WORKBOOK).active
    assert sheet["A1"].value == "Workshop, joinery and metal"
    headings = [cell.value for cell in sheet[4]]
    assert headings[:2] == ["Ckt", "Panel"]
    assert not {"circuit", "from", "to", "count"} & set(headings)
    merged = sorted(str(area) for area in sheet.merged_cells.ranges)
    assert len(merged) == 9  # eight circuits of two rows, and the mill of three
    assert all(area[0] == "A" for area in merged)
    assert "A17:A19" in merged


def test_every_heading_that_the_project_file_names_stands_in_the_workbook() -> None:
    named = tomllib.loads((FOLDER / "wayroom.toml").read_text(encoding="utf-8"))["schedule"]["columns"]
    headings = of_sample("shop_workbook").HEADINGS
    assert {ours: headings[ours].partition(" (")[0] for ours in headings if ours != "remarks"} == named


def test_what_is_read_is_what_the_plan_has(installation: Installation) -> None:
    rows = of_sample("shop_circuits").ROWS
    found = {circuit.mark: circuit for circuit in installation.circuits}
    assert list(found) == list(dict.fromkeys(row["circuit"] for row in rows))
    assert len(found) == 38
    for mark, circuit in found.items():
        own = [row for row in rows if row["circuit"] == mark]
        assert circuit.service == own[0]["service"], mark
        assert circuit.state == own[0]["state"], mark
        there = [cable.count for cable in circuit.cables if cable.count]
        gone = circuit.state is State.REMOVED
        assert there == [int(row["count"]) for row in own if gone or row["state"] != "removed"], mark
        given = [row["diameter_mm"] for row in own if row["diameter_mm"]]
        assert [cable.diameter_mm for cable in circuit.cables if given] == [float(text) for text in given], mark


def test_conductors_that_were_taken_out_of_a_circuit_that_stays_take_no_room(installation: Installation) -> None:
    [mill] = [circuit for circuit in installation.circuits if circuit.mark == MILL]
    assert mill.state is State.EXISTING
    assert [(cable.key, cable.count) for cable in mill.cables if cable.count] == [("thhn-8", 3), ("thhn-12", 1)]
    assert mill.other == {"remarks": "new conductors when the mill was moved"}  # the shop's own column is kept

"""Room for one more in the samples: figures by hand, and what is promised done: circuits added to the schedule, and the model checked."""

import csv
import functools
import shutil
from pathlib import Path

import openpyxl
import pytest

from checker.checking import Request, check
from checker.read.sources import find_sources
from checker.result.tables import FindingRow
from checker.room import Answer, RoomQuestion, answer
from checker.room.objects import as_object
from checker.rule import Outcome
from checker.rule.verdict import SEVERITY

SAMPLES = Path(__file__).parents[1] / "sample_models"
DATA = {"service": "data", "voltage_v": "48", "loaded_conductors": "0"}


def ask(sample: str, origin: str, call: str, cable: str, columns: dict[str, str], **more) -> Answer:
    sources = find_sources([SAMPLES / sample], None)
    return answer(RoomQuestion(sources, origin, call, (cable,), columns=tuple(columns.items()), **more))


def test_data_cables_in_the_floor_of_the_practice() -> None:
    # FT-11/3 is 80.6 × 46.8 = 3772.1 mm² inside; DA-01 to DA-05 have 4 + 4 + 6 + 4 + 6 = 24 cables of 6.5 mm, π/4 · 6.5² = 33.183 mm²:
    # 45 % are 1697.4 mm², which is 51.2 cables, so 27 more; the 28th makes 52 · 33.183 = 1725.5 mm², 45.74 %
    found = as_object(ask("vet_practice", "RACK", "DO-G04", "cat6-practice-u-utp", DATA))
    assert (found["verdict"], found["most"]) == ("pass", 27)
    assert found["stops"]["where"] == "FT-11, compartment 3"
    assert found["stops"]["rule"] == "fill.compartment"
    assert found["stops"]["value"] == pytest.approx(52 * 33.183 / 3772.1, abs=1e-4)
    assert found["stops"]["limit"] == 0.45
    assert [step["compartment"] for step in found["way"]] == [1, 3, 3, 3, 3, 3]


def test_control_cables_in_the_floor_of_the_practice() -> None:
    # FT-01/2 is 46 × 46.8 = 2152.8 mm² inside and holds CT-04 and CT-05 of 9 mm, 63.62 mm² each: 968.76 - 127.23 = 841.5 mm² are left,
    # for 11 of 9.5 mm, 70.88 mm² each, and not 12 (850.6)
    columns = {
        "service": "control",
        "voltage_v": "24",
        "loaded_conductors": "0",
        "cores": "2",
        "rated_voltage_v": "500",
    }
    found = as_object(ask("vet_practice", "BMS", "CAB-1", "9.5mm", columns))
    assert (found["verdict"], found["most"], found["stops"]["rule"]) == ("pass", 11, "fill.compartment")


def test_a_compartment_that_is_over_its_limit_already_takes_none() -> None:
    # FT-02/1 is 48.7 % full where 45 % is the limit, as the sample's README says
    columns = {
        "service": "power",
        "voltage_v": "230",
        "design_current_a": "8",
        "device_rating_a": "10",
        "loaded_conductors": "2",
    }
    found = as_object(ask("vet_practice", "DB-G", "DENT-1", "h07v-u-2.5=3", columns))
    assert (found["verdict"], found["most"]) == ("fail", 0)
    stops = [
        stop
        for stop in found["fails"]
        if stop["rule"] == "fill.compartment" and "FT-02, compartment 1" in stop["places"]
    ]
    assert [stop["already"] for stop in stops] == [True]
    assert {row["where"] for row in found["already"]} >= {"FT-02, compartment 1"}
    # the loop FT-13, FT-16, FT-14 round FT-05 is tried too
    assert any("FT-13/1; FT-16/1; FT-14/1" in other["route"] for other in found["alternatives"])


def test_power_where_only_alarm_conduits_lead_has_no_way() -> None:
    found = as_object(ask("vet_practice", "FAP", "SD-G1", "h07v-u-2.5=3", {"service": "power", "voltage_v": "230"}))
    assert (found["verdict"], found["most"], found["way"]) == ("fail", 0, [])
    assert "come nearest at" in found["reason"]


def test_a_run_that_fails_already_stops_it_though_it_gets_no_worse() -> None:
    # FA-03 turns by 450° between two points to draw in, where 360° are allowed, however many cables lie in it
    columns = {
        "service": "fire-alarm",
        "voltage_v": "24",
        "design_current_a": "1",
        "device_rating_a": "5",
        "loaded_conductors": "2",
    }
    found = as_object(ask("workshop", "FACP", "DET-1", "thhn-14=2", columns))
    assert (found["verdict"], found["most"]) == ("fail", 0)
    assert [(row["rule"], row["value"], row["already"]) for row in found["fails"]] == [("pulling.bends", 450.0, True)]


PAIRS = [
    ("vet_practice", "RACK", "DO-G04", "cat6-practice-u-utp", DATA, {}),
    ("vet_practice", "RACK", "DO-G06", "cat6-practice-u-utp", DATA, {}),
    ("vet_practice", "RACK", "FT-06", "cat6-practice-u-utp=5", {**DATA, "rated_voltage_v": "300"}, {"avoid": ("FT-05",)}),
    ("data_room", "RPP-A", "PDU-A104", "bs5467-3x6",
     {"service": "power", "voltage_v": "230", "design_current_a": "22", "device_rating_a": "32", "loaded_conductors": "2"}, {}),
    ("data_room", "UPS-A", "RPP-A", "bs5467-4x10",
     {"service": "power", "voltage_v": "400", "design_current_a": "20", "device_rating_a": "25", "loaded_conductors": "3"}, {}),
    ("data_room", "NR-2", "ENV-2", "cat6a-f-utp", DATA, {}),
    ("data_room", "BC-1", "TS-2", "8.2mm",
     {"service": "control", "voltage_v": "24", "design_current_a": "1", "device_rating_a": "6", "loaded_conductors": "2", "csa_mm2": "1.5",
      "cores": "2", "conductor": "copper", "insulation": "PVC", "rated_voltage_v": "300"}, {}),
    ("workshop", "RACK-1", "WO-2", "6.2mm", {**DATA, "cores": "8"}, {}),
]  # fmt: skip


@pytest.mark.parametrize(
    ("sample", "origin", "call", "cable", "columns", "more"), PAIRS, ids=lambda item: str(item)[:12]
)
def test_what_is_promised_holds_when_it_is_done(
    tmp_path: Path,
    sample: str,
    origin: str,
    call: str,
    cable: str,
    columns: dict[str, str],
    more: dict[str, tuple[str, ...]],
) -> None:
    promised = ask(sample, origin, call, cable, columns, **more)
    assert promised.outcome is Outcome.PASS
    assert promised.most is not None
    assert promised.most >= 1
    route = as_object(promised)["route"] if more else ""
    for number, goes in ((promised.most, True), (promised.most + 1, False)):
        folder = tmp_path / str(number)
        shutil.copytree(SAMPLES / sample, folder)
        add(folder, number, origin, call, cable, columns, route)
        before, after = findings(SAMPLES / sample), findings(folder)
        worse = [row for key, row in after.items() if is_worse(row, before.get(key))]
        mine = [row for row in after.values() if any(mark.startswith("ZZ-") for mark in row.circuits)]
        assert len({mark for row in mine for mark in row.circuits if mark.startswith("ZZ-")}) == number
        if goes:
            assert not worse
            assert {row.verdict for row in mine} == {"pass"}
        else:
            assert worse


@functools.cache
def findings(folder: Path) -> dict[str, FindingRow]:
    return {row.id: row for row in check(Request(find_sources([folder], None))).findings}


def is_worse(after: FindingRow, before: FindingRow | None) -> bool:
    was = "pass" if before is None else before.verdict
    if after.verdict != was:
        return SEVERITY[Outcome(after.verdict)] > SEVERITY[Outcome(was)]
    return after.verdict == "fail" and before is not None and (after.use or 0.0) > (before.use or 0.0) * (1 + 1e-9)


def add(folder: Path, number: int, origin: str, call: str, cable: str, columns: dict[str, str], route: str) -> None:
    """Adds circuits to the schedule of a sample, in its own columns."""
    key, _, count = cable.partition("=")
    named = {"diameter_mm": key.removesuffix("mm")} if key.endswith("mm") else {"cable": key}
    cells = {"from": origin, "to": call, "count": count or "1", "state": "new", "route": route, **named, **columns}
    rows = [{"circuit": f"ZZ-{one}", **cells} for one in range(1, number + 1)]
    schedule = folder / "circuits.csv"
    if schedule.is_file():
        with schedule.open(encoding="utf-8", newline="") as stream:
            header = next(csv.reader(stream))
        with schedule.open("a", encoding="utf-8", newline="") as stream:
            csv.DictWriter(stream, header, extrasaction="raise").writerows(rows)
        return
    book = openpyxl.load_workbook(folder / "circuits.xlsx")
    sheet = book["Circuits"]
    theirs = {"circuit": "Ckt", "from": "Panel", "to": "Feeds", "service": "For", "count": "Wires", "diameter_mm": "Outside dia. (mm)",
              "cores": "Conductors in each", "voltage_v": "Volts", "loaded_conductors": "Current-carrying", "state": "Status",
              "route": "Way"}  # fmt: skip
    header_row = next(row for row in sheet.iter_rows() if any(cell.value == "Ckt" for cell in row))
    places = {cell.value: cell.column for cell in header_row}
    for row in rows:
        line = sheet.max_row + 1
        for name, text in row.items():
            if text:
                value = {"data": "Signal", "new": "New"}.get(text, text)
                sheet.cell(line, places[theirs[name]], float(value) if value.replace(".", "").isdecimal() else value)
    book.save(folder / "circuits.xlsx")

"""Writes a model of any size with its schedule and project file: ``python -m tests.benchmarks.generate --carriers 1000 --out FOLDER``.

A building of storeys, each of four zones in line, each of 25 bays. A bay is ten carriers and one circuit:

    trunking ─ tee ─ trunking                         along x, the zone's spine: three compartments
                │
                4 conduits, connectors between        along y
                │
               box ─ conduit ─ bend ─ conduit ↓ B     along x, then down
                │
                conduit ─ bend ─ conduit ↓ A          along y, then down

The zones of a storey are joined end to end and storeys by a riser, so that the network is one, but each zone has its own board:
no route is longer than its zone, however large the model is. Every fifth circuit calls at both outlets of its bay. One circuit
in each zone has more cables than its conduits take, which makes one issue note.
"""

import argparse
import csv
import sys
import time
from pathlib import Path

from tests.benchmarks.building import ALONG_X, ALONG_Y, CONDUITS, DOWN, TRUNKING, UP, Building
from tests.benchmarks.step import Point
from tests.benchmarks.walls import stations_of, wall_mesh

BAYS_IN_ZONE, ZONES_IN_STOREY = 25, 4
CARRIERS_IN_BAY = 10
BAY_MM, STOREY_MM, CEILING_MM = 4000.0, 4000.0, 3500.0
TEE_MM, TEE_OUT_MM, HALF_MM = 100.0, 150.0, 50.0
LINE_MM, LINE_PIECES, COUPLER_MM = 2400.0, 4, 50.0
LEG_A_MM, LEG_B_MM, DROP_MM, CLEAR_MM = 2000.0, 1500.0, 2500.0, 100.0
#: The bay of a zone whose conduits are overfull.
FULL_BAY = 7
SERVICES = ("power", "control", "power", "data", "data")
CABLES = {"power": ("h07v-u-2.5", 3), "control": ("h07v-u-2.5", 4), "data": ("cat6-u-utp", 2)}
TOO_MANY = 9

PROJECT_FILE = f"""\
[project]
key = "benchmark"
name = "Benchmark building"
models = ["model.ifc"]
schedule = "circuits.csv"
code = "bs-7671"

[[types]]
name = "{TRUNKING}"
divider_mm = 1.6
compartments = [
  {{ width_mm = 92.0, services = ["power"] }},
  {{ width_mm = 46.0, services = ["control"] }},
  {{ width_mm = 80.6, services = ["data"] }},
]

[[fittings]]
name = "TE-*"
partition = "kept"
reason = "dividers go through, with a bridge in each tee"
""" + "".join(
    f'\n[[types]]\nname = "{name}"\ncompartments = [{{ services = ["{service}"] }}]\n'
    for service, name in CONDUITS.items()
)
COLUMNS = ("circuit", "from", "to", "service", "cable", "count", "rated_voltage_v", "voltage_v", "sets", "state",
           "loaded_conductors", "design_current_a", "device_rating_a", "ambient_c", "method")  # fmt: skip
#: Loaded conductors, design current and device's rating in A, ambient in °C, method.
LOADS = {"power": (2, 3, 6, 30, "B1"), "control": (3, 0.5, 2, 30, "B1"), "data": (0, "", "", 30, "")}


def generate(folder: Path, carriers: int, walls: int = 0, *, apart: bool = False) -> int:
    """Writes ``model.ifc``, ``circuits.csv`` and ``wayroom.toml``.

    Args:
        folder: Where to; made if need be.
        carriers: How many carriers, a multiple of ten; each storey above the first has one more, its riser.
        walls: How many walls beside.
        apart: Leave zones unjoined, and the risers out.

    Returns:
        How many carriers there are.

    Raises:
        ValueError: It isn't a multiple of ten.
    """
    if carriers < CARRIERS_IN_BAY or carriers % CARRIERS_IN_BAY:
        raise ValueError(f"a bay has {CARRIERS_IN_BAY} carriers, so {carriers} can't be made")
    folder.mkdir(parents=True, exist_ok=True)
    bays = carriers // CARRIERS_IN_BAY
    bays_in_storey = BAYS_IN_ZONE * ZONES_IN_STOREY
    storeys = -(-bays // bays_in_storey)
    with (
        (folder / "model.ifc").open("w", encoding="ascii", newline="\n") as stream,
        (folder / "circuits.csv").open("w", encoding="utf-8", newline="") as table,
    ):
        building, schedule = Building(stream), csv.writer(table)
        schedule.writerow(COLUMNS)
        below = ""
        for storey in range(storeys):
            building.storey(storey, storey * STOREY_MM)
            here = range(storey * bays_in_storey, min((storey + 1) * bays_in_storey, bays))
            below = _storey(
                building, schedule, here, below, first=storey == 0, riser=storeys > 1 and not apart, apart=apart
            )
            _walls(building, range(walls * storey // storeys, walls * (storey + 1) // storeys))
        building.end()
    (folder / "wayroom.toml").write_text(PROJECT_FILE, encoding="utf-8")
    return building.carriers


def _storey(
    building: Building, schedule: "csv.Writer", bays: range, below: str, *, first: bool, riser: bool, apart: bool
) -> str:
    """One storey. ``below`` is the riser's port that is still free; gives the one for the next storey."""
    before, upward = "", ""
    if riser:
        at = (-HALF_MM, 0.0, CEILING_MM)
        down, up, before = building.fitting(
            f"RT-{bays[0]}", "TEE", at, [(0.0, 0.0, -HALF_MM), (0.0, 0.0, HALF_MM), (HALF_MM, 0.0, 0.0)]
        )
        if not first:
            start = (-HALF_MM, 0.0, CEILING_MM - STOREY_MM + HALF_MM)
            low, high = building.carrier(f"RI-{bays[0]}", TRUNKING, start, UP, STOREY_MM - 2 * HALF_MM)
            building.connect(below, low)
            building.connect(high, down)
        upward = up
    for place, number in enumerate(bays):
        zone, bay = divmod(number, BAYS_IN_ZONE)
        if bay == 0:
            x = place * BAY_MM
            before = "" if apart else before
            building.equipment("IFCELECTRICDISTRIBUTIONBOARD", f"DB-{zone}", (x + 1000.0, -400.0, CEILING_MM))
        service = SERVICES[number % len(SERVICES)]
        before = _bay(building, number, place * BAY_MM, service, before)
        cable, count = CABLES[service]
        calls = f"SO-{number}A" + (f";SO-{number}B" if number % 5 == 0 else "")
        count = TOO_MANY if bay == FULL_BAY else count
        insulated_v, voltage_v = (125, 50) if service == "data" else (750, 230)
        schedule.writerow(
            (
                f"C-{number}",
                f"DB-{zone}",
                calls,
                service,
                cable,
                count,
                insulated_v,
                voltage_v,
                1,
                "new",
                *LOADS[service],
            )
        )
    return upward


def _bay(building: Building, number: int, x: float, service: str, before: str) -> str:
    """One bay. ``before`` is the port where the spine comes from; gives the one where it goes on."""
    z, middle, conduit = CEILING_MM, x + BAY_MM / 2, CONDUITS[service]
    length = BAY_MM / 2 - TEE_MM
    start, one = building.carrier(f"TR-{number}-1", TRUNKING, (x, 0.0, z), ALONG_X, length)
    if before:
        building.connect(before, start)
    offsets = [(-TEE_MM, 0.0, 0.0), (TEE_MM, 0.0, 0.0), (0.0, TEE_OUT_MM, 0.0)]
    left, right, out = building.fitting(f"TE-{number}", "TEE", (middle, 0.0, z), offsets)
    other, onward = building.carrier(f"TR-{number}-2", TRUNKING, (middle + TEE_MM, 0.0, z), ALONG_X, length)
    building.connect(one, left)
    building.connect(right, other)
    y = TEE_OUT_MM
    for piece in range(LINE_PIECES):
        if piece:
            half = COUPLER_MM / 2
            centre = (middle, y + half, z)
            near, far = building.fitting(f"CO-{number}-{piece}", "CONNECTOR", centre, [(0.0, -half, 0.0), (0.0, half, 0.0)])  # fmt: skip
            building.connect(out, near)
            out, y = far, y + COUPLER_MM
        near, far = building.carrier(f"CT-{number}-{piece}", conduit, (middle, y, z), ALONG_Y, LINE_MM)
        building.connect(out, near)
        out, y = far, y + LINE_MM
    offsets = [(0.0, -HALF_MM, 0.0), (0.0, HALF_MM, 0.0), (HALF_MM, 0.0, 0.0)]
    near, leg_a, leg_b = building.fitting(f"BX-{number}", "BOX", (middle, y + HALF_MM, z), offsets)
    building.connect(out, near)
    _leg(building, f"{number}A", conduit, leg_a, (middle, y + 2 * HALF_MM, z), ALONG_Y, LEG_A_MM)
    _leg(building, f"{number}B", conduit, leg_b, (middle + HALF_MM, y + HALF_MM, z), ALONG_X, LEG_B_MM)
    return onward


def _leg(building: Building, tag: str, conduit: str, port: str, start: Point, way: str, length: float) -> None:
    """From a box along to above an outlet, and down to just above it."""
    step = (1.0, 0.0) if way == ALONG_X else (0.0, 1.0)
    near, far = building.carrier(f"LG-{tag}", conduit, start, way, length)
    building.connect(port, near)
    x, y, z = start[0] + step[0] * (length + HALF_MM), start[1] + step[1] * (length + HALF_MM), start[2]
    back = (-HALF_MM * step[0], -HALF_MM * step[1], 0.0)
    level, down = building.fitting(f"BE-{tag}", "BEND", (x, y, z), [back, (0.0, 0.0, -HALF_MM)])
    building.connect(far, level)
    top, _ = building.carrier(f"DR-{tag}", conduit, (x, y, z - HALF_MM), DOWN, DROP_MM)
    building.connect(down, top)
    building.equipment("IFCOUTLET", f"SO-{tag}", (x, y, z - HALF_MM - DROP_MM - CLEAR_MM))


def _walls(building: Building, numbers: range) -> None:
    """A field of walls beside the carriers' part of a storey."""
    for place, number in enumerate(numbers):
        at = (4000.0 * (place % 100), 30_000.0 + 4000.0 * (place // 100), 0.0)
        building.wall(f"W-{number}", at, *wall_mesh(stations_of(number)))


def main() -> None:
    """The command."""
    parser = argparse.ArgumentParser(description="Writes a model for benchmarks, with its schedule and project file.")
    parser.add_argument("--carriers", type=int, required=True, help="how many, a multiple of ten")
    parser.add_argument("--walls", type=int, default=0, help="how many tessellated walls beside")
    parser.add_argument("--apart", action="store_true", help="leave zones unjoined")
    parser.add_argument("--out", type=Path, required=True, help="the folder to write to")
    given = parser.parse_args()
    began = time.perf_counter()
    made = generate(given.out, given.carriers, given.walls, apart=given.apart)
    size = (given.out / "model.ifc").stat().st_size / 1e6
    sys.stdout.write(f"{made} carriers, {given.walls} walls, {size:.1f} MB in {time.perf_counter() - began:.1f} s\n")


if __name__ == "__main__":
    main()

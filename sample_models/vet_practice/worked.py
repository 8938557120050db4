"""Work out `expected.csv` from the hand-written ways: `python worked.py`.

This is the paper calculation: the ways and the figures are typed in, the drawing gives end points for lengths only.
It shares no code with the checker and searches for nothing.
"""

import csv
import math
import sys
from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

import vet_worked_figures as figures
from vet_carriers import FITTINGS, SEGMENTS
from vet_equipment import EQUIPMENT
from vet_plan import Point
from vet_worked_ratings import ratings
from vet_worked_ways import RINGS, RUNS, WAYS

HERE = Path(__file__).resolve().parent
OF_SEGMENT = ("compartment", "cables", "occupied_mm2", "internal_area_mm2", "measure", "fill", "limit", "verdict")
OF_RATING = ("governing_segment", "grouping_factor", "capacity_a", "required_a", "working")
COLUMNS = ("table", "key", *OF_SEGMENT, "worst_verdict", "fails", "carriers", "length_m", *OF_RATING)
DRAWN = {segment.tag: segment for segment in SEGMENTS}
PLACED = {item.tag: item.centre for item in EQUIPMENT}
RUN_OF = {tag: (size, bends, length) for tags, size, bends, length in RUNS for tag in tags.split()}


@dataclass(frozen=True, slots=True)
class Laid:
    """The cables of one row of the schedule."""

    service: str
    number: int
    diameter_mm: float
    csa_mm2: float | None
    stranded: bool
    single_core: bool
    rated_v: float
    circuit_v: float

    @property
    def area_mm2(self) -> float:
        """The area of all of them, each taken as a circle of its outside diameter."""
        return self.number * math.pi / 4 * self.diameter_mm**2


def read_row(row: dict[str, str]) -> Laid:
    """Return what one row of the schedule lays."""
    diameter = float(row["diameter_mm"]) if row["diameter_mm"] else figures.DIAMETERS_MM[row["cable"]]
    return Laid(
        service=row["service"],
        number=int(row["count"]) * int(row["sets"]) * (2 if row["circuit"] in RINGS else 1),
        diameter_mm=diameter,
        csa_mm2=float(row["csa_mm2"]) if row["csa_mm2"] else None,
        stranded=row["cable"].startswith("h07v-r"),
        single_core=row["cores"] == "1",
        rated_v=float(row["rated_voltage_v"]),
        circuit_v=float(row["voltage_v"]),
    )


def conduit_capacity(size: int, bends: int, length_m: float) -> int | None:
    """Return the conduit term of a run by the longer-run tables, None beyond the published lengths."""
    published = [length for length in figures.PUBLISHED_LENGTHS_M.get(bends, ()) if length >= length_m - 1e-6]
    if not published:
        return None
    k, c = figures.LONG_CONDUIT_FIT[size]
    doubled: int = 2**bends
    return math.floor(k / (c + published[0] * doubled) + 0.5)


def long_terms(csa_mm2: float) -> tuple[int, int]:
    """Return the least and the most that a cable's term can be: a size between two in the table lies between them."""
    least = max((term for csa, term in figures.LONG_CABLE_TERMS.items() if csa <= csa_mm2), default=0)
    most = min(term for csa, term in figures.LONG_CABLE_TERMS.items() if csa >= csa_mm2)
    return least, most


def conduit_by_terms(tag: str, laid: list[Laid]) -> tuple[float | None, str]:
    """Return (fill, verdict) of a conduit with single-core cables only."""
    size, bends, length_m = RUN_OF[tag]
    short = bends == 0 and length_m <= 3.0
    exact = [figures.SHORT_CABLE_TERMS.get(("r" if item.stranded else "u", item.csa_mm2 or 0.0)) for item in laid]
    if short and size in figures.SHORT_CONDUIT_TERMS and all(term is not None for term in exact):
        used = sum(item.number * (term or 0) for item, term in zip(laid, exact, strict=True))
        fill = used / figures.SHORT_CONDUIT_TERMS[size]
        return fill, "pass" if fill <= 1 else "fail"
    capacity = conduit_capacity(size, bends, max(length_m, 3.5) if short else length_m)
    if capacity is None:
        return None, "unknown"
    bounds = [long_terms(item.csa_mm2 or 0.0) for item in laid]
    least = sum(item.number * low for item, (low, _) in zip(laid, bounds, strict=True))
    most = sum(item.number * high for item, (_, high) in zip(laid, bounds, strict=True))
    if most <= capacity:
        return least / capacity, "pass"
    # The longer-run tables are stricter than a short straight run needs: above them nothing is shown.
    return least / capacity, "fail" if least > capacity and not short else "unknown"


def segregation(laid: list[Laid], *, is_open: bool) -> str:
    """Return the verdict on what lies together in one compartment."""
    services = {item.service for item in laid}
    # BS 5839-1 clause 26, BS 7671 560: fire alarm on its own. BS 5266-1: a central battery's emergency lighting too.
    alone = bool(services & {"fire-alarm", "emergency-central"}) and len(services) > 1
    # BS 7671:2018 528.1: extra-low voltage beside low voltage only if all are insulated for the highest present.
    extra_low = [item for item in laid if item.service in {"data", "elv"} or item.circuit_v <= 50]
    mixed = bool(extra_low) and len(extra_low) < len(laid)
    under_insulated = mixed and min(item.rated_v for item in laid) < max(item.circuit_v for item in laid)
    if not (alone or under_insulated):
        return "pass"
    return "unknown" if is_open else "fail"  # on tray and ladder a gap may be enough, and nobody has given it


def worst(found: set[object]) -> str:
    """Return the worst of some verdicts."""
    return next(word for word in ("fail", "unknown", "pass") if word in found)


def judge(tag: str, number: int, laid: list[Laid]) -> dict[str, object]:
    """Return the row of one compartment."""
    occupied = sum(item.area_mm2 for item in laid)
    fill: float | None
    if tag in RUN_OF:
        bore = RUN_OF[tag][0] - 2 * figures.CONDUIT_WALL_MM
        area, limit, rule, is_open, measure = math.pi / 4 * bore**2, 1.0, "fill.conduit", False, "term"
        if all(item.single_core for item in laid):
            fill, verdict = conduit_by_terms(tag, laid)
        else:
            fill, limit, measure = occupied / area, figures.AREA_CONDUIT_LIMIT, "area"
            verdict = "pass" if fill <= limit else "fail"
    else:
        kind, lanes = [(kind, lanes) for start, kind, lanes in figures.SECTIONS if tag.startswith(start)][-1]
        is_open, measure = kind == "open", "area"
        rule = "fill.tray" if is_open else "fill.compartment"
        limit = figures.OPEN_LIMIT if is_open else figures.TRUNKING_LIMIT
        width, height = lanes[number - 1]
        area = width * height
        fill = occupied / area
        verdict = "pass" if fill <= limit else "fail"
    verdicts = {rule: verdict, "segregation.compartment": segregation(laid, is_open=is_open)}
    return {
        "table": "segment",
        "key": tag,
        "compartment": number,
        "cables": sum(item.number for item in laid),
        "occupied_mm2": f"{occupied:.3f}",
        "internal_area_mm2": f"{area:.3f}",
        "measure": measure,
        "fill": "" if fill is None else f"{fill:.6f}",
        "limit": f"{limit:.2f}",
        "verdict": verdict,
        "worst_verdict": worst({*verdicts.values()}),
        "fails": "; ".join(sorted(name for name, word in verdicts.items() if word == "fail")),
    }


def nearest_on(tag: str, point: Point) -> Point:
    """Return the point of a segment's axis that lies nearest to `point`."""
    start, end = DRAWN[tag].start, DRAWN[tag].end
    length = math.dist(start, end)
    along = sum((p - a) * (b - a) for p, a, b in zip(point, start, end, strict=True)) / length**2
    x, y, z = (a + (b - a) * min(1.0, max(0.0, along)) for a, b in zip(start, end, strict=True))
    return (x, y, z)


def joint(first: str, second: str) -> list[Point]:
    """Return the points passed where two segments meet: the end of one, a fitting's centre if any, the other's end."""
    for fitting in FITTINGS:
        tags = [join.split(":")[0] for join in fitting.joins]
        if first in tags and second in tags:
            ends = [fitting.joins[tags.index(tag)].split(":")[1] for tag in (first, second)]
            leave, enter = (getattr(DRAWN[tag], end) for tag, end in zip((first, second), ends, strict=True))
            return [leave, fitting.centre, enter]
    if DRAWN[first].end == DRAWN[second].start:
        return [DRAWN[first].end]
    raise ValueError(f"the plan shows no joint between {first} and {second}")


def length_m(tags: list[str], origin: str, calls: list[str]) -> float:
    """Return the length along a way. A call on the way lies between its two ends and adds nothing."""
    points = [nearest_on(tags[0], PLACED[origin])]
    for first, second in pairwise(tags):
        points += joint(first, second)
    points.append(nearest_on(tags[-1], PLACED[calls[-1]]))
    return sum(math.dist(a, b) for a, b in pairwise(points)) / 1000


def circuit_length_m(row: dict[str, str], tags: list[str]) -> float:
    """Return the length of a circuit's way: a ring goes out to its farthest call, and back the same way."""
    calls = row["to"].split(";")
    if row["circuit"] in RINGS:
        return 2 * length_m(tags, row["from"], calls[:-1])
    return length_m(tags, row["from"], calls)


def work() -> list[dict[str, object]]:
    """Return every expected row: first each compartment, then each circuit's way, then each loaded circuit's rating."""
    with (HERE / "circuits.csv").open(encoding="utf-8", newline="") as stream:
        schedule = list(csv.DictReader(stream))
    lying: dict[tuple[str, int], list[Laid]] = defaultdict(list)
    routes: dict[str, dict[str, object]] = {}
    for row in schedule:
        circuit = row["circuit"]
        steps = [step.split("/") for step in WAYS[circuit].split()]
        tags = [tag for tag, _ in steps]
        for tag, number in steps:
            lying[tag, int(number)].append(read_row(row))
        length = f"{circuit_length_m(row, tags):.3f}" if tags else ""
        if circuit in RINGS:
            tags = [*tags, *reversed(tags[:-1])]
        routes[circuit] = {"table": "route", "key": circuit, "carriers": "; ".join(tags), "length_m": length}
    segments = []
    for tag in DRAWN:
        lanes = (
            1 if tag in RUN_OF else [len(lanes) for start, _, lanes in figures.SECTIONS if tag.startswith(start)][-1]
        )
        segments += [judge(tag, number, lying[tag, number]) for number in range(1, lanes + 1)]
    diameters = {place: sum(item.number * item.diameter_mm for item in laid) for place, laid in lying.items()}
    rated = ratings(schedule, diameters)
    for row in segments:
        # A circuit's rating counts where it is worst: in the compartment of the governing length that the circuit lies in.
        step = f"{row['key']}/{row['compartment']}"
        here = {
            item["verdict"]
            for item in rated
            if item["governing_segment"] == row["key"] and step in WAYS[str(item["key"])].split()
        }
        row["worst_verdict"] = worst({row["worst_verdict"], *here})
    return segments + list(routes.values()) + rated


if __name__ == "__main__":
    with (HERE / "expected.csv").open("w", encoding="utf-8", newline="") as target:
        writer = csv.DictWriter(target, COLUMNS, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(work())
    print("expected.csv written")

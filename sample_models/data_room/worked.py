"""Work out `expected.csv` from the hand-written ways: `python worked.py`.

This is the paper calculation: the ways and the figures are typed in, the drawing gives end points for lengths only.
It shares no code with the checker and searches for nothing.
"""

import csv
import math
import sys
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

import data_worked_figures as figures
from data_carriers import JOINTS, SEGMENTS
from data_worked_checks import checks
from data_worked_lengths import PLACED, landing, length_m
from data_worked_ratings import ratings
from data_worked_reading import KINDS, LEFT_OUT, PROBLEMS, SIZES
from data_worked_ways import APART, BREAKS, SHARING, TAKE_OFF, UNROUTED, WAYS

HERE = Path(__file__).resolve().parent
OF_SEGMENT = ("cables", "occupied_mm2", "internal_area_mm2", "fill", "limit", "verdict", "worst_verdict", "fails")
OF_READING = ("kind", "kind_from", "width_mm", "height_mm", "size_from")
OF_TAKE_OFF = ("gap_mm", "drops_m", "cable_m", "number", "total_m")
OF_RATING = ("governing_segment", "grouping_factor", "capacity_a", "required_a", "working")
COLUMNS = (
    "table",
    "key",
    *OF_SEGMENT,
    *OF_READING,
    "carriers",
    "length_m",
    *OF_RATING,
    "other",
    "found_by",
    "words",
    *OF_TAKE_OFF,
    "rule",
    "value",
)


@dataclass(frozen=True, slots=True)
class Laid:
    """The cables of one row of the schedule."""

    service: str
    number: int
    diameter_mm: float
    rated_v: float
    circuit_v: float
    mass_kg_per_km: float
    """Not a number where no answer needs it."""

    @property
    def area_mm2(self) -> float:
        """The area of all of them, each taken as a circle of its outside diameter."""
        return self.number * math.pi / 4 * self.diameter_mm**2


def read_row(row: dict[str, str]) -> Laid:
    """Return what one row of the schedule lays."""
    return Laid(
        service=row["service"],
        number=int(row["count"]) * int(row["sets"]),
        diameter_mm=float(row["diameter_mm"]) if row["diameter_mm"] else figures.DIAMETERS_MM[row["cable"]],
        rated_v=float(row["rated_voltage_v"]),
        circuit_v=float(row["voltage_v"]),
        mass_kg_per_km=float(row["mass_kg_per_km"] or figures.MASSES_KG_PER_KM.get(row["cable"], math.nan)),
    )


def inside_mm(tag: str) -> tuple[float, float]:
    """Return the inside of a carrier, the larger where it isn't sure."""
    return [(width, depth) for start, width, depth in figures.INSIDES_MM if tag.startswith(start)][-1]


def segregation(laid: list[Laid]) -> str:
    """Return the verdict on what lies together: IEC 60364-5-52 528.1, extra-low voltage beside low voltage.

    Only if all are insulated for the highest voltage present. On ladders and baskets a gap may be enough, and nobody has
    given it.
    """
    extra_low = [item for item in laid if item.service in {"data", "elv"} or item.circuit_v <= 50]
    mixed = bool(extra_low) and len(extra_low) < len(laid)
    return "unknown" if mixed and min(item.rated_v for item in laid) < max(item.circuit_v for item in laid) else "pass"


def worst(found: set[object]) -> str:
    """Return the worst of some verdicts."""
    return next(word for word in ("fail", "unknown", "pass") if word in found)


def judge(tag: str, laid: list[Laid], possible: list[Laid]) -> dict[str, object]:
    """Return the row of one carrier.

    Where the inside isn't sure, or something that isn't routed could lie here, the fill is the least that it can be, and
    a pass must hold for the most too.
    """
    occupied = sum(item.area_mm2 for item in laid)
    row: dict[str, object] = {
        "table": "segment",
        "key": tag,
        "cables": sum(item.number for item in laid),
        "occupied_mm2": f"{occupied:.3f}",
    }
    if tag in figures.NO_SIZE:
        return {**row, "verdict": "unknown", "worst_verdict": "unknown"}
    width, depth = inside_mm(tag)
    least_width, least_depth = figures.LEAST_INSIDES_MM.get(tag, (width, depth))
    least = occupied / (width * depth)
    most = (occupied + sum(item.area_mm2 for item in possible)) / (least_width * least_depth)
    verdict = "fail" if least > figures.FILL_LIMIT else "pass" if most <= figures.FILL_LIMIT else "unknown"
    return {
        **row,
        "internal_area_mm2": f"{width * depth:.3f}",
        "fill": f"{least:.6f}",
        "working": f"at the most {most:.6f}" if most > least else "",
        "limit": f"{figures.FILL_LIMIT:.2f}",
        "verdict": verdict,
        "worst_verdict": worst({verdict, segregation(laid)}),
        "fails": "fill.tray" if verdict == "fail" else "",
    }


def span(row: dict[str, object]) -> tuple[float, float]:
    """Return the least and the most that a carrier's fill can be; not a number without a size."""
    least = float(str(row.get("fill", math.nan)))
    most = str(row.get("working") or "").removeprefix("at the most ")
    return least, float(most) if most else least


def pair(row: dict[str, object]) -> tuple[str, str]:
    """Return the two that a row is about; the second one is empty where it is about one alone."""
    one, _, other = str(row["key"]).partition("; ")
    return one, other


def take_off(row: dict[str, str]) -> dict[str, object]:
    """Return what is cut of the cables of one row: way and drops, a share of both more, and a length at each end."""
    tags = WAYS[row["circuit"]].split()
    way = length_m(tags, row["from"], row["to"])
    ends = ((tags[0], row["from"]), (tags[-1], row["to"]))
    drops = [math.dist(PLACED[equipment], landing(tag, equipment)) / 1000 for tag, equipment in ends]
    cable = (way + sum(drops)) * (1 + figures.ALLOWANCE) + 2 * figures.AT_EACH_END_M
    number = read_row(row).number
    return {
        "table": "cable",
        "key": row["circuit"],
        "length_m": f"{way:.3f}",
        "drops_m": f"{sum(drops):.3f}",
        "cable_m": f"{cable:.3f}",
        "number": number,
        "total_m": f"{cable * number:.3f}",
        "working": f"({way:.3f} + {drops[0]:.3f} + {drops[1]:.3f}) × {1 + figures.ALLOWANCE:.2f} + 2 × {figures.AT_EACH_END_M:g}",
    }


def network() -> list[dict[str, object]]:
    """Return which circuits share what though they may not, and where parts of the network don't meet that a circuit needs joined."""
    pairs = []
    for one, other in APART:
        shared = [tag for tag in WAYS[one].split() if tag in WAYS[other].split()]
        if shared != SHARING.get((one, other), "").split():
            raise ValueError(f"{one} and {other} aren't as the plan has them")
        pairs.append({"table": "pair", "key": one, "other": other, "carriers": "; ".join(shared)})
    breaks = [
        {"table": "break", "key": one, "other": other, "gap_mm": f"{gap:.1f}", "words": mark}
        for one, other, gap, mark in BREAKS
    ]
    return [*pairs, *breaks]


def reading() -> list[dict[str, object]]:
    """Return what must be read out of the model: kind and size of each carrier, joins, what stays out, what is said."""
    rows: dict[str, dict[str, object]] = {
        tag: {"table": "carrier", "key": tag, "kind": kind, "kind_from": source}
        for tags, kind, source in KINDS
        for tag in tags.split()
    }
    for tags, width, height, source in SIZES:
        for tag in tags.split():
            rows[tag] |= {"width_mm": width or "", "height_mm": height or "", "size_from": source}
    joins: list[dict[str, object]] = [
        {"table": "join", "key": item.one.split(":")[0], "other": item.other.split(":")[0], "found_by": item.how}
        for item in JOINTS
    ]
    out: list[dict[str, object]] = [{"table": "left out", "key": tag, "working": why} for tag, why in LEFT_OUT.items()]
    said: list[dict[str, object]] = [
        {"table": "problem", "key": tags, "kind": kind, "words": words, "working": why}
        for kind, tags, words, why in PROBLEMS
    ]
    return [*rows.values(), *joins, *out, *said]


def work() -> list[dict[str, object]]:
    """Return every expected row."""
    with (HERE / "circuits.csv").open(encoding="utf-8", newline="") as stream:
        schedule = list(csv.DictReader(stream))
    lying: dict[str, list[Laid]] = defaultdict(list)
    possible: dict[str, list[Laid]] = defaultdict(list)
    routes: dict[str, dict[str, object]] = {}
    for row in schedule:
        mark, tags = row["circuit"], WAYS[row["circuit"]].split()
        for tag in tags:
            lying[tag].append(read_row(row))
        for tag in UNROUTED.get(mark, ()):
            possible[tag].append(read_row(row))
        length = f"{length_m(tags, row['from'], row['to']):.3f}" if tags else ""
        routes[mark] = {"table": "route", "key": mark, "carriers": "; ".join(tags), "length_m": length}
    standing = [segment.tag for segment in SEGMENTS if segment.tag not in LEFT_OUT]
    segments = [judge(tag, lying[tag], possible[tag]) for tag in standing]
    across = {tag: sum(item.number * item.diameter_mm for item in (*lying[tag], *possible[tag])) for tag in standing}
    rated = ratings(schedule, across, {tag: inside_mm(tag)[0] for tag in standing if tag not in figures.NO_SIZE})
    fills = [(str(row["key"]), *span(row)) for row in segments]
    others = checks({tag: [(item.number, item.mass_kg_per_km) for item in laid] for tag, laid in lying.items()}, fills)
    for row in segments:
        # a circuit's rating counts where it is worst: on its governing length
        here = {item["verdict"] for item in rated if item["governing_segment"] == row["key"]}
        # what two circuits share fails on each carrier that both pass
        of_it = [
            item
            for item in others
            if row["key"] in (*str(item["key"]).split("; "), *SHARING.get(pair(item), "").split())
        ]
        row["worst_verdict"] = worst({row["worst_verdict"], *here, *(item["verdict"] for item in of_it)})
        if any(item["rule"] == "fill.spare" and item["verdict"] == "fail" for item in of_it):
            row["fails"] = "; ".join(filter(None, ("fill.spare", str(row["fails"]))))
    cut = [take_off(row) for row in schedule if row["circuit"] in TAKE_OFF]
    return [*segments, *routes.values(), *rated, *reading(), *network(), *cut, *others]


if __name__ == "__main__":
    with (HERE / "expected.csv").open("w", encoding="utf-8", newline="") as target:
        writer = csv.DictWriter(target, COLUMNS, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(work())
    print("expected.csv written")

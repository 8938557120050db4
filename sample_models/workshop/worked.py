"""Work out `expected.csv` from the hand-written ways: `python worked.py`.

This is the paper calculation: ways, joints and figures are typed in, the drawing gives end points for lengths only.
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

import shop_worked_figures as figures
from shop_carriers import FITTINGS, SEGMENTS
from shop_circuits import ROWS
from shop_equipment import EQUIPMENT
from shop_plan import FOOT_MM, Point
from shop_worked_checks import checks
from shop_worked_ratings import ratings
from shop_worked_ways import BODY, END, ENDS_FROM_MODEL, JOINTS, PROBLEMS, SIDE, WAYS

HERE = Path(__file__).resolve().parent
OF_SEGMENT = (
    "cables",
    "occupied_mm2",
    "internal_area_mm2",
    "size_from",
    "fill",
    "limit",
    "verdict",
    "worst_verdict",
    "fails",
)
OF_ROUTE = ("carriers", "length_m", "length_most_m")
OF_RATING = ("governing_segment", "grouping_factor", "capacity_a", "required_a", "working")
COLUMNS = ("table", "key", *OF_SEGMENT, *OF_ROUTE, *OF_RATING, "other", "found_by", "kind", "rule", "value")
DRAWN = {segment.tag: segment for segment in SEGMENTS}
FITTED = {fitting.tag: fitting for fitting in FITTINGS}
PLACED = {item.tag: item.centre for item in EQUIPMENT}
EXACTLY = 1e-9


@dataclass(frozen=True, slots=True)
class Laid:
    """The cables of one row of the schedule: how many, and the area of one in mm²."""

    service: str
    number: int
    area_mm2: float

    @property
    def together_mm2(self) -> float:
        """The area of all of them."""
        return self.number * self.area_mm2


def read_row(row: dict[str, str]) -> Laid:
    """Return what one row of the schedule lays: a conductor of the code's table, or a cable of its diameter."""
    if row["diameter_mm"]:
        area = figures.bore(float(row["diameter_mm"]))
    else:
        area = figures.THHN_IN2[row["awg_kcmil"]] * figures.IN2
    return Laid(row["service"], int(row["count"]), area)


def conduit(tag: str, laid: list[Laid], inside: float) -> tuple[float, str]:
    """Return the limit on a conduit's fill, and the verdict."""
    number, taken = sum(item.number for item in laid), sum(item.together_mm2 for item in laid)
    limit = {1: figures.ONE, 2: figures.TWO}.get(number, figures.MORE)
    limit = figures.NIPPLE if tag in figures.NIPPLES else limit
    if taken <= limit * inside + EXACTLY:
        return limit, "pass"
    sizes = {item.area_mm2 for item in laid}
    if len(sizes) == 1:
        most = limit * inside / sizes.pop()
        allowed = math.floor(most) + (most - math.floor(most) >= figures.ROUND_UP_FROM)
        return limit, "pass" if number <= allowed else "fail"
    return limit, "fail"


def tray(tag: str, laid: list[Laid], inside: float) -> tuple[float | None, str]:
    """Return the limit on a tray's or ladder's fill, and the verdict: of a bottom that nobody describes, by both readings."""
    width, ventilated = figures.OPEN[tag]
    if {item.service for item in laid} == {"data"}:
        allowed = (figures.SIGNALS_VENTILATED * inside, figures.SIGNALS_SOLID * inside)
    else:
        allowed = (figures.VENTILATED_IN2[width] * figures.IN2, figures.SOLID_IN2[width] * figures.IN2)
    asked = {True: allowed[:1], False: allowed[1:], None: allowed}[ventilated]
    taken = sum(item.together_mm2 for item in laid)
    outcomes = {taken <= area + EXACTLY for area in asked}
    if len(outcomes) > 1:
        return None, "unknown"
    is_pass = outcomes == {True}
    return (min if is_pass else max)(asked) / inside, "pass" if is_pass else "fail"


def judge(tag: str, laid: list[Laid]) -> dict[str, object]:
    """Return the row of one carrier, without what ratings add to it."""
    inside, source = figures.INSIDE[tag]
    taken = sum(item.together_mm2 for item in laid)
    limit: float | None
    if tag in figures.WIREWAYS:
        rule, limit = "fill.compartment", figures.WIREWAY
        verdict = "pass" if taken <= limit * (inside or 0.0) + EXACTLY else "fail"
    elif inside is None:
        rule, limit, verdict = "fill.count", None, "unknown"
    elif tag in figures.OPEN:
        rule = "fill.layer"
        limit, verdict = tray(tag, laid, inside)
    else:
        rule = "fill.count"
        limit, verdict = conduit(tag, laid, inside)
    is_known = inside is not None and limit is not None
    return {
        "table": "segment",
        "key": tag,
        "cables": sum(item.number for item in laid),
        "occupied_mm2": f"{taken:.2f}",
        "internal_area_mm2": "" if inside is None else f"{inside:.2f}",
        "size_from": source,
        "fill": f"{taken / (inside or 1.0):.5f}" if is_known else "",
        "limit": "" if limit is None else f"{limit:.4f}",
        "verdict": verdict,
        "worst_verdict": verdict,
        "fails": rule if verdict == "fail" else "",
    }


def pieces(tag: str) -> list[tuple[Point, Point]]:
    """Return the straight pieces of a carrier's axis."""
    return list(pairwise(DRAWN[tag].points))


def along(tag: str, point: Point) -> tuple[float, float]:
    """Return how far along a carrier, in ft, its nearest place to a point lies, and how far off that is."""
    passed, found = 0.0, []
    for start, end in pieces(tag):
        length = math.dist(start, end)
        share = sum((p - a) * (b - a) for p, a, b in zip(point, start, end, strict=True)) / length**2
        share = min(1.0, max(0.0, share))
        place = tuple(a + (b - a) * share for a, b in zip(start, end, strict=True))
        found.append((round(math.dist(point, place), 9), passed + share * length))
        passed += length
    off, place_ft = min(found)
    return place_ft, off


def whole(tag: str) -> float:
    """Return the length of a carrier's axis, ft; a corner that is rounded is shorter by 2 r - π r / 2."""
    radius = DRAWN[tag].bend_ft
    return sum(math.dist(a, b) for a, b in pieces(tag)) - 2 * radius + math.pi * radius / 2


def ends_of(tag: str) -> tuple[Point, Point]:
    """Return both ends of a carrier."""
    return DRAWN[tag].points[0], DRAWN[tag].points[-1]


def end_at(tag: str, point: Point) -> Point:
    """Return the end of a carrier that lies nearer to a point."""
    return min(ends_of(tag), key=lambda end: math.dist(end, point))


def joint(first: str, second: str) -> tuple[Point, Point, float, float]:
    """Return where a way leaves one carrier and enters the next, and the least and most that lies between, ft."""
    for one, other, how in JOINTS:
        if {one, other} == {first, second} and how == END:
            point = next(end for end in ends_of(first) if end in ends_of(second))
            return point, point, 0.0, 0.0
        if {one, other} == {first, second} and how == SIDE:
            point, off = min(((end, along(other, end)[1]) for end in ends_of(one)), key=lambda pair: pair[1])
            width = DRAWN[one].size_in[0] / 12 if DRAWN[one].size_in else 0.0
            return point, point, 0.0, off + width  # to the other's axis, at any place of the sections that meet
    tags = [other for one, other, how in JOINTS if how == BODY and one == first]
    fitting = next(FITTED[tag] for tag in tags if (second, tag, BODY) in JOINTS)
    leave, enter = end_at(first, fitting.centre), end_at(second, fitting.centre)
    through = fitting.corner or fitting.centre
    return leave, enter, math.dist(leave, enter), math.dist(leave, through) + math.dist(through, enter)


def length_m(tags: list[str], origin: str, call: str) -> tuple[float, float]:
    """Return the least and the most length along a way, m: what a cable does within the sections that meet isn't drawn."""
    least = most = 0.0
    here = along(tags[0], PLACED[origin])[0]
    for first, second in pairwise(tags):
        leave, enter, low, high = joint(first, second)
        if DRAWN[first].bend_ft:  # it is passed from end to end
            step = whole(first)
        else:
            step = abs(along(first, leave)[0] - here)
        least, most = least + step + low, most + step + high
        here = along(second, enter)[0]
    step = abs(along(tags[-1], PLACED[call])[0] - here)
    return (least + step) * FOOT_MM / 1000, (most + step) * FOOT_MM / 1000


def route(row: dict[str, str]) -> dict[str, object]:
    """Return the row of one circuit's way."""
    tags = WAYS[row["circuit"]].split()
    found: dict[str, object] = {"table": "route", "key": row["circuit"], "carriers": "; ".join(tags)}
    if tags:
        origin, calls = ENDS_FROM_MODEL.get(row["circuit"], (row["from"], row["to"]))
        least, most = length_m(tags, origin, calls.split()[-1])
        found |= {"length_m": f"{least:.3f}", "length_most_m": f"{most:.3f}"}
    return found


def conductors() -> dict[str, list[tuple[str, int, bool]]]:
    """Return what lies in each carrier: size, number, and whether it is power, of each row that isn't taken out."""
    lying: dict[str, list[tuple[str, int, bool]]] = defaultdict(list)
    for row in ROWS:
        for tag in WAYS[row["circuit"]].split() if row["state"] != "removed" else ():
            lying[tag].append((row["awg_kcmil"], int(row["count"]) * int(row["sets"]), row["service"] == "power"))
    return lying


def work() -> list[dict[str, object]]:
    """Return every expected row: carriers, ways, ratings, joins, and problems that must be listed."""
    lying: dict[str, list[Laid]] = defaultdict(list)
    routes: dict[str, dict[str, object]] = {}
    for row in ROWS:
        # a row that is taken out of a circuit which stays holds no cables
        for tag in WAYS[row["circuit"]].split() if row["state"] != "removed" else ():
            lying[tag].append(read_row(row))
        routes.setdefault(row["circuit"], route(row))
    segments = {tag: judge(tag, lying[tag]) for tag in DRAWN}
    rated = ratings(ROWS)
    others = checks(conductors())
    asked_of = [(str(item["governing_segment"]), item) for item in rated]  # a circuit's rating counts where it is worst
    asked_of += [(tag, item) for item in others for tag in str(item["key"]).split("; ")]
    for tag, item in asked_of:
        found = {str(segments[tag]["worst_verdict"]), str(item["verdict"])}
        segments[tag]["worst_verdict"] = next(word for word in ("fail", "unknown", "waived", "pass") if word in found)
        if item.get("rule") == "fill.jam" and item["verdict"] == "fail":
            segments[tag]["fails"] = "; ".join(filter(None, (str(segments[tag]["fails"]), "fill.jam")))
    joins = [{"table": "join", "key": one, "other": other, "found_by": how} for one, other, how in JOINTS]
    problems = [{"table": "problem", "key": words, "kind": kind} for kind, words in PROBLEMS]
    return [*segments.values(), *routes.values(), *rated, *joins, *problems, *others]


if __name__ == "__main__":
    with (HERE / "expected.csv").open("w", encoding="utf-8", newline="") as target:
        writer = csv.DictWriter(target, COLUMNS, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(work())
    print("expected.csv written")

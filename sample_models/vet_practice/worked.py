"""Work out `expected.csv` from the hand-written ways: `python worked.py`.

This is the paper calculation: the ways and the figures are typed in, the drawing gives end points for lengths only.
It shares no code with the checker and searches for nothing.
"""

import csv
import math
import sys
from collections import defaultdict
from collections.abc import Mapping
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent))

import vet_worked_figures as figures
from vet_worked_checks import checks
from vet_worked_laid import Laid, read_row
from vet_worked_lengths import DRAWN, circuit_length_m
from vet_worked_ratings import ratings
from vet_worked_ways import LOOPS, NEAR, NEAR_M, RINGS, RUNS, UNDECLARED, WAYS

HERE = Path(__file__).resolve().parent
OF_SEGMENT = ("compartment", "cables", "occupied_mm2", "internal_area_mm2", "measure", "fill", "limit", "verdict")
OF_RATING = ("governing_segment", "grouping_factor", "capacity_a", "required_a", "working")
COLUMNS = (
    "table",
    "key",
    *OF_SEGMENT,
    "worst_verdict",
    "fails",
    "rule",
    "value",
    "carriers",
    "length_m",
    *OF_RATING,
    "other",
    "by",
    "then",
)
RUN_OF = {tag: (size, bends, length) for tags, size, bends, length in RUNS for tag in tags.split()}


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
    return next(word for word in ("fail", "unknown", "waived", "pass") if word in found)


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


Row = dict[str, object]


def answers(schedule: list[dict[str, str]], ways: Mapping[str, str]) -> tuple[list[Row], list[Row], list[Row]]:
    """Return a row for each compartment, for each loaded circuit's rating and for all else, with circuits led some ways."""
    lying: dict[tuple[str, int], list[Laid]] = defaultdict(list)
    for row in schedule:
        for step in ways[row["circuit"]].split():
            tag, number = step.split("/")
            lying[tag, int(number)].append(read_row(row))
    segments = []
    for tag in DRAWN:
        lanes = (
            1 if tag in RUN_OF else [len(lanes) for start, _, lanes in figures.SECTIONS if tag.startswith(start)][-1]
        )
        segments += [judge(tag, number, lying[tag, number]) for number in range(1, lanes + 1)]
    diameters = {place: sum(item.number * item.diameter_mm for item in laid) for place, laid in lying.items()}
    rated = ratings(schedule, diameters, ways)
    areas = {(str(row["key"]), int(str(row["compartment"]))): float(str(row["internal_area_mm2"])) for row in segments}
    others = checks(lying, areas)
    for row in segments:
        # A circuit's rating counts where it is worst: in the compartment of the governing length that the circuit lies in.
        step = f"{row['key']}/{row['compartment']}"
        here = {
            item["verdict"]
            for item in rated
            if item["governing_segment"] == row["key"] and step in ways[str(item["key"])].split()
        }
        # A tee of which nothing is said leaves open what lies together there, unless all of it may.
        at_tees = {"unknown" for places in UNDECLARED.values() if step in places.split()}
        # What is asked of a run or a length as a whole holds for each of its compartments.
        of_it = [
            item
            for item in others
            if row["key"] in str(item["key"]).split("; ") and item["compartment"] in ("", row["compartment"])
        ]
        row["worst_verdict"] = worst({row["worst_verdict"], *here, *at_tees, *(item["verdict"] for item in of_it)})
        failing = {str(item["rule"]) for item in of_it if item["verdict"] == "fail" and item["compartment"]}
        row["fails"] = "; ".join(sorted({*filter(None, str(row["fails"]).split("; ")), *failing}))
    return segments, rated, others


def routes(schedule: list[dict[str, str]]) -> list[Row]:
    """Return a row for each circuit's way."""
    found: dict[str, Row] = {}
    for row in schedule:
        circuit = row["circuit"]
        tags = [step.split("/")[0] for step in WAYS[circuit].split()]
        length = f"{circuit_length_m(row, tags):.3f}" if tags else ""
        if circuit in RINGS:
            tags = [*tags, *reversed(tags[:-1])]
        if circuit in LOOPS:
            passed = " ".join(LOOPS[circuit]).split()
            tags = [tag for tag, before in zip(passed, ["", *passed], strict=False) if tag != before]
        found[circuit] = {"table": "route", "key": circuit, "carriers": "; ".join(tags), "length_m": length}
    return list(found.values())


def near_ways(schedule: list[dict[str, str]], segments: list[Row], rated: list[Row]) -> list[Row]:
    """Return a row for each other way that a circuit could take, and for each verdict that would be another if it did."""
    rows: list[Row] = []
    for mark, (by, way) in NEAR.items():
        first = next(row for row in schedule if row["circuit"] == mark)
        tags = [[step.split("/")[0] for step in steps.split()] for steps in (WAYS[mark], way)]
        longer = circuit_length_m(first, tags[1]) - circuit_length_m(first, tags[0])
        if not 0.0 <= longer <= NEAR_M:
            raise ValueError(f"the other way of {mark} isn't near")
        rows.append(
            {"table": "near way", "key": mark, "by": by, "length_m": f"{longer:.3f}", "carriers": "; ".join(tags[1])}
        )
        then = answers(schedule, {**WAYS, mark: way})
        for row, other in zip([*segments, *rated], [*then[0], *then[1]], strict=True):
            # of a length what is asked of it alone: a rating has its own row
            if (row["verdict"], row.get("fails")) != (other["verdict"], other.get("fails")):
                place = {"key": row["key"], "compartment": row.get("compartment", "")}
                rows.append({"table": "hangs", **place, "other": mark, "by": by, "verdict": row["verdict"],
                             "then": other["verdict"], "working": other.get("working", "")})  # fmt: skip
    return rows


def work() -> list[Row]:
    """Return every expected row: each compartment, each circuit's way, each loaded circuit's rating, all else that is asked, other ways."""
    with (HERE / "circuits.csv").open(encoding="utf-8", newline="") as stream:
        schedule = list(csv.DictReader(stream))
    segments, rated, others = answers(schedule, WAYS)
    return [*segments, *routes(schedule), *rated, *others, *near_ways(schedule, segments, rated)]


if __name__ == "__main__":
    with (HERE / "expected.csv").open("w", encoding="utf-8", newline="") as target:
        writer = csv.DictWriter(target, COLUMNS, restval="", lineterminator="\n")
        writer.writeheader()
        writer.writerows(work())
    print("expected.csv written")

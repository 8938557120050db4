"""The check of an installation (code bs-7671) done again, slowly and plainly: it shares nothing with the checker but tables."""

import csv
import itertools
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

Data = dict[str, Any]
SERVICES = ("power", "emergency-central", "emergency-self-contained", "fire-alarm", "control", "data", "elv")
Route = tuple[tuple[str, ...], float]
Result = tuple[str, float | None, float | None, str]  # verdict, fill, limit, measure
CONDUIT_LIMIT = TRUNKING_LIMIT = 0.45
TERMS_UNKNOWN: Result = ("unknown", None, 1.0, "term")


def table(name: str) -> list[dict[str, Any]]:
    def cell(text: str) -> str | float | None:
        return float(text) if text.replace(".", "", 1).isdigit() else text or None

    with (Path(__file__).parents[1] / "rules" / "tables" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return [{key: cell(text) for key, text in row.items()} for row in csv.DictReader(file)]


WALLS = {(r["material"], *sorted((r["width_mm"], r["height_mm"]))): r["wall_mm"] for r in table("uk_trunking_walls")}
BORES = {(r["material"], r["outside_diameter_mm"]): r["bore_mm"] for r in table("uk_conduit_bores")}
OPEN = {r["kind"]: (r["wall_most_mm"], r["depth_less_most_mm"]) for r in table("open_depths")}
CAPACITIES = {r["outside_diameter_mm"]: r for r in table("uk_conduit_capacities")}
LENGTHS = [(r["bends"], r["length_m"]) for r in table("uk_conduit_lengths")]
CABLE_TERMS = table("uk_cable_terms")


def length(carrier: Data) -> float:
    return math.dist(carrier["start"], carrier["end"])


def lanes_for(carrier: Data, service: str | None) -> list[int]:
    lanes = enumerate(carrier["lanes"], 1)
    return [n for n, lane in lanes if lane["services"] is None or service is None or service in lane["services"]]


def foot(carrier: Data, point: Sequence[float]) -> tuple[float, float]:
    """The distance of a point from the axis, and how far along the axis it is nearest."""
    start, end, size = carrier["start"], carrier["end"], length(carrier)
    along = sum((p - a) * (b - a) for p, a, b in zip(point, start, end, strict=True)) / size**2 if size else 0.0
    along = min(max(along, 0.0), 1.0)
    return math.dist([a + along * (b - a) for a, b in zip(start, end, strict=True)], point), along * size


def attach(data: Data, name: str, service: str | None) -> list[tuple[Data, float | None]]:
    """The carriers as near that an end of a circuit may attach to, and where along them; None: the carrier as a whole."""
    taking = [carrier for carrier in data["carriers"] if lanes_for(carrier, service)]
    for item in data["equipment"]:
        if item["id"] == name:
            near = [(*foot(c, item["point"]), c) for c in taking if c["storey"] == item["storey"]]
            near = [found for found in near if found[0] <= data["reach_mm"]]
            least = min((round(found[0], 1) for found in near), default=0.0)
            best = sorted(
                (found for found in near if round(found[0], 1) == least), key=lambda found: str(found[2]["id"])
            )
            return [(found[2], found[1]) for found in best]
    return [(carrier, None) for carrier in taking if carrier["id"] == name]


def route(data: Data, circuit: Data) -> Route | None:
    """The shortest way between any places where the ends may attach; of those as long, the one over the fewest carriers."""
    starts, ends = (attach(data, circuit[which], circuit["service"]) for which in ("from", "to"))
    ways = [way for first in starts for last in ends if (way := way_between(data, circuit, first, last)) is not None]
    best = min(ways, key=lambda way: (round(way[1], 3), len(way[0])), default=None)
    if best is None or circuit["service"] is not None:
        return best
    # without a service the way is known only through what any service may pass; of ways as good such a one is taken
    as_long = [way for way in ways if (round(way[1], 3), len(way[0])) == (round(best[1], 3), len(best[0]))]

    def is_for_any(way: Route) -> bool:
        passed = [carrier for carrier in data["carriers"] if carrier["id"] in way[0]]
        return all(lanes_for(carrier, service) for carrier in passed for service in SERVICES)

    return next(filter(is_for_any, as_long), None)


def way_between(
    data: Data, circuit: Data, begin: tuple[Data, float | None], finish: tuple[Data, float | None]
) -> Route | None:
    (first, t), (last, u) = begin, finish
    if first is last:
        return (first["id"],), length(first) if t is None or u is None else abs(t - u)
    edges: list[tuple[Any, Any, float, str]] = []
    meeting = joints(data)
    open_to = [carrier for carrier in data["carriers"] if lanes_for(carrier, circuit["service"])]
    places = {
        c["id"]: sorted({0.0, length(c), *(p for j in meeting for k, p in j[:2] if k == c["id"])}) for c in open_to
    }
    for key, along in places.items():
        edges += [((key, p), (key, q), q - p, key if q > p else "") for p, q in itertools.pairwise(along)]
    edges += [(*joint, "") for joint in meeting if joint[0][0] in places and joint[1][0] in places]
    for node, carrier, offset in (("first", first, t), ("last", last, u)):
        for p in places[carrier["id"]]:
            way = length(carrier) if offset is None else abs(p - offset)
            edges.append((node, (carrier["id"], p), way, carrier["id"]))
    best: dict[Any, tuple[float, tuple[str, ...]]] = {"first": (0.0, ())}
    for _ in edges:
        for a, b, size, passed in edges + [(b, a, size, passed) for a, b, size, passed in edges]:
            if a in best and (b not in best or best[a][0] + size < best[b][0]):
                best[b] = (best[a][0] + size, (*best[a][1], passed))
    size, passed_by = best.get("last", (0.0, ()))
    return (tuple(passed for passed in dict.fromkeys(passed_by) if passed), size) if passed_by else None


def tolerance(one: Data, other: Data) -> float:
    """How far apart ends may lie and still meet: a tenth of the largest side, from 10 to 50 mm."""
    sides = [carrier[key] or 0.0 for carrier in (one, other) for key in ("width", "height", "diameter")]
    return min(max(0.1 * max(sides), 10.0), 50.0)


def joints(data: Data) -> list[tuple[tuple[str, float], tuple[str, float], float]]:
    """What meets, as two places on carriers (id, mm from its start) and how far they are apart: ends at ends, and ends at sides.

    Cases give no end that lies at a side otherwise than on the axis, or out of all reach, so bodies need not be compared.
    """
    found = []
    for one, other in itertools.permutations(data["carriers"], 2):
        for place, tip in ((0.0, "start"), (length(one), "end")):
            apart = [(math.dist(one[tip], other[end]), q) for q, end in ((0.0, "start"), (length(other), "end"))]
            met = [(d, q) for d, q in apart if d <= tolerance(one, other)]
            off, along = foot(other, one[tip])
            if met:
                found += [((one["id"], place), (other["id"], q), d) for d, q in met if one["id"] < other["id"]]
            elif off < 1.0:
                if other["kind"] != "conduit" or one["kind"] in ("conduit", "unknown"):
                    found.append(((one["id"], place), (other["id"], along), off))
            elif off < 200.0:
                raise ValueError(f"the ends of {one['id']} lie neither at {other['id']} nor out of reach of it")
    return found


def met_at(data: Data, carrier: Data, place: float) -> list[tuple[Data, float, float]]:
    """Carriers that meet a place of a carrier, where on them, and how far off."""
    here, by_id = (carrier["id"], place), {c["id"]: c for c in data["carriers"]}
    both = [(a, b, d) for a, b, d in joints(data) if a == here] + [(b, a, d) for a, b, d in joints(data) if b == here]
    return [(by_id[b[0]], b[1], d) for _, b, d in both]


def lane_of(carrier: Data, circuit: Data) -> int | None:
    lanes, service, wanted = carrier["lanes"], circuit["service"], circuit["compartment"]
    if wanted is not None:
        return wanted if 1 <= wanted <= len(lanes) else 1 if len(lanes) == 1 else None
    naming = [n for n, lane in enumerate(lanes, 1) if service in (lane["services"] or [])]
    for choice in (naming, range(1, len(lanes) + 1), lanes_for(carrier, service)):
        if len(choice) == 1:
            return choice[0]
    return None


def beyond_meetings(data: Data, circuit: Data, way: Sequence[str]) -> dict[str, int | None]:
    """Lanes that nothing is said of, by carrier: with the number that the circuit has beyond a place where three meet, from both sides.

    Cases say nothing of how sections lie, so where two alone meet, no side is known.
    """
    by_id = {c["id"]: c for c in data["carriers"]}
    said = {key: lane_of(by_id[key], circuit) for key in way}
    told: dict[str, set[int]] = {key: set() for key in way}
    for order in (list(way), list(way)[::-1]):
        lane: int | None = None
        for before, here in zip(["", *order], order, strict=False):
            is_open = said[here] is None and circuit["compartment"] is None
            alike = before and len(by_id[before]["lanes"]) == len(by_id[here]["lanes"])
            goes_on = lane is not None and alike and three_meet(data, before, here)
            lane = (
                said[here]
                if not is_open
                else lane
                if goes_on and lane in lanes_for(by_id[here], circuit["service"])
                else None
            )
            if is_open and lane is not None:
                told[here].add(lane)
    return {key: lanes.pop() if len(lanes) == 1 else None for key, lanes in told.items()}


def three_meet(data: Data, one: str, other: str) -> bool:
    """Whether in each place where two carriers meet a third does, or one of the two goes on."""
    size = {c["id"]: length(c) for c in data["carriers"]}
    groups: list[set[tuple[str, float]]] = []
    for a, b, _ in joints(data):
        joined = [group for group in groups if group & {a, b}]
        groups = [group for group in groups if group not in joined] + [{a, b}.union(*joined)]
    shared = [group for group in groups if {one, other} <= {key for key, _ in group}]
    return all(sum(1 if p in (0.0, size[key]) else 2 for key, p in group) > 2 for group in shared)


def lying_in(carrier: Data, n: int, circuits: list[Data], routes: dict[str, Any]) -> tuple[list[Data], list[Data]]:
    """The cables in a lane: those for certain and those possibly. (Every carrier on a route has a lane for its service.)"""
    certain: list[Data] = []
    possible: list[Data] = []
    for circuit in circuits:
        about = {key: circuit[key] for key in ("mark", "service", "voltage")}
        cables = [{**cable, **about} for cable in circuit["cables"] if cable["count"] != 0]
        found = routes[circuit["mark"]]
        wanted = circuit["compartment"]
        said = not found and wanted is not None and len(carrier["lanes"]) > 1 and wanted <= len(carrier["lanes"])
        lane = lane_of(carrier, circuit) if found else None
        lane = circuit.get("beyond", {}).get(carrier["id"]) if lane is None else lane
        if said:
            possible += cables if wanted == n else []
            continue
        if found and carrier["id"] not in found[0]:
            continue
        if lane == n:
            certain += cables
        elif lane is None and n in lanes_for(carrier, circuit["service"]):
            possible += cables
    return certain, possible


def inside(carrier: Data, n: int, *, larger: bool) -> tuple[float | None, float | None]:
    """Area of a lane, and bore or smaller side; where the size isn't known for certain, the larger or the smaller reading."""
    kind, wall, width, height, diameter = (carrier[key] for key in ("kind", "wall", "width", "height", "diameter"))
    lanes, bore = carrier["lanes"], None
    if wall is None and diameter is not None and kind == "conduit":
        bore = BORES.get((carrier["material"], diameter))
    elif wall is None and None not in (width, height) and kind in ("trunking", "conduit"):
        wall = WALLS.get((carrier["material"], *sorted((width, height))))
    if wall is None:
        wall = 0.0 if larger else thickest_wall(carrier)
    if diameter is not None:
        bore = diameter - 2 * wall if bore is None else bore
        return (math.pi / 4 * bore**2, bore) if bore > 0 and len(lanes) == 1 else (None, None)
    deep = carrier["depth"] if kind in OPEN else None
    if deep is None and height is not None:
        deep = height - (2 * wall if kind not in OPEN else 0.0 if larger else OPEN[kind][1])
    if width is None or deep is None:
        return None, None
    given = [lane["width"] for lane in lanes if lane["width"] is not None]
    room = width - 2 * wall - (len(lanes) - 1) * wall
    if larger and sum(given) > room + 1:
        return None, None
    wide = lanes[n - 1]["width"]
    wide = (room - sum(given)) / (len(lanes) - len(given)) if wide is None else wide
    return (wide * deep if min(wide, deep) > 0 else None), None if kind == "conduit" else min(wide, deep)


def thickest_wall(carrier: Data) -> float:
    if carrier["kind"] == "conduit" and (carrier["diameter"] or 0) > 63:
        return math.inf  # none is plausible: nothing is known to remain
    return float(OPEN[carrier["kind"]][0]) if carrier["kind"] in OPEN else 4.0 if carrier["kind"] == "conduit" else 3.0


def run_of(data: Data, carrier: Data, attached: list[tuple[Data, float | None]]) -> tuple[float, int] | None:
    """Length in mm and right angles of the run that a conduit is of; None where it isn't known to end."""
    total, turned, seen = length(carrier), 0.0, [carrier["id"]]
    for end in ("start", "end"):
        here, tip = carrier, end
        while True:
            if any(k == here["id"] and 0.0 < p < length(here) for joint in joints(data) for k, p in joint[:2]):
                return None  # something ends at its side
            others = met_at(data, here, 0.0 if tip == "start" else length(here))
            conduits = [c for c, _, _ in others if c["kind"] == "conduit"]
            if not conduits and (others or ends_openly(here, tip, attached)):
                break
            if len(others) != 1 or conduits[0]["id"] in seen:
                return None
            there, place, gap = others[0]
            if 0.0 < place < length(there):
                return None
            entry = "start" if place == 0.0 else "end"
            turned += angle(heading(here, tip), [-v for v in heading(there, entry)])
            total += length(there) + gap
            seen.append(there["id"])
            here, tip = there, "end" if entry == "start" else "start"
    return total, max(0, math.ceil((turned - 4.5) / 90))


def ends_openly(conduit: Data, tip: str, attached: list[tuple[Data, float | None]]) -> bool:
    there = 0.0 if tip == "start" else length(conduit)
    return any(c is conduit and (offset is None or abs(offset - there) <= 300) for c, offset in attached)


def heading(carrier: Data, tip: str) -> list[float]:
    a, b = (carrier["start"], carrier["end"]) if tip == "end" else (carrier["end"], carrier["start"])
    return [q - p for p, q in zip(a, b, strict=True)]


def angle(a: list[float], b: list[float]) -> float:
    cross = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    return math.degrees(math.atan2(math.hypot(*cross), sum(p * q for p, q in zip(a, b, strict=True))))


def cable_term(cable: Data, short: str) -> tuple[float, float | None]:
    """The least and the most that the term of one cable can be; equal where it is tabled."""
    csa, stranded, rows = cable["csa"], cable["stranded"], [r for r in CABLE_TERMS if r["straight_to_3_m"] == short]
    if csa is None or cable["cores"] is None:
        return 0.0, None
    strands = {True: "stranded", False: "solid", None: None}[stranded]
    own = [r for r in rows if r["csa_mm2"] == csa and r["strands"] in (None, strands)]
    fitting = [r for r in rows if r["diameter_most_mm"] is None or cable["diameter"] <= r["diameter_most_mm"]]
    if any(r in fitting for r in own):
        return own[0]["term"], own[0]["term"]
    below = own or [r for r in rows if r["csa_mm2"] < csa and r["strands"] in (None, "solid")]
    above = [r for r in fitting if r["csa_mm2"] > csa and r["strands"] in (None, "stranded")]
    above += [r for r in fitting if r["csa_mm2"] == csa and stranded is False and r["strands"] == "stranded"]
    lower = max(below, key=lambda r: r["csa_mm2"], default={"term": 0.0})
    return lower["term"], min(above, key=lambda r: r["csa_mm2"], default={"term": None})["term"]


def by_terms(cables: list[Data], diameter: float, run: tuple[float, int] | None) -> Result:
    row = CAPACITIES.get(diameter)
    if run is None or row is None:
        return TERMS_UNKNOWN
    size, bends = run
    known = [cable for cable in cables if sized(cable)]
    straight = bends == 0 and size <= 3000.5
    paired = straight and row["straight_to_3_m"] is not None and all(len({*cable_term(c, "yes")}) == 1 for c in known)
    published = min((metres for b, metres in LENGTHS if b == bends and size <= metres * 1000 + 0.5), default=None)
    if paired:
        capacity = row["straight_to_3_m"]
    elif published is not None:
        capacity = row["multiplier"] * math.floor(row["k"] / (row["c"] + published * 2**bends) + 0.5)
    else:
        return TERMS_UNKNOWN
    terms = [(cable["count"], *cable_term(cable, "yes" if paired else "no")) for cable in known]
    lower = sum(count * least for count, least, _ in terms)
    if lower > capacity:
        return TERMS_UNKNOWN if straight and not paired else ("fail", lower / capacity, 1.0, "term")
    if len(known) < len(cables) or any(most is None for _, _, most in terms):
        return TERMS_UNKNOWN
    upper = sum(count * (most or 0.0) for count, _, most in terms)
    return "pass" if upper <= capacity else "unknown", lower / capacity, 1.0, "term"


def sized(cable: Data) -> bool:
    return cable["count"] is not None and cable["diameter"] is not None


def occupied(cables: list[Data]) -> float:
    return float(sum(c["count"] * math.pi / 4 * c["diameter"] ** 2 for c in cables if sized(c)))


def by_area(cables: list[Data], area: float | None, limit: float | None) -> Result:
    if area is None:
        return "unknown", None, limit, "area"
    fill = occupied(cables) / area
    if limit is not None and fill > limit:
        return "fail", fill, limit, "area"
    if not all(map(sized, cables)):
        return "unknown", None, limit, "area"
    return "unknown" if limit is None else "pass", fill, limit, "area"


def in_conduit(carrier: Data, cables: list[Data], size: tuple[float | None, float | None], run: Any) -> Result:
    area, bore = size
    if area is None:
        return "unknown", None, None, ""
    if not cables:
        return "pass", 0.0, CONDUIT_LIMIT, "area"
    if bore is None:  # no outside diameter
        return TERMS_UNKNOWN
    if any(sized(cable) and cable["diameter"] >= bore for cable in cables):
        return "fail", None, None, ""
    single = [c for c in cables if c["cores"] == 1 or (c["cores"] is None and c["service"] != "data")]
    whole = by_area(cables, area, CONDUIT_LIMIT)
    if single and (len(single) == len(cables) or whole[0] != "fail"):
        terms = by_terms(single, carrier["diameter"], run)
        return whole if terms[0] == "pass" and len(single) < len(cables) else terms
    return whole


def fill_of(data: Data, carrier: Data, n: int, lying: tuple[list[Data], list[Data]], run: Any) -> Data:
    """Fill of a lane, by the larger inside and the certain cables, then by the smaller and what may lie there as well."""
    certain, possible = lying
    area, bore = inside(carrier, n, larger=True)
    least, small_side = inside(carrier, n, larger=False)
    scaled = small_side
    if carrier["kind"] == "conduit":
        scaled = bore * math.sqrt(least / area) if bore is not None and area is not None and least is not None else None

    def judge(cables: list[Data], size: tuple[float | None, float | None]) -> Result:
        if carrier["kind"] == "conduit":
            return in_conduit(carrier, cables, size, run)
        limits = {"trunking": TRUNKING_LIMIT, "tray": data["tray_limit"], "ladder": data["tray_limit"]}
        found = by_area(cables, size[0], limits.get(carrier["kind"]))
        thick = size[1] is not None and any(sized(c) and c["diameter"] > size[1] for c in cables)
        if carrier["kind"] == "trunking" and thick and size[0] is not None:
            return "fail", occupied(cables) / size[0], *found[2:]  # the lid doesn't close
        return found

    verdict, fill, limit, measure = judge(certain, (area, bore))
    if verdict != "fail":
        strict = judge(certain + possible, (least, scaled))[0]
        verdict = "pass" if verdict == strict == "pass" else "unknown"
        if not all(map(sized, certain)) or (limit is None and (possible or least != area)):
            fill = None
    used = occupied(certain) if all(map(sized, certain)) else None
    return {"occupied": used, "area": area, "fill": fill, "limit": limit, "measure": measure, "verdict": verdict}


def band(cable: Data) -> int | None:
    if cable["service"] in ("fire-alarm", "control"):
        return None if cable["voltage"] is None else 1 if cable["voltage"] <= 50 else 2
    return None if cable["service"] is None else 1 if cable["service"] in ("data", "elv") else 2


def segregation(cables: list[Data]) -> str:
    services = {cable["service"] for cable in cables} - {None}
    if len(services) > 1 and services & {"fire-alarm", "emergency-central"}:
        return "fail"
    banded, two = [c for c in cables if band(c)], [c for c in cables if band(c) == 2]
    if 0 < len(two) < len(banded):
        highest = max((c["voltage"] for c in two if c["voltage"] is not None), default=0.0)
        if any(c["rated"] is not None and c["rated"] < highest for c in banded):
            return "fail"
        if any(c["rated"] is None for c in banded) or any(c["voltage"] is None for c in two):
            return "unknown"
    loose = {c["mark"] for c in cables if band(c) is None and c["service"] is not None}
    if services != {"fire-alarm"} and loose and (banded or len(loose) > 1):
        return "unknown"
    return "unknown" if any(c["service"] is None for c in cables) else "pass"


def as_good(data: Data, circuit: Data, best: Route | None, taken: Sequence[str]) -> Route | None:
    """The way through some carriers, if it is as long as the shortest, over as many carriers: either is right. Else the shortest."""
    if best is None or tuple(taken) == best[0] or len(taken) != len(best[0]):
        return best
    among = {**data, "carriers": [carrier for carrier in data["carriers"] if carrier["id"] in taken]}
    for name in (circuit["from"], circuit["to"]):
        everywhere = [(carrier["id"], along) for carrier, along in attach(data, name, circuit["service"])]
        if any((carrier["id"], along) not in everywhere for carrier, along in attach(among, name, circuit["service"])):
            return best
    way = route(among, circuit)
    return way if way and way[0] == tuple(taken) and round(way[1], 3) == round(best[1], 3) else best


def check(data: Data, taken: dict[str, Sequence[str]] | None = None) -> Data:
    """Routes of all circuits and what is found of each compartment, in the shape that the test compares.

    ``taken`` are carriers in order by mark: of several ways that are as good, those are taken.
    """
    circuits = [circuit for circuit in data["circuits"] if circuit["state"] != "removed"]
    routes = {circuit["mark"]: route(data, circuit) for circuit in circuits}
    routes |= {c["mark"]: as_good(data, c, routes[c["mark"]], (taken or {}).get(c["mark"], ())) for c in circuits}
    for circuit in circuits:
        circuit["beyond"] = beyond_meetings(data, circuit, (routes[circuit["mark"]] or ((), 0.0))[0])
    named = [(circuit[end], circuit["service"]) for circuit in data["circuits"] for end in ("from", "to")]
    attached = [place for name, service in named for place in attach(data, name, service)]
    compartments = {}
    for carrier in data["carriers"]:
        run = run_of(data, carrier, attached) if carrier["kind"] == "conduit" else None
        for n in range(1, len(carrier["lanes"]) + 1):
            lying = lying_in(carrier, n, circuits, routes)
            found = fill_of(data, carrier, n, lying, run)
            both = (segregation(lying[0]), segregation(lying[0] + lying[1]))
            apart = "fail" if both[0] == "fail" else "pass" if both == ("pass", "pass") else "unknown"
            if not circuits or (apart == "fail" and carrier["kind"] in OPEN):
                apart = "unknown"
            if not circuits:
                found |= {"occupied": None, "fill": None, "verdict": "unknown"}
                found |= {"limit": None, "measure": ""} if carrier["kind"] == "conduit" else {}
            compartments[carrier["id"], n] = {**found, "segregation": apart}
    return {"routes": routes, "compartments": compartments}

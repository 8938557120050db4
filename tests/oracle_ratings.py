"""Ratings of an installation (bs-7671, iec-60364) worked out again, slowly and plainly: it shares nothing with the checker but tables.

``favour`` is the reading of all doubt in a circuit's favour; without it all doubt is against the circuit.
"""

import math
from typing import Any

from tests.oracle import OPEN, Data, lanes_for, lying_in, sized, table

SIZES = [1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120, 150, 185, 240, 300, 400, 500, 630]
CLASSES = {"PVC": "PVC", "XLPE": "XLPE", "EPR": "XLPE", "THERMOSETTING": "XLPE"}
BASE = {(r["insulation"], r["loaded"], r["method"], r["csa_mm2"]): r["amps"] for r in table("base_ratings")}
AMBIENT, BUNCHED = table("ambient_air"), table("grouping_bunched")
MULTICORE = [r for r in table("grouping_multicore_layers") if r["spacing"] == "touching"]
SINGLES = [r for r in table("grouping_single_core_layers") if r["formation"] == "touching flat"]
NEAR = 1e-9  # what two products of the same factors may differ by


def next_row(rows: list[Data], key: str, value: float) -> Data | None:
    return min((row for row in rows if row[key] >= value), key=lambda row: float(row[key]), default=None)


def is_loaded(circuit: Data) -> bool:
    """Whether it is judged and warms others; a data circuit does where anything electrical is given for it."""
    given = circuit["electrical"]
    spoken_for = circuit["service"] != "data" or given.keys() & {"design_current_a", "device_rating_a"}
    conductors = given.get("loaded_conductors", 2 if spoken_for else 0)
    return circuit["state"] in ("new", "existing") and conductors != 0


def third(circuit: Data) -> float | None:
    """Share of the third harmonic; above 1 it was given in percent."""
    h = circuit["electrical"].get("third_harmonic")
    return h / 100 if h is not None and h > 1 else h


def together(rows: list[Data]) -> int:
    return sum(row["count"] for row in rows)


def live(circuit: Data) -> Data | None:
    """The row of the live conductors, with the fewest and most circuits of a set. Its csa may be unknown where it is the only row."""
    rows = [row for row in circuit["cables"] if row["count"] != 0]
    unsorted = len(rows) > 1 and any(row["csa"] is None for row in rows)
    if unsorted or any(None in (row["count"], row["cores"]) for row in rows):
        return None
    loaded = int(circuit["electrical"].get("loaded_conductors", 2))
    needed = max(loaded, 4) if loaded >= 3 and (third(circuit) or 0.0) > 0.15 else loaded
    singles = [row for row in rows if row["cores"] == 1]
    multicore = [row for row in rows if row["cores"] > 1]
    if multicore:  # all of them are live, and single cores beside them protective
        unlike = len({(row["csa"], row["insulation"], row["conductor"]) for row in multicore}) > 1
        few, n = any(row["cores"] < needed for row in multicore), together(multicore)
        return None if unlike or few or together(singles) >= loaded else {**multicore[0], "fewest": n, "most": n}
    for row in sorted(singles, key=lambda row: -(row["csa"] or 0)):
        upper = [r for r in singles if r is row or r["csa"] >= row["csa"]]
        if together(upper) >= needed:  # what is thinner is protective, if it can't be another circuit
            same = together([r for r in upper if r["csa"] == row["csa"]])
            unlike = len({(r["insulation"], r["conductor"]) for r in upper}) > 1
            unlike |= needed >= 4 and same < together(upper)  # which of them is the neutral isn't known
            known = not unlike and together(singles) - together(upper) < loaded
            return {**row, "fewest": 1, "most": max(1, same // loaded)} if known else None
    return None


def insulation_of(circuit: Data) -> str | None:
    return CLASSES.get((live(circuit) or {"insulation": ""})["insulation"].upper())


def number(circuit: Data, *, favour: bool) -> int | None:
    """How many circuits it is in a group."""
    few = (live(circuit) or {"fewest": 1, "most": None})["fewest" if favour else "most"]
    return None if few is None else int(few * circuit["sets"] * circuit["passes"])


def columns(circuit: Data, *, favour: bool) -> int:
    return int(circuit["electrical"].get("loaded_conductors", 2 if favour else 3))


def harmonics(circuit: Data, *, favour: bool) -> tuple[float | None, float | None]:
    """Ch, and by how much In is multiplied where the neutral's current is what counts."""
    loaded, h = columns(circuit, favour=favour), third(circuit)
    if loaded not in (3, 4) or h is None:
        return None if loaded == 4 else 1.0, None
    return 0.86 if 0.15 < h <= 0.45 else 1.0, max(3 * h, 1.0) if h > 0.33 else None


def as_ladder(carrier: Data, circuit: Data, *, favour: bool) -> bool:
    if carrier["kind"] != "tray" or carrier["perforated"] is not None:
        return carrier["kind"] == "ladder" or (carrier["kind"] == "tray" and carrier["perforated"])
    return circuit["electrical"].get("method", "E" if favour else "C") in ("E", "F", "G")


def figure(insulation: str, loaded: int | None, word: str, row: Data) -> float | None:
    """A base rating by the word of a method."""
    single = row["cores"] == 1
    word = {"A": "A1" if single else "A2", "B": "B1" if single else "B2"}.get(word, word)
    if word in ("F", "G") and row["csa"] < 25:
        word = "C"
    names = {"F": "F touching" if loaded == 2 else "F trefoil", "G": "G vertical spaced"}
    names |= {known: known for known in ("A1", "B1", "B2", "C", "E")}
    return BASE.get((insulation, loaded, names.get(word), row["csa"]))


def rated(data: Data, carrier: Data, circuit: Data, group: list[Data], *, favour: bool) -> float | None:
    """It · Ca · Ch of one set on a carrier, no warmer than the least of its group may get."""
    row, given = live(circuit), circuit["electrical"]
    if row is None or row["csa"] is None or row["conductor"] != "copper" or carrier["installed"] == "ground":
        return None
    insulation, others = insulation_of(circuit), {insulation_of(member) for member in group}
    if insulation is None or carrier["kind"] == "unknown":
        return None
    ends = {data["terminations"].get(end) for end in (circuit["from"], *circuit["calls"])}
    if ends != {90} or "PVC" in others or (None in others and not favour):
        insulation = "PVC"
    own = "B" if carrier["kind"] not in OPEN else "C"
    if as_ladder(carrier, circuit, favour=favour):
        own = "F" if row["cores"] == 1 else "E"
    loaded = {2: 2, 3: 3, 4: 3}.get(columns(circuit, favour=favour))
    base = [figure(insulation, loaded, word, row) for word in {own, given.get("method", own)}]
    ambient = [r for r in AMBIENT if r["insulation"].startswith(insulation)]
    felt = [] if favour else [member["electrical"].get("ambient_c", 30) for member in group]
    warm = next_row(ambient, "ambient_c", given.get("ambient_c", max([30, *felt])))
    ch = harmonics(circuit, favour=favour)[0]
    known = [amps for amps in base if amps is not None]
    return None if len(known) < len(base) or warm is None or ch is None else min(known) * float(warm["factor"]) * ch


def bunched(item: int, n: int) -> float | None:
    row = next_row([r for r in BUNCHED if r["item"] == item], "circuits", n)
    return None if row is None else float(row["factor"])


def layered(rows: list[Data], installations: list[str], tiers: int, n: int) -> float | None:
    """The lowest factor of those installations that have a row."""
    factors = []
    for name in installations:
        own = [r for r in rows if r["installation"].startswith(name)]
        trays = next_row(own, "trays", tiers)
        own = [r for r in own if trays is not None and r["trays"] == trays["trays"]]
        row = next_row(own, "cables" if rows is MULTICORE else "circuits", n)
        factors += [] if row is None else [float(row["factor"])]
    return min(factors, default=None)


def grouping(carrier: Data, group: list[Data], *, layer: bool, favour: bool) -> float | None:
    """Cg of the circuits of a group."""
    counts, rows = [number(member, favour=favour) for member in group], [live(member) for member in group]
    if None in counts:
        return None
    n = sum(count or 0 for count in counts)
    if carrier["kind"] not in OPEN:
        places = [SIZES.index(row["csa"]) for row in rows if row is not None and row["csa"] in SIZES]
        unsure = len(places) < len(rows) and not favour
        return 1 / math.sqrt(n) if unsure or (places and max(places) - min(places) >= 3) else bunched(1, n)
    if not layer:
        return bunched(1, n)
    tiers, factor = carrier["tiers"] or 1, None
    said = all(member["electrical"].get("method") in ("E", "F", "G") for member in group)
    free = carrier["perforated"] if carrier["perforated"] is not None else favour or said
    if carrier["kind"] != "ladder" and not free:
        return bunched(2, n) if tiers == 1 else None
    installations = ["ladder"] if carrier["kind"] == "ladder" else ["perforated tray", "vertical perforated tray"]
    if all(row is not None and row["cores"] > 1 for row in rows):
        factor = layered(MULTICORE, installations, tiers, n)
    elif all(row is not None and row["cores"] == 1 for row in rows) and all(
        member["electrical"].get("loaded_conductors") in (3, 4) for member in group
    ):
        factor = layered(SINGLES, installations, tiers, n)
    if factor is None and tiers == 1:
        return bunched(5 if carrier["kind"] == "ladder" else 4, n)
    return factor


def best_or_worst(factors: list[float | None], *, favour: bool) -> float | None:
    """Where cables may lie in a layer or not. In favour a layer that no table is for leaves the better open."""
    layer, bunch = factors
    if None in factors:
        return layer if favour else bunch
    return max(factors) if favour else min(factors)  # type: ignore[type-var]


def width(carrier: Data, n: int, *, larger: bool) -> float | None:
    """Inside width of a lane, as ``inside`` of tests/oracle.py has it."""
    if carrier["width"] is None:
        return None
    wall = carrier["wall"] if carrier["wall"] is not None else 0.0 if larger else OPEN[carrier["kind"]][0]
    lanes = carrier["lanes"]
    given = [lane["width"] for lane in lanes if lane["width"] is not None]
    room = carrier["width"] - (len(lanes) + 1) * wall
    own = lanes[n - 1]["width"]
    wide = (room - sum(given)) / (len(lanes) - len(given)) if own is None else own
    widest = carrier["width"] - (len(lanes) + 1) * (carrier["wall"] or 0.0)
    return None if wide <= 0 or (given and sum(given) > widest + 1) else float(wide)


def in_one_layer(carrier: Data, circuits: list[Data], routes: dict[str, Any], *, favour: bool) -> bool:
    declared = favour if carrier["single_layer"] is None else carrier["single_layer"]
    if carrier["kind"] not in OPEN or not declared:
        return False
    times = {circuit["mark"]: circuit["sets"] * circuit["passes"] for circuit in circuits}
    for n in range(1, len(carrier["lanes"]) + 1):
        certain, possible = lying_in(carrier, n, circuits, routes)
        cables, wide = certain if favour else certain + possible, width(carrier, n, larger=favour)
        if not favour and (wide is None or not all(map(sized, cables))):
            return False
        laid_out = sum(c["count"] * times[c["mark"]] * c["diameter"] for c in cables if sized(c))
        if wide is not None and laid_out > wide + NEAR:
            return False
    return True


def on_carrier(data: Data, carrier: Data, circuits: list[Data], routes: dict[str, Any], *, favour: bool) -> Data:
    """Which circuits that lie in a carrier are light; and Iz, carrier and Cg of each, None where not known."""

    def lies(circuit: Data) -> bool:
        way = routes[circuit["mark"]]
        said = (circuit["compartment"] or 99) <= len(carrier["lanes"]) > 1
        could = said or bool(lanes_for(carrier, circuit["service"]))
        return carrier["id"] in way[0] if way else not favour and could

    group = [circuit for circuit in circuits if is_loaded(circuit) and lies(circuit)]
    may, surely = (in_one_layer(carrier, circuits, routes, favour=word) for word in (True, False))

    def share(some: list[Data]) -> float | None:
        if may == surely:
            return grouping(carrier, some, layer=may, favour=favour)
        factors = [grouping(carrier, some, layer=layer, favour=favour) for layer in (True, False)]
        return best_or_worst(factors, favour=favour)

    alone = {c["mark"]: rated(data, carrier, c, group, favour=favour) for c in group}
    full = share(group)

    def lightness(circuit: Data) -> bool | None:
        """Whether it is left out for the others; None: nobody can say, as its load or its own rating isn't known."""
        if full is None:
            return False
        own, load = alone[circuit["mark"]], circuit["electrical"].get("design_current_a")
        if own is None or load is None:
            return None
        times = harmonics(circuit, favour=favour)[1] or 1.0
        return bool(times * load / circuit["sets"] <= 0.30 * own * full + NEAR)

    light = {c["mark"]: lightness(c) for c in group}
    if favour:
        # what isn't known is left out for the others; for itself it is light or not, whichever is better
        against = on_carrier(data, carrier, circuits, routes, favour=False)["light"]
        cg = {}
        for c in group:
            with_it = share([other for other in group if other is c or light[other["mark"]] is False])
            sure = light[c["mark"]] and against[c["mark"]]
            unsure = light[c["mark"]] is not False and not sure
            cg[c["mark"]] = full if sure else with_it
            if unsure:
                cg[c["mark"]] = None if None in (full, with_it) else max(full, with_it)  # type: ignore[type-var]
    else:
        heavy = [circuit for circuit in group if not light[circuit["mark"]]]
        cg = {c["mark"]: full if light[c["mark"]] else share(heavy) for c in group}
    lying = [(c["mark"], c["sets"], alone[c["mark"]], cg[c["mark"]]) for c in group]
    known = {mark: (sets * own * ratio, carrier["id"], ratio) for mark, sets, own, ratio in lying if own and ratio}
    return {"light": light, "figures": dict.fromkeys(alone) | known}


def by_20_a(circuit: Data, code: str) -> bool:
    return circuit["ring"] and code == "bs-7671" and circuit["electrical"].get("device_rating_a") in (30, 32)


def required(circuit: Data, code: str, *, favour: bool) -> float | None:
    """What Iz is held against; where In or Ib is missing, the other."""
    device, load = (circuit["electrical"].get(key) for key in ("device_rating_a", "design_current_a"))
    if by_20_a(circuit, code):
        return 20.0
    times = harmonics(circuit, favour=favour)[1]
    if device is not None and times is not None:
        return max(float(times * device), load or 0.0)  # Ib above In fails in any case, and is what is needed then
    return max((amps for amps in (device, load) if amps is not None), default=None)


def judge(circuit: Data, code: str, capacity: float, *, favour: bool) -> str:
    device, load = (circuit["electrical"].get(key) for key in ("device_rating_a", "design_current_a"))
    need, word = required(circuit, code, favour=favour), "unknown"
    over = None not in (device, load) and load > device
    if need is not None and (capacity < need - NEAR or over):
        word = "fail"
    elif None not in (device, load):
        word = "pass"
    unsaid = circuit["ring"] and not by_20_a(circuit, code) and not over
    return "unknown" if word == "fail" and unsaid else word


def reading(circuit: Data, code: str, way: Any, figures: dict[Any, Data], *, favour: bool) -> tuple[str, list[Any]]:
    """The verdict by one reading, and Iz, carrier and Cg where Iz is lowest: one unknown leaves only a failure."""
    here = [figures[name, favour][circuit["mark"]] for name in (way[0] if way else ())]
    known = [found for found in here if found is not None]
    if known:
        lowest = min(known, key=lambda found: round(found[0], 9))
        word = judge(circuit, code, lowest[0], favour=favour)
        if len(known) == len(here) or (favour and word == "fail"):
            return word, list(lowest)
    elif way and favour and judge(circuit, code, math.inf, favour=True) == "fail":  # Ib > In, whatever Iz is
        return "fail", [None, None, None]
    return "unknown", [None, None, None]


def answer(circuit: Data, code: str, way: Any, figures: dict[Any, Data]) -> Data:
    """The verdict on a circuit by both readings, and the figures that are one figure."""
    best, worst = (reading(circuit, code, way, figures, favour=favour) for favour in (True, False))
    needs = [required(circuit, code, favour=favour) for favour in (True, False)]
    device = "".join(filter(str.isalnum, str(circuit["electrical"].get("device", "")).lower()))
    # one needs more than In: what fails by In fails
    semi_enclosed = any(word in device for word in ("3036", "rewir", "semienclosed"))
    word, figure_of, need = "unknown", [None, None, None], needs[0] if needs[0] == needs[1] else None
    if best[0] == "fail" and worst[0] != "pass":  # alone in a layer may be worse than alone in a bunch
        word, figure_of, need = "fail", best[1], needs[0]
    elif worst[0] == "pass" and best[0] != "fail" and not semi_enclosed:
        lower = best if best[0] == "pass" and best[1][0] < worst[1][0] else worst
        word, figure_of, need = "pass", lower[1], needs[1]
    elif best[1] == worst[1]:
        figure_of = best[1]
    return {"verdict": word, "required": need, **dict(zip(("capacity", "carrier", "cg"), figure_of, strict=True))}


def laid(circuit: Data, routes: dict[str, Any]) -> Data:
    """With whether it is a ring, and how often it passes a carrier: not routed, it may on the way to every call."""
    *out, last = circuit["calls"]
    ring = last == circuit["from"] and any(name != last for name in out)
    passes = (2 if ring else 1) if routes[circuit["mark"]] else len(circuit["calls"])
    return {**circuit, "ring": ring, "passes": passes}


def rate(data: Data, routes: dict[str, Any], code: str) -> dict[str, Data | None]:
    """The rating of each circuit by its mark; None for those not loaded."""
    circuits = [laid(circuit, routes) for circuit in data["circuits"] if circuit["state"] != "removed"]
    both = [(carrier, favour) for carrier in data["carriers"] for favour in (True, False)]
    figures = {
        (at["id"], favour): on_carrier(data, at, circuits, routes, favour=favour)["figures"] for at, favour in both
    }
    found: dict[str, Data | None] = {circuit["mark"]: None for circuit in data["circuits"]}
    for circuit in filter(is_loaded, circuits):
        found[circuit["mark"]] = answer(circuit, code, routes[circuit["mark"]], figures)
    return found

"""The electrical side of circuits: which of its conductors are live, and how many circuits it counts for in a group."""

import math
from collections.abc import Iterable
from typing import Any

from checker.model import Cable, Circuit, CircuitLoad, Service, State
from checker.model.words import wildcard
from checker.units import circle_area_mm2

#: Columns whose cell must be readable, where there is one.
ELECTRICAL = (
    "ambient_c", "third_harmonic", "design_current_a", "device_rating_a", "loaded_conductors",
    "method", "device", "insulation", "conductor",
)  # fmt: skip
#: Columns without which the live conductors aren't known.
OF_CABLES = ("csa_mm2", "cores", "count", "sets", "awg_kcmil")
LOADED_STATES = {State.NEW, State.EXISTING}
#: One kcmil, in mm²: a circle of a thousandth of an inch, a thousand times.
KCMIL_MM2 = 0.5067
#: The fewest loaded conductors that a circuit has.
FEWEST_LOADED = 2


def circuit_load(circuit: Circuit, terminations_c: Iterable[tuple[str, float]] = ()) -> CircuitLoad:
    """The electrical side of a circuit of the schedule.

    Args:
        circuit: As it was read.
        terminations_c: What terminals are declared for, by patterns of names.
    """
    given: dict[str, Any] = circuit.electrical
    loaded = given.get("loaded_conductors")
    live, doubt = _live_row(circuit, loaded or FEWEST_LOADED)
    single = None if live is None or live.cores is None else live.cores == 1
    sets = None if "sets" in circuit.unread else circuit.sets
    harmonic = given.get("third_harmonic")
    return CircuitLoad(
        mark=circuit.mark,
        service=circuit.service,
        state=circuit.state,
        is_loaded=_is_loaded(circuit, loaded),
        is_ring=len(circuit.calls) > 1 and circuit.calls[-1] == circuit.origin,
        is_single_core=single,
        csa_mm2=live.csa_mm2 if live is not None else None,
        awg_kcmil=live.awg_kcmil if live is not None else "",
        conductor=live.conductor.strip().lower() if live is not None else "",
        insulation=live.insulation.strip().upper() if live is not None else "",
        loaded_conductors=loaded,
        conductors=_all_conductors(circuit),
        sets=sets,
        circuits=_circuits(circuit, live, loaded or FEWEST_LOADED, sets),
        design_current_a=given.get("design_current_a"),
        device_rating_a=given.get("device_rating_a"),
        ambient_c=given.get("ambient_c"),
        third_harmonic=harmonic / 100.0 if harmonic is not None and harmonic > 1.0 else harmonic,
        method=str(given.get("method", "")).strip().upper(),
        device=str(given.get("device", "")),
        terminations_c=_terminations(circuit, tuple(terminations_c)),
        unread=tuple(column for column in ELECTRICAL if column in circuit.unread),
        doubt=doubt,
    )


def _is_loaded(circuit: Circuit, loaded: int | None) -> bool:
    if circuit.state not in LOADED_STATES:
        return False
    if "loaded_conductors" in circuit.unread:
        return True
    return loaded != 0 and (circuit.service is not Service.DATA or loaded is not None)


def _live_row(circuit: Circuit, needed: int) -> tuple[Cable | None, str]:
    """The row that holds the thinnest of as many conductors as are loaded, the thickest first.

    So a protective conductor that is thicker is taken for no live one, and one that is thinner doesn't make the circuit thin.
    """
    unread = [column for column in OF_CABLES if column in circuit.unread]
    if unread:
        return None, f"{unread[0]} can't be read"
    cables = [cable for cable in circuit.cables if cable.count != 0]
    if not cables:
        return None, "no cable is given"
    missing = ""
    for cable in cables:
        for value, column in ((cable.cores, "cores"), (cable.count, "count")):
            if not value:
                return None, f"{column} isn't given"
        if not (cable.csa_mm2 or cable.awg_kcmil):
            missing = "csa_mm2 isn't given"
    if missing and len(cables) > 1:  # which row is the thicker one isn't known
        return None, missing
    found = 0
    for cable in sorted(cables, key=_thickness, reverse=True):
        found += (cable.count or 0) * (cable.cores or 0)
        if found >= needed:
            return cable, missing
    return None, f"it has {found} conductors, and {needed} are loaded"


def _thickness(cable: Cable) -> float:
    return cable.csa_mm2 or awg_area_mm2(cable.awg_kcmil)


def awg_area_mm2(size: str) -> float:
    """The area of an AWG or kcmil size, in mm², to order sizes by: 0.127 mm · 92^((36 − n)/39) is the diameter of AWG n (ASTM B258)."""
    text = size.strip()
    if text.endswith("/0") and text[:-2].isdecimal():
        number = 1 - int(text[:-2])  # 1/0 is AWG 0, 4/0 is AWG −3
    elif text.isdecimal() and int(text) < 250:
        number = int(text)
    elif text.isdecimal():
        return int(text) * KCMIL_MM2
    else:
        return 0.0
    return circle_area_mm2(0.127 * math.pow(92.0, (36 - number) / 39))


def _circuits(circuit: Circuit, live: Cable | None, loaded: int, sets: int | None) -> int | None:
    """How many circuits its cables are: each multicore cable is one; single cores, as many times as there are loaded ones.

    IEC 60364-5-52 Table B.52.17 note 5: n single cores are n/2 circuits of two or n/3 of three loaded conductors. Where the protective
    conductors aren't told apart they are among the n.
    """
    if live is None or live.count is None or sets is None:
        return None
    if live.cores != 1:
        return live.count * sets
    apart = any(cable.cores == 1 and _thickness(cable) < _thickness(live) for cable in circuit.cables if cable.count)
    each = loaded if apart or live.count % (loaded + 1) else loaded + 1
    return max(1, live.count // each) * sets


def _all_conductors(circuit: Circuit) -> int | None:
    counts = [
        None if cable.count is None or cable.cores is None else cable.count * cable.cores for cable in circuit.cables
    ]
    return None if None in counts else sum(count for count in counts if count is not None)


def _terminations(circuit: Circuit, declared: tuple[tuple[str, float], ...]) -> float | None:
    """The least that the terminals of its ends are declared for; None where one end isn't declared."""
    found = []
    for name in (circuit.origin, *circuit.calls):
        temperature = next((value for pattern, value in declared if name and wildcard(pattern).fullmatch(name)), None)
        if temperature is None:
            return None
        found.append(temperature)
    return min(found, default=None)

"""The electrical side of circuits, as rules about currents are asked about it."""

from collections.abc import Iterable
from typing import Any

from checker.model import Circuit, CircuitLoad, Service, State
from checker.model.words import wildcard
from checker.network.live import live_conductors
from checker.network.neutral import WITH_NEUTRAL, neutral_of

#: Columns whose cell must be readable, where there is one.
ELECTRICAL = (
    "ambient_c", "third_harmonic", "design_current_a", "device_rating_a", "loaded_conductors",
    "method", "device", "insulation", "conductor",
)  # fmt: skip
LOADED_STATES = {State.NEW, State.EXISTING}
METALS = {"cu": "copper", "al": "aluminium", "aluminum": "aluminium"}


def circuit_load(circuit: Circuit, terminations_c: Iterable[tuple[str, float]] = ()) -> CircuitLoad:
    """The electrical side of a circuit of the schedule.

    Args:
        circuit: As it was read.
        terminations_c: What terminals are declared for, by patterns of names.
    """
    given: dict[str, Any] = circuit.electrical
    loaded, harmonic = given.get("loaded_conductors"), given.get("third_harmonic")
    if harmonic is not None and harmonic > 1.0:  # more than the fundamental is no ratio: per cent
        harmonic /= 100.0
    live = live_conductors(circuit, loaded, harmonic)
    terminals, undeclared = _terminations(circuit, tuple(terminations_c))
    row = live.row
    sets = None if "sets" in circuit.unread else circuit.sets
    metal = "" if row is None else row.conductor.strip().lower()
    return CircuitLoad(
        mark=circuit.mark,
        service=circuit.service,
        state=circuit.state,
        is_loaded=_is_loaded(circuit),
        is_ring=is_ring(circuit),
        is_single_core=None if row is None or row.cores is None else row.cores == 1,
        csa_mm2=row.csa_mm2 if row is not None else None,
        awg_kcmil=row.awg_kcmil if row is not None else "",
        conductor=METALS.get(metal, metal),
        insulation=row.insulation.strip().upper() if row is not None else "",
        loaded_conductors=loaded,
        conductors=_all_conductors(circuit),
        sets=sets,
        circuits=None if live.most is None or sets is None else live.most * sets,
        circuits_least=None if live.least is None or sets is None else live.least * sets,
        design_current_a=given.get("design_current_a"),
        device_rating_a=given.get("device_rating_a"),
        ambient_c=given.get("ambient_c"),
        third_harmonic=harmonic,
        method=str(given.get("method", "")).strip().upper(),
        device=str(given.get("device", "")),
        terminations_c=terminals,
        undeclared=undeclared,
        unread=tuple(column for column in ELECTRICAL if column in circuit.unread),
        doubt=live.doubt,
        neutral=neutral_of(circuit, loaded, METALS) if loaded in WITH_NEUTRAL else None,
        has_single_cores=any(cable.cores == 1 and cable.count != 0 for cable in circuit.cables),
    )


def is_ring(circuit: Circuit) -> bool:
    """Whether it comes back to its origin, by way of another place."""
    return circuit.calls[-1:] == (circuit.origin,) and any(call != circuit.origin for call in circuit.calls)


def _is_loaded(circuit: Circuit) -> bool:
    """Whether it carries a load that heats. Data does where the schedule gives loaded conductors or a current for it."""
    if circuit.state not in LOADED_STATES:
        return False
    if "loaded_conductors" in circuit.unread:
        return True
    given = circuit.electrical
    if circuit.service is Service.DATA and "loaded_conductors" not in given:
        return "design_current_a" in given or "device_rating_a" in given
    return given.get("loaded_conductors") != 0


def _all_conductors(circuit: Circuit) -> int | None:
    counts = [
        None if cable.count is None or cable.cores is None else cable.count * cable.cores for cable in circuit.cables
    ]
    return None if None in counts else sum(count for count in counts if count is not None)


def _terminations(circuit: Circuit, declared: tuple[tuple[str, float], ...]) -> tuple[float | None, str]:
    """The least that the terminals of its ends are declared for; or None, and the first end that isn't declared."""
    found = []
    for name in (circuit.origin, *circuit.calls):
        temperature = next((value for pattern, value in declared if name and wildcard(pattern).fullmatch(name)), None)
        if temperature is None:
            return None, name
        found.append(temperature)
    return min(found, default=None), ""

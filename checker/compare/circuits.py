"""What became of each circuit."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from checker.compare.carriers import NOT_KNOWN, length_of, same
from checker.compare.matching import Match, alone
from checker.compare.tables import CircuitChange, CircuitRow
from checker.model.texts import listed, natural
from checker.result.tables import CircuitRow as Circuit
from checker.result.tables import Result

#: Lengths that differ by no more than this are the same.
SAME_M = 0.001
_ORDER = tuple(CircuitChange)
_SAME_MM = 0.001
_SAME_A = 1e-6


@dataclass(frozen=True, slots=True)
class _Wiring:
    """Cables of one circuit: which and how many; the diameters of each kind; what current it needs."""

    cables: tuple[tuple[str, int | None], ...]
    diameters: Mapping[str, float | None]
    needs_a: float | None


def circuit_changes(
    old: Result, new: Result, match: Match, *, same_figures: bool, is_unread: bool
) -> tuple[CircuitRow, ...]:
    """A row for each circuit of both, those that changed first.

    Args:
        old: The earlier result.
        new: The later one.
        match: Which carrier is which.
        same_figures: Whether both were had by the same code and tables, so that what it needs was asked otherwise where it differs.
        is_unread: Whether NEW was checked without a schedule.
    """
    labels = [{row.key: row.place.label for row in result.carriers} for result in (old, new)]
    wirings = [_wirings(result, with_needs=same_figures) for result in (old, new)]
    before = {row.circuit: row for row in old.circuits}
    after = {row.circuit for row in new.circuits}
    gone = [row for row in old.circuits if row.circuit not in after]
    renamed = _renamed(gone, [row for row in new.circuits if row.circuit not in before], wirings)
    mark_of = {mark: one for one, mark in renamed.items()}
    left, why = (
        (CircuitChange.NOT_READ, "NEW was checked without a schedule") if is_unread else (CircuitChange.REMOVED, "")
    )
    rows = []
    for row in new.circuits:
        way = _way(row, labels[1])
        if row.circuit not in before:
            told = f"ends and cables as of {mark_of[row.circuit]} in OLD" if row.circuit in mark_of else ""
            rows.append(
                CircuitRow(CircuitChange.ADDED, row.circuit, None, row.length_m, (), way, told, is_material=True)
            )
            continue
        one = before[row.circuit]
        rows.append(
            _both(
                one, row, match, (_way(one, labels[0]), way), (wirings[0].get(row.circuit), wirings[1].get(row.circuit))
            )
        )
    rows += [
        CircuitRow(
            left, row.circuit, row.length_m, None, _way(row, labels[0]), (),
            f"ends and cables as of {renamed[row.circuit]} in NEW" if row.circuit in renamed else why, is_material=True,
        )
        for row in gone
    ]  # fmt: skip
    return tuple(sorted(rows, key=lambda row: (_ORDER.index(row.change), natural(row.circuit), row.circuit)))


def _renamed(
    gone: Sequence[Circuit], come: Sequence[Circuit], wirings: Sequence[Mapping[str, _Wiring]]
) -> dict[str, str]:
    """Marks of NEW by those of OLD, where the ends, service and cables of one alone are those of another alone."""
    return alone(
        *(
            [
                ((row.origin, row.calls, row.service, wiring.cables), row.circuit)
                for row in rows
                if row.origin and row.calls and (wiring := wired.get(row.circuit)) is not None and wiring.cables
            ]
            for rows, wired in zip((gone, come), wirings, strict=True)
        )
    )


def _way(row: Circuit, labels: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(labels.get(key, key) for key in row.carriers)


def _wirings(result: Result, *, with_needs: bool) -> dict[str, _Wiring]:
    drawn: dict[str, list[tuple[str, int | None]]] = defaultdict(list)
    for row in result.take_off:
        if row.leg == 0:  # all legs have the same
            drawn[row.circuit].append((row.cable, row.count))
    diameters: dict[str, dict[str, float | None]] = defaultdict(dict)
    for cable in result.cables:
        known = diameters[cable.circuit].get(cable.cable)
        if cable.diameter_mm is not None and (known is None or cable.diameter_mm > known):
            known = cable.diameter_mm
        diameters[cable.circuit][cable.cable] = known
    needs: dict[str, float | None] = {}
    for rating in result.ratings if with_needs else ():
        needs.setdefault(rating.circuit, rating.required_a)
    return {
        mark: _Wiring(tuple(sorted(drawn.get(mark, ()), key=_cable_order)), diameters.get(mark, {}), needs.get(mark))
        for mark in {*drawn, *diameters, *needs}
    }


def _cable_order(cable: tuple[str, int | None]) -> tuple[str, int]:
    return cable[0], -1 if cable[1] is None else cable[1]


def _both(
    old: Circuit,
    new: Circuit,
    match: Match,
    ways: tuple[tuple[str, ...], tuple[str, ...]],
    wirings: tuple[_Wiring | None, _Wiring | None],
) -> CircuitRow:
    rerouted = list(_rerouted(old, new, match, ways))
    is_removed = "removed" in {old.state, new.state}  # of one that is removed nothing is taken off
    recabled = [] if is_removed else list(_recabled(*wirings))
    others = list(_others(old, new, wirings))
    change = (
        CircuitChange.REROUTED if rerouted
        else CircuitChange.RECABLED if recabled
        else CircuitChange.CHANGED if others
        else CircuitChange.SAME
    )  # fmt: skip
    lost = new.state != "removed" and ((old.is_routed and not new.is_routed) or _is_in_part_now(old, new))
    told = "; ".join([*rerouted, *recabled, *others])
    return CircuitRow(
        change,
        new.circuit,
        old.length_m,
        new.length_m,
        *ways,
        told,
        lost,
        is_material=change is not CircuitChange.SAME,
    )


def _rerouted(old: Circuit, new: Circuit, match: Match, ways: tuple[tuple[str, ...], tuple[str, ...]]) -> Iterable[str]:
    if old.is_routed and not new.is_routed:
        yield f"no way now{f': {new.reason}' if new.reason else ''}"
    elif new.is_routed and not old.is_routed:
        yield f"has a way now, {length_of(new.length_m)}"
    elif _is_in_part_now(old, new):
        yield f"its whole way isn't known now{f': {new.reason}' if new.reason else ''}"
    keys = [match.new_of.get(key, f"gone {key}") for key in old.carriers]
    if new.is_routed and old.is_routed and keys != list(new.carriers):
        yield _otherwise(keys, new.carriers, ways)
    if new.is_routed and old.is_routed and not same(old.length_m, new.length_m, SAME_M):
        yield f"way {length_of(old.length_m)} → {length_of(new.length_m)}"
    if new.is_routed and old.is_routed and not same(old.cable_m, new.cable_m, SAME_M):
        yield f"cable {length_of(old.cable_m)} → {length_of(new.cable_m)}"


def _is_in_part_now(old: Circuit, new: Circuit) -> bool:
    """Whether its whole way was known, and only a part of it is."""
    return old.is_routed and new.is_routed and old.length_m is not None and new.length_m is None


def _otherwise(old: Sequence[str], new: Sequence[str], ways: tuple[tuple[str, ...], tuple[str, ...]]) -> str:
    """How two ways differ: by which carriers, else in order."""
    before, after = set(old), set(new)
    added = list(dict.fromkeys(label for key, label in zip(new, ways[1], strict=True) if key not in before))
    left = list(dict.fromkeys(label for key, label in zip(old, ways[0], strict=True) if key not in after))
    told = [f"now by {listed(added)}"] if added else []
    told += [f"no longer by {listed(left)}"] if left else []
    return ", ".join(told) or "the same carriers in another order"


def _recabled(old: _Wiring | None, new: _Wiring | None) -> Iterable[str]:
    before, after = (() if side is None else side.cables for side in (old, new))
    if before != after:
        yield f"cables {_cables(before) or 'none'} → {_cables(after) or 'none'}"
    if old is None or new is None:
        return
    for cable in sorted(old.diameters.keys() & new.diameters.keys()):
        one, other = old.diameters[cable], new.diameters[cable]
        if not same(one, other, _SAME_MM):
            yield f"{cable}: diameter {_mm(one)} → {_mm(other)}"


def _cables(cables: Sequence[tuple[str, int | None]]) -> str:
    return " + ".join(f"{'?' if count is None else count} × {cable}" for cable, count in cables)


def _mm(value: float | None) -> str:
    return NOT_KNOWN if value is None else f"{value:g} mm"


def _others(old: Circuit, new: Circuit, wirings: tuple[_Wiring | None, _Wiring | None]) -> Iterable[str]:
    facts = (
        ("state", old.state, new.state),
        ("from", old.origin, new.origin),
        ("to", "; ".join(old.calls), "; ".join(new.calls)),
        ("service", old.service, new.service),
    )
    for fact, one, other in facts:
        if one != other:
            yield f"{fact} {one or 'none'} → {other or 'none'}"
    before, after = (None if side is None else side.needs_a for side in wirings)
    if before is not None and after is not None and not same(before, after, _SAME_A):
        yield f"needs {before:g} → {after:g} A"
    if old.is_loaded != new.is_loaded:
        yield "carries a load now" if new.is_loaded else "carries no load now"

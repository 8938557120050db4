"""What became of each carrier."""

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence

from checker.compare.matching import Match
from checker.compare.places import MOVED_MM, extent_of, lies_elsewhere, shift_mm
from checker.compare.tables import CarrierChange, CarrierRow
from checker.model import Vec
from checker.model.texts import natural
from checker.result.tables import CarrierRow as Carrier
from checker.result.tables import CompartmentRow, Result
from checker.units import metres

NOT_KNOWN = "not known"
#: Sizes that differ by no more than this, in mm, are the same: units are converted.
SAME_MM = 0.01
_ORDER = tuple(CarrierChange)


def carrier_changes(
    old: Result, new: Result, match: Match, unread: Collection[str], *, same_figures: bool
) -> tuple[CarrierRow, ...]:
    """A row for each carrier of both, those that changed first.

    Args:
        old: The earlier result.
        new: The later one.
        match: Which carrier is which.
        unread: Models of OLD that NEW was checked without.
        same_figures: Whether both were had by the same code and tables, so that insides that differ were built otherwise.
    """
    lanes = [_lanes(result.compartments) for result in (old, new)]
    old_rows = {row.key: row for row in old.carriers}
    demolished = {place.global_id for place in new.demolished}
    rows = []
    for row in new.carriers:
        before = match.old_of.get(row.key)
        if before is None:
            rows.append(_one_sided(row, CarrierChange.ADDED, ""))
        else:
            pair = (lanes[0][before], lanes[1][row.key])
            rows.append(_both(old_rows[before], row, pair, is_anew=row.key in match.anew, same_figures=same_figures))
    for row in old.carriers:
        if row.key not in match.new_of:
            is_demolished = row.place.global_id in demolished
            if row.place.model in unread and not is_demolished:
                rows.append(_one_sided(row, CarrierChange.NOT_READ, f"its model wasn't read: {row.place.model}"))
            else:
                rows.append(_one_sided(row, CarrierChange.REMOVED, "marked as demolished now" if is_demolished else ""))
    return tuple(sorted(rows, key=lambda row: (_ORDER.index(row.change), natural(row.label), row.key_new, row.key_old)))


def _lanes(compartments: Iterable[CompartmentRow]) -> Mapping[str, list[CompartmentRow]]:
    lanes: dict[str, list[CompartmentRow]] = defaultdict(list)
    for row in sorted(compartments, key=lambda row: (row.carrier, row.number)):
        lanes[row.carrier].append(row)
    return lanes


def _one_sided(row: Carrier, change: CarrierChange, what: str) -> CarrierRow:
    is_new = change is CarrierChange.ADDED
    key, guid, size = row.key, row.place.global_id, size_of(row)
    return CarrierRow(change, row.place.label, row.kind, row.place.storey, "" if is_new else key, key if is_new else "",
                      "" if is_new else guid, guid if is_new else "", "" if is_new else size, size if is_new else "", what,
                      is_material=True)  # fmt: skip


def size_of(row: Carrier) -> str:
    """Its size with its unit; empty where it isn't known."""
    return f"{row.size} mm" if row.size else ""


def _both(
    old: Carrier,
    new: Carrier,
    lanes: tuple[Sequence[CompartmentRow], Sequence[CompartmentRow]],
    *,
    is_anew: bool,
    same_figures: bool,
) -> CarrierRow:
    resized = list(_resized(old, new, lanes, same_figures=same_figures))
    placed, is_lost = _moved(old, new, is_resized=bool(resized))
    others, is_material = _others(old, new)
    change = (
        CarrierChange.RESIZED if resized
        else CarrierChange.MOVED if placed and not is_lost
        else CarrierChange.CHANGED if placed or others or is_anew
        else CarrierChange.SAME
    )  # fmt: skip
    told = [f"made anew: GlobalId {old.place.global_id} → {new.place.global_id}"] if is_anew else []
    told += [*resized, *([placed] if placed else []), *others]
    return CarrierRow(
        change, new.place.label, new.kind, new.place.storey, old.key, new.key, old.place.global_id, new.place.global_id,
        size_of(old), size_of(new), "; ".join(told), is_anew, is_material or bool(resized or placed),
    )  # fmt: skip


def _resized(
    old: Carrier,
    new: Carrier,
    lanes: tuple[Sequence[CompartmentRow], Sequence[CompartmentRow]],
    *,
    same_figures: bool,
) -> Iterable[str]:
    sizes = ((old.width_mm, new.width_mm), (old.height_mm, new.height_mm), (old.bore_mm, new.bore_mm))
    if not all(same(one, other, SAME_MM) for one, other in sizes):
        yield f"size {size_of(old) or NOT_KNOWN} → {size_of(new) or NOT_KNOWN}"
    if not same(old.length_m, new.length_m, metres(MOVED_MM)):
        yield f"length {length_of(old.length_m)} → {length_of(new.length_m)}"
    before, after = lanes
    if len(before) != len(after):
        yield f"compartments {len(before)} → {len(after)}"
    elif same_figures:
        insides = [[(lane.inside_width_mm, lane.inside_height_mm) for lane in side] for side in lanes]
        for number, (one, other) in enumerate(zip(*insides, strict=True), start=1):
            if not all(same(a, b, SAME_MM) for a, b in zip(one, other, strict=True)):
                yield f"compartment {number}: inside {_inside(one)} → {_inside(other)}"


def _inside(sides: tuple[float | None, float | None]) -> str:
    return " × ".join(NOT_KNOWN if side is None else f"{round(side, 2):g}" for side in sides) + " mm"


def _moved(old: Carrier, new: Carrier, *, is_resized: bool) -> tuple[str, bool]:
    """How it moved, in words, and whether all that is to say is that one of its places isn't known."""
    before, after = extent_of(old), extent_of(new)
    if before is None or after is None:
        if before is after:
            return "", False
        return ("where it lies is known now" if after else "where it lies isn't known now"), True
    if not lies_elsewhere(before, after):
        return "", False
    shift = shift_mm(before, after)
    far = math.hypot(*shift)
    if is_resized and far <= _by_size(old, new) + MOVED_MM:
        return "", False  # what grows at one end has its middle elsewhere
    if far <= MOVED_MM:
        return "lies otherwise about the same middle", False
    return f"moved {far:.0f} mm ({as_point(shift)})", False


def _by_size(old: Carrier, new: Carrier) -> float:
    """How far its middle goes at most when it only grows or shrinks at one side."""
    pairs = ((old.width_mm, new.width_mm), (old.height_mm, new.height_mm))
    changes = [abs(one - other) for one, other in pairs if one is not None and other is not None]
    if old.length_m is not None and new.length_m is not None:
        changes.append(1000.0 * abs(old.length_m - new.length_m))
    return math.hypot(*changes) / 2.0


def as_point(value_mm: Vec) -> str:
    """A shift as ``x 100, y 0, z -50``."""
    return ", ".join(f"{axis} {round(part) + 0}" for axis, part in zip("xyz", value_mm, strict=True))


def _others(old: Carrier, new: Carrier) -> tuple[list[str], bool]:
    """What else is another, in words; whether it may bear on a verdict."""
    facts = (
        ("kind", old.kind, new.kind),
        ("condition", old.condition, new.condition),
        ("type", old.type_name, new.type_name),
        ("storey", old.place.storey, new.place.storey),
        ("space", old.place.space, new.place.space),
        ("tag", old.place.mark or old.place.tag, new.place.mark or new.place.tag),
        ("name", old.place.name, new.place.name),
    )
    told = [f"{fact} {one or 'none'} → {other or 'none'}" for fact, one, other in facts if one != other]
    return told, old.kind != new.kind or old.condition != new.condition


def same(one: float | None, other: float | None, within: float) -> bool:
    """Whether two figures are the same, or both aren't known."""
    if one is None or other is None or math.isnan(one) or math.isnan(other):
        return one is other or (one is not None and other is not None and math.isnan(one) and math.isnan(other))
    return one == other or abs(one - other) <= within * (1.0 + 1e-9)


def length_of(value_m: float | None) -> str:
    """A length in words."""
    return NOT_KNOWN if value_m is None else f"{value_m:.2f} m" if round(value_m, 2) == value_m else f"{value_m:.3f} m"

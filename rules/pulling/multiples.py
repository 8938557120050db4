"""How tightly a cable may be bent: a multiple of its outside diameter, by how it is made."""

from collections.abc import Mapping
from dataclasses import dataclass
from fnmatch import fnmatchcase

from checker.model import PlacedCable, Service
from checker.rule import Limit, Table, number
from rules.pulling.runs import named

#: Services that no data or fibre cable serves.
POWER = frozenset({Service.POWER, Service.EMERGENCY_CENTRAL, Service.EMERGENCY_SELF_CONTAINED})


@dataclass(frozen=True, slots=True)
class Need:
    """The inside radius that a cable needs, in mm.

    Attributes:
        least_mm, most_mm: By the least and the largest multiple that may be its own; None: not known.
        words: The cable, as a sentence calls it; where its radius isn't known, why.
        source: Where the multiples come from; empty: the project's or code's own for all cables.
        question: What would settle it.
    """

    least_mm: float | None
    most_mm: float | None
    words: str
    source: str = ""
    question: str = ""


def need_of(cable: PlacedCable, radii: Table | None, multiple: Limit) -> Need:
    """What a cable needs.

    Args:
        cable: The cable; of a flat one the larger side counts.
        radii: Multiples by construction, with ``keys`` (patterns of the catalogue's, parted by spaces), ``service``, ``cores`` and bounds
            of the diameter and the conductor that a row is for; None: there is no table.
        multiple: The least for any cable.
    """
    size = cable.diameter_mm
    if size is None and cable.width_mm is not None:
        size = max(cable.width_mm, cable.height_mm or 0.0)
    if size is None:
        return Need(None, None, f"the size of {named(cable)} isn't known", question=f"the diameter of {named(cable)}")
    rows = [] if radii is None else _rows(cable, radii, size)
    factors = [float(row["multiple"]) for row in rows]
    if radii is not None and not rows:
        why = f"no table says how tightly {named(cable)} may be bent"
        return Need(multiple.value * size, None, why, question="")
    least, most = (max(pick(factors or [0.0]), multiple.value) for pick in (min, max))
    wanted = [row for row in rows if float(row["multiple"]) >= multiple.value]
    made = {row["construction"] for row in rows}
    what = "by the construction, which isn't known" if len(made) > 1 else next(iter(made), "as any cable")
    span = f"{least:g}" if least == most else f"{least:g} to {most:g}"
    return Need(
        least * size,
        most * size,
        f"{named(cable)} ({span} × {size:g} mm, {what})",
        source="; ".join(dict.fromkeys(row["source"] for row in wanted)),
        question=f"the construction of {named(cable)}",
    )


def _rows(cable: PlacedCable, radii: Table, size_mm: float) -> list[Mapping[str, str]]:
    """The rows of the constructions that a cable has or, if its key tells nothing, could have."""
    key = cable.key.lower()
    keyed = [row for row in radii.rows if any(fnmatchcase(key, pattern) for pattern in row["keys"].split())]
    rows = keyed or [row for row in radii.rows if _could_be(row, cable)]
    return [
        row
        for row in rows
        if _within(size_mm, row["over_mm"], row["to_mm"]) and _within(cable.csa_mm2, row["over_mm2"], row["to_mm2"])
    ]


def _could_be(row: Mapping[str, str], cable: PlacedCable) -> bool:
    """Whether a cable could be made so. Signals, too, go through data and fibre cables, if no cross-section says otherwise."""
    for_data = row["service"] == "data"
    if cable.service is Service.DATA:
        is_alike = for_data
    else:
        is_signal = cable.service not in POWER and cable.csa_mm2 is None and not cable.awg_kcmil
        is_alike = not for_data or cable.service is None or is_signal
    return is_alike and (not row["cores"] or cable.cores is None or number(row["cores"]) == cable.cores)


def _within(value: float | None, over: str, to: str) -> bool:
    """Whether a value lies in a row's bounds; one that isn't known could."""
    low, high = number(over), number(to)
    return value is None or ((low is None or value > low) and (high is None or value <= high))

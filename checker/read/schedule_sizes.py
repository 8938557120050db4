"""Sizes that a schedule gives its cables, held against the metal in them and against the table."""

import math
import re
from collections.abc import Iterable, Mapping, Sequence

from checker.model import Circuit, cable_area_mm2
from checker.read.cells import Row
from checker.read.project_cables import CableSpec, has_no_room
from checker.rule.catalogue import CableType
from checker.units import awg_area_mm2, awg_kcmil_name

#: The table and the schedule may round a diameter differently by this much.
AGREE_MM = 0.05
#: The source of a size that the schedule gives.
GIVEN = "schedule"
UNITS_OF_AWG = re.compile(r"#|AWG|kcmil|MCM|no\.", re.IGNORECASE)


def leaves_no_room(
    row: Row,
    known: CableType | CableSpec | None,
    csa_mm2: float | None,
    cores: int | None,
    sizes_mm: Sequence[float | None],
    least_mm: Sequence[float | None],
) -> bool:
    """Whether the size that a row gives is smaller than the metal in it, which is told.

    Which of the two is wrong isn't known, so of the conductors neither is believed but what the table says.
    """
    doubtful = "csa_mm2" if csa_mm2 is not None and (known is None or csa_mm2 != known.csa_mm2) else ""
    if known is not None and "csa_mm2" not in row.unread:
        csa_mm2 = known.csa_mm2 if csa_mm2 is None else csa_mm2
    if known is not None and "cores" not in row.unread:
        cores = known.cores if cores is None else cores
    if csa_mm2 is None and "csa_mm2" not in row.unread:
        said = awg_kcmil_name(UNITS_OF_AWG.sub("", row.text("awg_kcmil")))
        tabled = known.awg_kcmil if isinstance(known, CableType) else ""
        csa_mm2, doubtful = awg_area_mm2(said or tabled), "awg_kcmil" if said and said != tabled else ""
    metal_mm2 = None if csa_mm2 is None else csa_mm2 * (cores or 1)
    if not has_no_room(metal_mm2, sizes_mm, least_mm):
        return False
    column = "diameter_mm" if sizes_mm[0] is not None else "width_mm"
    what = f"{size_text(*sizes_mm, *least_mm)} has no room for the {metal_mm2:.4g} mm² of its conductors"
    if doubtful:
        row.unread.append(doubtful)
        hint = f"give its outside size in mm, not cm, and {doubtful} of one core"
        row.complain(column, what, "so neither is known", hint)
    else:
        row.leave_out(column, what, "give its outside size in mm, not cm")
    return True


def has_too_much_metal(
    row: Row,
    known: CableType | CableSpec | None,
    csa_mm2: float | None,
    cores: int | None,
    sizes_mm: Sequence[float | None],
    least_mm: Sequence[float | None],
) -> bool:
    """Whether a row gives a known cable of which no cross-section is tabled conductors that it has no room for, which is told."""
    if known is None or known.csa_mm2 is not None or csa_mm2 is None or "csa_mm2" in row.unread:
        return False
    said_cores = cores if cores is not None or "cores" in row.unread else known.cores
    metal_mm2 = csa_mm2 * (said_cores or 1)
    if not has_no_room(metal_mm2, sizes_mm, least_mm):
        return False
    what = f"{metal_mm2:.4g} mm² of conductors have no room in {known.key} of {size_text(*sizes_mm, *least_mm)}"
    row.leave_out("csa_mm2", what, "give the cross-section of one core in mm²")
    return True


def other_sizes(circuits: Iterable[Circuit], cables: Mapping[str, CableType | CableSpec]) -> dict[str, list[int]]:
    """Where the schedule gives known cables another size than the table, or a range without it; the schedule's is used.

    Returns:
        What is to be said of it, once for each cable and size, with the rows.
    """
    told: dict[str, list[int]] = {}
    for cable in (cable for circuit in circuits for cable in circuit.cables):
        known = cables.get(cable.key.lower()) if cable.source == GIVEN else None
        if known is None:
            continue
        sizes = (cable.diameter_mm, cable.width_mm, cable.height_mm)
        least = (cable.diameter_least_mm, cable.width_least_mm, cable.height_least_mm)
        thin = (size if lower is None else lower for size, lower in zip(sizes, least, strict=True))
        tabled = cable_area_mm2(known.diameter_mm, known.width_mm, known.height_mm)
        least_mm2, most_mm2 = cable_area_mm2(*thin), cable_area_mm2(*sizes)
        if tabled is None or least_mm2 is None or most_mm2 is None:
            continue
        if math.sqrt(least_mm2) - AGREE_MM <= math.sqrt(tabled) <= math.sqrt(most_mm2) + AGREE_MM:
            continue
        size = size_text(known.diameter_mm, known.width_mm, known.height_mm)
        what = f"{size_text(*sizes, *least)} is given for {known.key}, in the table it is {size}"
        told.setdefault(what, []).append(cable.row)
    return told


def size_text(
    diameter: float | None, width: float | None, height: float | None,
    least: float | None = None, width_least: float | None = None, height_least: float | None = None,
) -> str:  # fmt: skip
    """A size in mm as it is told, with both ends of what is a range."""
    if diameter is not None:
        return f"{_span(diameter, least)} mm"
    return f"{_span(width, width_least)} × {_span(height, height_least)} mm"


def _span(most: float | None, least: float | None) -> str:
    return f"{most:g}" if least is None else f"{least:g} to {most:g}"

"""What NFPA 70 392.22 asks about the cables of a tray: of which sort and size they are. Unknown is None."""

from dataclasses import dataclass

from checker.model import LoadedCompartment, PlacedCable, Service
from checker.units import awg_area_mm2, circle_area_mm2

#: Conductor sizes at which the clauses divide, in mm², as NFPA 70 Chapter 9 Table 8 prints them: 4 AWG, 4/0 AWG, 250 and 1000 kcmil.
FROM_4_AWG, FROM_4_0, FROM_250, FROM_1000 = 21.15, 107.2, 127.0, 507.0
#: The printed areas are rounded: 250 kcmil is 126.68 mm² and printed as 127.
SIZE_EXACTLY = 0.005
SIGNALS = {Service.CONTROL, Service.DATA, Service.FIRE_ALARM}
#: Extra-low voltage may be light or power, or a signal: it isn't told.
UNTOLD = {None, Service.ELV}
#: 392.22(A) and (B) end here; (C) has cables of more.
HIGHEST_V = 2000.0


@dataclass(frozen=True, slots=True)
class Row:
    """Cables of one row, all together.

    ``area_mm2``: a flat one as the circle on its major axis; ``across_mm``: side by side, the least that it can be where
    ``is_across_known`` is false. ``size_mm2``: of a conductor. ``is_large``: 4/0 AWG or larger. ``is_signal``: control or signal, not
    power or light.
    """

    name: str
    number: int
    area_mm2: float
    across_mm: float
    is_across_known: bool
    size_mm2: float | None
    is_large: bool | None
    is_signal: bool | None


@dataclass(frozen=True, slots=True)
class Sorted:
    """The cables of a tray by what the clause says of them.

    ``odd``: reasons why some are of no known sort. ``barred``: the single conductors that no tray may hold. ``assumed``: those of unknown
    size and number of cores. ``has_no_voltage``: whether one that may be for power has none given. ``is_open``: whether others may lie
    with them, or some of them may not be there.
    """

    multi: tuple[Row, ...]
    single: tuple[Row, ...]
    odd: tuple[str, ...]
    barred: tuple[str, ...]
    assumed: tuple[str, ...]
    has_no_voltage: bool
    is_open: bool


def sort(subject: LoadedCompartment, single_least_mm2: float) -> Sorted:
    """Sorts the cables of a compartment.

    Args:
        subject: The compartment.
        single_least_mm2: The smallest single conductor that may lie in a tray.
    """
    multi, single, odd, barred, assumed = [], [], [], [], []
    for cable in subject.cables:
        if not cable.count:
            continue
        row = _row(cable, cable.count)
        given = row.size_mm2 is not None or bool(cable.awg_kcmil)
        if max(cable.rated_voltage_v or 0.0, cable.voltage_v or 0.0) > HIGHEST_V:
            odd.append(f"{row.name} is for more than {HIGHEST_V:g} V, which 392.22(C) speaks of")
        elif cable.service is Service.DATA or (cable.cores or 0) > 1:
            multi.append(row)
        elif cable.cores is None and given:
            odd.append(f"whether {row.name} is a single conductor isn't known, as its number of cores isn't given")
        elif cable.cores is None:
            multi.append(row)
            assumed.append(row.name)
        elif row.size_mm2 is None:
            odd.append(f"the conductor size of {row.name} isn't known")
        elif is_at_least(row, single_least_mm2):
            single.append(row)
        elif is_at_least(row, FROM_4_AWG):
            odd.append(
                f"{row.name}, a single conductor of less than {single_least_mm2:g} mm², may only be for equipment grounding"
            )
        else:
            barred.append(row.name)
    number = sum(cable.count or 0 for cable in subject.cables)
    other = subject.fewest if subject.is_strict else subject.most
    uncounted = any(not cable.count for cable in subject.cables)
    is_open = other not in {None, number} or uncounted or bool(odd)
    has_no_voltage = any(
        cable.rated_voltage_v is None and cable.voltage_v is None and cable.service not in SIGNALS
        for cable in subject.cables
    )
    return Sorted(tuple(multi), tuple(single), _once(odd), _once(barred), _once(assumed), has_no_voltage, is_open)


def is_at_least(row: Row, least_mm2: float) -> bool:
    """Whether a row's conductors, of a known size, are of a printed size or larger."""
    return (row.size_mm2 or 0.0) >= least_mm2 * (1.0 - SIZE_EXACTLY)


def _row(cable: PlacedCable, count: int) -> Row:
    area = circle_area_mm2(cable.width_mm) if cable.width_mm is not None else cable.area_mm2 or 0.0
    across = cable.thickness_mm
    size = awg_area_mm2(cable.awg_kcmil) if cable.awg_kcmil.strip() else cable.csa_mm2
    is_large = None if size is None else size >= FROM_4_0 * (1.0 - SIZE_EXACTLY)
    if cable.service is Service.DATA:
        is_large = False  # no data cable has such conductors
    return Row(
        name=cable.key or cable.circuit,
        number=count,
        area_mm2=count * area,
        # of all shapes of an area, and of all numbers of cables that have it together, one circle is the least wide
        across_mm=count * (across if across is not None else 2.0 * (area / circle_area_mm2(2.0)) ** 0.5),
        is_across_known=across is not None or area == 0.0,
        size_mm2=size,
        is_large=is_large,
        is_signal=None if cable.service in UNTOLD else cable.service in SIGNALS,
    )


def _once(names: list[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(names))

"""Inside sizes of compartments: nominal outside less walls and dividers, by the model, the project or the code's tables.

Where no wall is known there are two readings, with none and with the thickest plausible one; rules are asked about both.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from checker.model import Carrier, CarrierKind, LoadedCompartment, Section
from checker.model.words import material_word
from checker.rule.code import Sizes
from checker.rule.table import number
from checker.units import circle_area_mm2

#: Widths are given rounded: together they may be this much over.
AGREE_MM = 1.0
OPEN = {CarrierKind.TRAY, CarrierKind.LADDER}
#: Up to this outside diameter the code's thickest wall holds; beyond it nothing is assumed.
LARGEST_CONDUIT_MM = 63.0


@dataclass(frozen=True, slots=True)
class Inside:
    """The inside of one compartment. ``area_least_mm2`` None: the same as ``area_mm2``. ``doubt``: why there are two readings.

    ``side_least_mm`` is the smaller dimension in the smaller reading, ``width_least_mm`` the width in it. ``bore_tolerance_mm``: by how
    much the standard of the code's table lets the bore be smaller or larger; None: not known.
    """

    width_mm: float | None = None
    height_mm: float | None = None
    bore_mm: float | None = None
    area_mm2: float | None = None
    area_least_mm2: float | None = None
    doubt: str = ""
    source: str = ""
    side_least_mm: float | None = None
    width_least_mm: float | None = None
    bore_tolerance_mm: float | None = None

    @property
    def side_mm(self) -> float | None:
        """The smaller inside dimension."""
        return None if self.width_mm is None or self.height_mm is None else min(self.width_mm, self.height_mm)


def insides(carrier: Carrier, sizes: Sizes) -> tuple[Inside, ...]:
    """The inside of each of a carrier's compartments, in their order."""
    section = carrier.section
    if section.is_round:
        return (_bore(carrier, sizes),) if len(section.lanes) == 1 else tuple(Inside() for _ in section.lanes)
    is_open = carrier.kind in OPEN
    height = section.usable_depth_mm if is_open and section.height_mm is None else section.height_mm
    if section.width_mm is None or lanes_too_wide(carrier, sizes):
        return tuple(Inside() for _ in section.lanes)
    if is_open:
        return _open(carrier, sizes) if height is not None else _flat(carrier, sizes)
    if height is None:
        return tuple(Inside() for _ in section.lanes)
    span = wall_span(carrier, sizes)
    if span is not None:
        thin, thick = (
            _split(section, section.width_mm - 2 * wall, height - 2 * wall, wall, section.source) for wall in span
        )
        return _bounded(thin, thick, _wall_doubt(section, span, "the wall"))
    wall, source = section.wall_mm, section.source
    if wall is None:
        wall = _tabled_wall(carrier, sizes) or 0.0
        source = f"{source}; wall: the code's table"
    return _split(section, section.width_mm - 2 * wall, height - 2 * wall, wall, source)


def wall_span(carrier: Carrier, sizes: Sizes) -> tuple[float, float] | None:
    """Between what the wall, or the side of a tray, lies in mm; None: it is one figure, or the inside doesn't go by it."""
    section = carrier.section
    if section.wall_mm is not None or (section.is_round and section.bore_mm is not None):
        return None
    if carrier.kind in OPEN:
        if all(lane.width_mm is not None for lane in section.lanes):
            return None
        row = _open_row(carrier, sizes)
        thickest = float(row["wall_most_mm"]) if row is not None else sizes.thickest_wall_mm.value
    elif not section.is_round:
        thickest = sizes.thickest_wall_mm.value
    else:
        outside = section.outside_diameter_mm or 0.0
        thickest = sizes.thickest_conduit_wall_mm.value if outside <= LARGEST_CONDUIT_MM else outside / 2.0
    if section.wall_range_mm is not None:
        return section.wall_range_mm
    is_tabled = (
        _tabled_bore(carrier, sizes) is not None if section.is_round else _tabled_wall(carrier, sizes) is not None
    )
    return None if is_tabled else (0.0, thickest)


def depth_span(carrier: Carrier, sizes: Sizes) -> tuple[float, float] | None:
    """Between what the usable depth of a tray or ladder lies, in mm; None: it is one figure, or has none."""
    section = carrier.section
    if carrier.kind not in OPEN or section.usable_depth_mm is not None or section.height_mm is None:
        return None
    row = _open_row(carrier, sizes)
    less = float(row["depth_less_most_mm"]) if row is not None else section.height_mm
    return max(section.height_mm - less, 0.0), section.height_mm


def _wall_doubt(section: Section, span: tuple[float, float], what: str) -> str:
    if section.wall_range_mm is not None:
        return f"{what} is given as {span[0]:g} to {span[1]:g} mm"
    return f"{what} isn't known; it is taken between {span[0]:g} and {span[1]:g} mm"


def _open_row(carrier: Carrier, sizes: Sizes) -> Mapping[str, str] | None:
    return sizes.open_depths.find(kind=carrier.kind.value) if sizes.open_depths is not None else None


def empty_compartment(carrier: Carrier, number: int, inside: Inside) -> LoadedCompartment:
    """A compartment of that inside with nothing in it."""
    return LoadedCompartment(
        carrier=carrier,
        number=number,
        area_mm2=inside.area_mm2,
        area_least_mm2=inside.area_least_mm2,
        width_mm=inside.width_mm,
        width_least_mm=inside.width_least_mm,
        bore_mm=inside.bore_mm,
        side_mm=inside.side_mm,
        side_least_mm=inside.side_least_mm,
        size_doubt=inside.doubt,
        bore_tolerance_mm=inside.bore_tolerance_mm,
    )


def lanes_too_wide(carrier: Carrier, sizes: Sizes) -> bool:
    """Whether the widths that the project gives a carrier's compartments don't go into it."""
    section = carrier.section
    widths = [lane.width_mm for lane in section.lanes if lane.width_mm is not None]
    if not widths or section.width_mm is None:
        return False
    wall = section.wall_mm
    if wall is None and section.wall_range_mm is not None:
        wall = section.wall_range_mm[1]  # where they don't go in with the thickest, not every answer would be one
    if wall is None:
        wall = _tabled_wall(carrier, sizes) or 0.0
    dividers = (len(section.lanes) - 1) * (section.divider_mm if section.divider_mm is not None else wall)
    return sum(widths) + dividers > section.width_mm - 2 * wall + AGREE_MM


def _split(section: Section, width: float, height: float, divider: float, source: str) -> tuple[Inside, ...]:
    """Shares an inside among the lanes: as their widths say, else equally; a divider is as thick as the wall unless given."""
    count = len(section.lanes)
    thickness = section.divider_mm if section.divider_mm is not None else divider
    equal = (width - (count - 1) * thickness) / count
    lanes = []
    for lane in section.lanes:
        across = lane.width_mm if lane.width_mm is not None else equal
        area = across * height
        lanes.append(Inside(across, height, None, area, None, "", source) if across > 0 and height > 0 else Inside())
    return tuple(lanes)


def _bounded(most: tuple[Inside, ...], least: tuple[Inside, ...], doubt: str) -> tuple[Inside, ...]:
    return tuple(
        replace(
            large,
            area_least_mm2=small.area_mm2 or 0.0,
            side_least_mm=small.side_mm or 0.0,
            doubt=doubt,
            width_least_mm=small.width_mm or 0.0,
        )
        if large.area_mm2 is not None and large.area_mm2 != small.area_mm2
        else large
        for large, small in zip(most, least, strict=True)
    )


def _tabled_wall(carrier: Carrier, sizes: Sizes) -> float | None:
    """The wall of the code's table for that size and material."""
    material = material_word(carrier.material)
    if sizes.trunking_walls is None or not material or carrier.kind is not CarrierKind.TRUNKING:
        return None
    wanted = sorted((carrier.section.width_mm or 0.0, carrier.section.height_mm or 0.0))
    for row in sizes.trunking_walls.rows:
        if row["material"] == material and sorted((float(row["width_mm"]), float(row["height_mm"]))) == wanted:
            return float(row["wall_mm"])
    return None


def _open(carrier: Carrier, sizes: Sizes) -> tuple[Inside, ...]:
    """Trays and ladders: inside width by usable depth."""
    section = carrier.section
    width, depth = section.width_mm or 0.0, section.usable_depth_mm
    doubts = []
    walls, depths = wall_span(carrier, sizes), depth_span(carrier, sizes)
    if walls is not None:
        doubts.append(_wall_doubt(section, walls, "the sides' thickness"))
    if depths is not None:
        doubts.append(f"the usable depth isn't known; it is taken between {depths[0]:g} and {depths[1]:g} mm")
    wall, thick = walls if walls is not None else (section.wall_mm or 0.0,) * 2
    depth_least, depth = depths if depths is not None else (depth or 0.0,) * 2
    most = _split(section, width - 2 * wall, depth, wall, section.source)
    least = _split(section, width - 2 * thick, depth_least, thick, "")
    return _bounded(most, least, "; ".join(doubts)) if doubts else most


def _flat(carrier: Carrier, sizes: Sizes) -> tuple[Inside, ...]:
    """Trays and ladders of which no depth is known: their widths alone, which say whether cables go into one layer."""
    deep = _open(replace(carrier, section=replace(carrier.section, height_mm=1.0, usable_depth_mm=1.0)), sizes)
    return tuple(Inside(width_mm=lane.width_mm, width_least_mm=lane.width_least_mm) for lane in deep)


def _bore(carrier: Carrier, sizes: Sizes) -> Inside:
    """The inside of a round carrier."""
    section = carrier.section
    outside = section.outside_diameter_mm
    if section.bore_mm is not None:
        return _round(section.bore_mm, section.source, section.inside_area_mm2)
    if outside is None:
        return Inside()
    if section.wall_mm is not None:
        return _round(outside - 2 * section.wall_mm, section.source)
    span = wall_span(carrier, sizes)
    if span is None:
        row = _tabled_bore(carrier, sizes)
        bore, tolerance = (
            (0.0, None) if row is None else (float(row["bore_mm"]), number(row.get("wall_tolerance_mm", "")))
        )
        inside = _round(bore, f"{section.source}; wall: the code's table")
        return inside if tolerance is None else replace(inside, bore_tolerance_mm=2 * tolerance)
    most, least = (_round(outside - 2 * wall, section.source) for wall in span)
    return _bounded((most,), (least,), _wall_doubt(section, span, "the wall"))[0]


def _tabled_bore(carrier: Carrier, sizes: Sizes) -> Mapping[str, str] | None:
    """The row of the code's table of bores for that outside diameter and material."""
    material = material_word(carrier.material)
    if sizes.conduit_bores is not None and material:
        for row in sizes.conduit_bores.rows:
            if row["material"] == material and float(row["outside_diameter_mm"]) == carrier.section.outside_diameter_mm:
                return row
    return None


def _round(bore: float, source: str, area_mm2: float | None = None) -> Inside:
    if bore <= 0.0:
        return Inside()
    return Inside(bore, bore, bore, area_mm2 if area_mm2 is not None else circle_area_mm2(bore), None, "", source)

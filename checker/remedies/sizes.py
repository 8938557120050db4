"""The next standard sizes of a carrier, and its section with one of them."""

from collections.abc import Iterable
from dataclasses import replace

from checker.model import Carrier, Lane, Section
from checker.model.words import material_word
from checker.rule.catalogue import CarrierType

#: Sizes that differ by less are the same one.
SAME_MM = 0.1
#: Widths of compartments are rounded down to this.
ROUNDED_MM = 0.1


def larger_sizes(carrier: Carrier, catalogue: Iterable[CarrierType]) -> list[CarrierType]:
    """Larger standard carriers, the smallest first: of its family where its size tells that, else of its kind and material.

    Of several families that have its size it is the one whose noun is in its name or its type's, as a basket.

    Args:
        carrier: The one that is too small.
        catalogue: All standard carriers.
    """
    material = material_word(carrier.material)
    alike = [
        item
        for item in catalogue
        if item.kind == carrier.kind.value and (not material or material_word(item.material) == material)
    ]
    named = {item.family for item in alike if f"catalogue {item.key} by its name" in carrier.section.source}
    families = named or {item.family for item in alike if _is_of_size(carrier.section, item)}
    if len(families) > 1:
        called = f"{carrier.type_name} {carrier.place.name}".casefold()
        families = {family for family in families if (noun := _noun(family)) and noun in called} or families
    if len(families) == 1:
        alike = [item for item in alike if item.family in families]
    elif not material:
        return []
    larger = [item for item in alike if _is_larger(item, carrier.section)]
    return sorted(larger, key=lambda item: (_area(item), item.width_mm or 0.0, item.key))


def _noun(family: str) -> str:
    """What a family is, without what sort of it: of ``perforated tray, European`` the tray."""
    words = family.partition(",")[0].partition("(")[0].split()
    return words[-1].casefold() if words else ""


def _is_of_size(section: Section, item: CarrierType) -> bool:
    if section.is_round:
        if section.outside_diameter_mm is None:
            return _same(section.bore_mm, item.inside_diameter_mm)
        is_wall_same = section.wall_mm is None or _same(section.wall_mm, item.wall_mm)
        return _same(section.outside_diameter_mm, item.width_mm) and is_wall_same
    own = sorted(side for side in (section.width_mm, section.height_mm) if side is not None)
    others = sorted(side for side in (item.width_mm, item.height_mm) if side is not None)
    return len(own) == len(others) == 2 and all(_same(a, b) for a, b in zip(own, others, strict=True))


def _same(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and abs(one - other) < SAME_MM


def _is_larger(item: CarrierType, section: Section) -> bool:
    """Whether no side is smaller and one is larger; of round ones by what is known of both."""
    if section.is_round:
        own, other = section.outside_diameter_mm, item.width_mm
        if own is None or (section.wall_mm is None and section.bore_mm is not None):
            own, other = section.bore_mm, item.inside_diameter_mm
        return own is not None and other is not None and other > own + SAME_MM
    sides = _turned(item, section)
    if section.width_mm is None or section.height_mm is None or sides is None:
        return False
    more = (sides[0] - section.width_mm, sides[1] - section.height_mm)
    return min(more) > -SAME_MM and max(more) > SAME_MM


def _turned(item: CarrierType, section: Section) -> tuple[float, float] | None:
    """Width and height of a standard carrier as it lies there: upright where the other one stands so."""
    if item.width_mm is None or item.height_mm is None:
        return None
    sides = (item.width_mm, item.height_mm)
    stands = (section.width_mm or 0.0) < (section.height_mm or 0.0)
    return (min(sides), max(sides)) if stands else sides


def _area(item: CarrierType) -> float:
    width = item.width_mm if item.width_mm is not None else item.inside_diameter_mm or 0.0
    return width * (item.height_mm if item.height_mm is not None else width)


def with_size(section: Section, item: CarrierType, compartment: int | None) -> Section | None:
    """A section with a standard size, as it would be read; None where its compartments don't go into it.

    Compartments that share equally go on to do so. Of such as have widths the one that is too small gets what there is more.

    Args:
        section: As it is.
        item: The larger carrier.
        compartment: Number of the one that is too small; None: the first.
    """
    source = f"catalogue {item.key}; {item.source}"
    sized = replace(section, wall_mm=item.wall_mm, wall_range_mm=None, source=source)
    if section.is_round:
        has_wall = item.width_mm is not None and item.wall_mm is not None
        return replace(
            sized,
            outside_diameter_mm=item.width_mm,
            bore_mm=None if has_wall else item.inside_diameter_mm,
            inside_area_mm2=item.inside_area_mm2,
        )
    sides = _turned(item, section)
    if sides is None:
        return None
    sized = replace(sized, width_mm=sides[0], height_mm=sides[1], usable_depth_mm=item.usable_depth_mm)
    widened = _widened(section, sized, compartment or 1)
    return None if widened is None else replace(sized, lanes=widened)


def _widened(section: Section, sized: Section, number: int) -> tuple[Lane, ...] | None:
    """The compartments of the larger section; None where nothing tells how wide they would be."""
    lanes = section.lanes
    widths = [lane.width_mm for lane in lanes]
    if all(width is None for width in widths):
        return lanes
    if sized.wall_mm is None or not 1 <= number <= len(lanes) or any(width is None for width in widths):
        return None
    divider = section.divider_mm if section.divider_mm is not None else sized.wall_mm
    inside = (sized.width_mm or 0.0) - 2.0 * sized.wall_mm - (len(lanes) - 1) * divider
    others = sum(lane.width_mm or 0.0 for lane in lanes if lane.number != number)
    own = (inside - others + 1e-6) // ROUNDED_MM * ROUNDED_MM
    if own < (lanes[number - 1].width_mm or 0.0) - SAME_MM:
        return None
    return tuple(replace(lane, width_mm=round(own, 1)) if lane.number == number else lane for lane in lanes)

"""Resolves a carrier's cross-section: from properties, then from the profile of its body, each figure with its source."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from checker.model import CarrierKind, Lane, Section
from checker.read import names
from checker.read.project import MOST_COMPARTMENTS, TypeSpec
from checker.read.shapes import Sweep

#: Sizes from properties and from the shape may differ by this much before it is called a disagreement.
AGREE_MM = 1.0
#: No carrier is narrower or wider than this; a figure beyond is in another unit, or a mistake.
LEAST_MM, MOST_MM = 4.0, 3000.0


@dataclass(frozen=True, slots=True)
class Sized:
    """A section, and what in the sources of its figures doesn't agree or can't be."""

    section: Section
    disagreements: tuple[str, ...] = ()


def resolve_section(
    kind: CarrierKind, sets: Mapping[str, Mapping[str, Any]], sweep: Sweep | None, spec: TypeSpec | None, mm: float
) -> Sized:
    """The section of a carrier.

    Args:
        kind: What sort of carrier it is.
        sets: Its property sets.
        sweep: Its body's sweep, already turned so that it runs along the carrier; in the file's unit.
        spec: What the project file says of its type.
        mm: Millimetres in one unit of the file.
    """
    disagreements: list[str] = []
    width, width_from = _property(sets, names.WIDTH, mm, disagreements)
    height, height_from = _property(sets, names.HEIGHT, mm, disagreements)
    diameter, diameter_from = _property(sets, names.DIAMETER, mm, disagreements)
    shape = _shape_sizes(sweep, mm, disagreements)
    is_round = (
        kind is CarrierKind.CONDUIT or diameter is not None or (width is None and shape.get("diameter") is not None)
    )
    if is_round and diameter is None and width is not None and height in {None, width}:
        diameter, diameter_from = width, width_from
    sources: list[str] = []
    if is_round and (diameter is not None or shape.get("diameter") is not None):
        diameter = _settle("diameter", diameter, diameter_from, shape.get("diameter"), sources, disagreements)
        width = height = None
    else:
        diameter = None
        width = _settle("width", width, width_from, shape.get("width"), sources, disagreements)
        height = _settle("height", height, height_from, shape.get("height"), sources, disagreements)
    if {width, height} == {shape.get("width"), shape.get("height")}:
        disagreements = [
            text for text in disagreements if "profile; the property" not in text
        ]  # the same, named the other way round
    wall = shape.get("wall")
    if wall is not None:
        sources.append("wall: profile")
    elif spec is not None and spec.wall_mm is not None:
        wall = spec.wall_mm
        sources.append("wall: project file")
    depth = spec.usable_depth_mm if spec is not None else None
    if depth is not None:
        sources.append("usable depth: project file")
    elif kind in {CarrierKind.TRAY, CarrierKind.LADDER} and shape.get("base") is not None and height is not None:
        depth = height - shape["base"]
        sources.append("usable depth: side height less base, profile")
    lanes = _lanes(sets, spec, sources, disagreements)
    if not lanes:  # how it is divided can't be read, so neither can what is inside
        return Sized(Section(), tuple(disagreements))
    section = Section(
        width_mm=width,
        height_mm=height,
        outside_diameter_mm=diameter,
        wall_mm=wall,
        divider_mm=spec.divider_mm if spec is not None else None,
        usable_depth_mm=depth,
        lanes=lanes,
        source="; ".join(sources) if (width and height) or diameter else "",
    )
    return Sized(section, tuple(disagreements))


def _property(
    sets: Mapping[str, Mapping[str, Any]], name: str, mm: float, disagreements: list[str]
) -> tuple[float | None, str]:
    """A size from the standard sets, in mm. One that no carrier has is left out, and that is said."""
    for set_name in names.SIZE_SETS:
        value = sets.get(set_name, {}).get(name)
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            if LEAST_MM <= value * mm <= MOST_MM:
                return float(value) * mm, f"property {name}"
            disagreements.append(f"property {name} is {value * mm:g} mm, which no carrier is; it is left out")
    return None, ""


def _shape_sizes(sweep: Sweep | None, mm: float, disagreements: list[str]) -> dict[str, float]:
    """Sizes from the profile, in mm, those left out that no carrier has."""
    if sweep is None:
        return {}
    known = {"width": sweep.width, "height": sweep.height, "diameter": sweep.diameter}
    sizes = {}
    for name, value in known.items():
        if value and LEAST_MM <= value * mm <= MOST_MM:
            sizes[name] = value * mm
        elif value:
            disagreements.append(f"{name} is {value * mm:g} mm by its profile, which no carrier is; it is left out")
    inside = min(sizes.values(), default=0.0) / 2.0
    for name, thin in (("wall", sweep.wall), ("base", sweep.base)):
        if thin and 0.0 < thin * mm < inside:
            sizes[name] = thin * mm
    return sizes


def _settle(
    what: str,
    declared: float | None,
    declared_from: str,
    shaped: float | None,
    sources: list[str],
    disagreements: list[str],
) -> float | None:
    """A property before the profile; where both are there and differ, that is said."""
    if declared is None:
        if shaped is not None:
            sources.append(f"{what}: profile")
        return shaped
    sources.append(f"{what}: {declared_from}")
    if shaped is not None and abs(shaped - declared) > AGREE_MM:
        disagreements.append(
            f"{what} is {declared:g} mm by {declared_from} and {shaped:g} mm by its profile; the property is used"
        )
    return declared


def _lanes(
    sets: Mapping[str, Mapping[str, Any]], spec: TypeSpec | None, sources: list[str], disagreements: list[str]
) -> tuple[Lane, ...]:
    """The lanes; none where a number of compartments is given that can't be one."""
    if spec is not None and spec.compartments:
        sources.append("compartments: project file")
        return tuple(
            Lane(number, lane.width_mm, None if lane.services is None else frozenset(lane.services))
            for number, lane in enumerate(spec.compartments, start=1)
        )
    count: Any = spec.count if spec is not None else None
    if count is not None:
        sources.append("compartments: project file")
    else:
        given = (sets[name][names.COMPARTMENTS] for name in names.SIZE_SETS if names.COMPARTMENTS in sets.get(name, {}))
        count = next(given, None)
        if count is not None:
            sources.append(f"compartments: property {names.COMPARTMENTS}")
    if count is None:
        return (Lane(1),)
    if not isinstance(count, (int, float)) or count != int(count) or not 1 <= count <= MOST_COMPARTMENTS:
        disagreements.append(f"the number of compartments is {count!r}, which can't be; its inside isn't known")
        return ()
    return tuple(Lane(number) for number in range(1, int(count) + 1))

"""Resolves a carrier's cross-section: each figure from the first source that has one, with that source and how sure it is."""

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model import CarrierKind, Confidence, Lane, ProblemKind, Section
from checker.read import names
from checker.read.figures import (
    Figure,
    Figures,
    Said,
    from_defaults,
    from_names,
    from_shape,
)
from checker.read.mapping import PropertySpec, Quantity
from checker.read.profiles import Profile
from checker.read.project import MOST_COMPARTMENTS, TypeSpec
from checker.read.properties import Held, Value
from checker.read.property_figures import from_properties, matching
from checker.read.shapes import Sweep
from checker.read.size_words import trade_size_of
from checker.read.words import first_meaning
from checker.rule.catalogue import CarrierType

#: Sizes from two sources may differ by this much before it is called a disagreement.
AGREE_MM = 1.0
#: What a conduit may measure outside, or be called in inches, over its inside (NFPA 70 Chapter 9 Table 4: 1/2 in EMT is 12.7 to 15.8, and
#: 1/2 in rigid steel of 21.3 mm outside is 16.1), with some room.
LEAST_OVER_BORE, MOST_OVER_BORE = 0.75, 1.45
ORDER = (Confidence.HIGH, Confidence.MEDIUM, Confidence.LOW)
Q = Quantity


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that may tell a carrier's section.

    Attributes:
        kind: What sort of carrier it is.
        held: Its property values, those that hold first.
        profile: The profile of its material, in the file's unit.
        sweep: Its body's sweep, already turned so that it runs along the carrier; in the file's unit.
        spec: What the project file says of its type.
        texts: Its names, the most particular first.
        file_mm: Millimetres in one unit of the file.
    """

    kind: CarrierKind
    held: Sequence[Held] = ()
    profile: Profile | None = None
    sweep: Sweep | None = None
    spec: TypeSpec | None = None
    texts: Sequence[str] = ()
    file_mm: float = 1.0


@dataclass(frozen=True, slots=True)
class Sized:
    """A section, a length that properties give (mm; None: they don't), and what is to be said of the figures."""

    section: Section
    length_mm: float | None = None
    said: tuple[Said, ...] = ()


def resolve_section(
    seen: Evidence, mapped: Mapping[Quantity, Sequence[PropertySpec]], catalogue: Sequence[CarrierType] = ()
) -> Sized:
    """The section of a carrier.

    Args:
        seen: What may tell it.
        mapped: The project's entries by quantity.
        catalogue: Carriers whose inside goes by a family and a trade size.
    """
    figures = Figures(seen.kind, seen.file_mm)
    from_properties(figures, seen.held, mapped)
    figures.stage += 1
    if seen.profile is not None:
        _from_material(figures, seen.profile)
    figures.stage += 1
    from_shape(figures, seen.sweep)
    figures.stage += 1
    from_defaults(figures, seen.spec)
    figures.stage += 1
    from_names(figures, seen.texts)
    length = figures.first(Q.LENGTH)
    traded = _traded(seen, figures, catalogue)
    chosen = traded or _chosen(figures)
    wall, divider = figures.first(Q.WALL), figures.first(Q.DIVIDER)
    depth = figures.first(Q.USABLE_DEPTH)
    if seen.spec is not None and seen.spec.usable_depth_mm is not None:
        depth = Figure(seen.spec.usable_depth_mm, "project file")
    _tell_differences(figures, chosen)
    lanes, lanes_from = _lanes(seen, mapped, figures)
    if not lanes:  # how it is divided can't be read, so neither can what is inside
        return Sized(Section(), length.value_mm if length else None, tuple(figures.said))
    is_known = (Q.WIDTH in chosen and Q.HEIGHT in chosen) or Q.DIAMETER in chosen or Q.BORE in chosen
    parts = {quantity.value: figure for quantity, figure in chosen.items()}
    beside = {"wall": wall if chosen.keys() != {Q.BORE} else None, "usable depth": depth}
    parts |= {name: figure for name, figure in beside.items() if figure is not None}
    told = [f"{name}: {figure.source}" for name, figure in parts.items()] + ([lanes_from] if lanes_from else [])
    section = Section(
        width_mm=_value(chosen.get(Q.WIDTH)),
        height_mm=_value(chosen.get(Q.HEIGHT)),
        outside_diameter_mm=_value(chosen.get(Q.DIAMETER)),
        bore_mm=_value(chosen.get(Q.BORE)),
        inside_area_mm2=_traded_area(seen, catalogue) if traded else None,
        wall_mm=_value(wall),
        divider_mm=_value(divider),
        usable_depth_mm=_value(depth),
        lanes=lanes,
        source="; ".join(told) if is_known else "",
        confidence=max((figure.confidence for figure in parts.values()), key=ORDER.index, default=Confidence.HIGH),
    )
    return Sized(section, length.value_mm if length else None, tuple(figures.said))


def _value(figure: Figure | None) -> float | None:
    return None if figure is None else figure.value_mm


def _from_material(figures: Figures, profile: Profile) -> None:
    """Sizes of the profile that its material names."""
    given = (
        (Q.WIDTH, profile.width),
        (Q.HEIGHT, profile.height),
        (Q.DIAMETER, profile.diameter),
        (Q.WALL, profile.wall),
    )
    for quantity, value in given:
        if value:
            figures.take(quantity, value, "material profile")


def _chosen(figures: Figures) -> dict[Quantity, Figure]:
    """Width and height, or outside diameter and bore: whichever the believed figures are of."""
    width, height = figures.first(Q.WIDTH), figures.first(Q.HEIGHT)
    diameter, bore = figures.first(Q.DIAMETER), figures.first(Q.BORE)
    is_conduit = figures.kind is CarrierKind.CONDUIT
    if is_conduit and width is not None and (height is None or height.value_mm == width.value_mm):
        # a conduit's nominal width is its outside diameter
        diameter = width if diameter is None or width.stage < diameter.stage else diameter
    is_round = is_conduit or width is None or (diameter is not None and diameter.stage <= width.stage)
    if is_round and (diameter is not None or bore is not None):
        pairs = ((Q.DIAMETER, diameter), (Q.BORE, bore))
    else:
        pairs = ((Q.WIDTH, width), (Q.HEIGHT, height))
    return {quantity: figure for quantity, figure in pairs if figure is not None}


def _tell_differences(figures: Figures, chosen: Mapping[Quantity, Figure]) -> None:
    """Says where another source differs from the one that is used. The same two sizes named the other way round are no difference."""
    pair = {figure.value_mm for quantity, figure in chosen.items() if quantity in {Q.WIDTH, Q.HEIGHT}}
    others: dict[int, set[float]] = {}
    for quantity in (Q.WIDTH, Q.HEIGHT):
        for figure in figures.by.get(quantity, ()):
            others.setdefault(figure.stage, set()).add(figure.value_mm)
    for quantity, used in chosen.items():
        also = figures.by.get(Q.WIDTH, []) if quantity is Q.DIAMETER and figures.kind is CarrierKind.CONDUIT else []
        for other in (*figures.by.get(quantity, ()), *also):
            swapped = quantity in {Q.WIDTH, Q.HEIGHT} and others.get(other.stage) == pair
            guessed = other.confidence is Confidence.LOW and quantity in {Q.DIAMETER, Q.BORE}
            differs = abs(other.value_mm - used.value_mm) > max(AGREE_MM, 0.01 * used.value_mm)
            if differs and not swapped and not guessed:
                what = f"{quantity.value} is {used.value_mm:g} mm by its {used.source} and {other.value_mm:g} mm by its {other.source}"
                figures.said.append(Said(ProblemKind.ASSUMPTION, f"{what}; the former is used", "the model contradicts itself, or is wrong",
                                         "mend the model"))  # fmt: skip
                break


def _traded(seen: Evidence, figures: Figures, catalogue: Sequence[CarrierType]) -> dict[Quantity, Figure] | None:
    """The bore of a conduit whose name gives a family and a trade size; None where sizes are known otherwise, or the name tells less."""
    if seen.kind is not CarrierKind.CONDUIT or figures.first(Q.BORE) is not None:
        return None
    given = (figures.first(quantity) for quantity in (Q.DIAMETER, Q.WIDTH))
    better = next((figure for figure in given if figure is not None and figure.confidence is not Confidence.LOW), None)
    if better is not None and figures.first(Q.WALL) is not None:
        return None
    item = _catalogued(seen, catalogue)
    if item is None or item.inside_diameter_mm is None:
        return None
    if better is not None and not LEAST_OVER_BORE <= better.value_mm / item.inside_diameter_mm <= MOST_OVER_BORE:
        what = f"its name says {item.key}, but it is {better.value_mm:g} mm by its {better.source}, which is used"
        figures.said.append(
            Said(ProblemKind.ASSUMPTION, what, "the model contradicts itself, or is wrong", "mend the model")
        )
        return None
    source = f"catalogue {item.key} by its name; {item.source}"
    return {Q.BORE: Figure(item.inside_diameter_mm, source, Confidence.LOW)}


def _traded_area(seen: Evidence, catalogue: Sequence[CarrierType]) -> float | None:
    item = _catalogued(seen, catalogue)
    return None if item is None else item.inside_area_mm2


def _catalogued(seen: Evidence, catalogue: Sequence[CarrierType]) -> CarrierType | None:
    """The one carrier of the catalogue whose family and trade size the names give. Its key begins with its family."""
    size = next((size for text in seen.texts if (size := trade_size_of(text)) is not None), None)
    family = first_meaning("family", seen.texts)
    if size is None or family is None:
        return None
    found = [
        item
        for item in catalogue
        if item.kind == seen.kind.value and item.trade_size == size and item.key.startswith(f"{family[0]}-")
    ]
    return found[0] if len(found) == 1 else None


def _lanes(
    seen: Evidence, mapped: Mapping[Quantity, Sequence[PropertySpec]], figures: Figures
) -> tuple[tuple[Lane, ...], str]:
    """The lanes and where they are from; no lanes where a number of compartments is given that can't be one."""
    spec = seen.spec
    if spec is not None and spec.compartments:
        lanes = (
            Lane(number, lane.width_mm, None if lane.services is None else frozenset(lane.services))
            for number, lane in enumerate(spec.compartments, start=1)
        )
        return tuple(lanes), "compartments: project file"
    if spec is not None and spec.count is not None:
        return tuple(Lane(number) for number in range(1, spec.count + 1)), "compartments: project file"
    name = names.SIZE_PROPERTIES[Q.COMPARTMENTS]
    given = [
        (item.value, f"property {name}") for item in seen.held if item.name == name and item.set_name in names.SIZE_SETS
    ]
    given += [
        (item.value, f"property {item.name}, by wayroom.toml")
        for _, item in matching(seen.held, mapped.get(Q.COMPARTMENTS, ()))
    ]
    if not given:
        return (Lane(1),), ""
    value, source = given[0]
    lanes_read = _lanes_of(value)
    if not lanes_read:
        figures.said.append(Said(ProblemKind.GAP, f"the number of compartments is {value!r}, which can't be; its inside isn't known",
                                 "it is out of range, or no number", "mend the model"))  # fmt: skip
    return lanes_read, f"compartments: {source}"


def _lanes_of(value: Value) -> tuple[Lane, ...]:
    """Lanes of a count, or of a list of widths in mm ("92/46/80.6")."""
    if isinstance(value, str):
        numbers = re.split(r"\s*[/;+|]\s*", value.strip())
        if not all(re.fullmatch(r"\d{1,4}([.,]\d{1,3})?", text) for text in numbers):
            return ()
        widths = [float(text.replace(",", ".")) for text in numbers]
        if len(widths) > 1:
            return (
                tuple(Lane(n, width) for n, width in enumerate(widths, start=1)) if all(w > 0 for w in widths) else ()
            )
        value = widths[0]
    if (
        isinstance(value, bool)
        or not math.isfinite(value)
        or value != int(value)
        or not 1 <= value <= MOST_COMPARTMENTS
    ):
        return ()
    return tuple(Lane(number) for number in range(1, int(value) + 1))

"""Resolves a carrier's cross-section: each figure from the first source that has one, with that source and how sure it is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model import CarrierKind, Confidence, ProblemKind, Section
from checker.read import figures_of_types as of_types
from checker.read.figures import (
    Figure,
    Figures,
    Said,
    from_defaults,
    from_names,
    from_shape,
    unusual,
)
from checker.read.lanes import lanes_of
from checker.read.mapping import PropertySpec, Quantity
from checker.read.profiles import Profile
from checker.read.project import TypeSpec
from checker.read.properties import Held
from checker.read.property_figures import from_properties
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
    """A section, a length that properties give (mm; None: they don't), and what is to be said of the figures.

    ``is_read`` False: how it is divided can't be read, and that is said, so that nothing of its section is used.
    """

    section: Section
    length_mm: float | None = None
    said: tuple[Said, ...] = ()
    is_read: bool = True


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
    overruled = tuple(of_types.overruled(figures, seen.spec))
    figures.stage += 1
    from_defaults(figures, seen.spec)
    figures.stage += 1
    from_names(figures, seen.texts)
    length = figures.first(Q.LENGTH)
    traded = _traded(seen, figures, catalogue)
    chosen = traded or _chosen(figures)
    wall, divider = figures.first(Q.WALL), figures.first(Q.DIVIDER)
    depth = figures.first(Q.USABLE_DEPTH)
    wall_range = seen.spec.wall_range_mm if seen.spec is not None and wall is None else None
    depth = of_types.usable_depth(figures, seen.spec, depth, chosen.get(Q.HEIGHT))
    _tell_differences(figures, chosen)
    figures.said += overruled
    told_unusual = (unusual(seen.kind, *one) for one in chosen.items() if one[1].source != "project file")
    figures.said += [said for said in told_unusual if said is not None]
    lanes, lanes_from, lanes_sure = lanes_of(
        seen.spec, seen.held, mapped.get(Q.COMPARTMENTS, ()), seen.sweep, seen.texts, figures
    )
    if not lanes:  # how it is divided can't be read, so neither can what is inside
        return Sized(Section(), length.value_mm if length else None, tuple(figures.said), is_read=False)
    is_known = (Q.WIDTH in chosen and Q.HEIGHT in chosen) or Q.DIAMETER in chosen or Q.BORE in chosen
    parts = {quantity.value: figure for quantity, figure in chosen.items()}
    beside = {"wall": wall if chosen.keys() != {Q.BORE} else None, "usable depth": depth}
    parts |= {name: figure for name, figure in beside.items() if figure is not None}
    told = [f"{name}: {figure.source}" for name, figure in parts.items()]
    told += [part for part in ("wall: project file" if wall_range else "", lanes_from) if part]
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
        confidence=max((lanes_sure, *(figure.confidence for figure in parts.values())), key=ORDER.index),
        wall_range_mm=wall_range,
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
    width, height = _of_one_section(figures)
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


def _of_one_section(figures: Figures) -> tuple[Figure | None, Figure | None]:
    """Width and height. Where a property gives one alone, and another source both the other way round, its other one is the missing one.

    So trunking on a wall, 170 wide by a property and by its body 50 across and 170 up, is 170 x 50 and not 170 x 170.
    """
    width, height = figures.first(Q.WIDTH), figures.first(Q.HEIGHT)
    if width is None or height is None or width.stage == height.stage:
        return width, height
    is_width_first = width.stage < height.stage
    first, later, quantity = (width, height, Q.WIDTH) if is_width_first else (height, width, Q.HEIGHT)
    other = next((figure for figure in figures.by[quantity] if figure.stage == later.stage), None)
    if other is not None and _agree(later, first) and not _agree(other, first):
        return (first, other) if is_width_first else (other, first)
    return width, height


def _agree(one: Figure, other: Figure) -> bool:
    return abs(one.value_mm - other.value_mm) <= max(AGREE_MM, 0.01 * other.value_mm)


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
            if not _agree(other, used) and not swapped and not guessed:
                what = f"{quantity.value} is {used.value_mm:g} mm by its {used.source} and {other.value_mm:g} mm by its {other.source}"
                figures.said.append(
                    Said(ProblemKind.ASSUMPTION, f"{what}; the former is used", *of_types.contradiction(used, other))
                )
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
        figures.said.append(Said(ProblemKind.ASSUMPTION, what, *of_types.contradiction(better)))
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

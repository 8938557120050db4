"""From a loaded compartment and what the rules answered to what is drawn of it."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from checker.model import Carrier, CarrierKind, LoadedCompartment
from checker.model.texts import listed, natural, number
from checker.rule import Verdict
from checker.section.bundles import bundles_of
from checker.section.loaded import inside_of
from checker.section.parts import OPEN, Asked, Bundle, LaneView, SectionView, Way
from checker.section.shapes import Channel, Inside

__all__ = ["Asked", "Bundle", "LaneView", "SectionView", "Way", "view_of"]

#: Where no side of a tray is known it is drawn as high as its thickest cable, and this much more.
_SIDE_SHARE, _SIDE_MM = 1.25, 10.0


def view_of(
    carrier: Carrier,
    compartments: Sequence[LoadedCompartment],
    asked: Mapping[int, Sequence[Asked]],
    *,
    code: str = "",
    way: Way | None = None,
) -> SectionView:
    """What is to be drawn of a carrier, or of some of its compartments.

    Args:
        carrier: The carrier.
        compartments: Those of its compartments that are drawn.
        asked: What rules answered, by the number of the compartment.
        code: The code's title.
        way: How cables are laid.
    """
    chosen = sorted(compartments, key=lambda part: part.number)
    lanes = tuple(_lane(part, tuple(asked.get(part.number, ())), way or Way()) for part in chosen)
    section = carrier.section
    is_whole = len(chosen) == len(section.lanes)
    title = f"Section of {carrier.place.label}"
    if not is_whole:
        title += f", compartment {listed([str(part.number) for part in chosen], most=9)} of {len(section.lanes)}"
    outside = None
    if is_whole and section.outside_diameter_mm is not None:
        outside = (section.outside_diameter_mm, section.outside_diameter_mm)
    elif is_whole and section.width_mm is not None and section.height_mm is not None:
        outside = (section.width_mm, section.height_mm)
    return SectionView(title, _size(carrier), carrier.kind, lanes, outside, code)


def _size(carrier: Carrier) -> str:
    """The size of a carrier in words, with what it is."""
    section = carrier.section
    kind = "carrier" if carrier.kind is CarrierKind.UNKNOWN else carrier.kind.value
    what = f"{carrier.material} {kind}" if carrier.material and carrier.material not in kind else kind
    parts = []
    if section.outside_diameter_mm is not None:
        parts.append(f"{section.outside_diameter_mm:.4g} mm outside")
    if section.bore_mm is not None:
        parts.append(f"bore {section.bore_mm:.4g} mm")
    if not section.is_round:
        sides = [side for side in (section.width_mm, section.height_mm) if side is not None]
        parts.append(f"{' × '.join(f'{side:g}' for side in sides)} mm" if sides else "size not known")
    if section.wall_mm:
        parts.append(f"wall {section.wall_mm:g} mm")
    return ", ".join([what, *parts])


def _lane(part: LoadedCompartment, asked: tuple[Asked, ...], way: Way) -> LaneView:
    asked = tuple(sorted(asked, key=lambda one: (not one.tells_fill, one.rule, natural(one.about), one.verdict.reason)))
    bundles = (*bundles_of(part.cables, is_possible=False), *bundles_of(part.possible, is_possible=True))
    inside, is_side_known = _inside(part, bundles)
    view = LaneView(part.number, inside, is_side_known, bundles, asked=asked)
    view = replace(view, room=_room(part, view.fill), cautions=_cautions(part, view))
    if inside is None:
        return view
    from checker.section.filling import laid_in  # packing is loaded only where something is packed

    return laid_in(view, part.carrier.kind, way, single_layer=bool(part.carrier.laying.single_layer))


def _inside(part: LoadedCompartment, bundles: Sequence[Bundle]) -> tuple[Inside | None, bool]:
    """The shape of a compartment, where the wall isn't known the smallest, and whether the height of its sides is known."""
    inside, width = inside_of(part), part.most_loaded().width_mm
    if inside is not None or part.carrier.kind not in OPEN or not width or width <= 0.0:
        return inside, inside is not None
    thick = max((bundle.body.thickness_mm for bundle in bundles if bundle.body is not None), default=0.0)
    return Channel(width, thick * _SIDE_SHARE + _SIDE_MM), False


def _room(part: LoadedCompartment, verdict: Verdict | None) -> str:
    """How much of the limit is left, or lacks, in words."""
    if verdict is None or verdict.value is None or not verdict.limit:
        return ""
    left = verdict.limit - verdict.value
    if verdict.is_floor:
        return ""
    share = number(abs(left) / verdict.limit, "ratio")
    amount = ""
    if verdict.measure == "area" and part.area_mm2:
        amount = f"{abs(left) * part.area_mm2:.0f} mm², "
    elif verdict.measure == "width" and part.width_mm:
        amount = f"{abs(left) * part.width_mm:.0f} mm of width, "
    most = "at most " if verdict.at_least else ""
    if abs(left) < 1e-9:
        return "no room left: it is exactly at the limit"
    if left < 0.0:
        return f"beyond the limit by {'at least ' if verdict.at_least else ''}{amount}{share} of the limit"
    return f"room left by the limit: {most}{amount}{share} of what it allows"


def _cautions(part: LoadedCompartment, view: LaneView) -> tuple[str, ...]:
    """What isn't sure about the inside and what lies there."""
    told = []
    if part.size_doubt:
        told.append(f"Drawn with the smallest inside that it can have: {part.size_doubt}.")
    if view.inside is None:
        told.append("The size inside isn't known, so nothing is drawn to scale.")
    elif not view.is_side_known:
        told.append("The height of the sides isn't known; they are drawn dashed.")
    undrawn = [bundle for bundle in view.bundles if bundle.why and not bundle.is_possible]
    if undrawn:
        told.append(f"Not drawn: {'; '.join(f'{bundle.words} ({bundle.why})' for bundle in undrawn)}.")
    possible = [bundle for bundle in view.bundles if bundle.is_possible]
    if possible:
        doubts = f" ({'; '.join(part.possible_doubts)})" if part.possible_doubts else ""
        told.append(f"May lie here too, and isn't drawn: {'; '.join(one.words for one in possible)}{doubts}.")
    elif part.unbounded:
        doubts = f": {'; '.join(part.possible_doubts)}" if part.possible_doubts else ""
        told.append(f"More may lie here that can't be counted{doubts}.")
    ranged = sorted({cable.circuit for cable in part.cables if cable.is_ranged}, key=natural)
    if ranged:
        told.append(f"Cables of {listed(ranged)} are drawn as thick as they may be.")
    return tuple(told)

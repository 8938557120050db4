"""Lays the cables of a compartment for a drawing: in the best way that is found, or as they fall in by hand."""

from collections.abc import Sequence
from dataclasses import replace

from checker.model import CarrierKind
from checker.section.packing import Effort, Found, Packing, pack
from checker.section.parts import MOST_DRAWN, LaneView, Way
from checker.section.shapes import Body, Channel, Inside, Placed, Round

#: More are only dropped in, which is soon done: a drawing isn't worth minutes.
_MOST_RELAXED = 80
_ONE_WAY = "Drawn as best found: this is one way in which they go in. Laid by hand they will lie otherwise."
_ONE_LAYER = (
    "Drawn side by side in one layer, as the project declares; where they lie across and how far apart isn't known."
)


def laid_in(view: LaneView, kind: CarrierKind, way: Way, *, single_layer: bool = False) -> LaneView:
    """The compartment with its cables in their places, and how they came to lie so.

    Args:
        view: The compartment, with nothing laid.
        kind: Of its carrier.
        way: The best that is found, or as laid by hand.
        single_layer: Whether the project declares that cables lie side by side, never on each other.
    """
    if view.inside is None:
        return view
    drawn = tuple(
        number
        for number, bundle in enumerate(view.bundles)
        if bundle.body is not None and bundle.count and not bundle.is_possible
        for _ in range(min(bundle.count, MOST_DRAWN + 1))
    )
    cautions = view.cautions
    if len(drawn) > MOST_DRAWN:
        whole = sum(bundle.count or 0 for bundle in view.bundles if bundle.body is not None and not bundle.is_possible)
        told = f"Of {whole} cables nothing is drawn: more than {MOST_DRAWN} in one compartment aren't."
        return replace(view, cautions=(told, *cautions))
    bodies = [_body(view.bundles[number].body) for number in drawn]
    if not bodies:
        return view
    if single_layer and isinstance(view.inside, Channel):
        across = sum(body.length_mm for body in bodies)
        if across <= view.inside.width_mm:
            return replace(view, drawn=drawn, placed=_side_by_side(bodies), way=_ONE_LAYER)
        told = f"The project declares one layer, and side by side they take {across:.0f} mm of {view.inside.width_mm:.0f} mm."
        cautions = (told, *cautions)
    placed, said = _dropped(view.inside, bodies, way.seed) if way.as_laid else _packed(view.inside, bodies, kind)
    return replace(view, drawn=drawn, placed=placed, way=said, cautions=cautions)


def _side_by_side(bodies: Sequence[Body]) -> tuple[Placed, ...]:
    """In one layer on the floor, from the left, flat ones lying flat."""
    placed, x = [], 0.0
    for number, body in enumerate(bodies):
        placed.append(Placed(number, x + body.length_mm / 2.0, body.thickness_mm / 2.0, body.height_mm > body.width_mm))
        x += body.length_mm
    return tuple(placed)


def _body(body: Body | None) -> Body:
    if body is None:
        raise ValueError("a cable without a size can't be laid")
    return body


def _packed(inside: Inside, bodies: Sequence[Body], kind: CarrierKind) -> tuple[tuple[Placed, ...], str]:
    found = pack(inside, bodies, effort=Effort.USUAL if len(bodies) <= _MOST_RELAXED else Effort.QUICK)
    if found.outcome is Found.FOUND:
        return found.placed, _ONE_WAY
    proof = f": {found.proof}" if found.proof else ""
    if isinstance(inside, Channel):
        # what is laid on a tray may stand out above its sides
        deep = Channel(inside.width_mm, inside.side_mm + sum(body.length_mm for body in bodies))
        above = pack(deep, bodies, effort=Effort.QUICK)
        if above.outcome is Found.FOUND:
            can = "can't all" if proof else "weren't all found to"
            return (
                above.placed,
                f"Drawn as best found: they {can} lie below the sides{proof}. Laid by hand they will lie otherwise.",
            )
    shown = _as_many(inside, bodies, found)
    some = f"{len(shown)} of {len(bodies)} are drawn"
    what = "carrier" if kind is CarrierKind.UNKNOWN else kind.value
    if found.outcome is Found.IMPOSSIBLE:
        return shown, f"All of them can't go into this {what}{proof}; {some}."
    return shown, f"No drawing of all of them was found, which proves nothing; {some}."


def _as_many(inside: Inside, bodies: Sequence[Body], whole: Packing) -> tuple[Placed, ...]:
    """Of bodies that aren't found to go in together the most, in their order, that are."""
    if whole.placed:
        return whole.placed
    low, high = 0, len(bodies)
    best: tuple[Placed, ...] = ()
    while low + 1 < high:
        middle = (low + high) // 2
        found = pack(inside, bodies[:middle], effort=Effort.QUICK)
        if found.outcome is Found.FOUND:
            low, best = middle, found.placed
        else:
            high = middle
    return best


def _dropped(inside: Inside, bodies: Sequence[Body], seed: int) -> tuple[tuple[Placed, ...], str]:
    from checker.section.laying import as_laid

    laid = as_laid(inside, bodies, seed=seed).median
    if not laid.placed:
        return (), "Not drawn as laid by hand: a cable is wider than the inside."
    edge = "the sides" if isinstance(inside, Channel) else "the lid"
    if isinstance(inside, Round):
        where = "all lie within" if laid.lies_under_lid else "not all lie within"
    else:
        where = f"all lie under {edge}" if laid.lies_under_lid else f"they stand out above {edge}"
    told = f"the pile is {laid.height_mm:.0f} mm high, and {where}"
    return (
        laid.placed,
        f"Drawn as laid by hand, one cable after the other where it falls (seed {seed}): {told}. Laid again they lie otherwise.",
    )

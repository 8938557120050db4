"""Lays the cables of a compartment for a drawing: in the best way that is found, or as they fall in by hand."""

from collections.abc import Sequence
from dataclasses import replace

from checker.model import CarrierKind
from checker.section.packing import Effort, dropped_in, pack
from checker.section.parts import MOST_DRAWN, LaneView, Look, Way
from checker.section.proofs import proof_against
from checker.section.shapes import Body, Channel, Inside, Placed, Round
from checker.section.shelves import on_shelves

#: More are only dropped in, which is soon done: a drawing isn't worth minutes.
_MOST_RELAXED = 80
#: More are laid in rows if they go in so, else dropped in once: where nothing is compiled each time takes seconds.
_MOST_TRIED = 150
_ONE_WAY = "Drawn as best found: this is one way in which they go in. Laid by hand they will lie otherwise."
_LONGER = "wayroom draw looks longer."
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
    placed, said = _dropped(view.inside, bodies, way) if way.as_laid else _packed(view.inside, bodies, kind, way.look)
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


def _packed(inside: Inside, bodies: Sequence[Body], kind: CarrierKind, look: Look) -> tuple[tuple[Placed, ...], str]:
    """Places as good as are found, and what is to be said of them."""
    proof = proof_against(inside, bodies)
    shown: tuple[Placed, ...] = ()
    if look is not Look.LONG or len(bodies) > _MOST_TRIED:
        shown = _at_once(inside, bodies, look)
    elif not proof:
        shown = pack(inside, bodies, effort=Effort.USUAL if len(bodies) <= _MOST_RELAXED else Effort.QUICK).placed
    if len(shown) == len(bodies):
        return shown, _ONE_WAY
    why = f": {proof}" if proof else ""
    if isinstance(inside, Channel):
        # what is laid on a tray may stand out above its sides
        deep = Channel(inside.width_mm, inside.side_mm + sum(body.length_mm for body in bodies))
        above = _at_once(deep, bodies, look)
        if len(above) == len(bodies):
            can = "can't all" if proof else "weren't all found to"
            return (
                above,
                f"Drawn as best found: they {can} lie below the sides{why}. Laid by hand they will lie otherwise.",
            )
    shown = shown or _at_once(inside, bodies, look)
    if len(shown) == len(bodies):
        return shown, _ONE_WAY
    some = f"{len(shown)} of {len(bodies)} are drawn."  # first, since where there is little room the end is cut
    what = "carrier" if kind is CarrierKind.UNKNOWN else kind.value
    if proof:
        return shown, f"{some} All of them can't go into this {what}{why}."
    if look is Look.LONG:
        return shown, f"{some} Places for all of them weren't found, which proves nothing."
    return shown, f"{some} Places for all of them weren't found at a short look, which proves nothing. {_LONGER}"


def _at_once(inside: Inside, bodies: Sequence[Body], look: Look) -> tuple[Placed, ...]:
    """As many as find a place in rows, or dropped in once: the more."""
    is_long = look is Look.ROWS or len(bodies) > _MOST_TRIED
    fallen = () if is_long else dropped_in(inside, bodies)
    if len(fallen) == len(bodies):
        return fallen
    rows = on_shelves(inside, bodies)
    if look is Look.ROWS or len(rows) == len(bodies):
        return rows
    return max(fallen or dropped_in(inside, bodies), rows, key=len)


def _dropped(inside: Inside, bodies: Sequence[Body], way: Way) -> tuple[tuple[Placed, ...], str]:
    from checker.section.laying import as_laid

    trials = as_laid(inside, bodies, seed=way.seed, trials=way.trials)
    laid = trials.median
    if not laid.placed:
        return (), "Not drawn as laid by hand: a cable is wider than the inside."
    edge = "the sides" if isinstance(inside, Channel) else "the lid"
    if isinstance(inside, Round):
        where = "all lie within" if laid.lies_under_lid else "not all lie within"
    else:
        where = f"all lie under {edge}" if laid.lies_under_lid else f"they stand out above {edge}"
    told = f"the pile is {laid.height_mm:.0f} mm high, and {where}"
    said = f"Drawn as laid by hand, one cable after the other where it falls (seed {way.seed}): {told}."
    if way.trials == 1:
        return laid.placed, f"{said} Laid again they lie otherwise."
    within = "within" if isinstance(inside, Round) else f"under {edge}"
    many = f"the highest pile is {trials.highest_mm:.0f} mm high, and all lie {within} in {trials.under_lid}"
    return laid.placed, f"{said} It is the middle one of {way.trials} trials by height: {many}."

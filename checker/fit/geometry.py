"""Whether what lies in a compartment goes in by geometry alone, whatever the code says of it."""

from collections.abc import Iterable
from dataclasses import dataclass

from checker.model import LoadedCompartment, PlacedCable
from checker.section.loaded import body_of, inside_of
from checker.section.parts import MOST_DRAWN, OPEN
from checker.section.shapes import Body, Channel, Inside

#: Of more cables no proof is looked for that they don't go in.
MOST_PROVED = 5000
#: Where more might go in they aren't counted, which takes far longer than finding places for a number that is given.
MOST_COUNTED = 250
#: More cables than this are only dropped in: at what codes let in that finds places, and moving them about takes long.
MOST_MOVED = 60


@dataclass(frozen=True, slots=True)
class Going:
    """Whether cables go in: ``found``, ``not found``, ``impossible``, or empty where it can't be said; and why, or how, in words."""

    found: str = ""
    why: str = ""


NOT_LOOKED = Going()


def as_high_as(inside: Inside, bodies: Iterable[Body]) -> Inside:
    """The inside, a tray's as high as its thickest cable: what lies on its floor may stand above its sides."""
    if not isinstance(inside, Channel):
        return inside
    return Channel(inside.width_mm, max([inside.side_mm, *(body.thickness_mm for body in bodies)]))


def bodies_of(cables: Iterable[PlacedCable]) -> list[Body] | None:
    """The sections of cables, at the upper ends of their sizes; None: of some no size or no number is known."""
    bodies = []
    for cable in cables:
        body = body_of(cable)
        if cable.count is None or (cable.count and body is None):
            return None
        bodies += [] if body is None else [body] * cable.count
    return bodies


def count_by_geometry(subject: LoadedCompartment, one: PlacedCable) -> int | None:
    """For how many of a cable a place is found beside what lies there; None: it can't be said, or they may be too many.

    It is no allowance: no code, no drawing-in and no heat is in it.
    """
    inside, beside, body = inside_of(subject), bodies_of(subject.cables), body_of(one)
    if inside is None or beside is None or body is None:
        return None
    room = (subject.most_loaded().area_mm2 or 0.0) - sum(item.area_mm2 for item in beside)
    if room / body.area_mm2 + len(beside) > MOST_COUNTED:
        return None
    from checker.section.packing import most_that_go_in

    return most_that_go_in(as_high_as(inside, [body, *beside]), body, beside)


def proof_against(subject: LoadedCompartment) -> str:
    """Why what lies in a closed carrier can't go in, by an area or a width alone; empty where nothing proves that.

    Cables whose size is a range count as thin as they may be. On trays and ladders they may stand above the sides, so nothing is proved.
    """
    if subject.carrier.kind in OPEN or subject.size_doubt:
        return ""
    bodies = bodies_of(cable.at_least() for cable in subject.cables if not cable.is_several)
    inside = inside_of(subject)
    if inside is None or not bodies or len(bodies) > MOST_PROVED:
        return ""
    from checker.section import proofs

    return proofs.proof_against(inside, bodies)


def goes_in(subject: LoadedCompartment, most: int = MOST_DRAWN) -> Going:
    """Whether a place is found for all that lies in a compartment, up to so many cables."""
    inside, bodies = inside_of(subject), bodies_of(subject.cables)
    if inside is None:
        return Going(why="no internal size is known")
    if bodies is None:
        return Going(why="the size of what lies there isn't known cable by cable")
    if len(bodies) > most:
        return Going(why=f"more than {most} cables aren't drawn")
    from checker.section.packing import Effort, Found, pack
    from checker.section.shelves import on_shelves

    higher = as_high_as(inside, bodies)
    above = "" if higher == inside else "where they may stand as high above the floor as the thickest"
    if len(bodies) > MOST_MOVED and len(on_shelves(higher, bodies)) == len(bodies):
        return Going(Found.FOUND.value, above)
    packing = pack(higher, bodies, effort=Effort.USUAL if len(bodies) <= MOST_MOVED else Effort.QUICK)
    return Going(packing.outcome.value, packing.proof or above)

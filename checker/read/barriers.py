"""Walls, slabs and the like that a model rates for fire, with where they are.

What carries no rating isn't asked about, and how many those are is said. A part of a rated whole that has no rating of its own is the
whole's; a whole without a shape is its parts.
"""

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from checker.model import Barrier, Carrier, Condition, Place, Problem, ProblemKind
from checker.model.geometry import distance
from checker.model.prisms import Prism
from checker.model.texts import listed, natural, quoted
from checker.read import names
from checker.read.context import Context
from checker.read.fire_ratings import is_no_rating, says_yes
from checker.read.mapping import Quantity
from checker.read.prisms import prisms_of
from checker.read.properties import Held, Properties
from checker.read.relations import DEEPEST, all_of, many, place_names
from checker.units import metres

Entity = Any
#: What can keep fire, and what people call it.
WHATS = {
    "IfcWall": "wall", "IfcCurtainWall": "curtain wall", "IfcSlab": "slab", "IfcRoof": "roof", "IfcCovering": "covering",
    "IfcPlate": "plate", "IfcBuildingElementProxy": "building element",
}  # fmt: skip
#: Those of which it is said that they carry no rating; plates, coverings and elements of no class mostly are something else.
COUNTED = ("wall", "curtain wall", "slab", "roof")
#: The standard's own property, in the sets named Pset_…Common of all releases, and the one that only says that it is meant to keep fire.
STANDARD, RATING, KEEPS_FIRE = "Pset_", "FireRating", "Compartmentation"
#: What the project calls the rating where it maps properties.
MAPPED = "fire_rating"
#: Two of one GlobalId that begin no farther apart than this are one, in two files.
SAME_MM = 1.0


@dataclass(frozen=True, slots=True)
class Rated:
    """What is said of an element's rating: as written, empty where there is none. ``is_unread``: something that can't be read."""

    rating: str = ""
    is_unread: bool = False


def read_barriers(it: Context, left_out: Collection[int], used: set[tuple[str, int]]) -> list[Barrier]:
    """What of a model is rated for fire; what isn't known of it is told.

    Args:
        it: The model.
        left_out: Step ids of elements that the project leaves out, or that are something else.
        used: Entries of the project file that fit something, by table and number; added to.
    """
    found = [(what, element) for name, what in WHATS.items() for element in all_of(it.file, name)]
    found = [(what, element) for what, element in found if element.id() not in left_out]
    if not found:
        return []
    mine = _reader(it, [element for _, element in found], used)
    rated: dict[int, str] = {}
    known: set[int] = set()
    standing = []
    for what, element in found:
        if not _stays(mine, element):
            continue
        standing.append((what, element))
        said = mine.safely(element, lambda element=element: _rated(mine, element), Rated(is_unread=True))  # type: ignore[misc]
        if said.is_unread:
            mine.notes.fold(ProblemKind.GAP, f"the fire rating of a {what} can't be read", "so carriers that pass it aren't asked about",
                            "write it as a text: FireRating in its common property set", mine.label(element))  # fmt: skip
            known.add(element.id())
        elif said.rating:
            rated[element.id()] = said.rating
    # a part of another one is no wall beside it
    known |= rated.keys()
    of_all = {element.id() for _, element in standing}
    unrated = [
        what
        for what, element in standing
        if what in COUNTED
        and element.id() not in known
        and not any(whole.id() in of_all for whole in _wholes(it, element))
    ]
    _tell_unrated(mine, Counter(unrated))
    return [_barrier(mine, what, element, rated) for what, element in standing if element.id() in rated]


def _reader(it: Context, elements: Sequence[Entity], used: set[tuple[str, int]]) -> Context:
    """What reads only what is asked here, of the many properties that buildings have.

    Other sets than the standard's are looked into only if the project maps a property. Entries that any fits are noted in ``used``.
    """
    specs = [(n, spec) for n, spec in enumerate(it.project.properties) if spec.quantity in {Quantity.CONDITION, MAPPED}]
    own = it.found.property_sets
    if not specs:
        ids = (element.id() for element in elements)
        own = {
            number: [item for item in own.get(number, ()) if str(item[2] or "").startswith(STANDARD)] for number in ids
        }

    def asked(set_name: str, name: str) -> bool:
        mapped = [("properties", number) for number, spec in specs if spec.matches(set_name, name)]
        used.update(mapped)
        return bool(mapped) or name in {RATING, KEEPS_FIRE, names.CONDITION_PROPERTY}

    return replace(it, properties=Properties(replace(it.found, property_sets=own), metres(it.mm), asked))


def _stays(it: Context, element: Entity) -> bool:
    if it.condition(element) is not Condition.DEMOLISHED:
        return True
    it.notes.fold(ProblemKind.INFERENCE, "a wall, slab or the like is marked as demolished and left out", "so it keeps no fire",
                  "mend its status if it stays", it.label(element))  # fmt: skip
    return False


def _rated(it: Context, element: Entity) -> Rated:
    """The rating that holds: the project's mapped property, else the standard's, each of the element before its type's."""
    held = it.held(element)
    mapped = [spec for spec in it.project.properties if spec.quantity == MAPPED]
    given = [item for spec in mapped for item in held if spec.matches(item.set_name, item.name)]
    given += [item for item in held if item.name == RATING and item.set_name.startswith(STANDARD)]
    text = _text(given[0]) if given else ""
    if not is_no_rating(text):
        return Rated(text)
    # one that is meant to keep fire does, whatever stands in for a rating that nobody gave
    if any(item.name == KEEPS_FIRE and says_yes(item.value) and item.set_name.startswith(STANDARD) for item in held):
        return Rated("keeps fire, by its Compartmentation")
    return Rated(is_unread=not given and _has_unread(it, element))


def _text(held: Held) -> str:
    return f"{held.value:g}" if isinstance(held.value, float) else str(held.value).strip()


def _has_unread(it: Context, element: Entity) -> bool:
    """Whether it has a rating of a kind that isn't read, as a table. One without a value says nothing."""
    kind = it.found.types.get(element.id())
    sets = [*it.found.property_sets.get(element.id(), ()), *many(getattr(kind, "HasPropertySets", None))]
    held = (
        item
        for definition in sets
        if definition.is_a("IfcPropertySet") and str(definition.Name or "").startswith(STANDARD)
        for item in many(definition.HasProperties)
    )
    return any(
        item.Name == RATING and not item.is_a("IfcPropertySingleValue") and _says_something(item) for item in held
    )


def _says_something(item: Entity) -> bool:
    """Whether a property holds anything, whatever it is."""
    # by position: what an enumeration could be says nothing of what it is
    return any(
        value not in (None, "", ()) for value in list(item)[2 : 3 if item.is_a("IfcPropertyEnumeratedValue") else 4]
    )


def _wholes(it: Context, element: Entity) -> Iterator[Entity]:
    """What an element is a part of, and what that is a part of."""
    node = it.found.parents.get(element.id())
    for _ in range(DEEPEST):
        if node is None:
            return
        yield node
        node = it.found.parents.get(node.id())


def _barrier(it: Context, what: str, element: Entity, rated: dict[int, str]) -> Barrier:
    storey, space, zone = place_names(element, it.found)
    tag, name = str(getattr(element, "Tag", None) or ""), str(element.Name or "")
    place = Place(str(element.GlobalId or ""), it.name, tag, name, storey, space, zone)
    prisms = _body(it, element, rated, DEEPEST)
    parts = it.found.children.get(element.id(), ())
    if not prisms and not (parts and all(part.id() in rated for part in parts)):  # those stand for it
        it.notes.fold(ProblemKind.GAP, f"the body of a {what} that is rated for fire can't be read",
                      "so whether carriers pass it isn't known", "export it with its body, as a plan extruded or as faces",
                      it.label(element))  # fmt: skip
    unread = it.unread_condition(element)
    if unread:
        it.notes.fold(ProblemKind.ASSUMPTION, f"the status {quoted(unread)} isn't understood; a {what} is read as one that stays",
                      "so if it is to go, carriers that pass it are asked about nevertheless", "write DEMOLISH, EXISTING, NEW or TEMPORARY",
                      it.label(element))  # fmt: skip
    return Barrier(it.key(element), place, what, rated[element.id()], prisms)


def _body(it: Context, element: Entity, rated: Collection[int], depth: int) -> tuple[Prism, ...]:
    """The body of an element, else those of its parts but of such as have a rating of their own; none where one can't be read."""
    own: tuple[Prism, ...] = it.safely(element, lambda: prisms_of(it, element), ())
    if own or depth == 0:
        return own
    parts = [
        part for part in it.found.children.get(element.id(), ()) if part.id() not in rated and part.is_a("IfcElement")
    ]
    bodies = [_body(it, part, rated, depth - 1) for part in parts]
    return tuple(prism for body in bodies for prism in body) if all(bodies) else ()


def _tell_unrated(it: Context, unrated: Counter[str]) -> None:
    """How many aren't asked about, as one problem of the file."""
    count = sum(unrated.values())
    if count:
        kinds = listed([f"{number} {what}{'s' if number > 1 else ''}" for what, number in unrated.items()], len(WHATS))
        it.notes.tell(ProblemKind.ASSUMPTION, f"{kinds} {'carry' if count > 1 else 'carries'} no fire rating",
                      "what isn't rated is taken for something that keeps no fire: carriers that pass it aren't asked about",
                      "rate them in the model where they do: FireRating in Pset_WallCommon, Pset_SlabCommon …")  # fmt: skip


def barriers_of(
    models: Sequence[Sequence[Barrier]], carriers: Sequence[Carrier], problems: list[Problem]
) -> tuple[Barrier, ...]:
    """What all models rate for fire, by key; a GlobalId that several share is told apart by its file.

    Args:
        models: The barriers of each.
        carriers: All that were read.
        problems: Added to.
    """
    taken: dict[str, list[Barrier]] = {}
    for barrier in (item for model in models for item in model):
        others = taken.setdefault(barrier.key, [])
        if not any(_is_same(barrier, other) for other in others):
            others.append(barrier)
    found = [
        replace(barrier, key=f"{key}@{barrier.place.model}#{number}") if number else barrier
        for key, barriers in taken.items()
        for number, barrier in enumerate(barriers)
    ]
    lost = sorted((carrier.place.label for carrier in carriers if not carrier.axis_mm), key=natural)
    if any(barrier.prisms for barrier in found) and lost:
        problems.append(
            Problem(listed(lost), "where they run isn't known", "so whether they pass what is rated for fire isn't known either",
                    "give them a shape or an axis in the model", ProblemKind.GAP, len(lost))
        )  # fmt: skip
    return tuple(sorted(found, key=lambda barrier: barrier.key))


def _is_same(one: Barrier, other: Barrier) -> bool:
    """Whether two of one GlobalId are one wall, written into two files."""
    if (
        one.place.model == other.place.model
        or one.fire_rating != other.fire_rating
        or len(one.prisms) != len(other.prisms)
    ):
        return False
    pairs = zip(one.prisms, other.prisms, strict=True)
    return all(distance(a.origin_mm, b.origin_mm) <= SAME_MM and len(a.outline) == len(b.outline) for a, b in pairs)

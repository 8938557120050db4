"""What all readers of one model share: the file, its relationships and units, where its elements are, and what has to be said."""

import functools
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeVar

from checker.model import Body, Condition, Confidence, Place, Problem, ProblemKind, Vec
from checker.model.geometry import box_around, scale
from checker.model.texts import listed
from checker.read import names
from checker.read.classify import Classified
from checker.read.mapping import Quantity
from checker.read.placements import Frame, Placements
from checker.read.project import Project
from checker.read.properties import Held, Properties
from checker.read.relations import MALFORMED, Relations, place_names
from checker.read.shapes import Shapes
from checker.read.words import is_word

Entity = Any
T = TypeVar("T")
#: Where one thing is to be said of more elements than this, one problem names the first of them and counts the others.
MOST_SINGLE = 50
#: Of what is folded so many are named.
MOST_FOLDED = 5


@dataclass(slots=True)
class Notes:
    """Problems of one model; the same said of many elements becomes one."""

    file: str
    _by: dict[tuple[ProblemKind, str, str, str], list[str]] = field(default_factory=dict)
    _last: tuple[str, ...] = ()

    folded: set[str] = field(default_factory=set)

    def fold(self, kind: ProblemKind, what: str, why: str, hint: str, where: str) -> None:
        """Says something that nobody needs to see for each element: one problem counts them."""
        self.folded.add(what)
        self.tell(kind, what, why, hint, where)

    def tell(self, kind: ProblemKind, what: str, why: str, hint: str, where: str = "") -> None:
        """Says something of an element; of the file where none is named."""
        said = (kind, what, why, hint, where)
        if said != self._last:  # the same of one element, found out again by another reader
            self._by.setdefault((kind, what, why, hint), []).append(where or self.file)
        self._last = said

    def problems(self) -> list[Problem]:
        """All that was said, in the order in which it first was."""
        found = []
        for (kind, what, why, hint), places in self._by.items():
            if len(places) <= (1 if what in self.folded else MOST_SINGLE):
                found += [Problem(where, what, why, hint, kind) for where in places]
            else:
                named = MOST_FOLDED if what in self.folded else MOST_SINGLE
                some = listed([place.removeprefix(f"{self.file}, ") for place in places], named, "; ")
                found.append(Problem(f"{self.file}, {some}", what, why, hint, kind, len(places)))
        return found


@dataclass(slots=True)
class Context:
    """One model being read. ``mm``: millimetres in its length unit."""

    name: str
    file: Entity
    project: Project
    found: Relations
    mm: float
    shapes: Shapes
    properties: Properties
    notes: Notes
    placements: Placements = field(default_factory=Placements)
    port_points: dict[int, list[Vec]] = field(default_factory=dict)
    _last_held: tuple[int, tuple[Held, ...]] = (0, ())

    def held(self, element: Entity) -> tuple[Held, ...]:
        """The element's property values, those that hold first; none where they can't be read."""
        if element.id() != self._last_held[0]:  # asked for several times of one element, then of the next
            self._last_held = (element.id(), self.safely(element, lambda: self.properties.of(element), ()))
        return self._last_held[1]

    def safely(self, element: Entity, read: Callable[[], T], otherwise: T) -> T:
        """What a reader makes of an element; where a malformed one defeats it, that is said and the element stays."""
        try:
            return read()
        except MALFORMED as error:
            why = f"{type(error).__name__}: {str(error)[:200]}"
            self.notes.tell(ProblemKind.GAP, "its shape, placement or properties can't be understood", why, "export the model again",
                            self.label(element))  # fmt: skip
            return otherwise

    @staticmethod
    def key(element: Entity) -> str:
        """The element's GlobalId, or its step id where it has none."""
        return str(element.GlobalId or f"#{element.id()}")

    def label(self, element: Entity) -> str:
        """The file, and what a person would call the element."""
        return f"{self.name}, {getattr(element, 'Tag', None) or element.Name or element.GlobalId}"

    def place(self, element: Entity) -> Place:
        """Where people find it."""
        storey, space, zone = place_names(element, self.found)
        tag, mapped = str(getattr(element, "Tag", None) or ""), self.mapped_text(element, Quantity.TAG)
        mark = mapped if tag and mapped != tag else ""  # many programs keep a number of their own in Tag
        return Place(
            str(element.GlobalId or ""), self.name, tag or mapped, str(element.Name or ""), storey, space, zone, mark
        )

    def mapped_text(self, element: Entity, quantity: Quantity) -> str:
        """A text that the project maps; empty where there is none."""
        specs = self.project.mapped(quantity)
        held = self.held(element) if specs else ()
        return next((str(item.value) for spec in specs for item in held if spec.matches(item.set_name, item.name)), "")

    def frame(self, element: Entity) -> Frame | None:
        """Its frame in the world, in the file's unit; None where it isn't placed."""
        return self.safely(element, lambda: self.placements.world(element.ObjectPlacement), None)

    def origin(self, element: Entity) -> Vec | None:
        """Its placement's origin, in mm."""
        frame = self.frame(element)
        return None if frame is None else scale(frame.origin, self.mm)

    def body(self, element: Entity) -> Body | None:
        """The box around an element's body, in the world, in mm; along its own axes."""
        frame = self.frame(element)
        if frame is None:
            return None

        def read() -> Body | None:
            points = [
                point
                for item, inner in self.shapes.body_items(element)
                for point in self.shapes.corner_points(item, inner)
            ]
            world = [scale(frame.place(point), self.mm) for point in points]
            return box_around(world, (frame.x, frame.y, frame.z)) if world else None

        return self.safely(element, read, None)

    def condition(self, element: Entity) -> Condition:
        """Whether it is there already, by a property that the project maps, else by the standard's."""
        words = (is_word("condition", text) for text in self._conditions(element))
        return next((Condition(word) for word in words if word is not None), Condition.NOT_SAID)

    def unread_condition(self, element: Entity) -> str:
        """What an element says of its condition if nothing of it is understood; empty where it says nothing."""
        texts = [text for text in self._conditions(element) if text.casefold() not in names.CONDITIONS_UNTOLD]
        return texts[0] if texts and self.condition(element) is Condition.NOT_SAID else ""

    def _conditions(self, element: Entity) -> list[str]:
        """The texts that may say it: those that the project maps first."""
        mapped, held = self.project.mapped(Quantity.CONDITION), self.held(element)
        given = [item for spec in mapped for item in held if spec.matches(item.set_name, item.name)]
        given += [item for item in held if item.name == names.CONDITION_PROPERTY and item.set_name.startswith("Pset_")]
        return [str(item.value) for item in given]


def asked_for(project: Project, used: set[tuple[str, int]]) -> Callable[[str, str], bool]:
    """Whether a property, by its set's and its own name, is one that readers ask for: of the standard, of words, or mapped.

    Entries of the project file that any property fits are noted in ``used``.
    """

    @functools.lru_cache(maxsize=65536)
    def wanted(set_name: str, name: str) -> bool:
        mapped = [("properties", n) for n, spec in enumerate(project.properties) if spec.matches(set_name, name)]
        used.update(mapped)
        return bool(mapped) or name in names.ASKED or any(is_word(role, name) for role in ("circuit", "panel"))

    return wanted


def tell_kind(it: Context, item: Classified, unknown: str, so: str) -> None:
    """Says what isn't plain of an element's kind.

    Args:
        it: The model.
        item: The element.
        unknown: What is said where its kind isn't known.
        so: What follows from that.
    """
    where, hint = it.label(item.element), "map it: [[classes]] in wayroom.toml"
    if item.said:
        it.notes.tell(
            ProblemKind.ASSUMPTION, item.said, "the two contradict each other", "mend the model or the mapping", where
        )
    if item.kind.value == "unknown":
        it.notes.tell(ProblemKind.GAP, unknown, so, hint, where)
    elif item.confidence is not Confidence.HIGH:
        what = f"it is taken for a {item.kind} ({item.source})"
        it.notes.tell(ProblemKind.INFERENCE, what, "its class and predefined type don't say so", hint, where)

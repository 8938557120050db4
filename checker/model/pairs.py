"""Two of a kind that rules hold against each other: neighbouring carriers, and circuits that must be apart."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.installation import Carrier
from checker.model.loads import CircuitLoad
from checker.model.subjects import PlacedCable


@dataclass(frozen=True, slots=True)
class Side:
    """One of two neighbouring carriers with all that lies in it, and may besides. ``loads`` are the circuits' electrical sides."""

    carrier: Carrier
    cables: tuple[PlacedCable, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False
    loads: tuple[CircuitLoad, ...] = ()

    def most_loaded(self) -> "Side":
        """With all that could lie in it."""
        return replace(self, cables=self.cables + self.possible, possible=())


@dataclass(frozen=True, slots=True)
class CarrierPair:
    """Two carriers that run side by side.

    Attributes:
        one: The carrier whose key comes first.
        other: Its neighbour.
        clear_mm: The least clear distance between their outsides on that stretch; with sizes that aren't known taken for nothing.
        beside_m: How long they run side by side.
        size_doubt: Why the clear distance may be less; empty where it is known.
    """

    one: Side
    other: Side
    clear_mm: float
    beside_m: float
    size_doubt: str = ""

    @property
    def about(self) -> About:
        """Both carriers."""
        sides = (self.one, self.other)
        marks = tuple(sorted({cable.circuit for side in sides for cable in side.cables}))
        carriers = [side.carrier for side in sides]
        return About(tuple(carrier.key for carrier in carriers), circuits=marks, guess=guess_of(carriers))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why what lies in them isn't certain, or how far apart they are."""
        found = (*self.one.possible_doubts, *self.other.possible_doubts)
        return tuple(dict.fromkeys((*found, *((self.size_doubt,) if self.size_doubt else ()))))

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in one of them."""
        return self.one.unbounded or self.other.unbounded

    def least_loaded(self) -> "CarrierPair":
        """The reading in its favour: only what certainly lies in them."""
        return replace(self, one=replace(self.one, possible=()), other=replace(self.other, possible=()))

    def most_loaded(self) -> "CarrierPair":
        """The reading against it: all that could lie in them."""
        return replace(self, one=self.one.most_loaded(), other=self.other.most_loaded())


@dataclass(frozen=True, slots=True)
class Nearby:
    """A stretch on which two circuits lie near each other in different carriers. ``clear_mm``: between the carriers' outsides."""

    one: Carrier
    other: Carrier
    clear_mm: float
    beside_m: float


@dataclass(frozen=True, slots=True)
class CircuitPair:
    """Two circuits of which the project wants that one fault doesn't take both.

    Attributes:
        one: Mark of the first.
        other: Mark of the second.
        shared: Carriers that both pass.
        nearby: Stretches where they pass different carriers near each other, as near as was looked for.
        open_doubts: Why not all of their ways is known.
    """

    one: str
    other: str
    shared: tuple[Carrier, ...] = ()
    nearby: tuple[Nearby, ...] = ()
    open_doubts: tuple[str, ...] = ()

    @property
    def about(self) -> About:
        """The carriers that they share, or where they are near, and both marks."""
        carriers = [*self.shared, *(carrier for item in self.nearby for carrier in (item.one, item.other))]
        keys = tuple(dict.fromkeys(carrier.key for carrier in carriers))
        marks = tuple(sorted((self.one, self.other)))
        return About(keys, circuits=marks, id_keys=tuple(f"circuit {mark}" for mark in marks))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why not all of their ways is known."""
        return self.open_doubts

    @property
    def more_may_count(self) -> bool:
        """Whether they may meet where it isn't known that they do."""
        return bool(self.open_doubts)

    def least_loaded(self) -> "CircuitPair":
        """The reading in its favour."""
        return self

    def most_loaded(self) -> "CircuitPair":
        """The reading against it."""
        return self

"""Two of a kind that rules hold against each other: neighbouring carriers, and circuits that must be apart."""

from collections.abc import Callable
from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.installation import Carrier
from checker.model.loads import Enclosure, Member
from checker.model.subjects import PlacedCable

#: Neighbours are looked for up to this distance between their outsides; no rule of ours asks for more.
NEIGHBOURS_MM = 1800.0


@dataclass(frozen=True, slots=True)
class Side:
    """One of two neighbouring carriers with all that lies in it, and may besides.

    Attributes:
        carrier: The segment.
        members: The circuits that lie in any of its compartments for certain.
        possible_members: Those that may besides.
        cables: Their cables.
        possible: The cables that may lie there besides.
        possible_doubts: Why what is possible isn't certain.
        unbounded: Whether something that can't be counted may lie in it too.
    """

    carrier: Carrier
    members: tuple[Member, ...] = ()
    possible_members: tuple[Member, ...] = ()
    cables: tuple[PlacedCable, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False

    @classmethod
    def of(cls, enclosure: Enclosure) -> "Side":
        """A segment as one of two."""
        return cls(
            enclosure.carrier,
            enclosure.members,
            enclosure.possible,
            enclosure.cables,
            enclosure.possible_cables,
            enclosure.doubts,
            enclosure.unbounded,
        )

    def least_loaded(self) -> "Side":
        """With only what certainly lies in it."""
        return replace(self, possible_members=(), possible=())

    def most_loaded(self) -> "Side":
        """With all that could lie in it."""
        return replace(
            self,
            members=self.members + self.possible_members,
            possible_members=(),
            cables=self.cables + self.possible,
            possible=(),
        )


@dataclass(frozen=True, slots=True)
class CarrierPair:
    """Two carriers that run side by side, of which one holds data cables and the other power cables, or could.

    Attributes:
        one: The carrier whose key comes first.
        other: Its neighbour.
        clear_mm: The least clear distance between their outsides on that stretch; with sizes that aren't known taken for nothing.
        beside_m: How long they run side by side.
        along_m: The same with the stretches that go on from it in the carriers that they are joined to.
        size_doubt: Why the clear distance may be less; empty where it is known.
        crowd_doubt: Why not all that runs beside them was looked at; empty where it was.
    """

    one: Side
    other: Side
    clear_mm: float
    beside_m: float
    along_m: float
    size_doubt: str = ""
    crowd_doubt: str = ""

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
        found = (*self.one.possible_doubts, *self.other.possible_doubts, self.size_doubt, self.crowd_doubt)
        return tuple(dict.fromkeys(doubt for doubt in found if doubt))

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in one of them, or beside them."""
        return self.one.unbounded or self.other.unbounded or bool(self.crowd_doubt)

    def least_loaded(self) -> "CarrierPair":
        """The reading in its favour: only what certainly lies in them, as far apart as can be."""
        return replace(self, one=self.one.least_loaded(), other=self.other.least_loaded())

    def most_loaded(self) -> "CarrierPair":
        """The reading against it: all that could lie in them, touching where a size isn't known."""
        clear = 0.0 if self.size_doubt else self.clear_mm
        return replace(self, one=self.one.most_loaded(), other=self.other.most_loaded(), clear_mm=clear)


@dataclass(frozen=True, slots=True)
class Nearby:
    """Where two circuits lie near each other in different carriers. ``clear_mm``: the least between the carriers' outsides.

    ``beside_m``: how long the first one's way is that near to the other's.
    """

    one: Carrier
    other: Carrier
    clear_mm: float
    beside_m: float


@dataclass(frozen=True, slots=True)
class SharedCarrier:
    """A carrier that both of two circuits pass.

    ``length_m``: the stretch that both pass, 0 where they pass different ones; None: not known. ``is_divided``: they lie in different
    compartments there.
    """

    carrier: Carrier
    length_m: float | None
    is_divided: bool = False


@dataclass(frozen=True, slots=True)
class SharedFitting:
    """A box or another fitting that both of two circuits pass, with the keys of the carriers by which they do."""

    label: str
    carriers: tuple[str, ...]


def nowhere(_: float) -> tuple[Nearby, ...]:
    """Of two ways that are nowhere near each other."""
    return ()


@dataclass(frozen=True, slots=True)
class CircuitPair:
    """Two circuits of which the project wants that one fault doesn't take both.

    Attributes:
        one: Mark of the first; it comes before the other as people count.
        other: Mark of the second.
        shared: Carriers that both pass, in the order in which people count.
        fittings: Boxes and other fittings that both pass, by way of carriers that they don't share.
        nearest: Where their ways in different carriers come nearest to each other, at the least so far; None: that isn't known.
        nearer: Where those are nearer to each other than so many mm: one for each carrier of the first.
        unplaced: Carriers on their ways of which where they run, or how large they are, isn't known.
        found: Marks of those whose way was found, not given or drawn.
        open_ways: Marks of those of whose way not all is known, with why.
    """

    one: str
    other: str
    shared: tuple[SharedCarrier, ...] = ()
    fittings: tuple[SharedFitting, ...] = ()
    nearest: Nearby | None = None
    nearer: Callable[[float], tuple[Nearby, ...]] = nowhere
    unplaced: tuple[Carrier, ...] = ()
    found: tuple[str, ...] = ()
    open_ways: tuple[tuple[str, str], ...] = ()

    @property
    def about(self) -> About:
        """The carriers that they share, else those at a fitting that they share, else where they come nearest; and both marks."""
        keys = [item.carrier.key for item in self.shared] or [key for item in self.fittings for key in item.carriers]
        if not keys and self.nearest is not None:
            keys = [self.nearest.one.key, self.nearest.other.key]
        marks = (self.one, self.other)
        carriers = tuple(dict.fromkeys(keys))
        label = self.fittings[0].label if self.fittings and not self.shared else ""
        return About(carriers, circuits=marks, label=label, id_keys=tuple(f"circuit {mark}" for mark in sorted(marks)))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why not all of their ways is known."""
        return tuple(why for _, why in self.open_ways)

    @property
    def more_may_count(self) -> bool:
        """Whether they may meet where it isn't known that they do."""
        return bool(self.open_ways)

    def least_loaded(self) -> "CircuitPair":
        """The reading in its favour."""
        return self

    def most_loaded(self) -> "CircuitPair":
        """The reading against it."""
        return self

"""Cables of which it isn't known where they lie: in which compartments they may, and which places they may pass."""

from collections.abc import Iterable, Mapping, Sequence

from checker.model import Carrier, Circuit, Installation, Lane, PlacedCable, Service, State
from checker.network.placing import Place

#: What tells where an unplaced circuit may lie: its service, and the compartment that the schedule says; and whether the schedule leads it
#: by hand, which may be through any.
Sort = tuple[Service | None, int | None, bool]
Doubtful = tuple[tuple[PlacedCable, ...], tuple[str, ...]]


class Unplaced:
    """Gathers what could lie anywhere.

    Args:
        installation: What there is.
        everywhere: Why something else that can't be counted may lie in any compartment.

    Attributes:
        everywhere: All that says why something that can't be counted may lie in any compartment; empty: nothing may.
    """

    def __init__(self, installation: Installation, everywhere: tuple[str, ...] = ()) -> None:
        self.everywhere = (*_unbounded_doubts(installation), *everywhere)
        self._circuits: list[tuple[Circuit, tuple[PlacedCable, ...], str]] = []
        self._marks: dict[Sort, set[str]] = {}
        self._in_lane: dict[tuple[Lane, int], Doubtful] = {}
        self._uncounted: set[Sort] = set()

    def add(self, circuit: Circuit, cables: tuple[PlacedCable, ...], why: str) -> None:
        """A circuit whose cables could lie anywhere that takes them; of which it isn't known where it calls, any number of times."""
        self._circuits.append((circuit, cables, why))
        if not circuit.calls or "to" in circuit.unread:
            self._uncounted.add(_sort_of(circuit))
        if cables:
            self._marks.setdefault(_sort_of(circuit), set()).add(circuit.mark)

    def in_lane(self, lane: Lane, among: int) -> Doubtful:
        """What may lie in one of so many compartments, and why."""
        if (lane, among) not in self._in_lane:
            self._in_lane[lane, among] = _doubtful(
                (cables, why) for circuit, cables, why in self._circuits if _could_lie(_sort_of(circuit), lane, among)
            )
        return self._in_lane[lane, among]

    def is_uncounted(self, lane: Lane, among: int) -> bool:
        """Whether a circuit may lie in one of so many compartments of which it isn't known how many times."""
        return any(_could_lie(sort, lane, among) for sort in self._uncounted)

    def ways_past(self, carriers: Sequence[Carrier], least: int) -> dict[Sort, frozenset[Place]]:
        """The compartments in which circuits could come to a place where carriers meet, of those that could pass it.

        Args:
            carriers: What meets there.
            least: In so many of them one must be able to lie to pass.
        """
        found = {}
        for sort in self._marks:
            places = frozenset(
                (carrier.key, lane.number)
                for carrier in carriers
                for lane in carrier.section.lanes
                if _could_lie(sort, lane, len(carrier.section.lanes))
            )
            if len({key for key, _ in places}) >= least:
                found[sort] = places
        return found

    def marks(self, sort: Sort) -> set[str]:
        """The circuits of a sort."""
        return self._marks[sort]

    def passing(self, ways: Mapping[Sort, object]) -> Doubtful:
        """The cables of the sorts that could pass a place, and why."""
        return _doubtful((cables, why) for circuit, cables, why in self._circuits if _sort_of(circuit) in ways)


def _sort_of(circuit: Circuit) -> Sort:
    is_led = bool(circuit.route) or not {"route", "compartment"}.isdisjoint(circuit.unread)
    return circuit.service, circuit.compartment, is_led


def _could_lie(sort: Sort, lane: Lane, among: int) -> bool:
    """Whether an unplaced circuit could lie in one of so many lanes: in the one that the schedule says, else where its service may."""
    service, compartment, is_led = sort
    if is_led:
        return True
    if compartment is not None and among > 1 and compartment <= among:
        return lane.number == compartment
    return lane.takes(service)


def _doubtful(some: Iterable[tuple[tuple[PlacedCable, ...], str]]) -> Doubtful:
    """All their cables, and the first few reasons of many alike, with how many more there are."""
    pairs = list(some)
    doubts = [why for _, why in pairs]
    if len(doubts) > 3:
        doubts = [*doubts[:2], f"and {len(doubts) - 2} more circuits aren't routed"]
    return tuple(cable for cables, _ in pairs for cable in cables), tuple(doubts)


def _unbounded_doubts(installation: Installation) -> tuple[str, ...]:
    if installation.lost_rows:
        lines = ", ".join(str(line) for line in installation.lost_rows[:10])
        return (
            f"the schedule has rows whose circuit isn't known (line {lines}; see problems.csv), which could lie here",
        )
    if not installation.is_scheduled:
        return ("no schedule was given, so which circuits lie here isn't known",)
    if all(circuit.state is State.REMOVED for circuit in installation.circuits):
        return ("no circuits are known, so what lies here isn't either",)
    return ()

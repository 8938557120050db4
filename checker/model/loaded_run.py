"""A run of conduit with what is drawn through it: what rules about pulling are asked."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.installation import Carrier
from checker.model.subjects import PlacedCable, Run


@dataclass(frozen=True, slots=True)
class RunPiece:
    """A straight length of a run, or a turn, as cables pass it.

    Attributes:
        label: The conduit or bend, as people call it.
        length_m: Along the axis; None: not known.
        rise_m: By how much its far end lies higher than its near one; None: not known.
        turn_deg: By how much it turns; 0: straight; None: not known.
        radius_mm: Of a turn, the radius of its centre line; None: not known.
    """

    label: str
    length_m: float | None
    rise_m: float | None = 0.0
    turn_deg: float | None = 0.0
    radius_mm: float | None = None


@dataclass(frozen=True, slots=True)
class LoadedRun:
    """One run of conduit, with all that is drawn through any part of it.

    Attributes:
        run: Its length, bends and ends.
        carriers: Its conduits, in order where ``pieces`` are.
        ends: What its two ends are called, the first one first.
        pieces: All of it in order from the first end; empty: the order isn't known.
        bore_mm: The smallest inside diameter on it, in its favour; None: one isn't known.
        bore_least_mm: The same against it.
        cables: What lies in it for certain; of several conduits what lies in the most loaded.
        possible: What may lie in it besides.
        possible_doubts: Why that isn't certain, and why its size isn't.
        unbounded: Whether something that can't be counted may lie in it too.
    """

    run: Run
    carriers: tuple[Carrier, ...]
    ends: tuple[str, str] = ("", "")
    pieces: tuple[RunPiece, ...] = ()
    bore_mm: float | None = None
    bore_least_mm: float | None = None
    cables: tuple[PlacedCable, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False

    @property
    def about(self) -> About:
        """All its conduits."""
        keys = tuple(carrier.key for carrier in self.carriers)
        marks = tuple(sorted({cable.circuit for cable in self.cables}))
        return About(keys, circuits=marks, guess=guess_of(self.carriers))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why what is possible isn't certain."""
        return self.possible_doubts

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in it."""
        return self.unbounded

    def least_loaded(self) -> "LoadedRun":
        """The reading in its favour: the larger bore, and only what certainly lies in it."""
        return replace(self, possible=())

    def most_loaded(self) -> "LoadedRun":
        """The reading against it: the smaller bore, and all that could lie in it."""
        bore = self.bore_least_mm if self.bore_least_mm is not None else self.bore_mm
        return replace(self, bore_mm=bore, cables=self.cables + self.possible, possible=())

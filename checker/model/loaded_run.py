"""A run of conduit with what is drawn through it: what rules about pulling are asked."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.installation import Carrier
from checker.model.subjects import PlacedCable, Run
from checker.model.texts import listed, natural


@dataclass(frozen=True, slots=True)
class RunPiece:
    """A straight length of a run, or a turn, as cables pass it.

    Attributes:
        label: The conduit or bend, as people call it.
        length_m: Along the axis; 0: a corner, of which the lengths beside it go on into the corner; None: not known.
        rise_m: By how much its far end lies higher than its near one; None: not known.
        turn_deg: By how much it turns; 0: straight; None: not known.
        radius_mm: Of a turn, the radius of its centre line; None: it is neither drawn nor declared.
        type_name: Of a fitting, the name of its type.
    """

    label: str
    length_m: float | None
    rise_m: float | None = 0.0
    turn_deg: float | None = 0.0
    radius_mm: float | None = None
    type_name: str = ""

    def turned_round(self) -> "RunPiece":
        """The same, passed from its far end."""
        return replace(self, rise_m=None if self.rise_m is None else -self.rise_m)


@dataclass(frozen=True, slots=True)
class LoadedRun:
    """One run of conduit, with all that is drawn through any part of it.

    Attributes:
        run: Its length, bends and ends.
        carriers: Its conduits, in the order in which cables pass them.
        ends: What its two ends are called, the first one first; empty: no element is known there.
        pieces: All that is known of it, in order from the first end.
        is_whole: Whether it is known where it ends, so that ``pieces`` are all of it.
        bends_least_deg: What its known turns come to; None: where it may be entered half-way nothing is known of it as a whole.
        is_left: Whether cables leave it for equipment half-way, where no point to draw in is known.
        bore_mm: The inside diameter of its narrowest conduit, as large as it can be; None: one isn't known.
        bore_least_mm: The same as small as it can be.
        widest_mm: The inside diameter of its widest conduit, as large as it can be; None: one isn't known.
        outside_mm: The outside diameter of its narrowest conduit; None: one isn't known.
        cables: What lies in it for certain; where its conduits differ, of each cable the most that lie in one of them.
        partly: Those of ``cables`` that don't lie in all of its conduits, or not so many: whether they pass all of it isn't known.
        possible: What may lie in it besides.
        possible_doubts: Why that isn't certain.
        unbounded: Whether something that can't be counted may lie in it too.
        perhaps: Those of ``cables`` that needn't be there, in the reading against it.
        is_strict: Whether this is the reading against it.
    """

    run: Run
    carriers: tuple[Carrier, ...]
    ends: tuple[str, str] = ("", "")
    pieces: tuple[RunPiece, ...] = ()
    is_whole: bool = True
    bends_least_deg: float | None = None
    is_left: bool = False
    bore_mm: float | None = None
    bore_least_mm: float | None = None
    widest_mm: float | None = None
    outside_mm: float | None = None
    cables: tuple[PlacedCable, ...] = ()
    partly: tuple[PlacedCable, ...] = ()
    possible: tuple[PlacedCable, ...] = ()
    possible_doubts: tuple[str, ...] = ()
    unbounded: bool = False
    perhaps: tuple[PlacedCable, ...] = ()
    is_strict: bool = False

    @property
    def about(self) -> About:
        """All its conduits."""
        keys = tuple(carrier.key for carrier in self.carriers)
        marks = tuple(sorted({cable.circuit for cable in self.cables}))
        return About(keys, circuits=marks, id_keys=tuple(sorted(keys)), guess=guess_of(self.carriers))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why what is possible isn't certain, which sizes are only known to lie in a range, and what lies in a part of it only."""
        ranged = sorted({cable.circuit for cable in (*self.cables, *self.possible) if cable.is_ranged}, key=natural)
        partly = sorted({cable.circuit for cable in self.partly}, key=natural)
        return (
            *self.possible_doubts,
            *([f"the size of cables of {listed(ranged)} is a range"] if ranged else []),
            *([f"cables of {listed(partly)} don't pass all of its conduits"] if partly else []),
        )

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in it."""
        return self.unbounded

    @property
    def may_hold(self) -> bool:
        """Whether anything lies in it, or may."""
        return bool(self.cables or self.possible or self.unbounded)

    @property
    def called(self) -> tuple[str, str]:
        """What a sentence calls its two ends."""
        first, last = self.carriers[0].place.label, self.carriers[-1].place.label
        one, other = self.ends
        if len(self.carriers) == 1:
            return one or f"one end of {first}", other or f"the other end of {last}"
        return one or f"the end of {first}", other or f"the end of {last}"

    @property
    def certain(self) -> tuple[PlacedCable, ...]:
        """What passes all of it for certain."""
        unsure = {*self.partly, *self.perhaps}
        return tuple(cable for cable in self.cables if cable not in unsure)

    def least_loaded(self) -> "LoadedRun":
        """The reading in its favour: what certainly passes all of it, as thin as it may be.

        What else may lie there stays ``possible``: to a pull it may add strength as well as weight.
        """
        both = (self.certain, self.partly + self.possible)
        thin, possible = (tuple(cable.at_least() for cable in some) for some in both)
        return replace(self, cables=thin, partly=(), possible=possible, is_strict=False)

    def most_loaded(self) -> "LoadedRun":
        """The reading against it: all that could lie in it."""
        perhaps = self.partly + self.possible
        return replace(self, cables=self.certain + perhaps, partly=(), possible=(), perhaps=perhaps, is_strict=True)

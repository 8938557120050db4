"""What is said of a verdict that hangs on the ways of circuits, and of one that doesn't."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model import Carrier
from checker.model.texts import listed, natural
from checker.network.near_ways import NearWay
from checker.rule import Outcome
from checker.units import metres

#: So many circuits, each of which a verdict hangs on, are named.
NAMED = 3
WOULD = {Outcome.PASS: "would pass", Outcome.FAIL: "would fail", Outcome.UNKNOWN: "would be unknown",
         Outcome.WAIVED: "would be waived"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Told:
    """What is to be said of a verdict. ``is_same``: it is so on all near ways; ``is_asked``: it was looked at whether it is."""

    text: str
    is_same: bool
    is_asked: bool = True


@dataclass(frozen=True, slots=True)
class Flip:
    """A circuit that makes a verdict another one by taking another way. ``is_here``: it lies where the verdict is; no way: not known."""

    circuit: str
    way: NearWay | None
    outcome: Outcome
    is_here: bool


class Words:
    """Puts it into words.

    Args:
        carriers: By key.
        near_mm: How much longer near ways may be.
        cut_short: Circuits that have more near ways than were looked at.
        not_asked: Circuits that weren't asked for near ways though their way was found: how they are led, by mark.
    """

    not_looked_at = Told("not looked at: so many ways are near", is_same=False, is_asked=False)

    def __init__(
        self, carriers: Mapping[str, Carrier], near_mm: float, cut_short: Sequence[str], not_asked: Mapping[str, str]
    ) -> None:
        self._carriers, self._near = carriers, f"{metres(near_mm):g} m longer"
        have = "has" if len(cut_short) == 1 else "have"
        more = f"; {listed(cut_short)} {have} more than were looked at" if cut_short else ""
        which = f"all ways of its circuits up to {self._near}"
        if not_asked:
            which = f"all ways that were looked at, up to {self._near}; {_not_asked(not_asked)}"
        self.same = Told(f"the same on {which}{more}", is_same=True)

    def hangs(self, outcome: Outcome, flips: Sequence[Flip]) -> Told:
        """On which circuits a verdict hangs, each by its first way."""
        first: dict[str, Flip] = {}
        for flip in flips:
            first.setdefault(flip.circuit, flip)
        return Told(listed([self._one(outcome, flip) for flip in first.values()], NAMED, "; "), is_same=False)

    def together(self, marks: Sequence[str], *, is_sure: bool) -> Told:
        """That a verdict hangs on several circuits together, or may."""
        hangs = "hangs" if is_sure else "may hang"
        which = f"its ways {marks[0]} takes" if len(marks) == 1 else f"their ways {_joined(marks)} take"
        return Told(f"{hangs} on which of {which}, none more than {self._near}", is_same=False)

    def _one(self, outcome: Outcome, flip: Flip) -> str:
        by = "another way"
        if flip.way is not None:
            by = f"{self._carriers[flip.way.by].place.label} ({metres(flip.way.longer_mm):.2f} m longer)"
        if outcome is Outcome.FAIL and flip.is_here:
            return f"fails only if {flip.circuit} goes this way: by {by} it {WOULD[flip.outcome]}"
        return f"{WOULD[flip.outcome]} if {flip.circuit} went by {by}"


def _joined(marks: Sequence[str]) -> str:
    """Names as a sentence has them, of many the first few."""
    return listed(marks) if len(marks) > 5 else f"{', '.join(marks[:-1])} and {marks[-1]}"


def _not_asked(why: Mapping[str, str]) -> str:
    """That circuits weren't looked at: those that are led alike together."""
    alike: dict[str, list[str]] = {}
    for mark in sorted(why, key=lambda mark: (natural(mark), mark)):
        alike.setdefault(why[mark], []).append(mark)
    told = [f"{listed(marks, NAMED)}, which {'is' if len(marks) == 1 else 'are'} {led}" for led, marks in alike.items()]
    return f"{', and '.join(told)}, {'was' if len(why) == 1 else 'were'} not"

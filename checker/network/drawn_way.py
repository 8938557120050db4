"""The way of a circuit's cables as the model draws them, and what has to be said of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model import Problem, ProblemKind
from checker.model.texts import listed
from checker.network.drawn_counts import Apart
from checker.network.drawn_ends import Missed
from checker.network.route import Visit
from checker.units import metres


@dataclass(frozen=True, slots=True)
class DrawnGap:
    """A stretch of a line that lies in no carrier: between two carriers, beyond one (``after`` empty), or all of it (both empty)."""

    length_mm: float
    before: str = ""
    after: str = ""


@dataclass(frozen=True, slots=True)
class DrawnWay:
    """The way of a circuit's cables as the model draws them.

    Attributes:
        circuit: Its mark.
        visits: The stretches of carriers in order from its origin, one for each pass of all its cables together.
        gaps: Where its lines lie in no carrier; neither drops nor what joins two carriers.
        missed: Of its origin and calls those that no line comes near, and those of which that can't be seen.
        drops_mm: From each of its origin and calls to the nearest carrier along the lines, and on to the equipment; None: not known.
        strands: How many lines run beside each other in one pass, at the most.
        length_mm: From where its lines enter carriers first to where they leave them last, of one pass; 0 where they enter none.
        problems: What has to be said.
        open_problems: What has to be said besides, unless the rest of its way is found.
        parts: In how many parts that don't meet its lines are drawn.
        is_open_ring: It is a ring, and they don't lead all round.
        is_crowded: There is more around its lines than is looked at.
        is_too_much: There are more lines than are looked at, so that nothing is known of where they run.
        lines: Keys of carriers that only some of the lines of one pass lead through, with how many of how many.
    """

    circuit: str
    visits: tuple[Visit, ...] = ()
    gaps: tuple[DrawnGap, ...] = ()
    missed: tuple[str, ...] = ()
    drops_mm: tuple[float | None, ...] = ()
    strands: int = 0
    length_mm: float = 0.0
    problems: tuple[Problem, ...] = ()
    open_problems: tuple[Problem, ...] = ()
    parts: int = 1
    is_open_ring: bool = False
    is_crowded: bool = False
    is_too_much: bool = False
    lines: tuple[tuple[str, int, int], ...] = ()

    @property
    def is_in_part(self) -> bool:
        """Whether it doesn't reach from end to end, and what there is of it is sure."""
        return bool(self.missed or self.is_open_ring or self.parts > 1) and not (self.gaps or self.is_crowded)

    @property
    def has_gap(self) -> bool:
        """Whether its cables must lie elsewhere besides."""
        return self.is_in_part or bool(self.gaps or self.is_crowded)


class Told:
    """What has to be said of one circuit's way, each thing once.

    Attributes:
        problems: What is so in any case.
        open: What is so unless the rest of its way is found.

    Args:
        mark: The circuit's.
    """

    def __init__(self, mark: str) -> None:
        self._where = f"circuit {mark}"
        self.problems: list[Problem] = []
        self.open: list[Problem] = []

    def tell(self, kind: ProblemKind, what: str, why: str, hint: str) -> None:
        """Says something."""
        problem = Problem(self._where, what, why, hint, kind)
        if problem not in self.problems:
            self.problems.append(problem)

    def without(self, labels: Sequence[str]) -> None:
        """Says which of its cables the model has, but doesn't draw."""
        if labels:
            self.tell(ProblemKind.ASSUMPTION, f"the model has cables of it without a path: {listed(sorted(labels))}",
                      "they are taken to run beside those that it draws", "draw them, or give its route in the schedule")  # fmt: skip

    def gaps(self, gaps: Sequence[DrawnGap], labels: Mapping[str, str]) -> None:
        """Says where its lines lie in no carrier; ``labels`` are what carriers are called."""
        if gaps:
            some = listed([f"{metres(gap.length_mm):.2f} m {_where(gap, labels)}" for gap in gaps], between="; ")
            self.tell(ProblemKind.GAP, f"as the model draws its cables they lie in no carrier for {some}",
                      "so they lie elsewhere besides", "draw a carrier there, or the cables in one")  # fmt: skip

    def missed(self, missed: Sequence[Missed]) -> None:
        """Says which ends its lines miss, by how many mm where that is known, and of which that can't be seen."""
        off = [end for end in missed if not end.why_not]
        some = [repr(end.name) + ("" if end.off_mm is None else f" by {metres(end.off_mm):.2f} m") for end in off]
        if some:
            self._open(f"the cables that the model draws miss {listed(some)}", "so they lie elsewhere besides")
        for end in missed:
            if end.why_not:
                why = "so whether the cables that the model draws reach it can't be seen, and they could lie elsewhere besides"
                self._open(end.why_not, why, "name it as the model does, or give its route in the schedule")

    def parts(self, number: int) -> None:
        """Says where its lines are drawn in parts that don't meet."""
        if number > 1:
            what = f"the cables that the model draws are {number} parts that don't meet"
            self._open(what, "so they lie elsewhere besides")

    def open_ring(self, origin: str) -> None:
        """Says that a ring isn't drawn all round."""
        what = f"it is a ring, and the model doesn't draw its cables all round from {origin!r} and back to it"
        self._open(what, "so they lie elsewhere besides")

    def _open(
        self, what: str, why: str, hint: str = "draw them from end to end, or give its route in the schedule"
    ) -> None:
        problem = Problem(self._where, what, why, hint, ProblemKind.GAP)
        if problem not in self.open:
            self.open.append(problem)

    def numbers(self, beside: Sequence[int], scheduled: int | None) -> None:
        """Says where the model draws more lines beside each other than the schedule has cables, or fewer; ``beside`` is of each bundle."""
        if scheduled is None:
            return
        least, most = min(beside), max(beside)
        if most > scheduled:
            self.tell(ProblemKind.ASSUMPTION, f"the model draws {most} cables beside each other, and the schedule has {scheduled}",
                      "what is more is counted as further passes", "mend the count in the schedule, or the model")  # fmt: skip
        if least < scheduled:
            lines = "one line" if least == 1 else f"{least} lines beside each other"
            self.tell(ProblemKind.INFERENCE, f"the model draws {lines} for its {scheduled} cables",
                      "all of them are taken to run there", "nothing, unless it is wrong")  # fmt: skip

    def apart(self, apart: Sequence[Apart], labels: Sequence[str]) -> None:
        """Says through which carriers, by what they are called, only some of the lines of one pass lead."""
        if apart:
            some = listed([f"{labels[item.carrier]} ({item.lines} of {item.beside})" for item in apart])
            self.tell(ProblemKind.ASSUMPTION, f"the model leads its cables different ways, through {some}",
                      "all conductors of a circuit belong together; all are counted in each", "draw them together")  # fmt: skip


def _where(gap: DrawnGap, labels: Mapping[str, str]) -> str:
    if not gap.before and not gap.after:
        return "in all"
    if gap.before and gap.after:
        return (
            f"between {labels[gap.before]} and {labels[gap.after]}"
            if gap.before != gap.after
            else f"beside {labels[gap.before]}"
        )
    return f"beyond {labels[gap.before or gap.after]}"

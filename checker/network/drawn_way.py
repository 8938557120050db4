"""The way of a circuit's cables as the model draws them, and what has to be said of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model import Problem, ProblemKind, Vec
from checker.model.texts import listed
from checker.units import metres


@dataclass(frozen=True, slots=True)
class DrawnVisit:
    """A stretch of one carrier that a circuit's cables pass as drawn; ``compartment`` None: the drawing doesn't say it clearly."""

    carrier: str
    from_mm: float
    to_mm: float
    compartment: int | None = None


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
        missed: Of its origin and calls those that no line comes near.
        drops_mm: From each of its origin and calls to the nearest carrier along the lines, and on to the equipment; None: not known.
        free_ends_mm: Where its lines end.
        strands: How many lines run beside each other in one pass.
        length_mm: From where its lines enter carriers first to where they leave them last, of one pass; 0 where they enter none.
        drawn_mm: Of all lines together.
        carried_mm: Of that in carriers.
        problems: What has to be said.
        parts: In how many parts that don't meet its lines are drawn.
        is_crowded: There is more around its lines than is looked at.
    """

    circuit: str
    visits: tuple[DrawnVisit, ...] = ()
    gaps: tuple[DrawnGap, ...] = ()
    missed: tuple[str, ...] = ()
    drops_mm: tuple[float | None, ...] = ()
    free_ends_mm: tuple[Vec, ...] = ()
    strands: int = 0
    length_mm: float = 0.0
    drawn_mm: float = 0.0
    carried_mm: float = 0.0
    problems: tuple[Problem, ...] = ()
    parts: int = 1
    is_crowded: bool = False

    @property
    def has_gap(self) -> bool:
        """Whether its cables must lie elsewhere besides."""
        return bool(self.gaps or self.missed or self.is_crowded) or self.parts > 1


class Told:
    """What has to be said of one circuit's way, each thing once.

    Args:
        mark: The circuit's.
    """

    def __init__(self, mark: str) -> None:
        self._where = f"circuit {mark}"
        self.problems: list[Problem] = []

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

    def missed(self, missed: Sequence[tuple[str, float]]) -> None:
        """Says which ends its lines miss, and by how many mm."""
        if missed:
            some = listed([f"{name!r} by {metres(off):.2f} m" for name, off in missed])
            self.tell(ProblemKind.GAP, f"the cables that the model draws miss {some}", "so they lie elsewhere besides",
                      "draw them from end to end, or give its route in the schedule")  # fmt: skip

    def parts(self, number: int) -> None:
        """Says where its lines are drawn in parts that don't meet."""
        if number > 1:
            self.tell(ProblemKind.GAP, f"the cables that the model draws are {number} parts that don't meet",
                      "so they lie elsewhere besides", "draw them from end to end, or give its route in the schedule")  # fmt: skip

    def numbers(self, beside: int, scheduled: int | None) -> None:
        """Says where the model draws more lines beside each other than the schedule has cables, or fewer."""
        if scheduled is None or beside == scheduled:
            return
        if beside > scheduled:
            self.tell(ProblemKind.ASSUMPTION, f"the model draws {beside} cables beside each other, and the schedule has {scheduled}",
                      "what is more is counted as further passes", "mend the count in the schedule, or the model")  # fmt: skip
            return
        lines = "one line" if beside == 1 else f"{beside} lines beside each other"
        self.tell(ProblemKind.INFERENCE, f"the model draws {lines} for its {scheduled} cables",
                  "all of them are taken to run there", "nothing, unless it is wrong")  # fmt: skip

    def apart(self, apart: Sequence[tuple[str, int]], beside: int) -> None:
        """Says through which carriers, by what they are called, only some of the lines of one pass lead."""
        if apart:
            some = listed([f"{label} ({lines} of {beside})" for label, lines in apart])
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

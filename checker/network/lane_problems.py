"""What has to be said of compartments along the ways of circuits, folded: once for each circuit, or for each place."""

from collections import defaultdict
from collections.abc import Iterator

from checker.model import Carrier, Problem, ProblemKind
from checker.model.texts import listed, natural

Labels = dict[str, str]  # of carriers, by their keys
SAY_IT = "say it in the schedule (compartment, or /N in the route), or give the type's compartments in wayroom.toml"


class LaneProblems:
    """Gathers it circuit by circuit."""

    def __init__(self) -> None:
        self._concluded: dict[tuple[str, bool], Labels] = defaultdict(dict)
        self._ends: dict[tuple[str, str, int], list[str]] = defaultdict(list)
        self._crossed: dict[tuple[str, int, bool], Labels] = defaultdict(dict)
        self._opposite: dict[bool, dict[tuple[str, str], str]] = {False: {}, True: {}}
        self._carriers: dict[str, Carrier] = {}

    def conclude(self, mark: str, by_number: bool, carrier: Carrier) -> None:  # noqa: FBT001 - one of two ways
        """A compartment was concluded from the one beside it on the way."""
        self._concluded[mark, by_number][carrier.key] = carrier.place.label

    def end(self, mark: str, one: Carrier, other: Carrier, number: int) -> None:
        """A compartment of one carrier ends where the next has another number of them."""
        self._carriers[one.key], self._carriers[other.key] = one, other
        marks = self._ends[one.key, other.key, number]
        if mark not in marks:
            marks.append(mark)

    def cross(self, mark: str, number: int, carrier: Carrier, *, is_mirrored: bool) -> None:
        """A compartment that is said lies on another side than where the circuit has lain."""
        self._crossed[mark, number, is_mirrored][carrier.key] = carrier.place.label

    def opposite(self, one: Carrier, other: Carrier, *, by_number: bool) -> None:
        """Two carriers that meet have the compartment of a service on different sides, or at a tee with different numbers."""
        first, last = sorted((one, other), key=lambda carrier: (natural(carrier.place.label), carrier.key))
        self._opposite[by_number][first.key, last.key] = f"{first.place.label} and {last.place.label}"

    def all(self) -> Iterator[Problem]:
        """One problem for each circuit, or for each place, with all that it touches."""
        for (mark, by_number), labels in sorted(self._concluded.items()):
            how = "the number that it has beyond a tee" if by_number else "the side on which it lies before or after"
            yield Problem(f"circuit {mark}", f"its compartment is concluded from {how}: {_named(labels)}",
                          "nothing says which one it is there", SAY_IT, ProblemKind.INFERENCE, len(labels))  # fmt: skip
        for (first, last, number), marks in sorted(self._ends.items()):
            one, other = self._carriers[first], self._carriers[last]
            counts = len(one.section.lanes), len(other.section.lanes)
            they, lie = ("circuits", "lie") if len(marks) > 1 else ("circuit", "lies")
            yield Problem(
                f"{one.place.label} to {other.place.label}",
                f"compartment {number} ends: {one.place.label} has {counts[0]} compartments and {other.place.label} {counts[1]}",
                f"so in which of them {they} {listed(sorted(marks, key=natural))} {lie} in {other.place.label} isn't known",
                SAY_IT, elements=len(marks),
            )  # fmt: skip
        for (mark, number, is_mirrored), labels in sorted(self._crossed.items()):
            where = "on the other side" if is_mirrored else "elsewhere across the section"
            yield Problem(
                f"circuit {mark}",
                f"its compartment {number} lies {where} in {_named(labels)}; cables would have to cross the divider",
                "the compartment that the schedule says is taken", "turn what is drawn the other way round, or say /N in the route",
                ProblemKind.ASSUMPTION, len(labels),
            )  # fmt: skip
        for by_number, opposite in self._opposite.items():
            if not opposite:
                continue
            pairs = sorted(opposite.values(), key=natural)
            how = "have different numbers" if by_number else "lie on different sides"
            yield Problem(
                listed(pairs, between="; "), f"where they meet, the compartments of a service {how}",
                "each circuit is taken to lie in the compartment for its service, so its cables would have to cross the divider",
                "turn what is drawn the other way round, or give its type's compartments in the other order",
                ProblemKind.ASSUMPTION, len(pairs),
            )  # fmt: skip


def _named(labels: Labels) -> str:
    return listed(sorted(dict.fromkeys(labels.values()), key=natural))

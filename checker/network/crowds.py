"""Spots where too much meets to tell what belongs together, as where a model has thousands of elements at its origin."""

from collections.abc import Sequence

from checker.model import Problem, ProblemKind, Vec
from checker.model.geometry import distance
from checker.model.texts import listed
from checker.network.bodies import HAIR_MM
from checker.network.cells import Grid

#: More ends than this at one spot aren't joined: no board or box that is drawn has as many at one point.
MOST_AT_SPOT = 24
#: Around no spot more things than this are looked at, so that work grows as the model does.
MOST_LOOKED_AT = 200

#: Something at a place: its element and where on it (see ``Spot.mark``), its point, and its tolerance in mm.
Thing = tuple[tuple[str, str], Vec, float]


class Crowds:
    """Remembers the ends that lie in crowds. The other end of such an element may well join something."""

    def __init__(self) -> None:
        self.marks: set[tuple[str, str]] = set()

    def pairs(self, asking: Sequence[Thing], silent: Sequence[Thing] = ()) -> list[tuple[int, int, float]]:
        """Which things of different elements lie within the larger one's tolerance of each other, with the distance in mm.

        Those with too many around them are in no pair, and remembered.

        Args:
            asking: Things whose neighbours are looked for.
            silent: Things that are only found; their numbers go on after those of the others.
        """
        things = [*asking, *silent] if asking else []
        grid = Grid(max((tolerance for _, _, tolerance in things), default=1.0) + HAIR_MM)
        for number, (_, point, _) in enumerate(things):
            grid.add(number, [point])
        crowded: set[int] = set()
        found: dict[tuple[int, int], float] = {}
        for number, thing in enumerate(asking):
            near = self._meet(number, things, grid)
            if near is None:
                crowded.add(number)
                self.marks.add(thing[0])
            else:
                found |= {(min(number, other), max(number, other)): gap for other, gap in near}
        return [(*pair, gap) for pair, gap in found.items() if crowded.isdisjoint(pair)]

    @staticmethod
    def _meet(number: int, things: Sequence[Thing], grid: Grid) -> list[tuple[int, float]] | None:
        """What lies within tolerance of one of them; None: too much."""
        (element, _), point, tolerance = things[number]
        near = grid.near(point, MOST_LOOKED_AT)
        if near is None:
            return None
        met = []
        for other in near:
            if things[other][0][0] != element:
                gap = distance(point, things[other][1])
                if gap <= max(tolerance, things[other][2]) + HAIR_MM:
                    met.append((other, gap))
        return met if len(met) <= MOST_AT_SPOT else None

    def problems(self, labels: dict[str, str]) -> list[Problem]:
        """One problem for all crowds.

        Args:
            labels: What a person calls each element, by its key.
        """
        if not self.marks:
            return []
        names = sorted(labels.get(key, key) for key in {key for key, _ in self.marks})
        return [
            Problem(listed(names), f"more than {MOST_AT_SPOT} ends or bodies lie at one spot",
                    "so which of them belong together can't be told, and they aren't joined there",
                    "give the elements their places in the model, or connect their ports", ProblemKind.GAP, len(names))
        ]  # fmt: skip

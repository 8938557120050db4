"""Problems as people read them: those that say the same stand together, the most serious first."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from checker.model import Problem, ProblemKind
from checker.model.texts import natural

_KINDS = tuple(ProblemKind)
_PLURALS = {
    ProblemKind.GAP: "gaps",
    ProblemKind.CORRECTION: "corrections",
    ProblemKind.ASSUMPTION: "assumptions",
    ProblemKind.INFERENCE: "inferences",
}


@dataclass(frozen=True, slots=True)
class ProblemGroup:
    """Problems of one kind that say the same in the same words, in the order of where they are.

    ``number`` counts from 1 in the order in which groups are shown; ``elements`` is how many elements all of them touch.
    """

    number: int
    kind: ProblemKind
    what: str
    why: str
    hint: str
    elements: int
    problems: tuple[Problem, ...]

    @property
    def places(self) -> tuple[str, ...]:
        """Where they are, each place once."""
        return tuple(dict.fromkeys(problem.where for problem in self.problems))


def problem_groups(problems: Iterable[Problem]) -> tuple[ProblemGroup, ...]:
    """Groups problems: by kind, the most serious first, then by how many elements they touch, the most first."""
    alike: dict[tuple[ProblemKind, str, str, str], list[Problem]] = defaultdict(list)
    for problem in problems:
        alike[problem.kind, problem.what, problem.why, problem.hint].append(problem)
    counted = [(key, _elements(found), found) for key, found in alike.items()]
    counted.sort(key=lambda group: (_KINDS.index(group[0][0]), -group[1], group[0]))
    return tuple(
        ProblemGroup(number, *key, elements, tuple(sorted(found, key=_by_place)))
        for number, (key, elements, found) in enumerate(counted, start=1)
    )


def kinds_in_words(problems: Iterable[Problem]) -> str:
    """How many there are of each kind, as ``2 gaps, 1 assumption``; empty where there are none."""
    numbers = Counter(problem.kind for problem in problems)
    return ", ".join(
        f"{numbers[kind]} {kind if numbers[kind] == 1 else _PLURALS[kind]}" for kind in _KINDS if numbers[kind]
    )


def _elements(problems: Iterable[Problem]) -> int:
    """How many elements they touch. Elements may share a name, so each problem counts, as often as its place is told."""
    return sum(problem.elements for problem in problems)


def _by_place(problem: Problem) -> tuple[list[tuple[int, str]], str, int]:
    return natural(problem.where), problem.where, problem.elements

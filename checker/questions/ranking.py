"""Ranks questions: first the one whose answer settles most, then with that answered the next."""

import heapq
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.model.texts import natural


@dataclass(frozen=True, slots=True)
class Ranked:
    """A question in its turn. ``settles`` and ``together`` count verdicts: settled by it after those before it, and by all up to it."""

    need: str
    settles: int
    together: int


def ranked(verdicts: Mapping[frozenset[str], int]) -> list[Ranked]:
    """Questions in the order of what they settle, down to the last.

    Where no single one settles any, the one that most open verdicts hang on comes first. The work grows with the number of pairs of
    question and set, not with their product.

    Args:
        verdicts: How many verdicts are settled by the same answers, all of which each needs.
    """
    tally = _Tally(verdicts)
    found: list[Ranked] = []
    together = 0
    while (need := tally.next_one()) is not None:
        settles = tally.answer(need)
        together += settles
        found.append(Ranked(need, settles, together))
    return found


class _Tally:
    """What each answer would settle now, and how many open verdicts hang on it, kept up as answers are given."""

    def __init__(self, verdicts: Mapping[frozenset[str], int]) -> None:
        self._of: dict[str, list[tuple[set[str], int]]] = defaultdict(list)
        self._gain: Counter[str] = Counter()
        self._open: Counter[str] = Counter()
        for needs, number in verdicts.items():
            left = set(needs)  # one set for all its questions, so that each sees what the others have left of it
            for need in needs:
                self._of[need].append((left, number))
                self._open[need] += number
            self._count_last(left, number)
        self._heap = [self._entry(need) for need in self._of]
        heapq.heapify(self._heap)

    def next_one(self) -> str | None:
        """The answer that settles most, or on which most hang; None where nothing is open."""
        while self._heap:
            entry = heapq.heappop(self._heap)
            need = entry[-1]
            if need in self._of and entry == self._entry(need):
                return need
        return None

    def answer(self, need: str) -> int:
        """Gives an answer, and says how many verdicts that settles."""
        settled = 0
        changed: set[str] = set()
        for left, number in self._of.pop(need):
            left.discard(need)
            if not left:
                settled += number
            elif len(left) == 1:
                changed |= left
            self._count_last(left, number)
        for other in sorted(changed):
            heapq.heappush(self._heap, self._entry(other))
        return settled

    def _count_last(self, left: set[str], number: int) -> None:
        """Where one answer is left, it alone would settle them."""
        if len(left) == 1:
            self._gain[next(iter(left))] += number

    def _entry(self, need: str) -> tuple[int, int, Sequence[object], str]:
        return -self._gain[need], -self._open[need], natural(need), need

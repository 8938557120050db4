"""Why circuits have no way: the two parts of the network that don't meet, and where they come nearest; or what is closed between them."""

from collections.abc import Iterable
from dataclasses import dataclass

from checker.model import Circuit, Problem
from checker.model.texts import listed
from checker.network.breaks import Break, Breaks, blocked_by, in_words
from checker.network.graph import Node
from checker.network.joins import Join
from checker.network.search import Closed, Search

#: Of so many closed carriers between two parts each is named.
MOST_NAMED = 4


@dataclass(frozen=True, slots=True)
class NoWay:
    """A circuit without a way between two places of the network, and what is closed to it."""

    circuit: Circuit
    one: Node
    other: Node
    closed: Closed


class NoWays:
    """Finds out what is missing, for all circuits together.

    Args:
        search: On the network.
        joins: All, also those with equipment.
    """

    def __init__(self, search: Search, joins: Iterable[Join]) -> None:
        self._search, self._network = search, search.network
        self._joins = tuple(joins)
        self._parts: dict[int, list[str]] = {}
        self._numbers: dict[Closed, dict[int, int]] = {}
        self._blocks: dict[tuple[int, int], tuple[str, ...]] = {}

    def told(self, no_ways: Iterable[NoWay]) -> tuple[dict[str, str], tuple[Break, ...], list[Problem]]:
        """What is to be said of each circuit, by its mark, where parts of the network don't meet, and problems of looking for that."""
        asked = tuple(no_ways)
        joined = (
            frozenset(spot.mark for join in self._joins for spot in (join.one, join.other)) if asked else frozenset()
        )
        breaks = Breaks(self._network.carriers, self._parts, joined)
        said: dict[str, str] = {}
        for no_way in asked:
            one, other = self._part(no_way.one, no_way.closed), self._part(no_way.other, no_way.closed)
            if one is None or other is None or one == other:
                continue
            blocks = self._blocked(one, other, no_way.closed)
            if blocks:
                said[no_way.circuit.mark] = self._closed_words(blocks, no_way.circuit)
                continue
            breaks.add(no_way.circuit.mark, one, other)
        rows = breaks.rows()
        for row in rows:
            words = in_words(row, self._network.carriers)
            said |= dict.fromkeys(row.circuits, words)
        return said, tuple(rows), breaks.not_looked_at()

    def _part(self, node: Node, closed: Closed) -> int | None:
        """The number of the part that a node is in; parts of networks in which other carriers are closed have other numbers."""
        if closed not in self._numbers:
            self._numbers[closed] = {}
            for key in self._network.carriers:
                if key not in closed:
                    part = self._search.part((key, 0.0), closed)
                    number = self._numbers[closed].setdefault(part, len(self._parts))
                    self._parts.setdefault(number, []).append(key)
        return self._numbers[closed].get(self._search.part(node, closed))

    def _blocked(self, one: int, other: int, closed: Closed) -> tuple[str, ...]:
        if (one, other) not in self._blocks:
            ways = self._network.meets() if closed else {}
            self._blocks[one, other] = blocked_by(ways, closed, set(self._parts[one]), set(self._parts[other]))
        return self._blocks[one, other]

    def _closed_words(self, blocks: tuple[str, ...], circuit: Circuit) -> str:
        carriers = [self._network.carriers[key] for key in blocks]
        parts = []
        for why, of_why in (
            (f"not for {circuit.service}", [item for item in carriers if not item.takes(circuit.service)]),
            ("closed to it", [item for item in carriers if item.takes(circuit.service)]),
        ):
            if of_why:
                labels = listed([item.place.label for item in of_why], MOST_NAMED)
                parts.append(f"{labels}, which {'is' if len(of_why) == 1 else 'are'} {why}")
        return f"the two parts of the network are joined only through {', and '.join(parts)}"

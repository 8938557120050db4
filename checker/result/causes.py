"""Which failing findings of one rule, on carriers of one size, hang together: a person would raise them as one."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from checker.result.tables import FindingRow

Neighbours = Mapping[str, set[str]]


def connected(
    members: Sequence[FindingRow], neighbours: Neighbours, passed: Mapping[str, frozenset[str]]
) -> list[list[FindingRow]]:
    """Findings in groups of one cause each.

    Args:
        members: Failing findings of one rule.
        neighbours: Carriers that meet, by key.
        passed: The keys of the carriers that each circuit passes, by its mark.
    """
    of_circuits = [finding for finding in members if finding.is_of_circuit]
    others = [finding for finding in members if not finding.is_of_circuit]
    return [*_circuits(of_circuits, neighbours, passed), *_lengths(others, neighbours)]


def lengths_of(finding: FindingRow) -> tuple[str, ...]:
    """The carriers of a finding, and of a circuit's the others on its way where it fails too."""
    return (*finding.carriers, *finding.along)


def _circuits(
    members: Iterable[FindingRow], neighbours: Neighbours, passed: Mapping[str, frozenset[str]]
) -> list[list[FindingRow]]:
    """Circuits that make each other too weak: they fail on one length, or on two that meet and that one of them passes both.

    It is told length by length, so that thousands of circuits in one riser cost no more than their lengths.
    """
    members = list(members)
    leads: dict[str, str] = {}

    def lead(key: str) -> str:
        while (above := leads.setdefault(key, key)) != key:
            leads[key] = leads[above]
            key = leads[key]
        return key

    for finding in members:
        first, *more = lengths_of(finding)
        for key in more:
            leads[lead(key)] = lead(first)
    failing = {key for finding in members for key in lengths_of(finding)}
    for finding in members:
        way = frozenset[str]().union(*(passed.get(mark, frozenset()) for mark in finding.circuits))
        for key in lengths_of(finding):
            for other in neighbours.get(key, frozenset()) & way & failing:
                leads[lead(other)] = lead(key)
    groups: dict[str, list[FindingRow]] = defaultdict(list)
    for finding in members:
        groups[lead(finding.carriers[0])].append(finding)
    return list(groups.values())


def _lengths(members: Iterable[FindingRow], neighbours: Neighbours) -> list[list[FindingRow]]:
    """Lengths with a circuit in common that are one or meet, or where no circuit is named at either."""
    left = {finding.id: finding for finding in members}
    at: dict[str, list[FindingRow]] = defaultdict(list)
    for finding in left.values():
        for key in finding.carriers:
            at[key].append(finding)
    groups = []
    while left:
        _, first = left.popitem()
        group, waiting = [first], [first]
        while waiting:
            here = waiting.pop()
            near = {key for own in here.carriers for key in (own, *neighbours.get(own, ()))}
            for other in (finding for key in sorted(near) for finding in at.get(key, ())):
                if other.id in left and _have_one_cause(here, other):
                    group.append(left.pop(other.id))
                    waiting.append(other)
        groups.append(group)
    return groups


def _have_one_cause(here: FindingRow, other: FindingRow) -> bool:
    return not set(here.circuits).isdisjoint(other.circuits) or not (here.circuits or other.circuits)

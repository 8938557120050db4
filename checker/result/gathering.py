"""Groups of findings as a person would raise them: what has one cause in one note, and tens of notes where thousands of lengths fail."""

from collections import defaultdict
from collections.abc import Mapping, Sequence

from checker.result.gravity import gravity
from checker.result.tables import CarrierRow, FindingRow

Group = tuple[FindingRow, ...]

#: Rules that ask about a compartment's fill once more. What is too full fails them for that cause, and is told in its note.
ASK_FILL_AGAIN = frozenset({"fill.spare", "fill.seal", "access.closed"})
#: So many notes are raised of one rule; of more, those that are alike are put together.
MOST_OF_RULE = 50
#: And so many of all rules together, unless there are more rules: of more, each rule has its share at the most.
MOST_OF_ALL = 99

#: What those have in common that are put together where one rule has too many notes: the first of these that leaves few enough.
_ALIKE = (
    ("storey", "type", "kind", "size", "compartment"),
    ("storey", "kind", "size"),
    ("storey", "kind"),
    ("kind", "size"),
    ("kind",),
    (),
)


def gathered(groups: Sequence[Group], carriers: Mapping[str, CarrierRow]) -> list[Group]:
    """Groups put together, each with its worst first, the gravest group first.

    Args:
        groups: Failing findings of one rule and one cause each, the worst first.
        carriers: All carriers by key.
    """
    joined = _joined(groups)
    of_rule: dict[str, list[Group]] = defaultdict(list)
    for group in joined:
        of_rule[group[0].rule].append(group)
    kept = {rule: _few(alike, carriers, MOST_OF_RULE) for rule, alike in of_rule.items()}
    if sum(map(len, kept.values())) > MOST_OF_ALL:
        share = max(1, MOST_OF_ALL // len(kept))
        kept = {rule: _few(alike, carriers, share) for rule, alike in of_rule.items()}
    few = [group for alike in kept.values() for group in alike]
    return sorted(few, key=lambda group: gravity(group[0]))


def _joined(groups: Sequence[Group]) -> list[Group]:
    """What fails by its fill for a cause that another group has goes to that: to the gravest of those in the same compartment."""
    leads: dict[tuple[str, int | None], int] = {}
    for place, group in enumerate(groups):
        if group[0].rule.startswith("fill.") and group[0].rule not in ASK_FILL_AGAIN:
            for finding in group:
                for key in finding.carriers:
                    leads.setdefault((key, finding.compartment), place)
    members: list[list[FindingRow]] = [[] for _ in groups]
    for place, group in enumerate(groups):
        for finding in group:
            leading = None
            if finding.rule in ASK_FILL_AGAIN:
                leading = next(
                    (
                        leads[key, finding.compartment]
                        for key in finding.carriers
                        if (key, finding.compartment) in leads
                    ),
                    None,
                )
            members[place if leading is None else leading].append(finding)
    # what leads stays first: the others fail because of it
    return [_leading_first(group) for group in members if group]


def _leading_first(group: Sequence[FindingRow]) -> Group:
    return tuple(sorted(group, key=lambda row: (row.rule in ASK_FILL_AGAIN, gravity(row))))


def _few(groups: list[Group], carriers: Mapping[str, CarrierRow], most: int) -> list[Group]:
    """Groups of one rule, put together by what they have in common until there are no more than so many."""
    if len(groups) <= most:
        return groups
    together: dict[tuple[object, ...], list[FindingRow]] = {}
    for alike in _ALIKE:
        together = defaultdict(list)
        for group in groups:
            facts = _facts(group[0], carriers[group[0].carriers[0]])
            together[tuple(facts[name] for name in alike)].extend(group)
        if len(together) <= most:
            break
    return [_leading_first(group) for group in together.values()]


def _facts(finding: FindingRow, row: CarrierRow) -> dict[str, object]:
    return {
        "storey": row.place.storey,
        "type": row.type_name,
        "kind": row.kind,
        "size": row.size,
        "compartment": finding.compartment,
    }

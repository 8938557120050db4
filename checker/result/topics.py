"""Which findings a person would raise together, and in what words.

Failing lengths belong to one topic where one cause makes them fail: the same rule, the same size and compartment, next to each other,
and a circuit in common.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from checker.model import Place
from checker.model.texts import listed, natural, number
from checker.result.camera import fit_camera
from checker.result.gravity import gravity
from checker.result.notes import advices, found_and_wanted
from checker.result.tables import CarrierRow, FindingRow, Topic

#: The description's last line: what merging finds our topics by.
IDS_LINE = "wayroom: "
MOST_LISTED = 40
HIGH = "High"
MOST_NAMED = 4
#: What figures are of, by measure.
MEASURES = {"area": " full", "term": " of the conduit's term", "width": " of the width"}


def group_findings(
    findings: Iterable[FindingRow], carriers: Mapping[str, CarrierRow], neighbours: Mapping[str, set[str]]
) -> list[tuple[FindingRow, ...]]:
    """Groups failing findings; each group's worst comes first, and groups are in a fixed order."""
    failing = sorted((finding for finding in findings if finding.verdict == "fail"), key=lambda finding: finding.id)
    alike: dict[tuple[object, ...], list[FindingRow]] = defaultdict(list)
    for finding in failing:
        row = carriers[finding.carriers[0]]
        alike[finding.rule, finding.compartment, row.kind, row.size].append(finding)
    groups = [group for members in alike.values() for group in _connected(members, neighbours)]
    ordered = [tuple(sorted(group, key=gravity)) for group in groups]
    return sorted(ordered, key=lambda group: gravity(group[0]))


def _connected(members: Sequence[FindingRow], neighbours: Mapping[str, set[str]]) -> list[list[FindingRow]]:
    """Parts of a set of findings that hang together, through carriers that meet and circuits in common."""
    at: dict[str, list[FindingRow]] = defaultdict(list)
    for finding in members:
        for key in finding.carriers:
            at[key].append(finding)
    left = {finding.id: finding for finding in members}
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
    """Whether two failing findings near each other are one: a circuit in common, or circuits that one length makes too weak."""
    if here.is_of_circuit and here.carriers == other.carriers:
        return True
    return not set(here.circuits).isdisjoint(other.circuits) or not here.circuits


def make_topic(
    guid: str,
    group: Sequence[FindingRow],
    carriers: Mapping[str, CarrierRow],
    cables: Iterable[tuple[tuple[str, ...], Place]],
    rule_title: str,
    cautions: Sequence[str],
) -> Topic:
    """One topic of a group of findings.

    Args:
        guid: Its identity.
        group: Failing findings, the worst first.
        carriers: All carriers by key.
        cables: The model's cables with the marks of the circuits that may own them.
        rule_title: The rule in a few words.
        cautions: What every note says of itself.
    """
    worst = group[0]
    keys = list(dict.fromkeys(key for finding in group for key in finding.carriers))
    rows = [carriers[key] for key in keys]
    circuits = sorted({mark for finding in group for mark in finding.circuits})
    boxes = [box for row in rows for box in row.boxes]
    return Topic(
        guid=guid,
        title=_title(worst, rows, circuits),
        description=_description(group, rows, carriers, circuits, rule_title, cautions),
        rule=worst.rule,
        priority=_priority(worst),
        labels=(worst.rule.split(".", 1)[0].capitalize(), rows[0].kind.capitalize()),
        members=tuple(sorted(finding.id for finding in group)),
        carriers=tuple(keys),
        cables=tuple(place for marks, place in cables if not set(marks).isdisjoint(circuits)),
        circuits=tuple(circuits),
        worst=worst.id,
        camera=fit_camera(boxes) if boxes else None,
    )


def _priority(worst: FindingRow) -> str:
    """Services that must be apart, and the half over the limit, come first."""
    return HIGH if worst.use is None or worst.use >= 1.25 else "Normal"


def _size(row: CarrierRow) -> str:
    return f"{row.kind} {row.size} mm" if row.size else row.kind


def _amount(finding: FindingRow) -> str:
    found, wanted = found_and_wanted(finding)
    if finding.found or finding.wanted:
        return ", ".join(part for part in (found, wanted if finding.wanted else _limit(finding, wanted)) if part)
    if finding.value is None:
        return finding.reason
    if finding.is_current:
        if finding.limit is None or finding.value <= finding.limit:
            return finding.reason
        return f"{number(finding.value, 'A')} needed at worst, {number(finding.limit, 'A')} allowed"
    what = MEASURES.get(finding.measure, "")
    return f"{found}{what}, {_limit(finding, wanted)}" if wanted else finding.reason


def _limit(finding: FindingRow, wanted: str) -> str:
    return wanted if finding.is_floor or not wanted else f"limit {wanted}"


def _title(worst: FindingRow, rows: Sequence[CarrierRow], circuits: Sequence[str]) -> str:
    labels = sorted((row.place.label for row in rows), key=natural)
    where = listed(labels, MOST_NAMED)
    compartment = f", compartment {worst.compartment}" if worst.compartment is not None else ""
    if worst.is_of_circuit:
        what = f"{_circuits(circuits)}, {_amount(worst)}"
    else:
        what = _amount(worst)
    return f"{where} ({_size(rows[0])}){compartment}: {what}"


def _circuits(marks: Sequence[str]) -> str:
    named = listed(sorted(marks, key=natural), MOST_NAMED)
    return f"{'circuit' if len(marks) == 1 else 'circuits'} {named}"


def _description(
    group: Sequence[FindingRow],
    rows: Sequence[CarrierRow],
    carriers: Mapping[str, CarrierRow],
    circuits: Sequence[str],
    rule_title: str,
    cautions: Sequence[str],
) -> str:
    worst = group[0]
    storeys = ", ".join(sorted({row.place.storey for row in rows if row.place.storey})) or "no storey given"
    lines = [
        f"{rule_title} ({worst.rule}).",
        f"Where: {storeys}. {_size(rows[0]).capitalize()}.",
        f"Limit: {worst.source} ({worst.basis}).",
        "",
    ]
    for finding in group[:MOST_LISTED]:
        places = [carriers[key].place for key in finding.carriers]
        labels = ", ".join(f"{place.label}{f' in {place.space}' if place.space else ''}" for place in places)
        if finding.at:
            space = f" in {places[0].space}" if len(places) == 1 and places[0].space else ""
            labels = f"{finding.at}{space}" if len(places) == 1 else f"{finding.at} ({labels})"
        compartment = (
            f", compartment {finding.compartment}" if finding.compartment is not None and not finding.at else ""
        )
        whose = f", circuit {', '.join(finding.circuits)}" if finding.is_of_circuit else ""
        lines.append(f"- {labels}{compartment}{whose}: {finding.reason}")
    if len(group) > MOST_LISTED:
        others = (carriers[key].place.label for finding in group[MOST_LISTED:] for key in finding.carriers)
        lines.append(f"- and {', '.join(others)}")
    lines += [f"Advice: {text}" for text in advices(group)]
    lines += ["", f"Circuits: {', '.join(circuits) or 'none named'}.", "", *cautions, ""]
    return "\n".join([*lines, IDS_LINE + " ".join(sorted(finding.id for finding in group))])

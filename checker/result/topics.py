"""Which findings a person would raise together, and in what words.

Failing lengths belong to one topic where one cause makes them fail: the same rule, the same size and compartment, next to each other,
and a circuit in common.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence

from checker.model import Place
from checker.model.setting import Setting
from checker.result.camera import extent_mm, fit_camera
from checker.result.gravity import gravity
from checker.result.tables import CarrierRow, FindingRow, Topic
from checker.result.topic_text import IDS_LINE, finding_lines, remedy_lines, selection_line, title_of, where_line
from checker.result.whereabouts import clip_m, grid_words

HIGH, NORMAL = "High", "Normal"


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
    *,
    titles: Mapping[str, str] | None = None,
    setting: Setting | None = None,
) -> Topic:
    """One topic of a group of findings.

    Args:
        guid: Its identity.
        group: Failing findings, the worst first.
        carriers: All carriers by key.
        cables: The model's cables with the marks of the circuits that may own them.
        rule_title: The rule in a few words.
        cautions: What every note says of itself.
        titles: Of the other rules in the group, by id.
        setting: The grids and floors around it.
    """
    worst, setting = group[0], setting or Setting()
    keys = list(dict.fromkeys(key for finding in group for key in finding.carriers))
    rows = [carriers[key] for key in keys]
    circuits = sorted({mark for finding in group for mark in finding.circuits})
    boxes = [box for row in rows for box in row.boxes]
    clip = clip_m(setting, boxes)
    grid = grid_words(setting, extent_mm(rows[0].boxes[:1])[0] if rows[0].boxes else None)
    lines = [
        f"{rule_title} ({worst.rule}).",
        where_line(rows, grid, is_in_floor=clip is not None),
        *finding_lines(group, carriers, titles or {}),
        *remedy_lines(group, carriers),
        *selection_line(len(keys)),
        "",
        f"Circuits: {', '.join(circuits) or 'none named'}.",
        "",
        *cautions,
        "",
        IDS_LINE + " ".join(sorted(finding.id for finding in group)),
    ]
    families = dict.fromkeys(finding.rule.split(".", 1)[0].capitalize() for finding in group)
    return Topic(
        guid=guid,
        title=title_of(group, rows, circuits),
        description="\n".join(lines),
        rule=worst.rule,
        priority=_priority(worst),
        labels=(*families, rows[0].kind.capitalize()),
        members=tuple(sorted(finding.id for finding in group)),
        carriers=tuple(keys),
        cables=tuple(place for marks, place in cables if not set(marks).isdisjoint(circuits)),
        circuits=tuple(circuits),
        worst=worst.id,
        camera=fit_camera(boxes) if boxes else None,
        clip_m=clip,
    )


def _priority(worst: FindingRow) -> str:
    """Services that must be apart, and the half over the limit, come first."""
    return HIGH if worst.use is None or worst.use >= 1.25 else NORMAL

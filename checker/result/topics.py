"""Which findings a person would raise together, and in what words.

Failing lengths belong to one topic where one cause makes them fail: the same rule, the same size and compartment, next to each other,
and a circuit in common.
"""

from collections import defaultdict
from collections.abc import Collection, Container, Iterable, Mapping, Sequence

from checker.model import Place
from checker.model.setting import Setting
from checker.result.camera import extent_mm, fit_camera
from checker.result.causes import connected
from checker.result.gravity import gravity
from checker.result.note_state import disarmed
from checker.result.tables import CarrierRow, FindingRow, Topic
from checker.result.topic_text import IDS_LINE, finding_lines, remedy_lines, selection_line, title_of, where_line
from checker.result.whereabouts import grid_words, view_cut

HIGH, NORMAL = "High", "Normal"


def group_findings(
    findings: Iterable[FindingRow],
    carriers: Mapping[str, CarrierRow],
    neighbours: Mapping[str, set[str]],
    ways: Mapping[str, Collection[str]] | None = None,
) -> list[tuple[FindingRow, ...]]:
    """Groups failing findings; each group's worst comes first, and groups are in a fixed order.

    Args:
        findings: All that there are; those that don't fail are in no group.
        carriers: All carriers by key.
        neighbours: Carriers that meet, by key.
        ways: The keys of the carriers that each circuit passes, by its mark.
    """
    passed = {mark: frozenset(keys) for mark, keys in (ways or {}).items()}
    failing = sorted((finding for finding in findings if finding.verdict == "fail"), key=lambda finding: finding.id)
    alike: dict[tuple[object, ...], list[FindingRow]] = defaultdict(list)
    for finding in failing:
        row = carriers[finding.carriers[0]]
        alike[finding.rule, finding.compartment, row.kind, row.size].append(finding)
    groups = [group for members in alike.values() for group in connected(members, neighbours, passed)]
    ordered = [tuple(sorted(group, key=gravity)) for group in groups]
    return sorted(ordered, key=lambda group: gravity(group[0]))


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
    undivided: Container[str] = (),
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
        undivided: Keys of carriers with one compartment, whose number says nothing.
    """
    worst, setting = group[0], setting or Setting()
    governing = dict.fromkeys(key for finding in group for key in finding.carriers)
    keys = list(dict.fromkeys([*governing, *(key for finding in group for key in finding.along if key in carriers)]))
    rows = [carriers[key] for key in keys]
    circuits = sorted({mark for finding in group for mark in finding.circuits})
    boxes = [box for row in rows for box in row.boxes]
    clip, cut = view_cut(setting, boxes)
    grid = grid_words(setting, extent_mm(rows[0].boxes[:1])[0] if rows[0].boxes else None, rows[0].place.storey)
    owned = tuple(place for marks, place in cables if not set(marks).isdisjoint(circuits))
    lines = [
        f"{rule_title} ({worst.rule}).",
        where_line(rows, grid, cut),
        *finding_lines(group, carriers, titles or {}, undivided),
        *remedy_lines(group, carriers),
        *selection_line(len(keys), len(owned)),
        "",
        f"Circuits: {', '.join(circuits) or 'none named'}.",
        "",
        *cautions,
        "",
    ]
    last = IDS_LINE + " ".join(sorted(finding.id for finding in group))
    families = dict.fromkeys(finding.rule.split(".", 1)[0].capitalize() for finding in group)
    return Topic(
        guid=guid,
        title=title_of(group, [carriers[key] for key in governing], circuits, undivided),
        description="\n".join([disarmed("\n".join(lines)), last]),
        rule=worst.rule,
        priority=_priority(worst),
        labels=(*families, rows[0].kind.capitalize()),
        members=tuple(sorted(finding.id for finding in group)),
        carriers=tuple(keys),
        cables=owned,
        circuits=tuple(circuits),
        worst=worst.id,
        camera=fit_camera(boxes) if boxes else None,
        clip_m=clip,
    )


def _priority(worst: FindingRow) -> str:
    """What has no figure, as services that must be apart, and what is a quarter or more beyond its limit come first."""
    return HIGH if worst.use is None or worst.use >= 1.25 else NORMAL

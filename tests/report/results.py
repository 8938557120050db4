"""A small result to write from: a few carriers in a room, up to two issues; nothing that any real place has."""

import math
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import replace

from checker.history.identity import finding_id
from checker.model import Place, SourceFile, Vec
from checker.result.camera import fit_camera
from checker.result.tables import Box, CarrierRow, CompartmentRow, FindingRow, Result, Topic

MODEL = SourceFile("model", "plant room.ifc", "0" * 64, "IFC4", "2024-05-01T08:30:00", "3Zu5Bv0LOHrPC10026FoQQ")
ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"

#: Of the compartments of ``small_result``: T-001, T-002, both of T-003, T-004, T-005.
FILLS: tuple[float | None, ...] = (0.523, 0.481, 0.31, 0.6, 0.12, 0.4)


def global_id(number: int) -> str:
    """A GlobalId of the right form, the same for the same number."""
    value = uuid.uuid5(uuid.NAMESPACE_OID, f"test {number}").int
    return "".join(ALPHABET[value >> 6 * place & 63] for place in range(21, -1, -1))


def guid(word: str) -> str:
    """A GUID, the same for the same word."""
    return str(uuid.uuid5(uuid.NAMESPACE_OID, word))


def box_mm(start: Vec, along: Vec, width: float, height: float) -> Box:
    """A box along a level or an upright direction, with its height upright in the first case."""
    length = math.hypot(along[0], along[1])
    across = (-along[1] / length * width, along[0] / length * width, 0.0) if length else (width, 0.0, 0.0)
    return Box(start, (along, across, (0.0, 0.0, height) if length else (0.0, height, 0.0)))


def carrier(
    number: int, box: Box | None, kind: str = "trunking", size: tuple[float, float] = (100.0, 50.0)
) -> CarrierRow:
    """A carrier with the tag T-<number>."""
    place = Place(global_id(number), MODEL.name, f"T-{number:03}", "Trunking", "Level 1", "Plant room")
    return CarrierRow(
        place.global_id,
        place,
        kind,
        "",
        *size,
        3.0,
        "read",
        checked=True,
        worst_verdict="",
        boxes=(box,) if box else (),
    )


def compartment(
    of: CarrierRow, number: int, size: tuple[float, float], fill: float | None, limit: float | None = 0.45
) -> CompartmentRow:
    """A compartment with a fill."""
    verdict = "unknown" if fill is None else "fail" if limit is not None and fill > limit else "pass"
    area = size[0] * size[1]
    occupied = None if fill is None else fill * area
    return CompartmentRow(
        of.key, number, *size, area, (), 4, occupied, fill, "area", limit, verdict, verdict, "", ("C1", "C2")
    )


def finding(of: CarrierRow, part: CompartmentRow, rule: str = "fill.compartment", code: str = "bs-7671") -> FindingRow:
    """The finding on the fill of a compartment."""
    reason = "no diameter is known of C2" if part.fill is None else "Σ of the cables' areas over the area inside."
    return FindingRow(
        id=finding_id("plant-room", rule, [of.place.global_id], part.number),
        rule=rule,
        code=code,
        carriers=(of.key,),
        compartment=part.number,
        verdict=part.verdict,
        value=part.fill,
        limit=part.limit,
        unit="ratio",
        measure=part.measure,
        basis="guidance",
        source="a guide, its appendix on trunking",
        reason=reason,
        circuits=part.circuits,
    )


def topic(carriers: Sequence[CarrierRow], findings: Sequence[FindingRow], cables: tuple[Place, ...] = ()) -> Topic:
    """A topic of some findings, in words like the checker's."""
    members = tuple(sorted(row.id for row in findings))
    labels = [row.place.label for row in carriers]
    boxes = [box for row in carriers for box in row.boxes]
    value = f"{findings[0].value:.1%}" if findings[0].value is not None else "not known"
    lines = [f"- {label}: {row.reason}" for label, row in zip(labels, findings, strict=False)]
    return Topic(
        guid=guid(members[0]),
        title=f"{labels[0]}: {value} full",
        description="\n".join(["Too full.", *lines, "", f"wayroom: {' '.join(members)}"]),
        rule=findings[0].rule,
        priority="High",
        labels=("Fill", "Trunking"),
        members=members,
        carriers=tuple(row.key for row in carriers),
        cables=cables,
        circuits=("C1", "C2"),
        worst=findings[0].id,
        camera=fit_camera(boxes) if boxes else None,
    )


def small_result(
    fills: Sequence[float | None] = FILLS, *, without: Iterable[int] = (), code: str = "bs-7671", together: bool = True
) -> Result:
    """Two carriers in one line that are too full, a divided one whose second compartment is, and two that pass.

    Args:
        fills: Of the compartments, in the order of ``FILLS``.
        without: Numbers of the carriers that aren't in the model.
        code: What judges.
        together: Whether the two in one line are one topic.
    """
    rows = [
        carrier(1, box_mm((0.0, 0.0, 2700.0), (3000.0, 0.0, 0.0), 100.0, 50.0)),
        carrier(2, box_mm((3000.0, 0.0, 2700.0), (3000.0, 0.0, 0.0), 100.0, 50.0)),
        carrier(3, box_mm((6000.0, 0.0, 2700.0), (0.0, 4000.0, 0.0), 150.0, 75.0), size=(150.0, 75.0)),
        carrier(4, box_mm((0.0, 2000.0, 2700.0), (5000.0, 0.0, 0.0), 100.0, 50.0)),
        carrier(5, box_mm((1500.0, 1000.0, 0.0), (0.0, 0.0, 2700.0), 25.0, 25.0), "conduit", (25.0, 25.0)),
    ]
    sizes = ((97.6, 47.6), (97.6, 47.6), (72.0, 72.6), (72.0, 72.6), (97.6, 47.6), (22.0, 22.0))
    owners = (0, 1, 2, 2, 3, 4)
    numbers = (1, 1, 1, 2, 1, 1)
    gone = {number - 1 for number in without}
    parts = [
        compartment(rows[owner], number, size, fill)
        for owner, number, size, fill in zip(owners, numbers, sizes, fills, strict=True)
    ]
    findings = [finding(rows[owner], part, code=code) for owner, part in zip(owners, parts, strict=True)]
    topics = []
    for places in ((0, 1), (3,)) if together else ((0,), (1,), (3,)):
        there = [place for place in places if findings[place].verdict == "fail" and owners[place] not in gone]
        if there:
            cable = Place(global_id(77), MODEL.name, "W-77", "Cable")
            concerned = [rows[owners[place]] for place in there]
            topics.append(topic(concerned, [findings[place] for place in there], (cable,)))
    kept = [place for place in range(len(parts)) if owners[place] not in gone]
    of_topic = {member: each.guid for each in topics for member in each.members}
    return Result(
        version="0.1.0",
        project_key="plant-room",
        project_name="Plant room",
        code=code,
        code_title="Guidance",
        created="2024-05-01T08:30:00Z",
        files=(MODEL, SourceFile("schedule", "circuits.csv", "1" * 64)),
        carriers=tuple(row for place, row in enumerate(rows) if place not in gone),
        compartments=tuple(parts[place] for place in kept),
        circuits=(),
        cables=(),
        findings=tuple(replace(findings[place], topic=of_topic.get(findings[place].id, "")) for place in kept),
        problems=(),
        topics=tuple(topics),
        surroundings=(Box((1000.0, 3000.0, 0.0), ((800.0, 0.0, 0.0), (0.0, 400.0, 0.0), (0.0, 0.0, 2000.0))),),
    )

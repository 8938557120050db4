"""One small network in every spelling reads back to the same installation: all pairs of release, unit, ports, shape, … are covered."""

import itertools
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from checker.checking import check_installation
from checker.model import Carrier, Installation
from checker.network.joining import find_joins
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.result.tables import Result
from checker.rule.plugins import Plugins, code_of, load_plugins
from checker.rule.tighten import tightened
from tests.small_models import SmallModel
from tests.spellings import network
from tests.spellings.network import Point, Segment
from tests.spellings.pairs import all_pairs, covering
from tests.spellings.spelling import AXES, EXCLUDED, Spelling, Told
from tests.spellings.writer import Writer

CASES = covering(AXES, EXCLUDED.keys())
SIZE_MM, PLACE_MM = 0.5, 1.0


def test_every_pair_that_can_be_written_is_written_and_no_other() -> None:
    written = {pair for case in CASES for pair in itertools.combinations(case.items(), 2)}
    possible = {
        ((one, a), (other, b))
        for one, other in itertools.combinations(AXES, 2)
        for a, b in itertools.product(AXES[one], AXES[other])
    }
    not_possible = {pair if pair in possible else pair[::-1] for pair in EXCLUDED}
    assert len(not_possible) == len(EXCLUDED)
    assert not_possible < possible
    assert written == possible - not_possible
    assert set(all_pairs(AXES, EXCLUDED.keys())) == written
    assert len(CASES) < 2 * len(AXES["shape"]) * len(AXES["size"])  # few: two axes alone make 72


@cache
def plugins() -> Plugins:
    return load_plugins()


def read_and_checked(folder: Path) -> tuple[Installation, Result]:
    sources = find_sources([folder], None)
    installation = read_installation(sources, plugins().cables)
    code = tightened(code_of(plugins(), "bs-7671"), sources.project.limits, "wayroom.toml", plugins().rules)
    return installation, check_installation(installation, code, plugins())


@pytest.mark.parametrize("case", CASES, ids=lambda case: " | ".join(case.values()))
def test_the_network_reads_back(tmp_path: Path, case: dict[str, str]) -> None:
    spelling = Spelling(**case)
    installation, result = read_and_checked(Writer(spelling).write(tmp_path))
    wrong = [
        *carriers_that_differ(installation, spelling),
        *fittings_that_differ(installation),
        *joins_that_differ(installation, spelling),
        *routes_that_differ(result, spelling),
        *verdicts_that_differ(result, spelling),
    ]
    assert not wrong, "\n".join(wrong)


def carriers_that_differ(installation: Installation, spelling: Spelling) -> Iterator[str]:
    found = {carrier.place.tag: carrier for carrier in installation.carriers}
    if len(found) != len(installation.carriers) or set(found) != {segment.tag for segment in network.SEGMENTS}:
        yield f"carriers: {sorted(carrier.place.tag for carrier in installation.carriers)}"
        return
    for segment in network.SEGMENTS:
        carrier = found[segment.tag]
        if carrier.kind != segment.kind:
            yield f"{segment.tag}: kind {carrier.kind}"
        if carrier.place.storey != segment.storey:
            yield f"{segment.tag}: storey {carrier.place.storey!r}"
        if not near(carrier.length_mm, segment.length, PLACE_MM):
            yield f"{segment.tag}: length {carrier.length_mm}"
        if not same_ends(carrier, segment):
            yield f"{segment.tag}: from {carrier.start_mm} to {carrier.end_mm}"
        yield from sizes_that_differ(carrier, segment, spelling)


def sizes_that_differ(carrier: Carrier, segment: Segment, spelling: Spelling) -> Iterator[str]:
    """What can be known must be right; what can't must be None, never another figure."""
    section, tag = carrier.section, segment.tag
    outside: tuple[float | None, float | None] = (section.width_mm, section.height_mm)
    if section.outside_diameter_mm is not None:
        outside = (section.outside_diameter_mm, section.outside_diameter_mm)
    expected = (segment.width, segment.height) if spelling.knows_size else (None, None)
    if not all(near(size, figure, SIZE_MM) for size, figure in zip(outside, expected, strict=True)):
        yield f"{tag}: outside {outside}, not {expected}"
    if section.is_round and not segment.is_round:
        yield f"{tag}: round"
    if segment.is_round and spelling.knows_size and spelling.knows_round and section.outside_diameter_mm is None:
        yield f"{tag}: not round"
    if len(section.lanes) != segment.lanes:
        yield f"{tag}: {len(section.lanes)} lanes"
    wall = section.wall_mm
    if wall is None and section.bore_mm is not None and section.outside_diameter_mm is not None:
        wall = (section.outside_diameter_mm - section.bore_mm) / 2.0
    yield from figure_that_differs(f"{tag}: wall", wall, segment.wall, spelling.tells_wall(is_round=segment.is_round))
    if segment.base:
        yield from figure_that_differs(
            f"{tag}: usable depth", section.usable_depth_mm, segment.depth, spelling.tells_depth()
        )


def figure_that_differs(what: str, found: float | None, right: float, known: Told) -> Iterator[str]:
    if known is Told.PERHAPS and found is None:
        return
    if not near(found, None if known is Told.NO else right, SIZE_MM):
        yield f"{what} {found}, {'which nothing tells' if known is Told.NO else f'not {right}'}"


def near(found: float | None, right: float | None, tolerance: float) -> bool:
    if found is None or right is None:
        return found is None and right is None
    return abs(found - right) <= tolerance


def same_ends(carrier: Carrier, segment: Segment) -> bool:
    if carrier.start_mm is None or carrier.end_mm is None or carrier.corners_mm:
        return False
    pairs = ((segment.start, segment.end), (segment.end, segment.start))
    return any(at(carrier.start_mm, start) and at(carrier.end_mm, end) for start, end in pairs)


def at(found: Point, right: Point) -> bool:
    return all(near(a, b, PLACE_MM) for a, b in zip(found, right, strict=True))


def fittings_that_differ(installation: Installation) -> Iterator[str]:
    kinds = {fitting.place.tag: str(fitting.kind) for fitting in installation.fittings}
    if kinds != {piece.tag: piece.kind for piece in network.PIECES}:
        yield f"fittings: {kinds}"
    for fitting in installation.fittings:
        if fitting.place.storey != "Level 0":
            yield f"{fitting.place.tag}: storey {fitting.place.storey!r}"
    devices = {device.tag: device for device in network.DEVICES}
    equipment = {item.place.tag: item for item in installation.equipment}
    if set(equipment) != set(devices):
        yield f"equipment: {sorted(equipment)}"
        return
    for tag, item in equipment.items():
        if (
            item.point_mm is None
            or not at(item.point_mm, devices[tag].point)
            or item.place.storey != devices[tag].storey
        ):
            yield f"{tag}: at {item.point_mm} on {item.place.storey!r}"


def joins_that_differ(installation: Installation, spelling: Spelling) -> Iterator[str]:
    tags = {item.key: item.place.tag for item in installation.carriers}
    tags |= {item.key: item.place.tag for item in installation.fittings}
    tags |= {item.key: item.place.tag for item in installation.equipment}
    joins = find_joins(installation).joins
    found = {frozenset((tags[join.one.element], tags[join.other.element])) for join in joins}
    right = network.JOINS if spelling.knows_joins else frozenset()
    if found != right:
        yield f"joins: missing {sorted(map(sorted, right - found))}, wrong {sorted(map(sorted, found - right))}"


def routes_that_differ(result: Result, spelling: Spelling) -> Iterator[str]:
    tags = {row.key: row.place.tag for row in result.carriers}
    found = {row.circuit: row for row in result.circuits}
    assert set(found) == set(network.ROUTES)
    for mark, (carriers, length_mm) in network.ROUTES.items():
        row = found[mark]
        passed = tuple(tags[key] for key in row.carriers)
        if not spelling.knows_joins:
            if row.is_routed:
                yield f"{mark}: routed through {passed}, though nothing tells what is joined"
            continue
        if passed != carriers:
            yield f"{mark}: passes {passed}; {row.reason}"
        elif row.length_m is None or not near(row.length_m * 1000.0, length_mm, PLACE_MM):
            yield f"{mark}: length {row.length_m} m"
        elif not all(
            drop is not None and near(drop * 1000.0, right, PLACE_MM)
            for drop, right in zip(row.drops_m, network.DROPS[mark], strict=True)
        ):
            yield f"{mark}: drops {row.drops_m}"


def verdicts_that_differ(result: Result, spelling: Spelling) -> Iterator[str]:
    """What fails and passes by fill; where something isn't known that bears on it: not the opposite."""
    tags = {row.key: row.place.tag for row in result.carriers}
    found = {(tags[row.carrier], row.number): row.verdict for row in result.compartments}
    right = dict.fromkeys(network.FAILS, "fail") | dict.fromkeys(network.PASSES, "pass")
    if set(found) != set(right):
        yield f"compartments: {sorted(found)}"
        return
    rounds = {segment.tag for segment in network.SEGMENTS if segment.is_round}
    for place, verdict in right.items():
        is_sure = spelling.knows_joins and spelling.knows_size and (spelling.knows_round or place[0] not in rounds)
        allowed = {verdict} if is_sure else {verdict, "unknown"}
        if not spelling.knows_size:
            allowed = {"unknown"}
        elif not spelling.knows_joins and verdict == "fail":
            allowed = {"unknown"}  # none of the circuits is known to lie there
        if found[place] not in allowed:
            yield f"{place}: {found[place]}, not {verdict}"


def test_a_conduits_width_is_believed_before_its_profile_and_the_difference_is_said(tmp_path: Path) -> None:
    model = SmallModel()
    pipe = model.profile("IfcCircleHollowProfileDef", 12.5, 1.5)
    element = model.carrier("X", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0), pipe, "CONDUITSEGMENT")
    model.properties(
        element, "Pset_CableCarrierSegmentTypeConduitSegment", NominalWidth=20.0, NominalHeight=20.0
    )  # so IFC4 says what is 20 mm across
    installation = read_installation(find_sources([model.write(tmp_path / "model.ifc")], None), {})
    section = installation.carriers[0].section
    assert section.outside_diameter_mm == 20.0
    assert "property NominalWidth" in section.source
    assert any("20 mm" in problem.what and "25 mm" in problem.what for problem in installation.problems)

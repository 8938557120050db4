"""The benchmarks' models are what they are said to be. Nothing is timed here."""

from collections import Counter
from pathlib import Path

import pytest

from checker.checking import Request, check
from checker.model import CarrierKind, Installation
from checker.network.joining import FoundBy, find_joins
from checker.read.installation import read_installation
from checker.read.sources import Sources, find_sources
from checker.result.accounting import count, exit_status
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from tests.benchmarks.generate import generate
from tests.benchmarks.run import Size
from tests.benchmarks.walls import wall_mesh

BAYS = 5
#: In a bay: 2 with the tee, 1 from it, 2 at each of 3 connectors, 1 into the box, and 3 in each of 2 legs.
JOINS_IN_BAY = 2 + 1 + 2 * 3 + 1 + 3 * 2


def _sources(folder: Path, carriers: int, walls: int = 0) -> Sources:
    generate(folder, carriers, walls)
    return find_sources([folder], None)


@pytest.fixture(scope="module")
def tiny(tmp_path_factory: pytest.TempPathFactory) -> Sources:
    return _sources(tmp_path_factory.mktemp("tiny"), 10 * BAYS, walls=3)


@pytest.fixture(scope="module")
def tiny_read(tiny: Sources) -> Installation:
    return read_installation(tiny, load_plugins().cables)


@pytest.fixture(scope="module")
def two_zones(tmp_path_factory: pytest.TempPathFactory) -> Result:
    return check(Request(_sources(tmp_path_factory.mktemp("zones"), 260)))


def test_a_tiny_model_is_read_with_all_its_carriers_and_fittings(tiny_read: Installation) -> None:
    kinds = Counter(carrier.kind for carrier in tiny_read.carriers)
    assert kinds == {CarrierKind.TRUNKING: 2 * BAYS, CarrierKind.CONDUIT: 8 * BAYS}
    assert len(tiny_read.fittings) == 7 * BAYS  # a tee, three connectors, a box, two bends
    assert len(tiny_read.equipment) == 1 + 2 * BAYS  # a board, and two outlets a bay
    # nothing of the carriers: all that there is to say is that the data cable's size is a planning value, and that walls aren't rated
    assert {problem.what for problem in tiny_read.problems} == {
        "the size of cat6-u-utp is a planning value",
        "3 walls carry no fire rating",
    }


def test_sizes_come_from_properties_and_walls_from_hollow_profiles(tiny_read: Installation) -> None:
    sections = {carrier.kind: carrier.section for carrier in tiny_read.carriers}
    trunking, conduit = sections[CarrierKind.TRUNKING], sections[CarrierKind.CONDUIT]
    assert (trunking.width_mm, trunking.height_mm, trunking.wall_mm) == (225.0, 50.0, 1.6)
    assert (conduit.outside_diameter_mm, conduit.wall_mm) == (20.0, pytest.approx(1.6))
    assert {carrier.material for carrier in tiny_read.carriers} == {"Steel, galvanised"}
    assert {carrier.place.storey for carrier in tiny_read.carriers} == {"Level 00"}


def test_everything_is_joined_through_ports_alone(tiny_read: Installation) -> None:
    joins = find_joins(tiny_read).joins
    assert len(joins) == JOINS_IN_BAY * BAYS + (BAYS - 1)
    assert {join.found_by for join in joins} == {FoundBy.PORTS}


def test_every_circuit_is_routed_and_passes(tiny: Sources) -> None:
    result = check(Request(tiny))
    counts = count(result)
    assert (counts.carriers_read, counts.circuits_read, counts.circuits_routed) == (10 * BAYS, BAYS, BAYS)
    # its bends are drawn with no radius, and what a data cable weighs isn't given; all else passes
    open_rules = {finding.rule for finding in result.findings if finding.verdict != "pass"}
    assert (exit_status(result), open_rules) == (3, {"pulling.radius", "pulling.tension"})


def test_routes_are_as_long_as_worked_out_and_no_longer_in_a_larger_model(two_zones: Result) -> None:
    length = {row.circuit: row.length_m for row in two_zones.circuits}
    # from 1 m along the first length: 0.9, through the tee 0.1 + 0.15, 4 × 2.4 and 3 connectors of 0.05, half the box twice
    # 0.1, leg A 2.0, bend 0.1, drop 2.5
    to_a = 0.9 + 0.25 + 4 * 2.4 + 3 * 0.05 + 0.1 + 2.0 + 0.1 + 2.5
    # back up the drop, bend, leg A, into the box and out of its side, leg B, bend, drop
    a_to_b = 2.5 + 0.1 + 2.0 + 0.1 + 1.5 + 0.1 + 2.5
    assert length["C-1"] == pytest.approx(to_a + 4.0)  # one bay of 4 m further on
    assert length["C-0"] == pytest.approx(to_a + a_to_b)
    assert length["C-24"] == pytest.approx(to_a + 24 * 4.0)
    assert length["C-25"] == pytest.approx(to_a + a_to_b)  # the second zone's own board
    assert max(length.values()) == length["C-24"]


def test_one_circuit_in_a_zone_fails_where_its_conduits_are_too_full(two_zones: Result) -> None:
    failing = [finding for finding in two_zones.findings if finding.verdict == "fail"]
    assert {finding.circuits for finding in failing} == {("C-7",)}
    assert {finding.rule for finding in failing} == {"fill.conduit"}
    # four lengths to the box and the two of leg A; nine cables of term 30 over 10,000 / (31 + 10)
    assert len(failing) == 6
    assert {round(finding.value or 0.0, 3) for finding in failing} == {round(9 * 30 / 244, 3)}
    assert len(two_zones.topics) == 1


def test_walls_have_from_60_to_196_triangles() -> None:
    counts = [triangles.count("(") - 1 for _, triangles in map(wall_mesh, range(8, 26))]
    assert (counts[0], counts[-1]) == (60, 196)
    assert all(8 * (stations - 1) + 4 == found for stations, found in zip(range(8, 26), counts, strict=True))


def test_a_model_is_named_after_what_is_in_it() -> None:
    assert Size(10_000, 60_000, apart=False).label == "10,000 + 60,000 walls"


def test_a_part_of_a_bay_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="a bay has 10 carriers"):
        generate(tmp_path, 15)

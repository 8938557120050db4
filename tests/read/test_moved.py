"""A model that is far from the origin, turned, or placed through long chains gives the same answers."""

import shutil
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from checker.checking import check_installation
from checker.model import Installation
from checker.network.joining import find_joins
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.result.tables import Result
from checker.rule.plugins import code_of, load_plugins
from checker.rule.tighten import tightened
from tests.spellings.mover import Move, by_coordinates, by_long_chains, by_the_top, moved, point_in
from tests.spellings.pen import Frame, turned
from tests.spellings.spelling import Spelling
from tests.spellings.writer import Writer

FAR = turned(0.0, (600e6, -250e6, 1.2e5))
NOWHERE: Frame = np.eye(4)
MOVES: dict[str, tuple[Move, Frame]] = {
    "600 km away, by its site": (by_the_top, FAR),
    "600 km away, by coordinates": (by_coordinates, FAR),
    "turned by 37°": (by_the_top, turned(37.0, (0.0, 0.0, 0.0))),
    "turned by 37° and 600 km away, by coordinates": (by_coordinates, turned(37.0, (600e6, -250e6, 1.2e5))),
    "through twelve placements more": (by_long_chains, NOWHERE),
    "through twelve placements more, turned and far": (by_long_chains, turned(-143.0, (-600e6, 10e6, 0.0))),
}
#: The network in spellings that find their axes, sections and joins in different ways.
SPELLINGS = {
    "sections, ports": Spelling("IFC4", "mm", "connected", "sweep", "occurrence", "occurrence", "nested", "z along", "yes"),
    "plans, no ports": Spelling("IFC4X3_ADD2", "m", "none", "plan", "shape", "type", "rotated", "x along", "no"),
    "meshes, loose ports": Spelling("IFC4", "foot", "coincident", "mesh", "type", "user", "parent", "x along", "yes"),
    "boxes, no ports": Spelling("IFC2X3", "mm", "none", "box", "occurrence", "type", "flat", "z along", "yes"),
    "faces, no ports": Spelling("IFC2X3", "m", "none", "brep", "type", "type", "nested", "z along", "yes"),
    "axes only": Spelling("IFC4", "mm", "connected", "axis", "occurrence", "occurrence", "nested", "x along", "yes"),
}  # fmt: skip
SAME_MM = 1.0


@dataclass(frozen=True)
class Answers:
    """All that must stay as it is."""

    installation: Installation
    result: Result
    joins: frozenset[frozenset[str]]

    def words(self) -> dict[str, object]:
        """What has to be equal to the letter."""
        result = self.result
        return {
            "findings": {row.id: (row.rule, row.verdict, row.carriers, row.compartment) for row in result.findings},
            "compartments": {
                (row.carrier, row.number): (row.verdict, row.worst_verdict, row.circuits, row.cables)
                for row in result.compartments
            },
            "routes": {row.circuit: (row.routed_by, row.carriers) for row in result.circuits},
            "ratings": {(row.circuit, row.rule): (row.verdict, row.carrier) for row in result.ratings},
            "carriers": {row.key: (row.kind, row.place) for row in result.carriers},
            "fittings": {item.key: (item.kind, item.place) for item in self.installation.fittings},
            "equipment": {item.key: item.place for item in self.installation.equipment},
            "topics": {topic.members for topic in result.topics},
            "problems": sorted((problem.where, problem.kind.value) for problem in result.problems),
            "joins": self.joins,
        }

    def figures(self) -> dict[object, float | None]:
        """What has to be equal to a millimetre."""
        found: dict[object, float | None] = {}
        for row in self.result.circuits:
            found[row.circuit] = None if row.length_m is None else row.length_m * 1000.0
            found |= {
                (row.circuit, number): None if drop is None else drop * 1000.0
                for number, drop in enumerate(row.drops_m)
            }
        for carrier in self.installation.carriers:
            section = carrier.section
            found |= {
                (carrier.key, "length"): carrier.length_mm,
                (carrier.key, "width"): section.width_mm,
                (carrier.key, "height"): section.height_mm,
                (carrier.key, "diameter"): section.outside_diameter_mm,
                (carrier.key, "wall"): section.wall_mm,
                (carrier.key, "turn"): carrier.turn_deg,
            }
        return found


def answers(folder: Path) -> Answers:
    sources = find_sources([folder], None)
    plugins = load_plugins()
    installation = read_installation(sources, plugins.cables)
    code = tightened(code_of(plugins, "bs-7671"), sources.project.limits, "wayroom.toml", plugins.rules)
    joins = find_joins(installation).joins
    pairs = frozenset(frozenset((join.one.element, join.other.element)) for join in joins)
    return Answers(installation, check_installation(installation, code, plugins), pairs)


def moved_folder(source: Path, target: Path, move: str) -> Path:
    target.mkdir()
    for name in ("circuits.csv", "wayroom.toml"):
        shutil.copy(source / name, target / name)
    moved(source / "model.ifc", target / "model.ifc", *MOVES[move])
    return target


def assert_same(before: Answers, after: Answers, by: Frame) -> None:
    old, new = before.words(), after.words()
    for what, told in old.items():
        assert new[what] == told, what
    known, figures = before.figures(), after.figures()
    assert set(figures) == set(known)
    off = [key for key, figure in known.items() if not near(figures[key], figure)]
    assert not off, [(key, known[key], figures[key]) for key in off]
    ends = {carrier.key: carrier.axis_mm for carrier in after.installation.carriers}
    for carrier in before.installation.carriers:
        there = [point_in(by, point) for point in carrier.axis_mm]
        found = ends[carrier.key]
        assert len(found) == len(there), carrier.place.label
        ways = (there, there[::-1])
        assert any(
            all(near(a, b) for one, other in zip(found, way, strict=True) for a, b in zip(one, other, strict=True))
            for way in ways
        ), (carrier.place.label, found, there)


def near(one: float | None, other: float | None) -> bool:
    if one is None or other is None:
        return one is other
    return abs(one - other) <= SAME_MM


@pytest.fixture(scope="module")
def practice(vet_practice: Path) -> Answers:
    return answers(vet_practice)


@pytest.mark.parametrize("move", MOVES)
def test_the_vet_practice_may_stand_anywhere(vet_practice: Path, practice: Answers, tmp_path: Path, move: str) -> None:
    assert len(practice.result.findings) > 100
    assert len(practice.joins) > 100
    assert_same(practice, answers(moved_folder(vet_practice, tmp_path / "moved", move)), MOVES[move][1])


@pytest.mark.parametrize("spelling", SPELLINGS)
@pytest.mark.parametrize("move", MOVES)
def test_the_network_may_stand_anywhere(tmp_path: Path, spelling: str, move: str) -> None:
    here = tmp_path / "here"
    here.mkdir()
    Writer(SPELLINGS[spelling]).write(here)
    before = answers(here)
    assert len(before.joins) >= 7
    assert any(row.verdict == "fail" for row in before.result.findings)
    assert_same(before, answers(moved_folder(here, tmp_path / "moved", move)), MOVES[move][1])

"""Rooms by geometry: a point is in the one whose plan and height hold it; in none, or in two, it is in none."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model import Vec
from checker.read.context import Context, Notes
from checker.read.project import Project
from checker.read.properties import Properties
from checker.read.relations import read_relations
from checker.read.shapes import Shapes
from checker.read.spaces import EDGE_MM, Rooms
from tests.small_shapes import Entity, Numbers, ShapePen, X, Z

L_SHAPE = [(0, 0), (6000, 0), (6000, 2000), (2000, 2000), (2000, 5000), (0, 5000)]


class Building(ShapePen):
    """Spaces of one file, each a plan extruded upward."""

    def space(self, name: str, plan: Entity, *, depth: float = 3000, at: Numbers = (0, 0, 0), x: Numbers = X,
              position: Entity = None, up: Numbers = Z, more: Sequence[Entity] = ()) -> None:  # fmt: skip
        solid = self.swept(plan, depth, position, up)
        shape = self.make("IfcShapeRepresentation", None, "Body", "SweptSolid", [solid, *more])
        self.make("IfcSpace", GlobalId=f"{len(self.file.by_type('IfcSpace')):022d}", Name=name,
                  ObjectPlacement=self.make("IfcLocalPlacement", None, self.frame(at, Z, x)),
                  Representation=self.make("IfcProductDefinitionShape", None, None, [shape]))  # fmt: skip

    def rectangle(self, x: float, y: float) -> Entity:
        return self.profile("IfcRectangleProfileDef", x, y)

    def rooms(self, mm: float = 1.0) -> tuple[Rooms, Notes]:
        found, notes = read_relations(self.file), Notes("a.ifc")
        context = Context("a.ifc", self.file, Project(), found, mm, Shapes(), Properties(found, mm / 1000.0), notes)
        return Rooms(context), notes


def name_at(rooms: Rooms, *point: float) -> str | None:
    room = rooms.at((point[0], point[1], point[2]))
    return None if room is None else room.name


@pytest.fixture
def building() -> Building:
    return Building()


def test_a_point_is_in_the_room_around_it_and_not_above_or_beside(building: Building) -> None:
    building.space("Office", building.rectangle(4000, 3000), at=(2000, 1500, 0))
    rooms, _ = building.rooms()
    assert name_at(rooms, 10, 10, 2990) == "Office"
    assert name_at(rooms, 3990, 2990, 10) == "Office"
    assert name_at(rooms, 10, 10, 3010) is None
    assert name_at(rooms, -10, 10, 1000) is None
    assert name_at(rooms, 10, 3010, 1000) is None
    assert rooms.at(None) is None


@given(st.floats(-500, 6500), st.floats(-500, 5500))
def test_the_notch_of_an_l_is_not_in_it(x: float, y: float) -> None:
    building = Building()
    building.space("L", building.outline(building.closed(*L_SHAPE)))
    rooms, _ = building.rooms()
    inside = (0 < x < 6000 and 0 < y < 2000) or (0 < x < 2000 and 0 < y < 5000)
    on_a_side = any(abs(x - side) <= EDGE_MM for side in (0, 2000, 6000)) or any(
        abs(y - side) <= EDGE_MM for side in (0, 2000, 5000)
    )
    if not on_a_side:
        assert name_at(rooms, x, y, 1000) == ("L" if inside else None)


def test_what_is_left_out_of_a_plan_is_not_in_the_room(building: Building) -> None:
    outer, shaft = (
        building.closed((0, 0), (9000, 0), (9000, 9000), (0, 9000)),
        [(4000, 4000), (5000, 4000), (5000, 5000), (4000, 5000)],
    )
    building.space("Hall", building.outline(outer, building.closed(*shaft)))
    rooms, _ = building.rooms()
    assert name_at(rooms, 4500, 4500, 100) is None
    assert name_at(rooms, 3500, 4500, 100) == "Hall"


def test_rooms_over_each_other_are_told_by_their_height(building: Building) -> None:
    for storey, name in enumerate(("Below", "Above")):
        building.space(name, building.rectangle(4000, 4000), at=(0, 0, 3500.0 * storey))
    rooms, _ = building.rooms()
    assert name_at(rooms, 0, 0, 2999) == "Below"
    assert name_at(rooms, 0, 0, 3250) is None  # in the floor between them
    assert name_at(rooms, 0, 0, 3501) == "Above"


def test_a_point_in_two_rooms_is_in_neither(building: Building) -> None:
    for name, x in (("West", 0), ("East", 3000)):
        building.space(name, building.rectangle(4000, 4000), at=(x, 0, 0))
    rooms, _ = building.rooms()
    assert [name_at(rooms, x, 0, 1000) for x in (0, 1500, 3000)] == ["West", None, "East"]


@pytest.mark.parametrize("far", [(0.0, 0.0, 0.0), (6e8, -2.5e8, 1.2e5)])
def test_a_turned_room_far_away_holds_what_it_holds_here(building: Building, far: Vec) -> None:
    building.space("Long", building.rectangle(20000, 1000), at=far, x=(3, 4, 0))  # along (3, 4)/5
    rooms, _ = building.rooms()

    def at(x: float, y: float) -> str | None:
        return name_at(rooms, far[0] + x, far[1] + y, far[2] + 100.0)

    assert at(3 * 1900, 4 * 1900) == "Long"
    assert at(-3 * 1900, -4 * 1900) == "Long"
    assert at(3 * 2100, 4 * 2100) is None
    assert at(4 * 90, -3 * 90) == "Long"
    assert at(4 * 110, -3 * 110) is None


def test_the_direction_upward_may_have_any_length_and_a_plan_may_hang(building: Building) -> None:
    building.space("Half", building.rectangle(2000, 2000), up=(0, 0, 0.5))
    building.space("Hangs", building.rectangle(2000, 2000), at=(9000, 0, 3000), up=(0, 0, -4))
    rooms, _ = building.rooms()
    assert [name_at(rooms, 0, 0, z) for z in (10, 2990, 3010)] == ["Half", "Half", None]
    assert [name_at(rooms, 9000, 0, z) for z in (-10, 10, 2990)] == [None, "Hangs", "Hangs"]


def test_a_file_in_metres_has_rooms_in_millimetres(building: Building) -> None:
    building.space("Office", building.rectangle(4, 3), depth=2.5)
    rooms, _ = building.rooms(1000.0)
    assert name_at(rooms, 1990, 1490, 2490) == "Office"
    assert name_at(rooms, 1990, 1490, 2510) is None


def test_bodies_that_are_no_plan_tell_no_room(building: Building) -> None:
    building.space("Leans", building.rectangle(4000, 4000), up=(0, 1, 1))
    building.space("Two", building.rectangle(4000, 4000), more=[building.pipe((0, 0, 0), X)])
    building.space("Flat", building.rectangle(4000, 4000), depth=0)
    building.space("Round", building.profile("IfcCircleProfileDef", 2000))
    building.space("Huge", building.rectangle(1e9, 1e9))
    building.make("IfcSpace", GlobalId="1" * 22, Name="Bare")
    rooms, notes = building.rooms()
    assert rooms.is_empty
    assert rooms.at((0.0, 0.0, 100.0)) is None
    assert notes.problems() == []


@pytest.mark.parametrize("odd", [1e300, -1e308])
def test_odd_numbers_are_said_and_end_nothing(building: Building, odd: float) -> None:
    broken: list[dict[str, Any]] = [{"at": (odd, 0, 0)}, {"depth": odd}, {"position": building.frame((0, odd, 0))}]
    for number, more in enumerate(broken):
        building.space(f"Odd {number}", building.rectangle(4, 4), **more)
    building.space("Odd 3", building.rectangle(odd, odd))
    building.space("Sound", building.rectangle(4, 4))
    rooms, notes = building.rooms(1000.0)
    assert name_at(rooms, 0, 0, 1000) == "Sound"
    assert [problem.where for problem in notes.problems()] == [f"a.ifc, Odd {number}" for number in range(4)]

"""Moves a whole model without changing what is in it: by what is around it, by its own coordinates, or by longer chains of placements."""

from collections.abc import Callable
from pathlib import Path

import ifcopenshell
import numpy as np
from ifcopenshell.util.placement import get_local_placement
from ifcopenshell.util.unit import calculate_unit_scale

from tests.spellings.network import Point
from tests.spellings.pen import Entity, Frame, frame, turned

MM_PER_M = 1000.0
DEEP = 12
Move = Callable[[Entity, Frame], None]


def moved(source: Path, target: Path, move: Move, by: Frame) -> Path:
    """Writes a moved copy of a model.

    Args:
        source: The model.
        target: Where the copy goes.
        move: How it is moved.
        by: The frame, in mm, that the old world has in the new one.
    """
    model = ifcopenshell.open(str(source))
    scaled = by.copy()
    scaled[:3, 3] /= calculate_unit_scale(model) * MM_PER_M
    move(model, scaled)
    model.write(str(target))
    return target


def by_the_top(model: Entity, by: Frame) -> None:
    """Puts one more placement around all that stand in the world."""
    tops = [placement for placement in model.by_type("IfcLocalPlacement") if placement.PlacementRelTo is None]
    around = _placement(model, None, by)
    for placement in tops:
        placement.PlacementRelTo = around


def by_coordinates(model: Entity, by: Frame) -> None:
    """Gives every placement its own far coordinates, relative to nothing."""
    world = {placement: by @ get_local_placement(placement) for placement in model.by_type("IfcLocalPlacement")}
    for placement, there in world.items():
        placement.PlacementRelTo = None
        placement.RelativePlacement = _axes(model, there)


def by_long_chains(model: Entity, by: Frame) -> None:
    """Moves the top, and reaches every placement by twelve more that turn, tilt and shift, and in the end do nothing."""
    steps = [turned(25.0 + 11.0 * number, (1.0 + number, -2.0 * number, 0.5)) for number in range(DEEP)]
    tilt = frame((0.0, 3.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    steps[3] = steps[3] @ tilt
    there = np.eye(4)
    for step in steps:
        there = there @ step
    back = np.linalg.inv(there)
    for placement in model.by_type("IfcLocalPlacement"):
        own = get_local_placement(model.create_entity("IfcLocalPlacement", None, placement.RelativePlacement))
        around = placement.PlacementRelTo
        if around is None:
            around = _placement(model, None, by)
        for step in steps:
            around = _placement(model, around, step)
        placement.PlacementRelTo = around
        placement.RelativePlacement = _axes(model, back @ own)


def point_in(by: Frame, point: Point) -> Point:
    """Where a point has come to."""
    x, y, z, _ = by @ np.array([*point, 1.0])
    return (float(x), float(y), float(z))


def _placement(model: Entity, around: Entity | None, matrix: Frame) -> Entity:
    return model.create_entity("IfcLocalPlacement", around, _axes(model, matrix))


def _axes(model: Entity, matrix: Frame) -> Entity:
    def floats(column: int) -> list[float]:
        return [float(value) for value in matrix[:3, column]]

    return model.create_entity(
        "IfcAxis2Placement3D",
        model.create_entity("IfcCartesianPoint", floats(3)),
        model.create_entity("IfcDirection", floats(2)),
        model.create_entity("IfcDirection", floats(0)),
    )

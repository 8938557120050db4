"""Where things are: the placement chain, in plain tuples. Lengths stay in the file's unit; the caller scales."""

from dataclasses import dataclass
from typing import Any

from checker.model.geometry import Vec, add, cross, dot, norm, scale, sub, unit

Entity = Any
X_AXIS: Vec = (1.0, 0.0, 0.0)
Y_AXIS: Vec = (0.0, 1.0, 0.0)
Z_AXIS: Vec = (0.0, 0.0, 1.0)
#: Nothing is farther away than this, in any unit; what is would overflow in the arithmetic to come.
FARTHEST = 1e15


@dataclass(frozen=True, slots=True)
class Frame:
    """A right-handed frame: its origin and axes, in the coordinates of the frame around it."""

    origin: Vec = (0.0, 0.0, 0.0)
    x: Vec = X_AXIS
    y: Vec = Y_AXIS
    z: Vec = Z_AXIS

    @property
    def factor(self) -> float:
        """By how much lengths of this frame are longer outside; 1 unless it scales."""
        return norm(self.x) if self.x != X_AXIS else 1.0

    def turn(self, v: Vec) -> Vec:
        """A direction of this frame, outside."""
        return add(add(scale(self.x, v[0]), scale(self.y, v[1])), scale(self.z, v[2]))

    def inward(self, v: Vec) -> Vec:
        """A direction outside, in this frame; only its direction means anything where the frame scales."""
        return (dot(v, self.x), dot(v, self.y), dot(v, self.z))

    def place(self, p: Vec) -> Vec:
        """A point of this frame, outside."""
        return add(self.origin, self.turn(p))

    def inside(self, other: "Frame") -> "Frame":
        """This frame, given in ``other``, in what is around ``other``."""
        if other is WORLD:
            return self
        if self.x is X_AXIS and self.y is Y_AXIS and self.z is Z_AXIS:  # most frames only move
            return Frame(other.place(self.origin), other.x, other.y, other.z)
        return Frame(other.place(self.origin), other.turn(self.x), other.turn(self.y), other.turn(self.z))


WORLD = Frame()


def vector(values: Any) -> Vec:
    """Two or three numbers as a vector.

    Raises:
        ValueError: One of them is no number, or beyond any place.
    """
    numbers = [float(value) for value in values or ()] + [0.0, 0.0, 0.0]
    if not max(map(abs, numbers[:3])) <= FARTHEST or numbers[0] != numbers[0]:
        raise ValueError(f"{numbers[:3]} is no place")
    return (numbers[0], numbers[1], numbers[2])


def frame_of(placement: Entity) -> Frame:
    """An IfcAxis2Placement2D or 3D; the world where there is none."""
    if placement is None:
        return WORLD
    if placement.is_a() == "IfcAxis2Placement3D":  # by position, which is several times as quick: there are many
        location, axis, reference = placement[0], placement[1], placement[2]
        origin = vector(location[0] if location is not None and location.is_a() == "IfcCartesianPoint" else None)
        if axis is None and reference is None:
            return Frame(origin)
        return Frame(origin, *axes_of(_direction(axis), _direction(reference)))
    location = getattr(placement, "Location", None)
    origin = vector(getattr(location, "Coordinates", None))
    axis = getattr(placement, "Axis", None)
    reference = getattr(placement, "RefDirection", None)
    axes = axes_of(vector(getattr(axis, "DirectionRatios", None)), vector(getattr(reference, "DirectionRatios", None)))
    return Frame(origin, *axes)


def _direction(entity: Entity) -> Vec:
    return vector(entity[0]) if entity is not None else (0.0, 0.0, 0.0)


def axes_of(axis: Vec, reference: Vec) -> tuple[Vec, Vec, Vec]:
    """Three axes at right angles from the direction of the third, and one that the first is as near to as it can be.

    A direction without length stands for the one that the standard takes where none is given.
    """
    z, wanted = unit(axis) or Z_AXIS, unit(reference) or X_AXIS
    x = unit(sub(wanted, scale(z, dot(wanted, z))))
    if x is None:  # the reference lies along the axis: any direction across it
        x = unit(cross(Y_AXIS, z)) or X_AXIS
    return x, cross(z, x), z


def operator_frame(target: Entity) -> Frame:
    """A transformation as a frame; scaling lengthens its axes."""
    if target is None:
        return WORLD
    axis = getattr(target, "Axis3", None)
    ex, ey, ez = axes_of(
        vector(getattr(axis, "DirectionRatios", None)), vector(getattr(target.Axis1, "DirectionRatios", None))
    )
    if target.Axis2 is not None and dot(vector(target.Axis2.DirectionRatios), ey) < 0.0:
        ey = scale(ey, -1.0)  # mirrored
    factors = [
        float(getattr(target, name, None) or getattr(target, "Scale", None) or 1.0)
        for name in ("Scale", "Scale2", "Scale3")
    ]
    origin = vector(getattr(target.LocalOrigin, "Coordinates", None))
    return Frame(origin, scale(ex, factors[0]), scale(ey, factors[1]), scale(ez, factors[2]))


def _is_local(placement: Entity) -> bool:
    return bool(placement.is_a("IfcLocalPlacement"))


class Placements:
    """World frames of object placements, each worked out once. A chain that bites its own tail places nothing."""

    def __init__(self) -> None:
        self._known: dict[int, Frame | None] = {}
        self._broken: dict[int, str] = {}

    def world(self, placement: Entity) -> Frame | None:
        """The world frame of an IfcObjectPlacement; None where there is none or it is of a kind that isn't understood.

        Raises:
            ValueError: Its chain, or one that it stands on, has numbers that are no place.
        """
        if placement is not None and placement.id() in self._known:
            return self._known[placement.id()]
        chain: list[Entity] = []
        on_the_way: set[int] = set()
        while placement is not None and placement.id() not in self._known and placement.id() not in self._broken:
            if placement.id() in on_the_way:
                self._known |= dict.fromkeys((step.id() for step in chain), None)
                return None
            on_the_way.add(placement.id())
            chain.append(placement)
            placement = getattr(placement, "PlacementRelTo", None)
        frame: Frame | None = WORLD
        why = self._broken.get(placement.id()) if placement is not None else None
        if placement is not None and placement.id() in self._known:
            frame = self._known[placement.id()]
        for step in reversed(chain):
            if why is not None:
                self._broken[step.id()] = why
                continue
            try:
                frame = (
                    frame_of(step.RelativePlacement).inside(frame) if frame is not None and _is_local(step) else None
                )
            except (TypeError, ValueError, AttributeError) as error:
                why = self._broken[step.id()] = str(error)
            else:
                self._known[step.id()] = frame
        if why is not None:
            raise ValueError(why)
        return frame if chain or placement is not None else None

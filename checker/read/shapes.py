"""What a body's shape tells: sweeps with their profile and path, and the points of everything else. In the file's unit."""

import itertools
from dataclasses import dataclass, field
from typing import Any

from checker.model.geometry import Vec, add, cross, distance, dot, norm, scale, sub, unit
from checker.read.chords import TURN, Curve, circular, straight
from checker.read.curves import angle_factor, curve_of
from checker.read.faces import face_points, is_union, uncut
from checker.read.placements import WORLD, X_AXIS, Z_AXIS, Frame, frame_of, operator_frame, vector
from checker.read.profiles import Profile, profile_of
from checker.read.relations import many
from checker.read.solids import Solid, solid_of

Entity = Any
#: Mapped items and booleans may nest; a file that nests deeper, or has more items or points in one element, is malformed or hostile.
DEEPEST = 16
MOST_ITEMS = 2_000
#: Of each element so many cost nothing; all others of a file come out of one store, so that work stays in proportion to the file.
FREE_ITEMS, SPARE_ITEMS = 200, 1_000_000
MOST_POINTS = 200_000
#: Compartments are of one size if the smallest is at least this share of the largest.
EVEN = 0.95
#: Representations that aren't the body.
NOT_BODY = {"Axis", "FootPrint", "Annotation", "Profile", "Box", "Clearance", "Lighting", "Reference", "CoG", "Plan"}
DIRECTED = ("IfcFixedReferenceSweptAreaSolid", "IfcSurfaceCurveSweptAreaSolid", "IfcDirectrixCurveSweptAreaSolid")


@dataclass(frozen=True, slots=True)
class Sweep:
    """A section moved along a path; ``across`` is the direction of its width at the start.

    ``profile`` is the class of the section, "disk", "body" or "bounding box"; sizes None: not told by it. ``is_plain``: the section is a
    full rectangle. ``turned``: it was found to be the plan of the carrier, extruded upward. ``lanes``: the compartments that are seen in
    it; ``is_even``: they are of one width.
    """

    path: Curve
    across: Vec
    profile: str
    width: float | None = None
    height: float | None = None
    diameter: float | None = None
    wall: float | None = None
    base: float | None = None
    is_plain: bool = False
    turned: bool = False
    lanes: int = 1
    is_even: bool = True

    @property
    def start(self) -> Vec:
        """Where it begins."""
        return self.path.start

    @property
    def end(self) -> Vec:
        """Where it ends."""
        return self.path.end


@dataclass(slots=True)
class Shapes:
    """Reads shapes of one model; what items share is worked out once. ``radians``: in one angle unit of the file."""

    radians: float = 1.0
    spare_items: int = SPARE_ITEMS
    _solids: dict[int, Solid | None] = field(default_factory=dict)
    _profiles: dict[int, Profile | None] = field(default_factory=dict)
    _expanded: dict[int, list[tuple[Entity, Frame]]] = field(default_factory=dict)

    def body_items(self, element: Entity) -> list[tuple[Entity, Frame]]:
        """The items of an element's body, mapped ones taken out of their maps, each with its frame; without a body those of its box.

        Raises:
            ValueError: There are more than a carrier has, or than are left to be looked at in this file.
        """
        shape = getattr(element, "Representation", None)
        representations = list(many(getattr(shape, "Representations", None)))
        bodies = [item for item in representations if item.RepresentationIdentifier == "Body"] or [
            item for item in representations if item.RepresentationIdentifier not in NOT_BODY
        ]
        bodies = bodies or [item for item in representations if item.RepresentationIdentifier == "Box"]
        pairs = (pair for body in bodies for item in many(body.Items) for pair in self._unmapped(item, DEEPEST))
        found = list(itertools.islice(pairs, MOST_ITEMS + 1))
        beyond = max(len(found) - FREE_ITEMS, 0)
        if len(found) > MOST_ITEMS or beyond > self.spare_items:
            raise ValueError(
                f"its body has {'more than ' if len(found) > MOST_ITEMS else ''}{min(len(found), MOST_ITEMS)} parts"
            )
        self.spare_items -= beyond
        return found

    def axis_curve(self, element: Entity) -> Curve | None:
        """The element's Axis representation, where it is one curve."""
        shape = getattr(element, "Representation", None)
        for representation in many(getattr(shape, "Representations", None)):
            if representation.RepresentationIdentifier == "Axis":
                items = [pair for item in many(representation.Items) for pair in self._unmapped(item, DEEPEST)]
                curves = [
                    _placed(curve, frame)
                    for item, frame in items
                    if (curve := curve_of(item, self.radians)) is not None
                ]
                if len(curves) == 1:
                    return curves[0]
        return None

    def _unmapped(self, item: Entity, depth: int) -> list[tuple[Entity, Frame]]:
        """An item as it is, what its map holds, or what a union is of. Those in others are taken apart once each, however often used."""
        if is_union(item) and depth > 0:
            return self._united(item, depth)
        if not item.is_a("IfcMappedItem"):
            return [(item, WORLD)]
        source = item.MappingSource
        if depth == 0 or source is None or source.MappedRepresentation is None:
            return [(item, WORLD)]  # not understood, but there: so that the work for it is bounded
        key = source.id()
        if key not in self._expanded:
            self._expanded[key] = [(item, WORLD)]  # a map within itself ends here
            origin = frame_of(source.MappingOrigin)
            inner: list[tuple[Entity, Frame]] = []
            for mapped in many(source.MappedRepresentation.Items):
                inner.extend((found, frame.inside(origin)) for found, frame in self._unmapped(mapped, depth - 1))
                if len(inner) > MOST_ITEMS:
                    break
            self._expanded[key] = inner
        target = operator_frame(item.MappingTarget)
        return [(found, frame.inside(target)) for found, frame in _few(self._expanded[key])]

    def _united(self, item: Entity, depth: int) -> list[tuple[Entity, Frame]]:
        if item.id() not in self._expanded:
            self._expanded[item.id()] = [(item, WORLD)]  # a union of itself ends here
            operands = [operand for operand in (item.FirstOperand, item.SecondOperand) if operand is not None]
            both = (pair for operand in operands for pair in self._unmapped(operand, depth - 1))
            self._expanded[item.id()] = list(itertools.islice(both, MOST_ITEMS + 1))
        return _few(self._expanded[item.id()])

    def sweep_of(self, item: Entity, frame: Frame) -> Sweep | None:
        """The item as a sweep; None where it isn't one."""
        item = uncut(item)  # what is cut off a sweep leaves its section and axis as they are
        if item.is_a("IfcExtrudedAreaSolid"):
            return self._extrusion(item, frame)
        if item.is_a("IfcRevolvedAreaSolid"):
            return self._revolution(item, frame)
        if item.is_a("IfcSweptDiskSolid") and item.Radius:
            path = curve_of(item.Directrix, self.radians)
            wall = item.Radius - item.InnerRadius if item.InnerRadius else None
            if path is None:
                return None
            path, factor = _placed(path, frame), frame.factor
            across = unit(cross(Z_AXIS, path.ways[0])) or X_AXIS  # any will do
            return Sweep(path, across, "disk", diameter=2.0 * item.Radius * factor, wall=_times(wall, factor))
        if any(item.is_a(name) for name in DIRECTED):
            path = curve_of(getattr(item, "Directrix", None), self.radians)
            profile = self._profile(item.SweptArea)
            if path is None or profile is None:
                return None
            solid = frame_of(item.Position).inside(frame)
            return _sized(_placed(path, solid), solid, profile)
        return None

    def _profile(self, entity: Entity) -> Profile | None:
        if entity is None:
            return None
        if entity.id() not in self._profiles:
            self._profiles[entity.id()] = profile_of(entity, self.radians)
        return self._profiles[entity.id()]

    def _extrusion(self, item: Entity, frame: Frame) -> Sweep | None:
        profile = self._profile(item.SweptArea)
        if not item.Depth or profile is None:
            return None
        solid = frame_of(item.Position).inside(frame)
        flat = frame_of(getattr(item.SweptArea, "Position", None)).inside(solid)
        ratios = vector(getattr(item.ExtrudedDirection, "DirectionRatios", None))
        start = flat.place((*profile.centre, 0.0))
        way = solid.turn(scale(unit(ratios) or Z_AXIS, item.Depth))
        path = straight([start, add(start, way)])
        return None if path is None else _sized(path, flat, profile)

    def _revolution(self, item: Entity, frame: Frame) -> Sweep | None:
        """A section that is turned about an axis beside it: a bend."""
        profile = self._profile(item.SweptArea)
        along = unit(vector(getattr(item.Axis.Axis, "DirectionRatios", None))) or Z_AXIS
        if not item.Angle or profile is None:
            return None
        flat = frame_of(getattr(item.SweptArea, "Position", None))
        middle, foot = flat.place((*profile.centre, 0.0)), vector(item.Axis.Location.Coordinates)
        foot = add(foot, scale(along, dot(sub(middle, foot), along)))
        x, angle = unit(sub(middle, foot)), item.Angle * angle_factor([item.Angle], self.radians)
        if x is None or abs(angle) > TURN:
            return None
        path = circular(foot, x, cross(along, x), distance(middle, foot), 0.0, angle)
        solid = frame_of(item.Position).inside(frame)
        return _sized(_placed(path, solid), flat.inside(solid), profile)

    def solid_of(self, item: Entity) -> Solid | None:
        """The box around an item of faces, in the item's own coordinates; worked out once, however often it is mapped."""
        if item.id() not in self._solids:
            points = list(itertools.islice(face_points(item), MOST_POINTS + 1))
            # the box around some of them would be another body's
            self._solids[item.id()] = solid_of(points) if len(points) <= MOST_POINTS else None
        return self._solids[item.id()]

    def corner_points(self, item: Entity, frame: Frame) -> list[Vec]:
        """Points whose box is the item's box, or close to it; none where its kind isn't understood."""
        sweep = self.sweep_of(item, frame)
        if sweep is not None:
            return list(map(vector, _sweep_corners(sweep)))
        solid = self.solid_of(item)
        if solid is None:
            return []
        body = solid.body
        signs = ((i, j, k) for i in (-1.0, 1.0) for j in (-1.0, 1.0) for k in (-1.0, 1.0))
        shifts = (
            [scale(axis, sign * half) for axis, sign, half in zip(body.axes, s, body.half_mm, strict=True)]
            for s in signs
        )
        return [frame.place(add(body.centre_mm, add(a, add(b, c)))) for a, b, c in shifts]


def _few(items: list[tuple[Entity, Frame]]) -> list[tuple[Entity, Frame]]:
    """The items, if they aren't more than a carrier has. It is asked before they are placed, which costs more than to count them."""
    if len(items) > MOST_ITEMS:
        raise ValueError(f"its body has more than {MOST_ITEMS} parts")
    return items


def _placed(curve: Curve, frame: Frame) -> Curve:
    points = tuple(frame.place(point) for point in curve.points)
    begins, ends = curve.ways
    return Curve(points, curve.length * frame.factor, curve.turn_deg, (frame.turn(begins), frame.turn(ends)))


def _sized(path: Curve, flat: Frame, profile: Profile) -> Sweep:
    """A sweep with the sizes that its profile has in the frame, which may scale."""
    (x, y), wide = profile.direction, flat.turn((*profile.direction, 0.0))
    factor, over = norm(wide), norm(flat.turn((-y, x, 0.0)))
    thin = min(factor, over)
    return Sweep(
        path, unit(wide) or X_AXIS, profile.name, _times(profile.width, factor), _times(profile.height, over),
        _times(profile.diameter, thin), _times(profile.wall, thin), _times(profile.base, thin), is_plain=profile.is_plain,
        lanes=max(len(profile.holes), 1), is_even=not profile.holes or min(profile.holes) >= EVEN * max(profile.holes),
    )  # fmt: skip


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _sweep_corners(sweep: Sweep) -> list[Vec]:
    """The corners of the section at both ends; of a bent one a cross of the section at every point."""
    width = sweep.width or sweep.diameter or 0.0
    height = sweep.height or sweep.diameter or 0.0
    points = sweep.path.points
    if len(points) > 2:
        reach = max(width, height) / 2.0
        cross_of = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
        shifts = [scale(axis, sign * reach) for axis in cross_of for sign in (1.0, -1.0)]
        return [add(point, shift) for point in points for shift in shifts]
    along = unit(sub(sweep.end, sweep.start)) or (0.0, 0.0, 1.0)
    up = cross(along, sweep.across)
    return [
        add(end, add(scale(sweep.across, i * width / 2.0), scale(up, j * height / 2.0)))
        for end in points
        for i in (-1.0, 1.0)
        for j in (-1.0, 1.0)
    ]

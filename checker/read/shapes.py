"""What a body's shape tells: sweeps with their profile and path, and the points of everything else. In the file's unit."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from checker.model.geometry import Vec, add, cross, dot, norm, scale, sub, unit
from checker.read.curves import Curve, curve_of, straight
from checker.read.placements import WORLD, X_AXIS, Frame, frame_of, vector
from checker.read.profiles import Profile, profile_of
from checker.read.relations import many
from checker.read.solids import Solid, solid_of

Entity = Any
#: Mapped items and booleans may nest; a file that nests deeper, or has more items or points in one element, is malformed or hostile.
DEEPEST = 16
MOST_ITEMS = 10_000
MOST_POINTS = 100_000
#: Representations that aren't the body.
NOT_BODY = {"Axis", "FootPrint", "Annotation", "Profile", "Box", "Clearance", "Lighting", "Reference", "CoG", "Plan"}
DIRECTED = ("IfcFixedReferenceSweptAreaSolid", "IfcSurfaceCurveSweptAreaSolid", "IfcDirectrixCurveSweptAreaSolid")


@dataclass(frozen=True, slots=True)
class Sweep:
    """A section moved along a path; ``across`` is the direction of its width at the start.

    ``profile`` is the class of the section, "disk", "body" or "bounding box"; sizes None: not told by it. ``is_plain``: the section is a
    full rectangle. ``turned``: it was found to be the plan of the carrier, extruded upward.
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
    _solids: dict[int, Solid | None] = field(default_factory=dict)
    _profiles: dict[int, Profile | None] = field(default_factory=dict)
    _expanded: dict[int, list[tuple[Entity, Frame]]] = field(default_factory=dict)

    def body_items(self, element: Entity) -> list[tuple[Entity, Frame]]:
        """The items of an element's body, mapped ones taken out of their maps, each with its frame; without a body those of its box."""
        shape = getattr(element, "Representation", None)
        representations = list(many(getattr(shape, "Representations", None)))
        bodies = [item for item in representations if item.RepresentationIdentifier == "Body"] or [
            item for item in representations if item.RepresentationIdentifier not in NOT_BODY
        ]
        bodies = bodies or [item for item in representations if item.RepresentationIdentifier == "Box"]
        pairs = (pair for body in bodies for item in many(body.Items) for pair in self._unmapped(item, DEEPEST))
        return list(itertools.islice(pairs, MOST_ITEMS))

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
        """An item as it is, or what its map holds. Maps within maps are taken apart once each, however often they are used."""
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
            self._expanded[key] = inner[:MOST_ITEMS]
        target = _operator(item.MappingTarget)
        return [(found, frame.inside(target)) for found, frame in self._expanded[key]]

    def sweep_of(self, item: Entity, frame: Frame) -> Sweep | None:
        """The item as a sweep; None where it isn't one."""
        for _ in range(DEEPEST):  # what is cut off a sweep leaves its section and axis as they are
            if not item.is_a("IfcBooleanResult") or item.FirstOperand is None:
                break
            item = item.FirstOperand
        if item.is_a("IfcExtrudedAreaSolid"):
            return self._extrusion(item, frame)
        if item.is_a("IfcSweptDiskSolid") and item.Radius:
            path = curve_of(item.Directrix, self.radians)
            wall = item.Radius - item.InnerRadius if item.InnerRadius else None
            return None if path is None else Sweep(_placed(path, frame), frame.x, "disk", diameter=2.0 * item.Radius * frame.factor,
                                                   wall=_times(wall, frame.factor))  # fmt: skip
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
            self._profiles[entity.id()] = profile_of(entity)
        return self._profiles[entity.id()]

    def _extrusion(self, item: Entity, frame: Frame) -> Sweep | None:
        profile = self._profile(item.SweptArea)
        if not item.Depth or profile is None:
            return None
        solid = frame_of(item.Position).inside(frame)
        flat = frame_of(getattr(item.SweptArea, "Position", None)).inside(solid)
        direction = solid.turn(vector(getattr(item.ExtrudedDirection, "DirectionRatios", None) or (0.0, 0.0, 1.0)))
        start = flat.place((*profile.centre, 0.0))
        given = norm(vector(getattr(item.ExtrudedDirection, "DirectionRatios", None) or (0.0, 0.0, 1.0))) or 1.0
        path = straight([start, add(start, scale(direction, item.Depth / given))])
        return None if path is None else _sized(path, flat, profile)

    def solid_of(self, item: Entity) -> Solid | None:
        """The box around an item of faces, in the item's own coordinates; worked out once, however often it is mapped."""
        if item.id() not in self._solids:
            self._solids[item.id()] = solid_of(list(itertools.islice(face_points(item), MOST_POINTS)))
        return self._solids[item.id()]

    def corner_points(self, item: Entity, frame: Frame) -> list[Vec]:
        """Points whose box is the item's box, or close to it; none where its kind isn't understood."""
        sweep = self.sweep_of(item, frame)
        if sweep is not None:
            return _sweep_corners(sweep)
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


def face_points(item: Entity) -> Iterator[Vec]:
    """The points of an item made of faces, or of a bounding box."""
    for _ in range(DEEPEST):
        if not item.is_a("IfcBooleanResult") or item.FirstOperand is None:
            break
        item = item.FirstOperand
    if item.is_a("IfcBoundingBox"):
        x, y, z = vector(item.Corner.Coordinates)
        yield from (
            (x + i * item.XDim, y + j * item.YDim, z + k * item.ZDim) for i in (0, 1) for j in (0, 1) for k in (0, 1)
        )
    elif item.is_a("IfcTessellatedFaceSet"):
        yield from (vector(point) for point in many(getattr(item.Coordinates, "CoordList", None)))
    else:
        for attribute in ("Outer", "SbsmBoundary", "FbsmFaces"):
            for shell in many(getattr(item, attribute, None)):
                yield from _shell_points(shell)


def _shell_points(shell: Entity) -> Iterator[Vec]:
    for face in many(getattr(shell, "CfsFaces", None)):
        for bound in many(face.Bounds):
            for point in many(getattr(bound.Bound, "Polygon", None)):
                yield vector(point.Coordinates)
            for edge in many(getattr(bound.Bound, "EdgeList", None)):  # advanced faces: the ends of their edges
                vertex = getattr(getattr(edge, "EdgeElement", None), "EdgeStart", None)
                if vertex is not None and hasattr(vertex, "VertexGeometry"):
                    yield vector(vertex.VertexGeometry.Coordinates)


def _placed(curve: Curve, frame: Frame) -> Curve:
    points = tuple(frame.place(point) for point in curve.points)
    return Curve(points, curve.length * frame.factor, curve.turn_deg, curve.has_arcs)


def _sized(path: Curve, flat: Frame, profile: Profile) -> Sweep:
    """A sweep with the sizes that its profile has in the frame, which may scale."""
    (x, y), wide = profile.direction, flat.turn((*profile.direction, 0.0))
    factor, over = norm(wide), norm(flat.turn((-y, x, 0.0)))
    thin = min(factor, over)
    return Sweep(
        path, unit(wide) or X_AXIS, profile.name, _times(profile.width, factor), _times(profile.height, over),
        _times(profile.diameter, thin), _times(profile.wall, thin), _times(profile.base, thin), is_plain=profile.is_plain,
    )  # fmt: skip


def _times(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _operator(target: Entity) -> Frame:
    """A transformation as a frame; scaling lengthens its axes."""
    if target is None:
        return WORLD
    x = vector(target.Axis1.DirectionRatios) if target.Axis1 is not None else (1.0, 0.0, 0.0)
    z = getattr(target, "Axis3", None)
    z_axis = vector(z.DirectionRatios) if z is not None else (0.0, 0.0, 1.0)
    ex, ez = unit(x) or X_AXIS, unit(z_axis) or (0.0, 0.0, 1.0)
    ey = cross(ez, ex)
    if target.Axis2 is not None and dot(vector(target.Axis2.DirectionRatios), ey) < 0.0:
        ey = scale(ey, -1.0)  # mirrored
    factors = [
        float(getattr(target, name, None) or getattr(target, "Scale", None) or 1.0)
        for name in ("Scale", "Scale2", "Scale3")
    ]
    origin = vector(getattr(target.LocalOrigin, "Coordinates", None))
    return Frame(origin, scale(ex, factors[0]), scale(ey, factors[1]), scale(ez, factors[2]))


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

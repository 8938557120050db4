"""Services told apart by colour and by pattern, so that they can be told apart without colour too."""

import math
from dataclasses import dataclass, replace

from checker.model import Service
from checker.section.parts import Bundle
from checker.section.sketch import Colour, Disc, Hatching, Point, Polygon, Stadium


@dataclass(frozen=True, slots=True)
class Pattern:
    """A tint, and what is drawn over it: lines at angles (0: level, 45: rising to the right), or dots."""

    word: str
    tint: Colour
    ink: Colour
    angles_deg: tuple[float, ...] = ()
    is_dotted: bool = False


PATTERNS: dict[Service | None, Pattern] = {
    Service.POWER: Pattern("plain", (206, 221, 242), (38, 78, 140)),
    Service.EMERGENCY_CENTRAL: Pattern("rising lines", (250, 221, 188), (150, 78, 0), (45.0,)),
    Service.EMERGENCY_SELF_CONTAINED: Pattern("falling lines", (247, 233, 170), (120, 92, 0), (135.0,)),
    Service.FIRE_ALARM: Pattern("crossed lines", (248, 205, 205), (160, 24, 32), (45.0, 135.0)),
    Service.CONTROL: Pattern("level lines", (226, 212, 240), (92, 48, 140), (0.0,)),
    Service.DATA: Pattern("dots", (204, 234, 212), (16, 96, 56), (), True),
    Service.ELV: Pattern("upright lines", (200, 234, 238), (0, 92, 110), (90.0,)),
    None: Pattern("a grid", (232, 232, 228), (96, 96, 92), (0.0, 90.0)),
}

#: Of cables that are of no circuit.
NO_CIRCUIT = Pattern("plain", (226, 232, 238), (70, 84, 98))

Shape = Disc | Stadium | Polygon


def pattern_of(bundle: Bundle) -> Pattern:
    """How cables are marked: by their service, which may not be known; of no circuit they are plain."""
    return PATTERNS[bundle.service] if bundle.of_circuit else NO_CIRCUIT


def service_word(service: Service | None) -> str:
    """What a service is called in a legend."""
    return "service not known" if service is None else service.value.replace("-", " ")


def hatching(shape: Shape, pattern: Pattern, spacing_px: float) -> Hatching | None:
    """A pattern within a shape, centred on it; None for a plain one.

    Args:
        shape: A circle, a stadium, or a polygon without inward corners.
        pattern: What is drawn.
        spacing_px: Between lines, or dots.
    """
    if pattern.is_dotted:
        dot = min(max(spacing_px / 5.0, 0.6), 1.2)
        return Hatching(pattern.ink, 1.0, dots=_dots(shape, spacing_px, dot), dot_px=dot)
    if not pattern.angles_deg:
        return None
    width = min(max(spacing_px / 6.0, 0.5), 0.9)
    lines = tuple(line for angle in pattern.angles_deg for line in lines_in(shape, angle, spacing_px))
    return Hatching(pattern.ink, width, lines)


def lines_in(shape: Shape, angle_deg: float, spacing_px: float) -> tuple[tuple[Point, Point], ...]:
    """Parallel lines cut to a shape, one half a spacing to each side of its middle, and so on."""
    (x, y), reach = _middle(shape)
    along = math.cos(math.radians(angle_deg)), -math.sin(math.radians(angle_deg))
    across = -along[1], along[0]
    count = math.ceil(reach / spacing_px) + 1
    lines = []
    for number in range(-count, count):
        away = (number + 0.5) * spacing_px
        start = x + across[0] * away, y + across[1] * away
        found = cut(shape, start, along)
        if found is not None:
            lines.append(tuple((start[0] + along[0] * t, start[1] + along[1] * t) for t in found))
    return tuple((line[0], line[1]) for line in lines)


def cut(shape: Shape, start: Point, along: Point) -> tuple[float, float] | None:
    """Where a straight line enters and leaves a shape, measured from a point of it; None where it misses."""
    if isinstance(shape, Disc):
        return _cut_disc((shape.x, shape.y), shape.radius, start, along)
    if isinstance(shape, Polygon):
        return _cut_polygon(shape.points, start, along)
    ends = shape.spine
    (x1, y1), (x2, y2) = ends
    length = math.dist(*ends)
    parts = [_cut_disc(end, shape.radius, start, along) for end in ends]
    if length > 0.0:
        off = -(y2 - y1) / length * shape.radius, (x2 - x1) / length * shape.radius
        flat = tuple(
            (x + s * off[0], y + s * off[1]) for x, y, s in ((x1, y1, 1), (x2, y2, 1), (x2, y2, -1), (x1, y1, -1))
        )
        parts.append(_cut_polygon(flat, start, along))
    # the shape has no inward corners: what its parts cut hangs together
    found = [part for part in parts if part is not None]
    return (min(part[0] for part in found), max(part[1] for part in found)) if found else None


def _cut_disc(centre: Point, radius: float, start: Point, along: Point) -> tuple[float, float] | None:
    right, down = centre[0] - start[0], centre[1] - start[1]
    nearest = right * along[0] + down * along[1]
    inside = radius * radius - (right * right + down * down - nearest * nearest)
    if inside <= 0.0:
        return None
    return nearest - math.sqrt(inside), nearest + math.sqrt(inside)


def _cut_polygon(points: tuple[Point, ...], start: Point, along: Point) -> tuple[float, float] | None:
    at = []
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        side1 = (x1 - start[0]) * along[1] - (y1 - start[1]) * along[0]
        side2 = (x2 - start[0]) * along[1] - (y2 - start[1]) * along[0]
        if (side1 < 0.0) != (side2 < 0.0):
            share = side1 / (side1 - side2)
            x, y = x1 + (x2 - x1) * share, y1 + (y2 - y1) * share
            at.append((x - start[0]) * along[0] + (y - start[1]) * along[1])
    return (min(at), max(at)) if len(at) >= 2 and max(at) > min(at) else None


def _dots(shape: Shape, spacing_px: float, dot_px: float) -> tuple[Point, ...]:
    """Dots of a triangular grid that lie wholly in a shape."""
    (x, y), reach = _middle(shape)
    within = _shrunk(shape, 1.5 * dot_px)
    step = spacing_px * math.sqrt(3.0) / 2.0
    count = math.ceil(reach / step) + 1
    dots = []
    for row in range(-count, count + 1):
        level = y + row * step
        found = None if within is None else cut(within, (x, level), (1.0, 0.0))
        if found is None:
            continue
        shift = spacing_px / 2.0 if row % 2 else 0.0
        for column in range(-count * 2, count * 2 + 1):
            away = column * spacing_px + shift
            if found[0] <= away <= found[1]:
                dots.append((x + away, level))
    return tuple(dots)


def _shrunk(shape: Shape, by: float) -> Shape | None:
    """A shape whose edge lies further in; None where nothing is left, and a polygon as it is."""
    if isinstance(shape, Disc):
        return replace(shape, radius=shape.radius - by) if shape.radius > by else None
    if isinstance(shape, Stadium):
        return (
            replace(shape, width=shape.width - 2.0 * by, height=shape.height - 2.0 * by) if shape.radius > by else None
        )
    return shape


def _middle(shape: Shape) -> tuple[Point, float]:
    """The middle of a shape, and how far it reaches from there at most."""
    if isinstance(shape, Disc):
        return (shape.x, shape.y), shape.radius
    if isinstance(shape, Stadium):
        return (shape.x, shape.y), max(shape.width, shape.height) / 2.0
    xs, ys = zip(*shape.points, strict=True)
    left, right, top, bottom = min(xs), max(xs), min(ys), max(ys)
    return ((left + right) / 2.0, (top + bottom) / 2.0), math.dist((left, top), (right, bottom)) / 2.0

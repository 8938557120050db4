"""Insides of carriers and sections of cables as plain shapes, in millimetres.

x runs to the right, y up; the origin is the lower left of the inside's bounding box.
"""

import math
from dataclasses import dataclass

Corner = tuple[float, float]


def _check(what: str, *sizes_mm: float) -> None:
    for size in sizes_mm:
        if not math.isfinite(size) or size <= 0.0:
            raise ValueError(f"{what} must be a finite number of mm above 0, not {size}")


@dataclass(frozen=True, slots=True)
class Round:
    """The inside of a conduit."""

    diameter_mm: float

    def __post_init__(self) -> None:
        _check("the inside diameter", self.diameter_mm)


@dataclass(frozen=True, slots=True)
class Box:
    """The inside of a trunking with its lid on."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _check("inside width and height", self.width_mm, self.height_mm)


@dataclass(frozen=True, slots=True)
class Channel:
    """The inside of a tray or ladder: open at the top. Cables count as going in only as far as they stay below its sides."""

    width_mm: float
    side_mm: float

    def __post_init__(self) -> None:
        _check("inside width and side height", self.width_mm, self.side_mm)


@dataclass(frozen=True, slots=True)
class Polygon:
    """Any inside with straight sides, its corners in order.

    They are moved so that the bounding box begins at the origin, and turned to run counter-clockwise.
    """

    corners_mm: tuple[Corner, ...]

    def __post_init__(self) -> None:
        corners = [(float(x), float(y)) for x, y in self.corners_mm]
        if not all(math.isfinite(x) and math.isfinite(y) for x, y in corners):
            raise ValueError("a polygon's corners must be finite numbers of mm")
        corners = [
            corner for corner, before in zip(corners, [*corners[-1:], *corners], strict=False) if corner != before
        ]
        left, low = min((x for x, _ in corners), default=0.0), min((y for _, y in corners), default=0.0)
        corners = [(x - left, y - low) for x, y in corners]
        area = signed_area_mm2(corners)
        if len(corners) < 3 or area == 0.0:
            raise ValueError("a polygon needs three corners that aren't in one line")
        if area < 0.0:
            corners.reverse()
        if _crosses_itself(corners):
            raise ValueError("a polygon's sides must not cross or touch each other")
        object.__setattr__(self, "corners_mm", tuple(corners))


Inside = Round | Box | Channel | Polygon


@dataclass(frozen=True, slots=True)
class Body:
    """A cable's section: a circle where both sizes are equal, else a stadium (flat sides, round ends)."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _check("a cable's width and height", self.width_mm, self.height_mm)

    @property
    def thickness_mm(self) -> float:
        """The smaller size: what its round ends measure."""
        return min(self.width_mm, self.height_mm)

    @property
    def length_mm(self) -> float:
        """The larger size."""
        return max(self.width_mm, self.height_mm)

    @property
    def area_mm2(self) -> float:
        """Of the circle or stadium."""
        thick = self.thickness_mm
        return math.pi * thick * thick / 4.0 + thick * (self.length_mm - thick)


def circle(diameter_mm: float) -> Body:
    """The section of a round cable."""
    return Body(diameter_mm, diameter_mm)


@dataclass(frozen=True, slots=True)
class Placed:
    """Where a body's centre lies. ``turned``: its width stands upright (a flat cable that lay flat then stands on its edge)."""

    body: int
    x_mm: float
    y_mm: float
    turned: bool = False


def signed_area_mm2(corners: "list[Corner] | tuple[Corner, ...]") -> float:
    """Above 0 where the corners run counter-clockwise."""
    pairs = zip(corners, [*corners[1:], *corners[:1]], strict=True)
    return math.fsum(x * v - u * y for (x, y), (u, v) in pairs) / 2.0


def area_mm2(inside: Inside) -> float:
    """The area that cables can lie in; of a channel up to its sides."""
    match inside:
        case Round(diameter_mm=diameter):
            return math.pi * diameter * diameter / 4.0
        case Polygon(corners_mm=corners):
            return signed_area_mm2(corners)
    width, height = extent_mm(inside)
    return width * height


def extent_mm(inside: Inside) -> tuple[float, float]:
    """Width and height of the bounding box; a channel's ends at its sides."""
    match inside:
        case Round(diameter_mm=diameter):
            return diameter, diameter
        case Box(width_mm=width, height_mm=height) | Channel(width_mm=width, side_mm=height):
            return width, height
        case Polygon(corners_mm=corners):
            return max(x for x, _ in corners), max(y for _, y in corners)


def corners_mm(inside: Box | Channel | Polygon) -> tuple[Corner, ...]:
    """The corners, counter-clockwise."""
    if isinstance(inside, Polygon):
        return inside.corners_mm
    width, height = extent_mm(inside)
    return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))


def _crosses_itself(corners: list[Corner]) -> bool:
    count = len(corners)
    sides = [(corners[i], corners[(i + 1) % count]) for i in range(count)]
    for i in range(count):
        for j in range(i + 1, count):
            neighbours = j == i + 1 or (i == 0 and j == count - 1)
            if neighbours:
                first, second = (sides[i], sides[j]) if j == i + 1 else (sides[j], sides[i])
                if _turns_back(first[0], first[1], second[1]):
                    return True
            elif _meet(*sides[i], *sides[j]):
                return True
    return False


def _side_of(a: Corner, b: Corner, p: Corner) -> float:
    return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])


def _turns_back(a: Corner, b: Corner, c: Corner) -> bool:
    """Whether the way a, b, c runs back over itself."""
    along = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return _side_of(a, b, c) == 0.0 and along < 0.0


def _within(a: Corner, b: Corner, p: Corner) -> bool:
    return min(a[0], b[0]) <= p[0] <= max(a[0], b[0]) and min(a[1], b[1]) <= p[1] <= max(a[1], b[1])


def _meet(a: Corner, b: Corner, c: Corner, d: Corner) -> bool:
    """Whether two sides have a point in common."""
    first, second, third, fourth = _side_of(a, b, c), _side_of(a, b, d), _side_of(c, d, a), _side_of(c, d, b)
    if (
        (first > 0.0) != (second > 0.0)
        and (third > 0.0) != (fourth > 0.0)
        and 0.0 not in {first, second, third, fourth}
    ):
        return True
    touches = ((first, a, b, c), (second, a, b, d), (third, c, d, a), (fourth, c, d, b))
    return any(side == 0.0 and _within(start, end, point) for side, start, end, point in touches)

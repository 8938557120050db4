"""The left of a snapshot: a topic's carriers where they are, among everything around them, as its camera sees them."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from checker.model.geometry import Vec, add, distance, dot, scale, sub
from checker.report.callouts import callouts
from checker.report.canvas import INK, PAPER, SOFT_INK, Canvas, Colour, Rectangle, legible, shortened, text_width
from checker.report.projection import NEAR_MM, Side, View
from checker.report.scene_grid import draw_grid
from checker.result.camera import corners, cube, extent_mm, from_afar
from checker.result.tables import Box, Camera, Result

#: What is farther from a topic than this says nothing about where it is.
REACH_MM = 60_000.0
#: The nearest ones, where there are more.
MOST_BOXES = 800
#: A picture shows more around a short length than its viewpoint, in which a person can move, from so far away at least.
LEAST_AWAY_M = 4.0
#: The axes of the grid go on so far beyond twice the size of what is shown.
AXES_MM = 12_000.0
#: How wide the line around the marked ones is. Of more than so many each is small, and is drawn as a stroke of its own colour within that.
RING_PX, MANY = 4.5, 20
#: So is a side that is thinner than this. Of what is smaller in all directions nothing would be seen: it gets a ring.
THIN_PX, SMALL_PX = 5.0, 10.0
#: Only this part of the way to a topic is left clear of what would stand in front of it.
_CLEAR = 0.3

FAILING: Colour = (222, 84, 44)
OTHER_CARRIER: Colour = (226, 230, 234)
SURROUNDING: Colour = (243, 243, 240)
_LINE_OF = {OTHER_CARRIER: (160, 166, 173), SURROUNDING: (214, 214, 208)}


@dataclass(frozen=True, slots=True)
class Thing:
    """A box to draw. ``key`` is a carrier's, which has one for each straight piece."""

    key: str
    box: Box
    centre_mm: Vec
    radius_mm: float


class Scene:
    """All boxes of a result, ready to be looked at from many sides."""

    def __init__(self, result: Result) -> None:
        self._things = [_thing(row.key, box) for row in result.carriers for box in row.boxes]
        self._things += [_thing("", box) for box in result.surroundings]
        self._labels = {row.key: legible(row.place.label, row.place.global_id) for row in result.carriers}
        self._carriers = frozenset(self._labels)
        self._storeys = {row.key: row.place.storey for row in result.carriers}
        self._grids = result.grids
        self._ends: dict[str, Thing] = {}
        for item in result.equipment:
            if item.point_mm is not None and item.key not in self._labels:
                self._labels[item.key] = legible(item.label, item.key)
                self._ends[item.key] = _thing(item.key, cube(item.point_mm))

    def draw(self, canvas: Canvas, camera: Camera | None, keys: Sequence[str], where: str = "") -> None:
        """Draws carriers and equipment strongly, and what is around them palely, over the whole canvas.

        Args:
            canvas: Where to.
            camera: From where; without one the canvas says why it is empty.
            keys: Of the carriers, and of equipment that circuits begin or end at, the most important first: these get labels.
            where: In which part of the building that is, in words.
        """
        wanted = set(keys)
        marked = [thing for thing in self._things if thing.key in wanted]
        marked += [thing for key, thing in self._ends.items() if key in wanted]
        if camera is None or not marked:
            middle = canvas.width / 2, canvas.height / 2
            canvas.text(middle, "No picture: none of these has a shape in the model.", 17, SOFT_INK, "mm")
            return
        view = View(from_afar(camera, [thing.box for thing in marked], LEAST_AWAY_M), canvas.width, canvas.height)
        pale = [thing for thing in self._near(marked, view) if thing.key not in wanted]
        _pale(canvas, view, pale)
        frame: Rectangle = (8.0, 36.0 if where else 8.0, canvas.width - 8.0, canvas.height - 34.0)
        tags = self._axes(canvas, view, keys, marked, frame)
        anchors = _strong(canvas, view, marked)
        labelled = [(self._labels[key], anchors[key]) for key in dict.fromkeys(keys) if key in anchors]
        placed = callouts(canvas, labelled, _busy(view, marked), frame, tags)
        if where:
            text = shortened(where, 17, canvas.width - 24.0)
            canvas.rectangle((4.0, 6.0, text_width(text, 17) + 20.0, 32.0), PAPER, None)
            canvas.text((12.0, 8.0), text, 17)
        word = "segment" if wanted <= self._carriers else "element"
        _legend(canvas, word, len(wanted), len({thing.key for thing in marked}), placed)

    def _axes(
        self, canvas: Canvas, view: View, keys: Sequence[str], marked: Sequence[Thing], frame: Rectangle
    ) -> list[Rectangle]:
        """Draws the axes around, of the grids of the first carrier's storey if that has its own. Returns where their tags stand."""
        storey = next((name for key in keys if (name := self._storeys.get(key, ""))), "")
        own = [grid for grid in self._grids if storey and grid.storey == storey]
        (x, y, z), radius = extent_mm([thing.box for thing in marked])
        low = min(corner[2] for thing in marked for corner in corners(thing.box))
        return draw_grid(canvas, view, own or self._grids, (x, y, min(low, z)), 2.0 * radius + AXES_MM, frame)

    def _near(self, marked: Sequence[Thing], view: View) -> list[Thing]:
        """What stands around the marked ones, and not between them and the eye."""
        centre, radius = extent_mm([thing.box for thing in marked])
        away = distance(view.eye, centre)
        found = []
        for thing in self._things:
            gap = distance(thing.centre_mm, centre) - thing.radius_mm - radius
            depth = dot(sub(thing.centre_mm, view.eye), view.forward)
            if gap <= REACH_MM and depth + thing.radius_mm > max(_CLEAR * away, NEAR_MM):
                found.append((gap, thing))
        # of all that is among the marked ones the largest, which show best where these are
        found.sort(key=lambda pair: (max(pair[0], 0.0), -pair[1].radius_mm, pair[1].key, pair[1].centre_mm))
        return [thing for _, thing in found[:MOST_BOXES]]


def _thing(key: str, box: Box) -> Thing:
    centre, radius = extent_mm([box])
    return Thing(key, box, centre, radius)


def _pale(canvas: Canvas, view: View, things: Sequence[Thing]) -> None:
    sides: list[tuple[Side, Colour]] = []
    for thing in things:
        colour = OTHER_CARRIER if thing.key else SURROUNDING
        sides += [(side, colour) for side in view.sides(thing.box) if _is_in(canvas, side)]
    for side, colour in sorted(sides, key=lambda pair: _turn(pair[0], pair[1])):
        canvas.polygon(side.points, _lit(colour, 0.88 + 0.12 * side.light), _LINE_OF[colour], 0.6)


def _strong(canvas: Canvas, view: View, things: Sequence[Thing]) -> dict[str, tuple[float, float]]:
    """Draws the marked ones over everything else. Returns where in the picture each one's middle piece has its middle."""
    sides = [side for thing in things for side in view.sides(thing.box) if _is_in(canvas, side)]
    for side in sides:  # a wide line around all of them first, so that even the thinnest one is a bold stroke
        canvas.polygon(side.points, INK, INK, RING_PX)
    for side in sorted(sides, key=_turn):
        colour = _lit(FAILING, 0.62 + 0.38 * side.light)
        is_thin = len(things) > MANY or _thickness_px(side) < THIN_PX
        canvas.polygon(side.points, colour, *((colour, RING_PX / 2.0) if is_thin else (INK, 1.1)))
    pieces: dict[str, list[Thing]] = defaultdict(list)
    for thing in things:
        pieces[thing.key].append(thing)
    anchors = {}
    for _, own in sorted(pieces.items()):  # of two rings on each other the same one lies on top
        thing = own[len(own) // 2]
        seen = view.seen(thing.centre_mm)
        if seen[2] >= NEAR_MM:
            x, y = view.pixel(seen)
            if 0.0 <= x <= canvas.width and 0.0 <= y <= canvas.height:
                anchors[thing.key] = (x, y)
                if _extent_px(view, own) < SMALL_PX:
                    canvas.ellipse((x - 12.0, y - 12.0, x + 12.0, y + 12.0), INK, None)
                    canvas.ellipse((x - 10.0, y - 10.0, x + 10.0, y + 10.0), FAILING, None)
    return anchors


def _turn(side: Side, colour: Colour = FAILING) -> tuple[object, ...]:
    """The farthest come first; of those at one depth it doesn't matter in which order the model has them."""
    return -side.depth_mm, side.points, side.light, colour


def _thickness_px(side: Side) -> float:
    """Twice its area over the length of its outline, which is about how thin a long one is."""
    pairs = list(zip(side.points, (*side.points[1:], side.points[0]), strict=True))
    around = math.fsum(math.dist(one, other) for one, other in pairs)
    return abs(math.fsum(a * d - c * b for (a, b), (c, d) in pairs)) / around if around else 0.0


def _extent_px(view: View, things: Sequence[Thing]) -> float:
    """How large the pieces of one element are in the picture, at the most."""
    seen = [view.seen(corner) for thing in things for corner in corners(thing.box)]
    points = [view.pixel(point) for point in seen if point[2] >= NEAR_MM]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(max(xs) - min(xs), max(ys) - min(ys), 0.0)


def _busy(view: View, things: Sequence[Thing]) -> list[tuple[float, float]]:
    """Points of the picture along the marked ones, which labels had better leave free."""
    points = []
    steps = max(4, 80 // len(things))
    for thing in things:
        ends = list(corners(thing.box))
        for share in (step / steps for step in range(steps + 1)):
            # the diagonal of a long thin box runs along it
            seen = view.seen(add(scale(ends[0], 1.0 - share), scale(ends[7], share)))
            if seen[2] >= NEAR_MM:
                points.append(view.pixel(seen))
    return points


def _is_in(canvas: Canvas, side: Side) -> bool:
    xs, ys = [x for x, _ in side.points], [y for _, y in side.points]
    return max(xs) > 0.0 and min(xs) < canvas.width and max(ys) > 0.0 and min(ys) < canvas.height


def _lit(colour: Colour, light: float) -> Colour:
    return round(colour[0] * light), round(colour[1] * light), round(colour[2] * light)


def _legend(canvas: Canvas, word: str, wanted: int, drawn: int, labelled: int) -> None:
    top = canvas.height - 26.0
    canvas.rectangle((0.0, canvas.height - 32.0, canvas.width, canvas.height), PAPER, None)
    canvas.rectangle((12.0, top + 1.0, 34.0, top + 15.0), FAILING, INK, 2.5)
    parts = [f"{wanted} {word}{'' if wanted == 1 else 's'} of this issue"]
    if drawn < wanted:
        parts.append(f"{wanted - drawn} without a shape")
    if labelled < drawn:
        parts.append(f"{labelled} labelled, the worst first")
    canvas.text((42.0, top), "; ".join(parts), 14, SOFT_INK)

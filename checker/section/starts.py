"""Where relaxation begins: lattices, rings, dropped and scattered bodies. Always the same for the same question."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from checker.section.compiled import Kernels
from checker.section.prepared import CIRCLE, Prepared

Point = tuple[float, float]
MANY = 150
#: The lattices' offsets, in shares of their steps.
OFFSETS = ((0.0, 0.0), (0.5, 0.0), (0.0, 0.5), (0.5, 0.5), (0.25, 0.25), (0.5, 1.0 / 3.0))
#: What is low when dropping: weights of x and y, and of the distance from the middle.
LOWS = ((0.0, 1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0), (0.7, 0.7, 0.0))


class Chance:
    """A fixed row of numbers between 0 and 1, one for each seed."""

    def __init__(self, seed: int) -> None:
        self._state = 1 + seed * 7919 % 2147483646
        for _ in range(5):
            self.next()

    def next(self) -> float:
        """The next number, above 0 and below 1."""
        self._state = self._state * 48271 % 2147483647
        return self._state / 2147483647.0

    def below(self, count: int) -> int:
        """A whole number from 0."""
        return int(self.next() * count)

    def shuffled(self, count: int) -> list[int]:
        """The whole numbers below the count in some order."""
        row = list(range(count))
        for i in range(count - 1, 0, -1):
            j = self.below(i + 1)
            row[i], row[j] = row[j], row[i]
        return row


@dataclass(slots=True)
class Start:
    """Positions (x of all, then y of all) and which stand upright."""

    z: list[float]
    upright: list[bool]


def starts(asked: Prepared, kernels: Kernels) -> Iterator[Start]:
    """Begins with what most often leads to something; never ends."""
    chance = Chance(asked.count)
    lattices = _lattice_starts(asked, chance) if asked.equal_circles else iter(())
    rings = _ring_starts(asked) if asked.equal_circles and asked.kind == CIRCLE else iter(())
    drops = _drop_starts(asked, kernels, chance)
    scattered = _scattered_starts(asked, chance)
    rows = [drops, lattices, rings, lattices, scattered]
    if asked.equal_circles and asked.count > MANY:  # dropping takes long then, and lattices are near the best
        rows = [lattices, rings, lattices, scattered]
    while True:
        for row in rows:
            start = next(row, None)
            if start is not None:
                yield start


def _scattered_starts(asked: Prepared, chance: Chance) -> Iterator[Start]:
    n = asked.count
    while True:
        points = [_anywhere(asked, chance) for _ in range(n)]
        upright = [chance.next() < 0.3 for _ in range(n)]
        yield _start(points, upright)


def _anywhere(asked: Prepared, chance: Chance) -> Point:
    width, height = asked.extent
    x, y = chance.next() * width, chance.next() * height
    if asked.kind == CIRCLE:
        for _ in range(20):
            if math.hypot(x - width / 2.0, y - height / 2.0) < width / 2.0:
                break
            x, y = chance.next() * width, chance.next() * height
    return x, y


def _start(points: list[Point], upright: list[bool]) -> Start:
    return Start([x for x, _ in points] + [y for _, y in points], upright)


def dropped(
    asked: Prepared, kernels: Kernels, order: list[int], low: tuple[float, float, float], scale: float
) -> tuple[Start, list[bool]]:
    """Drops the bodies at a scale; with which of them found a place."""
    n = asked.count
    z, turned, there = kernels.floats(2 * n), kernels.whole(n), kernels.whole(n)
    room, found = kernels.floats(64 * (n + 1) + 80 * (asked.sides + 2)), kernels.floats(4)
    sizes = [kernels.of([scale * figure for figure in row]) for row in (asked.hx, [0.0] * n, asked.r)]
    width, height = asked.extent
    reach = 2.0 * scale * max(h + r for h, r in zip(asked.hx, asked.r, strict=True)) + 1e-6
    cell = max(reach, max(width, height) / 200.0)
    columns, rows = int(width / cell) + 1, int(height / cell) + 1
    kernels.drop(
        n,
        kernels.of_whole(order),
        *sizes,
        asked.kind,
        kernels.of(asked.wall),
        asked.sides,
        *low,
        z,
        turned,
        there,
        room,
        found,
        cell,
        columns,
        rows,
        kernels.whole(columns * rows),
        kernels.whole(n),
    )
    return Start([float(figure) for figure in z], [bool(flag) for flag in turned]), [bool(flag) for flag in there]


def _drop_starts(asked: Prepared, kernels: Kernels, chance: Chance) -> Iterator[Start]:
    n = asked.count
    tried = 0
    while True:
        low = LOWS[tried % len(LOWS)]
        order = list(range(n)) if tried < len(LOWS) else orders(asked, chance)
        start, there = dropped(asked, kernels, order, low, 1.0)
        for i in range(n):
            if not there[i]:
                start.z[i], start.z[n + i] = _anywhere(asked, chance)
        yield start
        tried += 1


def orders(asked: Prepared, chance: Chance) -> list[int]:
    """Large first, but for chance."""
    n = asked.count
    keys = [i + 0.3 * n * chance.next() for i in range(n)]
    return sorted(range(n), key=lambda i: (keys[i], i))


def _lattice_starts(asked: Prepared, chance: Chance) -> Iterator[Start]:
    n = asked.count
    width, height = asked.extent
    removed = 0
    while True:
        for upright in (False, True):
            for rise in (math.sqrt(0.75), 1.0, 0.93):
                for offset in OFFSETS:
                    points = _lattice(asked, n, rise, offset, upright=upright)
                    if removed == 0:
                        points.sort(key=lambda at: (math.hypot(at[0] - width / 2.0, at[1] - height / 2.0), at))
                    else:
                        points = [points[i] for i in chance.shuffled(len(points))]
                    points = points[:n]
                    points += [_anywhere(asked, chance) for _ in range(n - len(points))]
                    points = [(x + 0.02 * (chance.next() - 0.5), y + 0.02 * (chance.next() - 0.5)) for x, y in points]
                    yield _start(points, [False] * n)
        removed += 1


def _lattice(asked: Prepared, n: int, rise: float, offset: Point, *, upright: bool) -> list[Point]:
    """The points of the widest lattice of which at least n lie inside; rows are ``rise`` steps apart, every second one half a step on."""
    width, height = asked.extent
    low, high = 0.1, 2.0 * max(width, height)
    found: list[Point] = []
    for _ in range(30):
        step = math.sqrt(low * high)
        points = _lattice_of(asked, step, rise, offset, upright=upright)
        if len(points) >= n:
            low, found = step, points
        else:
            high = step
    return found


def _lattice_of(asked: Prepared, step: float, rise: float, offset: Point, *, upright: bool) -> list[Point]:
    width, height = asked.extent
    if upright:
        width, height = height, width
    near = 0.35 * step  # a body's radius or less from the wall: it's pushed in
    points = []
    shift = 0.0 if rise == 1.0 else 0.5
    rows = int((height - 2.0 * near) / (step * rise))
    spare = (height - 2.0 * near - rows * step * rise) if asked.kind != CIRCLE else 0.0
    if asked.kind == CIRCLE:
        count = int(width / step) + 3
        for j in range(-count, count + 1):
            for i in range(-count, count + 1):
                x = (i + offset[0] + shift * (j % 2)) * step
                y = (j + offset[1]) * step * rise
                if math.hypot(x, y) <= width / 2.0 - near:
                    points.append((x + width / 2.0, y + width / 2.0))
    else:
        for j in range(rows + 1):
            y = near + spare * (0.0 if rows == 0 else j / rows) + j * step * rise
            across = near + step * (shift * ((j + int(2.0 * offset[1])) % 2)) + 0.5 * step * offset[0]
            while across <= width - near:
                points.append((across, y))
                across += step
    if upright:
        points = [(y, x) for x, y in points]
    return points


def _ring_starts(asked: Prepared) -> Iterator[Start]:
    """Rings around 1 to 5 bodies, each as full as it can be; the innermost takes what is left."""
    n = asked.count
    radius = asked.wall[2]
    for twist in (0.0, 0.5, 0.25):
        for inner in range(1, 6):
            rings = [inner]
            while sum(rings) < n:
                rings.append(rings[-1] + 6 if inner > 1 or len(rings) > 1 else 6)
            over = sum(rings) - n
            while over > 0:  # taken from the rings in turn, the outermost first
                for k in range(len(rings) - 1, -1, -1):
                    if over > 0 and rings[k] > 0:
                        rings[k] -= 1
                        over -= 1
            points = []
            for k, count in enumerate(rings):
                away = (
                    0.0
                    if len(rings) == 1 and count == 1
                    else radius * 0.9 * (k + (0.5 if inner > 1 else 0.0)) / len(rings)
                )
                for i in range(count):
                    angle = 2.0 * math.pi * (i + twist * k) / count
                    points.append((radius + away * math.cos(angle), radius + away * math.sin(angle)))
            yield _start(points, [False] * n)

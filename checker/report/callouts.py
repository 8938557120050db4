"""Labels with a line to what they name, none upon another."""

import math
from collections.abc import Iterator, Sequence

from checker.report.canvas import INK, PAPER, Canvas, Point, Rectangle, meet, shortened, text_width

MOST_LABELS = 6
SIZE = 16
_WIDEST = 190.0
_HEIGHT = SIZE + 9.0
#: Between two labels.
_GAP_PX = 5.0
#: Where a label is tried, away from its point: near before far, upper right first.
_REACHES = (46.0, 84.0, 128.0, 180.0, 240.0)
_ANGLES_DEG = (45, 135, 70, 110, 20, 160, -45, -135, -70, -110, 0, 180)


def callouts(
    canvas: Canvas,
    labels: Sequence[tuple[str, Point]],
    points: Sequence[Point],
    frame: Rectangle,
    others: Sequence[Rectangle] = (),
) -> int:
    """Draws the first few labels that find room.

    Args:
        canvas: Where to.
        labels: Text and the point that it names, the most important first.
        points: What no label should cover.
        frame: Where labels may be.
        others: What stands there already.

    Returns:
        How many were drawn.
    """
    taken: list[Rectangle] = list(others)
    placed: list[tuple[str, Point, Rectangle]] = []
    for text, point in labels[:MOST_LABELS]:
        short = shortened(text, SIZE, _WIDEST)
        width = text_width(short, SIZE) + 14.0
        free = [
            box
            for box in _places(point, width)
            if _inside(box, frame) and not any(meet(box, t, _GAP_PX) for t in taken)
        ]
        if free:
            # min keeps the first of equals, which is the nearest
            box = min(free, key=lambda box: sum(_covers(box, other) for other in points))
            taken.append(box)
            placed.append((short, point, box))
    for _, point, box in placed:
        end = min(max(point[0], box[0]), box[2]), min(max(point[1], box[1]), box[3])
        canvas.line([point, end], PAPER, 4.0)
        canvas.line([point, end], INK, 1.5)
        canvas.ellipse((point[0] - 4.0, point[1] - 4.0, point[0] + 4.0, point[1] + 4.0), PAPER, INK, 1.5)
    for text, _, box in placed:
        canvas.rectangle(box, PAPER, INK, 1.5)
        canvas.text(((box[0] + box[2]) / 2.0, (box[1] + box[3]) / 2.0), text, SIZE, INK, "mm")
    return len(placed)


def _places(point: Point, width: float) -> Iterator[Rectangle]:
    for reach in _REACHES:
        for angle in _ANGLES_DEG:
            x = point[0] + (reach + width / 2.0) * math.cos(math.radians(angle))
            y = point[1] - reach * math.sin(math.radians(angle))
            yield x - width / 2.0, y - _HEIGHT / 2.0, x + width / 2.0, y + _HEIGHT / 2.0


def _inside(box: Rectangle, frame: Rectangle) -> bool:
    return box[0] >= frame[0] and box[1] >= frame[1] and box[2] <= frame[2] and box[3] <= frame[3]


def _covers(box: Rectangle, point: Point, gap: float = 6.0) -> bool:
    return box[0] - gap < point[0] < box[2] + gap and box[1] - gap < point[1] < box[3] + gap

"""A sheet that grows downwards while marks are put on it."""

from checker.section.letters import clean, width_of, wrapped
from checker.section.sketch import INK, Colour, Mark, Sketch, Text

WIDTH_PX = 960.0
MARGIN_PX = 32.0
#: Between baselines, as a share of the size.
_LEADING = 1.35


class Sheet:
    """What is drawn so far, and ``y``: down to where."""

    def __init__(self, width: float = WIDTH_PX) -> None:
        self.width = width
        self.left, self.right = MARGIN_PX, width - MARGIN_PX
        self.y = MARGIN_PX
        self.marks: list[Mark] = []

    def add(self, *marks: Mark) -> None:
        """Puts marks on it. The sheet grows no longer by that."""
        self.marks.extend(marks)

    def paragraph(self, text: str, size: float, ink: Colour = INK, *, after: float = 4.0) -> None:
        """A text over the whole width, in as many lines as it needs."""
        self.y = self.write(text, (self.left, self.y), self.right - self.left, size, ink) + after

    def write(self, text: str, at: tuple[float, float], width: float, size: float, ink: Colour = INK) -> float:
        """A text within a width, from an upper left corner.

        Returns:
            Where it ends below.
        """
        x, y = at
        for line in wrapped(clean(text), size, width):
            self.marks.append(Text(x, y + size, line, size, ink))
            y += size * _LEADING
        return y

    def sketch(self, title: str, told: str) -> Sketch:
        """The sheet as it is, cut below."""
        return Sketch(self.width, round(self.y + MARGIN_PX), tuple(self.marks), clean(title), clean(told))


def fits(text: str, size: float, width: float) -> bool:
    """Whether a text goes into a width."""
    return width_of(text, size) <= width

"""The list of cables beside their colours and patterns."""

from collections.abc import Sequence

from checker.section.letters import clean, width_of
from checker.section.parts import Bundle
from checker.section.patterns import hatching, pattern_of, service_word
from checker.section.sheet import Sheet
from checker.section.sketch import END, INK, Disc, Style, Text

_SIZE = 13.0
_SWATCH_PX = 8.0
_APART_PX = 24.0
#: With more lines than this they stand in two columns.
_MOST_IN_ONE = 5


def legend(sheet: Sheet, entries: Sequence[tuple[str, Bundle, int]], *, lanes: int) -> None:
    """Lists bundles with what stands for them in the drawing.

    Args:
        sheet: Where to.
        entries: What stands for each, the bundle, and its compartment.
        lanes: How many compartments there are.
    """
    if not entries:
        return
    columns = 1 if len(entries) <= _MOST_IN_ONE else 2
    width = (sheet.right - sheet.left - _APART_PX * (columns - 1)) / columns
    keyed = any(text != clean(bundle.mark) for text, bundle, _ in entries)
    number = max(width_of(text, _SIZE) for text, _, _ in entries) + 8.0 if keyed else 0.0
    start = 2.0 * _SWATCH_PX + 8.0 + number
    rows = -(-len(entries) // columns)
    below = sheet.y
    for column in range(columns):
        x, y = sheet.left + column * (width + _APART_PX), sheet.y
        for text, bundle, lane in entries[column * rows : (column + 1) * rows]:
            _swatch(sheet, x + _SWATCH_PX, y + _SIZE * 0.72, bundle)
            if keyed:
                sheet.add(Text(x + start - 8.0, y + _SIZE, text, _SIZE, INK, END))
            y = sheet.write(_words(bundle, lane if lanes > 1 else 0), (x + start, y), width - start, _SIZE)
            y += 5.0
        below = max(below, y)
    sheet.y = below + 8.0


def _words(bundle: Bundle, lane: int) -> str:
    where = f", compartment {lane}" if lane else ""
    perhaps = (
        " – may lie here, not drawn" if bundle.is_possible else f" – not drawn: {bundle.why}" if bundle.why else ""
    )
    service = f", {service_word(bundle.service)}" if bundle.of_circuit else ""
    return f"{bundle.words}{service}{where}{perhaps}"


def _swatch(sheet: Sheet, x: float, y: float, bundle: Bundle) -> None:
    """A circle with the service's colour and pattern; dashed for what isn't drawn."""
    pattern = pattern_of(bundle)
    dash = 3.0 if bundle.is_possible or bundle.why else 0.0
    disc = Disc(x, y, _SWATCH_PX, Style(pattern.tint, INK, 1.0, dash))
    sheet.add(disc)
    lines = hatching(disc, pattern, 4.0)
    if lines is not None:
        sheet.add(lines)

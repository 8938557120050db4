"""How names stand in messages: listed, quoted and ordered, the same everywhere."""

import re
from collections.abc import Iterable, Sequence

#: A text that is quoted is cut here.
MOST_QUOTED = 40
#: So many elements are named where a message is about many, unless it says otherwise.
MOST_NAMED = 5
#: Units of figures of which nobody reads more than one digit after the point.
PLAIN_UNITS = {"A", "mm", "N", "N/m"}
#: Those that always have two, so that lengths read alike.
LENGTHS = {"m"}
#: More digits after the point than this tell nothing apart.
MOST_DIGITS = 12


def listed(names: Sequence[str], most: int = MOST_NAMED, between: str = ", ") -> str:
    """The first few names in a row, and how many more there are."""
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return between.join(names[:most]) + more


def few_of(reasons: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """Different reasons, the first few and how many more there are."""
    different = tuple(dict.fromkeys(reasons))
    if len(different) <= most + 1:
        return different
    return (*different[:most], f"and {len(different) - most} more reasons like these")


def quoted(text: str) -> str:
    """A text of a file as it is quoted, cut where it is long."""
    return repr(text if len(text) <= MOST_QUOTED else f"{text[: MOST_QUOTED - 3]}...")


def natural(label: str) -> list[tuple[int, str]]:
    """Orders labels as people count: CP-9 before CP-11."""
    # no longer runs of digits: turning them into numbers is slow, and past a few thousand refused
    parts = re.split(r"([0-9]{1,18})", label)
    return [(int(part), "") if place % 2 else (-1, part) for place, part in enumerate(parts) if part]


def number(value: float, unit: str, digits: int = 1) -> str:
    """A number with its unit; ratios in per cent. ``digits`` is how many stand after the point at most."""
    if unit == "ratio":
        return f"{round(100.0 * value, digits):g} %" if digits == 1 else f"{100.0 * value:.{digits}f} %"
    if unit == "deg":
        return f"{round(value, digits):.10g}°"
    if unit in PLAIN_UNITS:
        return f"{round(value, digits):.10g} {unit}"
    if unit in LENGTHS:
        return f"{value:.{max(digits, 2)}f} {unit}"
    return f"{round(value, max(digits, 2)):.10g} {unit}".rstrip()


def percent(share: float, limit: float, *, is_over: bool) -> str:
    """A share in per cent without its sign: with one digit after the point, or so many that it doesn't read as on the limit's other side.

    Args:
        share: A ratio.
        limit: The ratio that it is held against, which is told in per cent with six digits.
        is_over: Whether the share is over it.
    """
    bound = float(f"{100.0 * limit:g}")
    told = (f"{100.0 * share:.{digits}f}" for digits in range(1, MOST_DIGITS + 1))
    return next((text for text in told if (float(text) > bound) is is_over), f"{100.0 * share:.{MOST_DIGITS}f}")


def told_apart(value: float, limit: float, *, is_over: bool) -> tuple[str, str]:
    """A value and its limit, both with one digit after the point, or with so many that neither reads as on the other's other side."""
    told = [(f"{value:.{digits}f}", f"{limit:.{digits}f}") for digits in range(1, MOST_DIGITS + 1)]
    return next((pair for pair in told if (float(pair[0]) > float(pair[1])) is is_over), told[-1])

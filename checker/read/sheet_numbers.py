"""Numbers as people write them: what a comma or a point in them means is told by the file's own use, and never guessed."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

ONE_SIGN = re.compile(r"[+-]?([0-9]+)([.,])([0-9]+)")
GROUPS = re.compile(r"[+-]?[0-9]{1,3}([.,])[0-9]{3}(?:\1[0-9]{3})+")
GROUPS_AND_DECIMALS = re.compile(r"[+-]?[0-9]{1,3}([.,])[0-9]{3}(?:\1[0-9]{3})*([.,])[0-9]+")
WITH_EXPONENT = re.compile(r"([+-]?[0-9]+)[.,]([0-9]+)([eE][+-]?[0-9]{1,2})")
WITH_UNIT = re.compile(r"([+-]?[0-9][0-9.,]*(?:[eE][+-]?[0-9]+)?)\s*([^0-9\s.,].*)")


@dataclass(frozen=True, slots=True)
class Usage:
    """What signs in the numbers of a file have been seen to mean.

    A number with one comma or point is read so:

    - where just three digits follow it and one to three stand before it, of which the first isn't 0 (``1,500``), it could be thousands or
      thousandths. It is thousandths if the file shows that sign with decimals (``2,5``; ``0,125``; ``1234,567``), the other sign never,
      and that sign never between thousands. It is thousands if the file shows that sign between thousands (``1,234,567``, or
      ``1.234,5``) and never with decimals. A point is also thousandths where ``point_is_plain`` (commas separate the cells) and no number
      of the file has a decimal comma. Else it stays unread.
    - anywhere else it can only have decimals behind it (``2,5``, ``1234,567``, ``0.125``).

    Several groups of three (``1,234,567``) can only be thousands. Groups and another sign (``1.234,5``) are read where the file's other
    numbers show that sign, and that one alone, with decimals; else they stay unread: it may as well be a slip.

    Args:
        decimals: Signs that were seen with decimals behind them.
        thousands: Signs that were seen between thousands.
        point_is_plain: Whether a point is taken for a decimal one where nothing speaks against it.
    """

    decimals: frozenset[str] = frozenset()
    thousands: frozenset[str] = frozenset()
    point_is_plain: bool = False

    def plain(self, text: str, *, by_default: bool = True) -> str | None:
        """A number with a decimal point and nothing else; a text that is no number as it is; None where it could be two numbers.

        Args:
            text: The number, without a unit.
            by_default: Whether ``point_is_plain`` counts.
        """
        if GROUPS.fullmatch(text):
            sign = "," if "," in text else "."
            return None if sign in self.decimals else text.replace(sign, "")
        both = GROUPS_AND_DECIMALS.fullmatch(text)
        if both:
            if both[1] == both[2] or self.decimals != {both[2]}:
                return None
            return text.replace(both[1], "").replace(both[2], ".")
        scientific = WITH_EXPONENT.fullmatch(text)
        if scientific:
            return f"{scientific[1]}.{scientific[2]}{scientific[3]}"
        one = ONE_SIGN.fullmatch(text)
        if not one:
            return text
        if not _is_open(one):
            return text.replace(",", ".")
        return self._of_three_digits(text, one[2], by_default=by_default)

    def _of_three_digits(self, text: str, sign: str, *, by_default: bool) -> str | None:
        if sign in self.thousands:
            return None if sign in self.decimals else text.replace(sign, "")
        is_shown = self.decimals == {sign}
        is_plain = sign == "." and by_default and self.point_is_plain and "," not in self.decimals
        return text.replace(",", ".") if is_shown or is_plain else None


def usage_of(texts: Iterable[str], *, point_is_plain: bool) -> Usage:
    """What the numbers of a file show. ``texts`` are without units; those that aren't numbers show nothing."""
    decimals, thousands, mixed = set(), set(), []
    for text in texts:
        one, groups, both = ONE_SIGN.fullmatch(text), GROUPS.fullmatch(text), GROUPS_AND_DECIMALS.fullmatch(text)
        if one and not _is_open(one):
            decimals.add(one[2])
        elif groups:
            thousands.add(groups[1])
        elif both and both[1] != both[2]:
            mixed.append((both[1], both[2]))
    # only where what stands behind the other sign is sure to be decimals does the first part thousands
    thousands |= {between for between, last in mixed if decimals == {last}}
    return Usage(frozenset(decimals), frozenset(thousands), point_is_plain)


def without_unit(text: str, units: tuple[str, ...]) -> str:
    """A number without its unit, if it bears just one of these; else the text as it is."""
    found = WITH_UNIT.fullmatch(text)
    return found[1] if found and found[2].strip() in units else text


def _is_open(one: re.Match[str]) -> bool:
    """Whether a number with one sign could be thousands or thousandths."""
    return len(one[3]) == 3 and len(one[1]) <= 3 and not one[1].startswith("0")

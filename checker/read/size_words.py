"""Sizes as people write them: 300 x 100, 62,5 × 37,5 mm, Ø25, 1-1/4 in. A guess at best; what is ambiguous gives nothing."""

import re
from dataclasses import dataclass

from checker.read.mapping import UNITS_MM

#: Texts are read up to here.
MOST_LETTERS = 400
UNIT = (
    r"(?P<{}>mm|millimet(?:er|re)s?|cm|in(?:ch(?:es)?)?(?![a-z])|ft(?![a-z])|feet|foot|m(?![a-z0-9])|''|[\"”″]|['’′])?"
)
#: 3/4, 1-1/4, 1 1/4, 62,5, 12.5, 300
NUMBER = r"(?P<{}>\d{{1,2}}[- ]\d{{1,2}}/\d{{1,2}}|\d{{1,2}}/\d{{1,2}}|\d{{1,5}}(?:[.,]\d{{1,4}})?)"


def _measure(name: str) -> str:
    return NUMBER.format(name) + r"\s*" + UNIT.format(f"{name}u")


START = r"(?<![\d.,/])"
#: Two or three numbers with a cross between them, with letters before them ("W300 x H100") or not.
TIMES = re.compile(
    START
    + _measure("a")
    + r"\s*[hb]?\s*[x×*✕хX]\s*[hwbdt]?\s*"
    + _measure("b")
    + r"(?:\s*[x×*✕хX]\s*[ltd]?\s*"
    + _measure("c")
    + r")?"
    r"(?![\d.,]*\d)",
    re.IGNORECASE,
)
ROUND = re.compile(r"(?:[ØøΦφ⌀∅]|\bdia(?:meter)?\.?|\bDN)\s*=?\s*" + _measure("a"), re.IGNORECASE)
SINGLE = re.compile(START + _measure("a") + r"(?![\d.,/]*\d)", re.IGNORECASE)
#: The metric sizes of EN 61386, as they are written: M20.
METRIC = re.compile(r"\bM(?P<a>16|20|25|32|40|50|63|75)\b")
WORDS_MM = {
    "millimeter": 1.0, "millimetre": 1.0, "inch": UNITS_MM["in"], "inches": UNITS_MM["in"], '"': UNITS_MM["in"], "”": UNITS_MM["in"],
    "″": UNITS_MM["in"], "''": UNITS_MM["in"], "'": UNITS_MM["ft"], "’": UNITS_MM["ft"], "′": UNITS_MM["ft"], "foot": UNITS_MM["ft"],
    "feet": UNITS_MM["ft"], **UNITS_MM,
}  # fmt: skip
#: A third number as thin as this is a wall, one as long as this a length.
WALL_MOST_MM, LENGTH_LEAST_MM = 6.0, 1000.0


@dataclass(frozen=True, slots=True)
class Measure:
    """A number as written, and the millimetres in its unit; None: no unit is written."""

    value: float
    unit_mm: float | None
    text: str

    @property
    def is_fraction(self) -> bool:
        """Whether it is written as a fraction of an inch, as trade sizes are."""
        return "/" in self.text


def measure_of(text: str) -> Measure | None:
    """A text that is one measure and nothing else: "300 mm", "62,5"."""
    match = SINGLE.fullmatch(text.strip()[:MOST_LETTERS])
    return _read(match, "a") if match else None


def pair_of(text: str) -> tuple[Measure, Measure] | None:
    """Width and height: two numbers with a cross between them, the one time that there are any; a third must be a wall or a length."""
    found = list(TIMES.finditer(text[:MOST_LETTERS]))
    if len(found) != 1:
        return None
    one, other, third = (_read(found[0], name) for name in "abc")
    if one is None or other is None:
        return None
    one, other = _same_unit(one, other)
    if third is not None:
        size = third.value * (third.unit_mm or other.unit_mm or 1.0)
        larger = max(measure.value * (measure.unit_mm or 1.0) for measure in (one, other))
        if not (size <= WALL_MOST_MM or (size >= LENGTH_LEAST_MM and size > larger)):
            return None
    return one, other


def round_of(text: str) -> Measure | None:
    """A diameter: a number after a sign for it, or a metric conduit size."""
    text = text[:MOST_LETTERS]
    found = [*ROUND.finditer(text)]
    metric = [*METRIC.finditer(text)]
    if len(found) == 1 and not metric:
        return _read(found[0], "a")
    if len(metric) == 1 and not found:
        return Measure(float(metric[0]["a"]), 1.0, metric[0][0])
    return None


def single_of(text: str) -> Measure | None:
    """The one number in a text, if it has a unit or is a fraction."""
    found = [measure for match in SINGLE.finditer(text[:MOST_LETTERS]) if (measure := _read(match, "a")) is not None]
    told = [measure for measure in found if measure.unit_mm is not None or measure.is_fraction]
    return told[0] if len(told) == 1 else None


def trade_size_of(text: str) -> str | None:
    """A size in inches as NFPA 70 names it ("3/4", "1-1/4", "2"), whichever way it is written; None: there is none, or several."""
    measure = single_of(text)
    if (
        measure is None
        or (measure.unit_mm not in {UNITS_MM["in"], None})
        or (measure.unit_mm is None and not measure.is_fraction)
    ):
        return None
    whole, part = divmod(round(measure.value * 16), 16)
    if abs(measure.value * 16 - round(measure.value * 16)) > 0.01:
        return None
    if part == 0:
        return str(whole)
    above, below = part, 16
    while above % 2 == 0:
        above, below = above // 2, below // 2
    return f"{whole}-{above}/{below}" if whole else f"{above}/{below}"


def _read(match: re.Match[str], name: str) -> Measure | None:
    text = match[name]
    if text is None:
        return None
    unit = (match[f"{name}u"] or "").lower()
    unit = "in" if unit.startswith("in") else "mm" if unit.startswith("mill") else unit
    value = 0.0
    for part in re.split("[- ]", text):
        above, _, below = part.partition("/")
        if below:
            if float(below) == 0.0:
                return None
            value += float(above) / float(below)
        else:
            value += float(above.replace(",", "."))
    return Measure(value, WORDS_MM.get(unit), text)


def _same_unit(one: Measure, other: Measure) -> tuple[Measure, Measure]:
    """A unit that stands at one of two holds for both."""
    if one.unit_mm is None:
        return Measure(one.value, other.unit_mm, one.text), other
    if other.unit_mm is None:
        return one, Measure(other.value, one.unit_mm, other.text)
    return one, other

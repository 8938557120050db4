"""Sizes as people write them: 300 x 100, 62,5 × 37,5 mm, Ø25, 1-1/4 in. A guess at best; what is ambiguous gives nothing."""

import re
from collections.abc import Callable
from dataclasses import dataclass

from checker.read.mapping import UNITS_MM

#: Texts are read up to here.
MOST_LETTERS = 400
UNIT = (
    r"(?P<{}>mm|millimet(?:er|re)s?|cm|in(?:ch(?:es)?)?(?![a-z])|ft(?![a-z])|feet|foot|m(?![a-z0-9])|''|[\"”″]|['’′])?"
)
#: 3/4, 1-1/4, 1 1/4, 62,5, 12.5, 300; not the 1 in "L1 3/4"
NUMBER = r"(?P<{}>(?:(?<![^\W\d_])\d{{1,2}}[- ])?\d{{1,2}}/(?:2|4|8|16|32|64)(?!\d)|\d{{1,5}}(?:[.,]\d{{1,4}})?)"


def _measure(name: str) -> str:
    return NUMBER.format(name) + r"\s*" + UNIT.format(f"{name}u")


#: Before a number: no other number, and no feet that it is the inches of.
START = r"(?<![\d.,/])(?<!['’′]-)(?<!['’′]\s)"
#: After a size: no digit, and no letter, so that 2x16mm2, 12x25A and 5x2.5kV are none.
END = r"(?![.,/]?\d|[^\W\d_]|[ \t]?mm[ \t]?[2²]|[²])"
#: What a number is of, before or after it: width (breadth, largeur), height, depth, length.
LETTER = r"(?:\(?(?P<{}>[hbwdtl])\)?(?![^\W\d_]))?"
BEFORE = r"(?:(?<![^\W\d_])(?P<{}>[hbwdtl])\s*[=:]?\s*)?"
#: Two or three numbers with a cross between them, with letters of what they are ("W300 x H100", "300W x 100H") or not.
TIMES = re.compile(
    BEFORE.format("a0") + START + _measure("a") + r"\s*" + LETTER.format("a1")
    + r"\s*[x×*✕хX]\s*" + BEFORE.format("b0") + _measure("b") + r"\s*" + LETTER.format("b1")
    + r"(?:\s*[x×*✕хX]\s*[ltd]?\s*" + _measure("c") + r"\s*[ltd]?)?" + END,
    re.IGNORECASE,
)  # fmt: skip
ROUND = re.compile(
    r"(?:[Øø⌀∅Φφ]|\bdia(?:m(?:eter)?)?\.?(?![^\W\d_])|\bDN)\s*[=:]?\s*" + _measure("a") + END
    + "|" + START + _measure("b") + r"\s*(?:[Øø⌀∅](?!\s*\d)|dia(?:m(?:eter)?)?\b(?!\.?\s*\d))",
    re.IGNORECASE,
)  # fmt: skip
SINGLE = re.compile(START + _measure("a") + r"(?![\d.,/]*\d)", re.IGNORECASE)
#: The metric sizes of EN 61386, as they are written: M20.
METRIC = re.compile(r"\bM(?P<a>16|20|25|32|40|50|63|75)\b")
WORDS_MM = {
    "millimeter": 1.0, "millimetre": 1.0, "inch": UNITS_MM["in"], "inches": UNITS_MM["in"], '"': UNITS_MM["in"], "”": UNITS_MM["in"],
    "″": UNITS_MM["in"], "''": UNITS_MM["in"], "'": UNITS_MM["ft"], "’": UNITS_MM["ft"], "′": UNITS_MM["ft"], "foot": UNITS_MM["ft"],
    "feet": UNITS_MM["ft"], **UNITS_MM,
}  # fmt: skip
#: Outside diameters of conduits in EN 61386-21 to -24. Of others that are named by a number it isn't one ("53" of NFPA 70).
SERIES_MM = {16.0, 20.0, 25.0, 32.0, 40.0, 50.0, 63.0, 75.0, 90.0, 110.0, 125.0, 160.0}
MATERIALS = {
    "pvc", "upvc", "pvc-u", "hdpe", "steel", "galvanised", "galvanized", "gi", "metal", "plastic", "rigid", "flexible", "lsf", "lszh",
    "stahl", "kunststoff", "flexibel", "acier", "acciaio", "acero", "staal",
}  # fmt: skip
#: A third number as thin as this is a wall, one as long as this a length.
WALL_MOST_MM, LENGTH_LEAST_MM = 6.0, 1000.0
#: No tray or ladder is higher than so many times its width: small ones are 50 wide and 54 or 60 high.
BROAD = 1.5


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


def pair_of(text: str, *, is_broad: bool = False) -> tuple[Measure, Measure] | None:
    """Width and height: two numbers with a cross between them, the only ones that there are; a third must be a wall or a length.

    Args:
        text: What is read.
        is_broad: It is of something broader than high, so that the larger is the width unless letters say otherwise: trays are named
            60 x 300 as well as 300 x 60.
    """
    found = {_pair(match, is_broad=is_broad) for match in TIMES.finditer(text[:MOST_LETTERS])}
    return found.pop() if len(found) == 1 else None


def _pair(match: re.Match[str], *, is_broad: bool) -> tuple[Measure, Measure] | None:
    one, other, third = (_read(match, name) for name in "abc")
    if one is None or other is None:
        return None
    one, other = _same_unit(one, other)
    if third is not None:
        size = third.value * (third.unit_mm or other.unit_mm or 1.0)
        larger = max(measure.value * (measure.unit_mm or 1.0) for measure in (one, other))
        if not (size <= WALL_MOST_MM or (size >= LENGTH_LEAST_MM and size > larger)):
            return None
    letters = [(match[f"{name}0"] or match[f"{name}1"] or "").lower() for name in "ab"]
    is_turned = letters[0] == "h" and letters[1] != "h"
    if is_broad and not any(letters):
        is_turned = other.value > BROAD * one.value
    return (other, one) if is_turned else (one, other)


def round_of(text: str) -> Measure | None:
    """A diameter: a number beside a sign for it, or a metric conduit size; the only one that there is."""
    text = text[:MOST_LETTERS]
    found = {_read(match, "a" if match["a"] is not None else "b") for match in ROUND.finditer(text)}
    found |= {Measure(float(match["a"]), 1.0, match["a"]) for match in METRIC.finditer(text)}
    return found.pop() if len(found) == 1 else None


def standing_alone(text: str, is_carrier: Callable[[str], bool]) -> Measure | None:
    """A metric size of a conduit that is all there is in a name, but for a word for conduit and its material.

    So "PVC conduit 25 mm" and "Conduit: 25 mm" have one; "Conduit 25 mm above ceiling", "Offset: 25 mm" and "Conduit 53 mm" (which is the
    number of a size) have none.
    """
    parts = re.split(r"[:;|()\[\]]|,\s", text[:MOST_LETTERS])
    named = [is_carrier(_without_materials(part)) for part in parts]
    for part in parts:
        found = list(SINGLE.finditer(part))
        measure = _read(found[0], "a") if len(found) == 1 else None
        if measure is None or measure.unit_mm is None or measure.value * measure.unit_mm not in SERIES_MM:
            continue
        before, after = part[: found[0].start()].strip(" -_"), part[found[0].end() :].strip(" -_")
        words = _without_materials(before or after)
        if not (before and after) and (is_carrier(words) if words else len(parts) == 1 or any(named)):
            return measure
    return None


def _without_materials(text: str) -> str:
    return " ".join(word for word in text.split() if word.casefold() not in MATERIALS)


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
            if int(above) >= int(below):
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

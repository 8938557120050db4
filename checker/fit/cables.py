"""Cables as they are asked about: by key, by diameter, by the two sides of a flat one, each also as a range."""

import difflib
import re
from collections.abc import Iterable, Mapping

from checker.errors import InputError
from checker.fit.question import millimetres, share_of
from checker.model import PlacedCable, cable_area_mm2
from checker.rule.catalogue import CableType

#: Nothing takes more cables than this; it bounds every search.
MOST_CABLES = 100_000
HOW = "write as h07v-u-2.5=6; or a size: 11.3mm=4, 10.9-12.4mm=4 for a range, 11.5x6.2mm=2 for a flat one, width by height"
SIDE = r"([0-9.]{1,12})(?:\s*[-–]\s*([0-9.]{1,12}))?"
SIZE = re.compile(rf"{SIDE}(?:\s*[x×]\s*{SIDE})?\s*mm", re.IGNORECASE)
LOOKS_LIKE_SIZE = re.compile(r"[0-9.]+(\s*[-–x×]\s*[0-9.]+)*(\s*(mm|cm|m|in|\"))?", re.IGNORECASE)


def cable_of(option: str, text: str, cables: Mapping[str, CableType], carriers: Iterable[str] = ()) -> PlacedCable:
    """The cables of one ``KEY=COUNT`` or ``SIZE=COUNT``.

    Args:
        option: The option that gives them, for messages.
        text: As it was written.
        cables: The catalogue.
        carriers: Keys of carriers, to tell a mix-up.

    Raises:
        InputError: It can't be read, or there is no such cable.
    """
    key, separator, number = (part.strip() for part in text.rpartition("="))
    if not separator:
        raise InputError(option, f"{text!r} says no number of cables", HOW)
    if not number.isascii() or not number.isdecimal() or not 0 < int(number[:9]) <= MOST_CABLES:
        raise InputError(option, f"{number!r} is no number of cables from 1 to {MOST_CABLES}", HOW)
    return kind_of(option, key, cables, carriers, count=int(number))


def kind_of(
    option: str, key: str, cables: Mapping[str, CableType], carriers: Iterable[str] = (), *, count: int = 1
) -> PlacedCable:
    """So many cables of one kind, by key or size.

    Raises:
        InputError: There is no such cable.
    """
    if "=" in key:
        raise InputError(option, f"{key!r} has a number of cables", f"{option} wants the key or size alone")
    if SIZE.fullmatch(key):
        return _of_size(option, key, count)
    found = cables.get(key.lower())
    if found is None:
        raise InputError(option, f"there is no cable {key!r}", _hint(key, cables, carriers))
    return PlacedCable(
        circuit=found.key,
        service=None,
        key=found.key,
        count=count,
        area_mm2=found.area_mm2 or cable_area_mm2(found.diameter_mm, found.width_mm, found.height_mm),
        width_mm=found.width_mm,
        height_mm=found.height_mm,
        diameter_mm=found.diameter_mm,
        csa_mm2=found.csa_mm2,
        awg_kcmil=found.awg_kcmil,
        cores=found.cores,
        stranded=found.stranded,
        planning=found.planning,
        tolerance=found.tolerance,
    )


def _hint(key: str, cables: Mapping[str, CableType], carriers: Iterable[str]) -> str:
    if key.lower() in {carrier.lower() for carrier in carriers}:
        return f"that is a carrier: say --carrier {key}, and cables as --cable h07v-u-2.5=6"
    if LOOKS_LIKE_SIZE.fullmatch(key):
        return f"for a size write it in mm: {HOW}"
    near = difflib.get_close_matches(key.lower(), list(cables), 3)
    return f"did you mean {', '.join(near)}?" if near else "see: wayroom list cables; or give a diameter, as 11.3mm=4"


def _of_size(option: str, key: str, count: int) -> PlacedCable:
    """A cable of which only the outside is known; of a flat one the wider side is its width, whichever was named first."""
    found = SIZE.fullmatch(key)
    assert found is not None  # noqa: S101 - asked before
    spans = [
        sorted(millimetres(option, text) for text in found.group(place, place + 1) if text)
        for place in (1, 3)
        if found[place]
    ]
    if len(spans) == 1:
        least, most = spans[0][0], spans[0][-1]
        is_one = least == most
        return PlacedCable(
            key, None, key, count, cable_area_mm2(most, None, None), most,
            area_least_mm2=None if is_one else cable_area_mm2(least, None, None), diameter_least_mm=None if is_one else least,
        )  # fmt: skip
    tall, wide = sorted(spans, key=lambda span: (span[-1], span[0]))
    is_one = wide[0] == wide[-1] and tall[0] == tall[-1]
    return PlacedCable(
        key, None, key, count, cable_area_mm2(None, wide[-1], tall[-1]), None, wide[-1], tall[-1],
        area_least_mm2=None if is_one else cable_area_mm2(None, wide[0], tall[0]),
        width_least_mm=None if is_one else wide[0], height_least_mm=None if is_one else tall[0],
    )  # fmt: skip


def what_is_there(text: str, area_mm2: float | None) -> PlacedCable:
    """What is there already, as a share of the inside. By what cables isn't known, so no terms are.

    Raises:
        InputError: It is no share.
    """
    share = share_of("--occupied", text, "what is taken of the inside already")
    area = None if area_mm2 is None else area_mm2 * share
    return PlacedCable("what is there", None, "what is there", 1, area, is_several=True)

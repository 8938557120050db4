"""What is asked, and the figures of its options."""

import re
from dataclasses import dataclass

from checker.errors import InputError
from checker.model import CarrierKind
from checker.rule.code import Code

PERCENT = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,9})?)\s*%")
NUMBER = re.compile(r"[0-9]{0,6}\.?[0-9]{1,9}")
LARGEST_MM = 3000.0


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked. One of ``carrier``, ``inside`` and ``bore`` is given; ``cables`` are ``KEY=COUNT`` or sizes, as ``11.3mm=4``.

    ``spare``: what is to be free for later, as a share of what lies there; it and the other shares are written ``25%`` or ``0.25``.
    ``geometry``: whether it is also looked whether they go in by geometry, and how many more would; without it all is by the code alone.
    """

    code: Code
    carrier: str = ""
    inside: str = ""
    bore: str = ""
    kind: CarrierKind = CarrierKind.TRUNKING
    cables: tuple[str, ...] = ()
    most: str = ""
    occupied: str = ""
    length_m: float | None = None
    bends: float | None = None
    space_factor: float | str | None = None
    spare: str = ""
    geometry: bool = False


def share_of(option: str, text: float | str, what: str, most: float = 1.0) -> float:
    """A share from 0 to 1, or to the most that it may be, written as ``40%`` or ``0.40``.

    Args:
        option: The option that gives it, for messages.
        text: As it was written.
        what: What it is a share of, as in "a share of the inside".
        most: The most that it may be.

    Raises:
        InputError: It is no share.
    """
    written = str(text).strip()
    hint = f"write it as 40% or 0.40: {what}"
    percent = PERCENT.fullmatch(written)
    if percent is None and NUMBER.fullmatch(written) is None:
        raise InputError(option, f"{written!r} is no share", hint)
    share = float(percent[1]) / 100.0 if percent is not None else float(written)
    if percent is None and (share > 1.0 or written == "1"):
        # 1 may as well be meant as one in a hundred
        raise InputError(
            option,
            f"{written} could be per cent or a share",
            f"write {written}% or {f'{100 * share:g}%' if 1.0 < share <= most else f'{share / 100:g}'}",
        )
    if share > most:
        raise InputError(option, f"{written} is more than {'all of it' if most == 1.0 else f'{100 * most:g} %'}", hint)
    return share


def millimetres(option: str, text: str) -> float:
    """A size in mm.

    Raises:
        InputError: It is none, or larger than any carrier.
    """
    bare = text.strip().removesuffix("mm").strip()
    value = float(bare) if NUMBER.fullmatch(bare) else 0.0
    if not 0.0 < value <= LARGEST_MM:
        raise InputError(option, f"{text!r} is no size in mm", f"write a number above 0, up to {LARGEST_MM:g}")
    return value

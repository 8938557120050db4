"""Letters: what of a text can be written in a picture, and how much room that takes at most."""

import re
import unicodedata
from functools import lru_cache

from PIL import ImageFont

#: Another font than the one that is measured may be wider by this.
WIDER = 1.1
#: Of a letter that the font lacks nobody knows the width; no font has letters that are wider.
_WIDEST_EM = 1.4
#: The size at which widths are measured: large, so that rounding to pixels doesn't count.
_MEASURED = 200
_ILLEGAL = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
#: Signs that turn or hide what stands after them.
_UNSEEN = re.compile("[\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]")
#: What the font lacks and how it is written instead.
_INSTEAD = {
    "×": "x", "–": "-", "—": "-", "→": "->", "Ø": "dia. ", "ø": "o", "≤": "<=", "≥": ">=", "ß": "ss", "æ": "ae",
    "µ": "u", "Σ": "sum ", "²": "2", "³": "3", "√": "sqrt ", "±": "+/-", "°": " deg", "·": ".", "…": "...",
}  # fmt: skip
#: The space between a figure and its unit, where no line ends.
_UNIT = re.compile(r"(?<=[0-9]) (?=(?:%|mm²?|m|A|V|°C|kg|N)(?![\w]))")
_TIE = "\u00a0"
_NO_LETTER = "\uffff"


def clean(text: str) -> str:
    """A text as one line that XML can hold: white space made single, signs that can't be written replaced, unseen ones left out."""
    return " ".join(_UNSEEN.sub("", _ILLEGAL.sub("\ufffd", text)).split())


def width_of(text: str, size: float) -> float:
    """How wide a text gets at most, in pixels, in a picture or in a somewhat wider font."""
    measured = sum(_share(letter) for letter in text)
    return max(measured, _plain_share(text)) * size * WIDER


def plain(text: str) -> str:
    """A text in the letters that the pictures' font has; ``?`` for one that it lacks."""
    return "".join(_drawable(letter) for letter in unicodedata.normalize("NFC", text))


def is_legible(text: str) -> bool:
    """Whether a picture shows all letters of a text as they are, or as others that say the same."""
    return plain(text).count("?") == text.count("?")


def shortened(text: str, size: float, width: float) -> str:
    """A text cut so that it fits a width in pixels, with an ellipsis where something is missing; empty where not even that fits."""
    if width_of(text, size) <= width:
        return text
    kept = text
    while kept and width_of(f"{kept}…", size) > width:
        kept = kept[:-1]
    return f"{kept.rstrip()}…" if kept else ""


def wrapped(text: str, size: float, width: float) -> list[str]:
    """A text in lines of at most a width in pixels. Nothing is left out: a word that is too long goes on in the next line."""
    lines: list[str] = []
    line = ""
    for word in (part.replace(_TIE, " ") for part in _UNIT.sub(_TIE, text).split(" ") if part):
        longer = f"{line} {word}" if line else word
        if width_of(longer, size) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        line = word
        while width_of(line, size) > width and len(line) > 1:
            count = max((n for n in range(1, len(line)) if width_of(line[:n], size) <= width), default=1)
            lines.append(line[:count])
            line = line[count:]
    return [*lines, line] if line else lines


@lru_cache(maxsize=32)
def font(size: int) -> ImageFont.FreeTypeFont:
    """The one font that is always at hand."""
    found = ImageFont.load_default(size)
    if not isinstance(found, ImageFont.FreeTypeFont):  # pragma: no cover - only where Pillow was built without FreeType
        raise TypeError("Pillow has no FreeType: it can't draw text of a given size")
    return found


@lru_cache(maxsize=4096)
def _has(letter: str) -> bool:
    """Whether the font has a letter: what it lacks is drawn like any other that it lacks."""
    return letter == " " or _picture(letter) != _picture(_NO_LETTER)


def _picture(letter: str) -> tuple[tuple[int, int], bytes]:
    mask = font(20).getmask(letter)
    return mask.size, bytes(mask)


@lru_cache(maxsize=4096)
def _drawable(letter: str) -> str:
    if _has(letter):
        return letter
    if letter in _INSTEAD:
        return _INSTEAD[letter]
    flat = [part for part in unicodedata.normalize("NFKD", letter) if not unicodedata.combining(part)]
    return "".join(part if _has(part) else "?" for part in flat) if letter.isprintable() else ""


@lru_cache(maxsize=4096)
def _share(letter: str) -> float:
    return font(_MEASURED).getlength(letter) / _MEASURED if _has(letter) else _WIDEST_EM


def _plain_share(text: str) -> float:
    return sum(_share(letter) for letter in plain(text))

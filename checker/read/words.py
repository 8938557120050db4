"""What words in names mean, in several languages: the table ``words.csv``. A name is weak evidence: what comes of it is listed.

Words are sought without case and accents, at the beginning or end of a word, so that compounds are found (``Kabelrinnenbogen``); short ones
whole. The longest one that is found decides.
"""

import csv
import functools
import re
import unicodedata
from collections.abc import Iterable, Iterator
from importlib.resources import files

#: A word this short is sought whole: "gas", "air" and "tee" begin too many others; in languages that join words, a shorter one.
SHORT, SHORT_IN_COMPOUNDS = 5, 4
JOINING = {"da", "de", "fi", "nb", "nl", "sv"}
#: Names are read up to here: nobody writes longer ones, and hostile ones may have megabytes.
MOST_LETTERS = 400
#: What follows one of these, with a word between at most, a thing has or lacks, and isn't: "trunking with lid".
HAVING = {
    "with", "without", "incl", "including", "excl", "mit", "ohne", "inkl", "avec", "sans", "con", "senza", "sin", "com", "sem", "met",
    "zonder", "med", "utan", "uten",
}  # fmt: skip


def plain(text: str) -> str:
    """A text without case, accents, underscores and doubled blanks."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text[:MOST_LETTERS]) if not unicodedata.combining(c))
    return re.sub(r"[\s_\-./\\]+", " ", bare.casefold()).strip()


@functools.cache
def _rows(role: str) -> tuple[tuple[str, str, bool], ...]:
    """Word, meaning, and whether it is sought in compounds; the longest word first."""
    lines = files("checker.read").joinpath("words.csv").read_text(encoding="utf-8").splitlines()
    rows: dict[tuple[str, str], bool] = {}
    for row in csv.DictReader(lines):
        if row["role"] == role:
            word = plain(row["word"])
            is_long = len(word) > (SHORT_IN_COMPOUNDS if row["language"] in JOINING else SHORT)
            rows[word, row["meaning"]] = rows.get((word, row["meaning"]), False) or is_long
    return tuple(
        (word, what, is_long) for (word, what), is_long in sorted(rows.items(), key=lambda row: (-len(row[0][0]), row))
    )


@functools.cache
def _pattern(role: str) -> re.Pattern[str]:
    return re.compile("|".join(_anywhere(word, is_long=is_long) for word, _, is_long in _rows(role)))


def _anywhere(word: str, *, is_long: bool) -> str:
    bare = re.escape(word)
    if not word.isascii():  # scripts without blanks between words have no beginning of a word to look for
        return bare
    return rf"(?<!\w){bare}|{bare}(?!\w)" if is_long else rf"(?<!\w){bare}s?(?!\w)"


@functools.lru_cache(maxsize=65536)
def meaning(role: str, text: str) -> tuple[str, str] | None:
    """What a text says in a role: the meaning and the word that says so; None: nothing. The longest word decides."""
    bare = plain(text)
    found = [match[0] for match in _pattern(role).finditer(bare) if role == "carrier" or not _is_had(bare, match)]
    if not found:
        return None
    longest = max(found, key=len)
    return next((what, word) for word, what, _ in _rows(role) if longest in {word, f"{word}s"})


def _is_had(text: str, match: re.Match[str]) -> bool:
    """Whether a word is of what the thing has."""
    return not HAVING.isdisjoint(text[: match.start()].split()[-2:])


def names_another(role: str, text: str, other: str) -> str | None:
    """The word of role ``other`` in a text, unless it is only part of one of ``role`` (the duct in "wiring duct"); None: there is none."""
    bare = plain(text)
    spans = [match.span() for match in _pattern(role).finditer(bare)]
    for match in _pattern(other).finditer(bare):
        is_part = any(start <= match.start() and match.end() <= end for start, end in spans)
        if not is_part and not _is_had(bare, match):
            return match[0]
    return None


def is_word(role: str, text: str) -> str | None:
    """The meaning of a text that is one of the words and nothing else."""
    bare = plain(text)
    return next((what for word, what, _ in _rows(role) if word == bare), None)


def parts_of(texts: Iterable[str]) -> Iterator[str]:
    """The parts of names that programs put together with colons, the most particular first, and then each name as a whole."""
    whole = []
    for text in texts:
        pieces = [piece for piece in text[:MOST_LETTERS].split(":") if piece.strip()]
        yield from reversed(pieces)
        whole.append(text)
    yield from whole


def first_meaning(role: str, texts: Iterable[str]) -> tuple[str, str] | None:
    """The first thing that parts of texts say in a role."""
    return next((found for part in parts_of(texts) if (found := meaning(role, part)) is not None), None)

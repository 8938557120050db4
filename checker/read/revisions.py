"""Which of a model's revisions is meant where the project file names it by a pattern: the newest, by name or else by time stamp."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime
from pathlib import Path, PurePath

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.model.texts import listed
from checker.model.words import wildcard
from checker.read.packed import printable

WILD = re.compile(r"[*?]")
MOST_NAMED = 10
#: A date is one word of a name, and so is a number with its parts (P02.1); what else stands between words doesn't matter.
DATE = r"\d{4}(?P<s>[-_.]?)\d{2}(?P=s)\d{2}|\d{2}(?P<t>[-_.])\d{2}(?P=t)\d{4}"
WORD = re.compile(rf"(?<!\d)(?:{DATE})(?!\d)|[^\W_]+(?:\.\d{{1,3}}(?!\d))*")
#: UK practice with ISO 19650-2: P for preliminary, then C for contractual; a number after the point for what isn't issued yet.
ISSUE = re.compile(r"(?P<stage>[pc])(?P<number>\d{1,3})(?:\.(?P<part>\d{1,3}))?")
LETTERS = re.compile(r"(?:rev|revision)?(?P<letters>[a-z]{1,2})")
NUMBER = re.compile(r"(?P<before>[^\W\d]*)\.?(?P<numbers>\d{1,5}(?:\.\d{1,3})*)")
BEFORE_LETTERS = {"rev", "revision", "issue", "index"}
BEFORE_NUMBERS = {"r", "rev", "revision", "v", "ver", "version", "issue", "index"}
#: Revisions have at least this share of the smaller one's elements in common.
SHARED = 0.25


@dataclass(frozen=True, slots=True)
class Rank:
    """A revision among others of its scheme. ``part``: what stands after its point, where parts aren't ordered with wholes.

    ``is_sure`` False: a word like it may as well name a storey or a part of a building.
    """

    scheme: str
    order: tuple[int, ...]
    part: int | None = None
    is_sure: bool = True


@dataclass(frozen=True, slots=True)
class Picked:
    """The file that a pattern stands for, and what is to be said about it."""

    path: Path
    problems: tuple[Problem, ...] = ()


def is_pattern(name: str) -> bool:
    """Whether a name has ``*`` or ``?`` in it."""
    return WILD.search(name) is not None


def would_match(pattern: str, folder: Path, path: Path) -> bool:
    """Whether a file, there or not, is one that ``pick`` would look at; ``path`` leads to no link.

    Links among folders that a ``*`` or ``?`` stands for aren't followed.
    """
    if PurePath(pattern).is_absolute():
        return False
    parts = PurePath(pattern).parts
    first = next((place for place, part in enumerate(parts) if is_pattern(part)), len(parts))
    base = folder.joinpath(*parts[:first]).resolve()  # it may lie beside the folder, or be a link
    shapes = [re.compile(re.escape(part.casefold())) for part in base.parts] + [_shape(part) for part in parts[first:]]
    return len(path.parts) == len(shapes) and all(
        shape.fullmatch(part.casefold()) for shape, part in zip(shapes, path.parts, strict=True)
    )


def pick(
    pattern: str,
    folder: Path,
    endings: frozenset[str],
    where: str,
    time_stamp: Callable[[Path], str] | None = None,
    identities: Callable[[Path], frozenset[bytes]] | None = None,
) -> Picked:
    """The newest of the files that match a pattern.

    Args:
        pattern: A path beneath the folder, with ``*`` and ``?`` in any part of it; any case.
        folder: Where the project file lies.
        endings: Of the files that come into question, in lower case; none: any.
        where: What messages call the place that names the pattern.
        time_stamp: Reads that of a file's header; may raise an ``InputError``.
        identities: Reads the GlobalIds of a file; none where they can't be read. Asked where names may as well be of parts of a building.

    Raises:
        InputError: Nothing matches, or nothing tells which is the newest.
    """
    found = _matching(pattern, folder, endings, where)
    if not found:
        kinds = f" that ends in {', '.join(sorted(endings))}" if endings else ""
        raise InputError(
            where, f"no file{kinds} matches {pattern!r}", "compare the pattern with the names of the files"
        )
    if len(found) == 1:
        return Picked(next(iter(found.values())))
    by_name, is_sure = newest_name(list(found))
    stamps = {name: _time(path, time_stamp) for name, path in found.items()}
    taken = by_name or _latest(stamps)
    if taken is None:
        what = (
            f"it can't be told which of {len(found)} files that match {pattern!r} is the newest: {_listed(list(found))}"
        )
        raise InputError(where, what, "name the one that is meant")
    if not is_sure and identities is not None:
        _refuse_strangers(pattern, where, taken, {name: identities(path) for name, path in found.items()})
    why = (
        "by what differs in their names"
        if by_name
        else "by the time stamps in their headers, since their names don't tell"
    )
    taken_at = stamps[taken]
    later = [name for name, at in stamps.items() if _is_later(at, taken_at)] if by_name else []
    if later:
        why += f"; but by the time stamps in the headers later than that: {_listed(later)}"
    rest = [name for name in found if name != taken]
    what = f"{pattern!r} stands for {printable(taken)}, the newest of {len(found)}; left out: {_listed(rest)}"
    hint = "name the models one by one if they aren't revisions of one, or if another is meant"
    return Picked(found[taken], (Problem(where, what, why, hint, ProblemKind.ASSUMPTION),))


def _refuse_strangers(pattern: str, where: str, taken: str, ids: Mapping[str, frozenset[bytes]]) -> None:
    """Revisions of one model have most of their elements in common; storeys and parts of a building have none.

    Raises:
        InputError: The newest and one of the others have hardly any in common.
    """
    mine = ids[taken]
    for name, theirs in ids.items():
        if mine and theirs and len(mine & theirs) < SHARED * min(len(mine), len(theirs)):
            what = (
                f"{printable(taken)} and {printable(name)} match {pattern!r}, but have hardly any element in common: "
                "they are parts of a building rather than revisions of one model"
            )
            raise InputError(where, what, "name the models one by one, or give each a pattern of its own")


def newest_name(names: list[str]) -> tuple[str | None, bool]:
    """The newest by what differs between names; None where that isn't just one word of one scheme, or doesn't tell.

    A word is a date; ``P02`` or ``C01`` (P before C); a letter, after ``rev`` also two (A … Z, AA …); a number after the same letters.
    And whether such words can be of nothing but revisions: a bare letter or number may as well be a storey or a part.
    """
    words = [[found[0] for found in WORD.finditer(_stem(name).casefold())] for name in names]
    if len({len(parts) for parts in words}) != 1:
        return None, False
    differing = [index for index, column in enumerate(zip(*words, strict=True)) if len(set(column)) > 1]
    if len(differing) != 1:
        return None, False
    at = differing[0]
    ranks = [_rank(parts[at], parts[at - 1] if at else "") for parts in words]
    known = [rank for rank in ranks if rank is not None]
    if len(known) < len(ranks) or len({rank.scheme for rank in known}) != 1:
        return None, False
    is_sure = all(rank.is_sure for rank in known)
    top = max(rank.order for rank in known)
    best = [(rank.part, name) for rank, name in zip(known, names, strict=True) if rank.order == top]
    if len(best) == 1:
        return best[0][1], is_sure
    parts = [part for part, _ in best]
    if None in parts or parts.count(max(part or 0 for part in parts)) > 1:
        return None, False  # P02 beside P02.1: some write the part before the whole is issued, some after
    return max(best, key=lambda entry: entry[0] or 0)[1], is_sure


def _stem(name: str) -> str:
    """A name without its ending: ``PurePath.stem`` would keep folders out, in which the revision may stand."""
    return name.removesuffix(PurePath(name).suffix)


def _rank(word: str, before: str) -> Rank | None:
    if re.fullmatch(DATE, word):
        day = _day(word)
        return Rank("date", (day.toordinal(),)) if day is not None else None
    if issue := ISSUE.fullmatch(word):
        stage = "pc".index(issue["stage"])
        return Rank("issue", (stage, int(issue["number"])), int(issue["part"]) if issue["part"] else None)
    if (letters := LETTERS.fullmatch(word)) and (
        len(letters["letters"]) == 1 or word != letters["letters"] or before in BEFORE_LETTERS
    ):
        is_sure = word != letters["letters"] or before in BEFORE_LETTERS
        return Rank("letters", (len(letters["letters"]), *map(ord, letters["letters"])), is_sure=is_sure)
    if number := NUMBER.fullmatch(word):
        is_sure = number["before"] in BEFORE_NUMBERS or before in BEFORE_LETTERS
        order = tuple(int(part) for part in number["numbers"].split("."))
        return Rank(f"number after {number['before']}", order, is_sure=is_sure)
    return None


def _day(word: str) -> date | None:
    """A date: the year first, or the day first where it can't be taken for the month."""
    numbers = re.sub(r"\D", "", word)
    if re.match(r"\d{4}\D?\d{2}\D?\d{2}$", word):
        year, month, day = int(numbers[:4]), int(numbers[4:6]), int(numbers[6:])
    else:
        day, month, year = int(numbers[:2]), int(numbers[2:4]), int(numbers[4:])
        if day <= 12 and month <= 12 and day != month:
            return None
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _time(path: Path, time_stamp: Callable[[Path], str] | None) -> datetime | None:
    try:
        return datetime.fromisoformat(time_stamp(path).strip()) if time_stamp is not None else None
    except (InputError, ValueError):
        return None


def _is_later(one: datetime | None, other: datetime | None) -> bool:
    """Whether a time is surely later than another; one with a zone and one without can't be compared."""
    if one is None or other is None or (one.tzinfo is None) != (other.tzinfo is None):
        return False
    return one > other


def _latest(stamps: dict[str, datetime | None]) -> str | None:
    """The one that is later than each of the others."""
    known = [(at.astimezone(UTC) if at.tzinfo else at, name) for name, at in stamps.items() if at is not None]
    if len(known) < len(stamps) or len({at.tzinfo is None for at, _ in known}) != 1:
        return None
    best = max(at for at, _ in known)
    latest = [name for at, name in known if at == best]
    return latest[0] if len(latest) == 1 else None


def _matching(pattern: str, folder: Path, endings: frozenset[str], where: str) -> dict[str, Path]:
    """Files by their path as seen from the folder, in order. Each part of a pattern is looked for in one level of folders."""
    if PurePath(pattern).is_absolute():
        raise InputError(
            where, f"the pattern {pattern!r} is an absolute path", "give it as seen from the project file's folder"
        )
    found = {"": folder}
    for part in PurePath(pattern).parts:
        if is_pattern(part):
            shape = _shape(part)
            found = {
                f"{name}{entry.name}/": entry
                for name, base in found.items()
                for entry in _entries(base)
                if shape.fullmatch(entry.name.casefold())
            }
        else:
            found = {f"{name}{part}/": base / part for name, base in found.items()}
    files = {name.removesuffix("/"): path for name, path in sorted(found.items()) if path.is_file()}
    return {name: path for name, path in files.items() if not endings or path.suffix.lower() in endings}


def _shape(part: str) -> re.Pattern[str]:
    """What one part of a pattern stands for."""
    return wildcard(re.sub(r"\*+", "*", part.casefold()))


def _entries(folder: Path) -> list[Path]:
    """What lies in a folder, less what is hidden or a lock of an office program."""
    try:
        return [entry for entry in sorted(folder.iterdir()) if not entry.name.startswith((".", "~$"))]
    except OSError:
        return []


def _listed(names: list[str]) -> str:
    return listed([printable(name) for name in names], MOST_NAMED)

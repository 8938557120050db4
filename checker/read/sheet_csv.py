"""Schedules as text: separated by commas, semicolons or tabs, in the encodings that spreadsheets write."""

import codecs
import csv
import io
import re
from collections.abc import Iterable, Iterator
from contextlib import suppress
from itertools import islice
from pathlib import Path

from checker.errors import InputError
from checker.model import Problem, ProblemKind
from checker.read.schedule_words import NEEDED
from checker.read.sheet import HEADER_WITHIN, MOST_CELLS, MOST_COLUMNS, Cell, Line, Rank, Sheet, best_header, text_cell

SEPARATORS = ",;\t"
MARKS = ((codecs.BOM_UTF8, "utf-8"), (codecs.BOM_UTF16_LE, "utf-16-le"), (codecs.BOM_UTF16_BE, "utf-16-be"))
WIDE = ((codecs.BOM_UTF32_LE, "utf-32-le"), (codecs.BOM_UTF32_BE, "utf-32-be"))
SAID_SEPARATOR = re.compile(r'\A"?sep=(.)"?[ \t]*(?=\r|\n|\Z)', re.IGNORECASE)
#: Signs that no text has: they would break what is written of it.
CONTROLS = re.compile(r"[\x01-\x08\x0b\x0c\x0e-\x1f\x7f\ufffe\uffff]")
LINE_ENDS = re.compile(r"\r\n|\r|\n")
SAMPLE_BYTES = 4096


def read_csv(path: Path, data: bytes, rank: Rank) -> Sheet:
    """The grid of a text file. Its separator is the one with which a line has the needed columns.

    Args:
        path: The file, for messages.
        data: Its bytes.
        rank: How many of our columns a line names.

    Raises:
        InputError: It isn't text, is empty, or can't be taken apart.
    """
    text, problems = _decoded(path, data)
    said = SAID_SEPARATOR.match(text)
    body = text[said.end() :] if said else text
    if not body.strip():
        raise InputError(str(path), "it is empty", f"give it a header row with at least {', '.join(NEEDED)}")
    separator = said[1] if said else _separator(path, body, rank)
    doubtful: list[int] = []
    lines = tuple(_lines(path, body, separator, doubtful))
    for number in doubtful:
        problems.append(
            Problem(
                f"{path.name}, line {number}",
                "a quoted cell runs over lines that look like rows",
                "so a quote may be missing, and what those rows hold could lie in any carrier",
                "close the quote, or write the cell in one line",
            )
        )
    return Sheet(
        str(path), path.name, "line", lines, separator == ",", shifts=True, problems=tuple(problems), doubtful=frozenset(doubtful)
    )  # fmt: skip


def _decoded(path: Path, data: bytes) -> tuple[str, list[Problem]]:
    """The text, and what had to be concluded to read it."""
    encoding, problems, start = "utf-8", [], 0
    if any(data.startswith(mark) for mark, _ in WIDE):
        raise InputError(str(path), "it is text in UTF-32", "save it as CSV in UTF-8")
    for mark, name in MARKS:
        if data.startswith(mark):
            encoding, start = name, len(mark)
            break
    else:
        wide = _wide_without_mark(data)
        if wide:
            encoding = wide
            problems.append(_told(path, "UTF-16", "every second of its bytes is 0"))
    try:
        text = data[start:].decode(encoding)
    except UnicodeDecodeError as error:
        if encoding != "utf-8" or start or b"\0" in data:
            name = encoding[: len("utf-16")].rstrip("-").upper()
            raise InputError(str(path), f"it isn't {name} text", "save it as CSV in UTF-8") from error
        try:
            text = data.decode("cp1252")
        except UnicodeDecodeError:
            raise InputError(str(path), "it isn't UTF-8 text", "save it as CSV in UTF-8") from error
        problems.append(_told(path, "Windows-1252", "it isn't UTF-8"))
    if "\0" in text:
        raise InputError(str(path), "it isn't text", "save it as CSV in UTF-8")
    text, replaced = CONTROLS.subn("\ufffd", text)
    if replaced:
        what = "it holds control characters, which no text has"
        why, hint = "each is shown as \ufffd", "take them out of the file"
        problems.append(Problem(path.name, what, why, hint, ProblemKind.CORRECTION, replaced))
    return text, problems


def _told(path: Path, encoding: str, why: str) -> Problem:
    return Problem(path.name, f"it is read as {encoding}", why, "save it as UTF-8", ProblemKind.INFERENCE)


def _wide_without_mark(data: bytes) -> str:
    """UTF-16 that doesn't say so: nearly every second byte is 0, and none of those between. No text in UTF-8 has any."""
    sample = data[:SAMPLE_BYTES]
    if len(data) % 2 or len(sample) < 2:
        return ""
    first, second = sample[0::2], sample[1::2]
    if first.count(0) == 0 and second.count(0) >= 0.8 * len(second):
        return "utf-16-le"
    if second.count(0) == 0 and first.count(0) >= 0.8 * len(first):
        return "utf-16-be"
    return ""


def _separator(path: Path, text: str, rank: Rank) -> str:
    """The separator that gives a header; without one, that which gives most of our columns, else what is commonest in the first line."""
    head = text.lstrip().split("\n", 1)[0]

    def worth(separator: str) -> tuple[tuple[bool, int], int]:
        lines: list[Line] = []
        with suppress(InputError):  # with the right one it is whole, or the error is raised then
            lines.extend(islice(_lines(path, text, separator, []), HEADER_WITHIN))
        return best_header(tuple(lines), rank)[1], head.count(separator)

    return max(SEPARATORS, key=worth)


def _lines(path: Path, text: str, separator: str, doubtful: list[int]) -> Iterator[Line]:
    """The lines that aren't blank. Numbers of those that may hide others are added to ``doubtful``."""
    raw: list[str] = []
    reader = csv.reader(_kept(io.StringIO(text, newline=""), raw), delimiter=separator)
    before, cells = 0, 0
    try:
        for texts in reader:
            # where the separator is said first, what follows begins with the end of that line: numbers stay those of the file
            number, before = before + 1, reader.line_num
            line = Line(number, _cells(texts), len(texts))
            if before > number:
                _check_quotes(path, number, raw, texts, separator, doubtful)
            raw.clear()
            if not line.cells:
                continue
            cells += len(line.cells)
            if cells > MOST_CELLS or max(line.cells) >= MOST_COLUMNS:
                what = f"it has more than {MOST_COLUMNS} columns or {MOST_CELLS} cells, which no schedule has"
                hint = "check separators and quotes, and that it is the schedule"
                raise InputError(f"{path}, line {number}", what, hint)
            yield line
    except csv.Error as error:
        raise InputError(
            f"{path}, line {reader.line_num}", f"it can't be read as CSV: {error}", "save it as CSV again"
        ) from error


def _kept(stream: Iterable[str], raw: list[str]) -> Iterator[str]:
    for text in stream:
        raw.append(text)
        yield text


def _cells(texts: Iterable[str]) -> dict[int, Cell]:
    return {place: text_cell(text) for place, text in enumerate(texts) if text and not text.isspace()}


def _check_quotes(
    path: Path, number: int, raw: list[str], texts: list[str], separator: str, doubtful: list[int]
) -> None:
    """Looks at a line that runs over several: a quote that is never closed ends in an error, one closed too late makes it doubtful."""
    try:
        list(csv.reader(raw, delimiter=separator, strict=True))
    except csv.Error as error:
        if "end of data" in str(error):
            what = "a quote is opened there and never closed"
            raise InputError(f"{path}, line {number}", what, "close the quote") from error
    parts = (part for text in texts for part in LINE_ENDS.split(text)[1:])
    if any(part.count(separator) >= len(NEEDED) - 1 for part in parts):
        doubtful.append(number)

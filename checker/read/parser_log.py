"""What the parser could not read: it drops such things, goes on, and leaves a line in its log."""

import mmap
import re
from collections import Counter
from collections.abc import Collection
from pathlib import Path

from checker.model import Problem

#: What a line begins with: how bad it is, the parser's own number for the case, the time.
STAMP = re.compile(r"^\[(error|warning)\]\s*(?:\[[^\]]*\]\s*)*")
UNKNOWN_CLASS = re.compile(r"^Entity with name '(?P<name>\w+)' not found in schema '(?P<schema>\w+)'")
NUMBERS = re.compile(r"(?<![A-Za-z\d])#?\d+")
OFFSET = re.compile(r" at offset \d+$")
#: Strings and comments are passed over; what is left of an instance is its class. Last a comment that nothing closes.
INSTANCE = re.compile(rb"'[^']*'|/\*.*?\*/|=\s*+(?P<name>\w++)\s*+\(|(?P<open>/\*)", re.DOTALL)
MOST_TOLD = 20


def lost(log: str, path: Path, name: str) -> list[Problem]:
    """Problems of a log, one a kind of thing that was lost, with how many.

    Args:
        log: The parser's log.
        path: The file that was parsed.
        name: What problems call it.
    """
    told = [OFFSET.sub("", STAMP.sub("", line).strip()) for line in log.splitlines() if STAMP.match(line)]
    classes = {found["name"].upper(): found["schema"] for line in told if (found := UNKNOWN_CLASS.match(line))}
    counts = _instances(path, classes) if classes else {}
    problems = [
        Problem(name, f"{counts[word]} × {word}: the release {classes[word]}, as which the file is read, has no such class",
                "they are left out, with what refers to them", "export as IFC4 or IFC4X3 if anything is missing",
                elements=counts[word])
        for word in sorted(classes)
    ]  # fmt: skip
    kinds = Counter(NUMBERS.sub("…", line) for line in told if not UNKNOWN_CLASS.match(line))
    problems += [
        Problem(name, f"{times} × {kind}", "what the file's writer got wrong there is missing from what was read",
                "export the model again", elements=times)
        for kind, times in sorted(kinds.items())
    ]  # fmt: skip
    rest = problems[MOST_TOLD:]
    if rest:
        what = f"{len(rest)} more kinds of things could not be read, {sum(problem.elements for problem in rest)} in all"
        more = Problem(name, what, "the file's writer got much wrong", "export the model again")
        return [*problems[:MOST_TOLD], more]
    return problems


def _instances(path: Path, classes: Collection[str]) -> dict[str, int]:
    """How many instances of some classes a file has, at least one; the parser names a class that it doesn't know only once."""
    counts = dict.fromkeys(classes, 0)
    with path.open("rb") as stream, mmap.mmap(stream.fileno(), 0, access=mmap.ACCESS_READ) as text:
        for found in INSTANCE.finditer(text):
            if found["open"]:
                break
            word = (found["name"] or b"").decode("ascii").upper()
            if word in counts:
                counts[word] += 1
    return {word: max(count, 1) for word, count in counts.items()}

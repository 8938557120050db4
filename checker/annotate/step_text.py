"""The statements of a STEP file's text: which instances there are and where, without reading what they mean.

Strings and comments may hold anything, semicolons and what looks like instances too.
"""

import re
from collections.abc import Iterator
from typing import NamedTuple

from checker.errors import InputError
from checker.read.step_header import HEAD_BYTES, read_header

#: What may stand between two words; a statement up to its semicolon. A comment or string that nothing closes fits nowhere.
BETWEEN = rb"(?:\s++|/\*.*?\*/)*+"
STATEMENT = re.compile(
    BETWEEN + rb"(?P<whole>(?:#(?P<id>\d{1,18})(?!\d)" + BETWEEN + rb"=" + BETWEEN + rb"(?P<word>[A-Za-z]\w*+)?+"
    rb"(?:" + BETWEEN + rb"\(" + BETWEEN + rb"'(?P<first>[^']*+)')?+)?+(?P<rest>(?:[^;'/]++|'[^']*+'|/\*.*?\*/|/(?!\*))*+);)",
    re.DOTALL,
)  # fmt: skip
#: What says nothing of references.
UNSAID = re.compile(rb"'[^']*+'|/\*.*?\*/", re.DOTALL)
#: No reader counts instances further than its figures, so that what has more is no instance.
REFERENCE = re.compile(rb"#(\d{1,18})(?!\d)")
LINE_END = re.compile(rb"\r?\n")
END_SECTION, END = b"ENDSEC", b"END-ISO-10303-21"


class Statement(NamedTuple):  # a frozen dataclass takes three times as long to make, and a model has millions
    """One statement, from byte ``start`` to byte ``end``, its semicolon included.

    ``id`` and ``word`` are an instance's, 0 and empty of what is none; ``first`` its first value if that is a string, as written;
    ``rest`` what follows them, without the semicolon.
    """

    start: int
    end: int
    id: int
    word: bytes
    first: bytes
    rest: bytes

    @property
    def references(self) -> list[int]:
        """The instances that it refers to, in order."""
        if b"#" not in self.rest:
            return []
        return [int(number) for number in REFERENCE.findall(self._plain)]

    @property
    def words(self) -> bytes:
        """What marks a section, ``ENDSEC``: the statement without strings and comments, in upper case."""
        return self._plain.strip().upper()

    @property
    def _plain(self) -> bytes:
        return UNSAID.sub(b"", self.rest) if b"'" in self.rest or b"/" in self.rest else self.rest


def statements(text: bytes, where: str) -> Iterator[Statement]:
    """All statements after the header, the end of the file not among them.

    Raises:
        InputError: A string or comment is never closed, or the file has no end.
    """
    at = read_header(text[:HEAD_BYTES], where).data_at
    while (found := STATEMENT.match(text, at)) is not None:
        whole, number, word, first, rest = found.groups(b"")
        at = found.end()
        one = Statement(at - len(whole), at, int(number or 0), word.upper(), first, rest)
        if not number and one.words == END:
            return
        yield one
    line = text.count(b"\n", 0, at) + 1
    what = f"after line {line} a string or a comment is never closed, or the end is missing"
    raise InputError(where, what, "export the model again; without --annotate it is checked as it is")


def line_end_of(text: bytes) -> bytes:
    """What ends the lines of a file."""
    found = LINE_END.search(text, 0, HEAD_BYTES)
    return found[0] if found else b"\n"


def after_line_end(text: bytes, at: int) -> int:
    """The byte after a line end, where one stands."""
    found = LINE_END.match(text, at)
    return found.end() if found else at

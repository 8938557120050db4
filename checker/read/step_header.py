"""The header of a STEP file (ISO 10303-21): which release it names, when it was written, how to write it for the parser."""

import re
from dataclasses import dataclass

from checker.errors import InputError

#: A header isn't looked at further than this; real ones have a few kilobytes.
HEAD_BYTES = 1 << 20
AS_STEP = "export the model as .ifc (STEP)"
BYTE_ORDER_MARK = b"\xef\xbb\xbf"
#: A comment, a string, a keyword, the end of a statement; last what opens a comment or a string that nothing closes.
TOKEN = re.compile(
    rb"/\*.*?\*/|(?P<string>'(?:[^']++|'')*+')|(?P<word>[A-Za-z][\w-]*+)|(?P<end>;)|(?P<open>/\*|')", re.DOTALL
)
DATE = re.compile(r"\s*\d{4}-\d{2}-\d{2}")
#: What else comes in under the name of a model: how it begins, what it is, what to do.
OTHERS = (
    ((b"7z\xbc\xaf", b"Rar!", b"BZh", b"\xfd7zXZ"), "it is an archive of a kind that isn't read", "unpack it, or pack it as .ifczip"),
    ((b"PK\x03\x04", b"PK\x05\x06", b"\x1f\x8b"), "it is an archive within an archive", "unpack the outer one"),
    ((b"%PDF",), "it is a PDF document", AS_STEP),
    ((b"\xd0\xcf\x11\xe0",), "it is a program's own file, not an export", AS_STEP),
    ((b"{", b"["), "it is JSON, which isn't read", AS_STEP),
    ((b"<",), "it is XML (ifcXML), which isn't read", AS_STEP),
    ((b"\xff\xfe", b"\xfe\xff", b"I\0S\0", b"\0I\0S"), "it is UTF-16 text", "save it as UTF-8, or export it again"),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Statement:
    """One statement of a header: its keyword as written, all that follows up to the semicolon, the strings in it."""

    word: bytes
    rest: bytes
    strings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Header:
    """A header. ``data_at`` is where it ends, in bytes; ``is_plain``: the parser takes its way of writing."""

    statements: tuple[Statement, ...]
    data_at: int
    is_plain: bool

    def _strings(self, word: bytes) -> tuple[str, ...]:
        found = (statement.strings for statement in self.statements if statement.word.upper() == word)
        return next(found, ())

    @property
    def schemas(self) -> tuple[str, ...]:
        """The releases that it names, as written."""
        return tuple(name for name in self._strings(b"FILE_SCHEMA") if name.strip())

    @property
    def written(self) -> str:
        """Its time stamp, as it stands there; empty where it has none. It is the second string unless the name is left out."""
        return next((text for text in self._strings(b"FILE_NAME")[:2] if DATE.match(text)), "")

    def naming(self, schema: str) -> bytes:
        """The header with one schema, written as the parser wants it; what follows it stands at ``data_at``."""
        lines = []
        for statement in self.statements:
            word = statement.word.upper()
            rest = f"(('{schema}'));".encode("ascii") if word == b"FILE_SCHEMA" else statement.rest
            lines.append(word + rest + b"\n")
        return b"".join(lines)


def read_header(head: bytes, where: str) -> Header:
    """Reads the header from the beginning of a file. What comments and strings say isn't taken for a part of it.

    Args:
        head: The first ``HEAD_BYTES`` of the file.
        where: The file, for messages.

    Raises:
        InputError: It is no STEP file, names no schema, or has no data.
    """
    begin = len(BYTE_ORDER_MARK) if head.startswith(BYTE_ORDER_MARK) else 0
    if not head[begin:].strip(b"\0 \t\r\n\f\v"):
        raise InputError(where, "it is empty", "export the model again")
    start = head[begin : begin + 4096].lstrip()
    if b"<html" in start[:512].lower():
        raise InputError(
            where, "it is a web page, not a model", "download it again: a log-in page may have come instead"
        )
    for signatures, what, hint in OTHERS:
        if start.startswith(signatures):
            raise InputError(where, what, hint)
    statements, data_at = _statements(head, begin)
    if not statements or statements[0].word.upper() != b"ISO-10303-21":
        raise InputError(where, "it isn't an IFC file: it doesn't begin with ISO-10303-21", AS_STEP)
    is_plain = begin == 0 and all(statement.word.isupper() for statement in statements)
    header = Header(tuple(statements), data_at, is_plain)
    if not header.schemas:
        raise InputError(where, "its header names no schema", AS_STEP)
    if data_at < 0:
        raise InputError(where, "nothing follows its header: it has no DATA section", "export the model again")
    return header


def _statements(head: bytes, begin: int) -> tuple[list[Statement], int]:
    """The statements before the data, and where the data begin; -1 where they don't."""
    found: list[Statement] = []
    word, after_word, strings = b"", 0, [""][:0]
    for token in TOKEN.finditer(head, begin):
        text = token[0]
        if token["open"]:
            break
        if token["word"] and not word:
            word, after_word = text, token.end()
            if word.upper() == b"DATA":
                return found, token.start()
        elif token["string"]:
            strings.append(text[1:-1].decode("latin-1").replace("''", "'"))
        elif token["end"] and word:
            found.append(Statement(word, head[after_word : token.end()], tuple(strings)))
            word, strings = b"", []
    return found, -1

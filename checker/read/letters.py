"""Letters beyond ASCII that a file has as plain bytes. The parser leaves such bytes out without a word, and names would lose letters."""

import codecs
import re
from pathlib import Path

from checker.read.step_header import BYTE_ORDER_MARK

CHUNK_BYTES = 1 << 20
BEYOND_ASCII = re.compile(r"[^\x00-\x7f]+")
#: Tried in this order: what ISO 10303-21:2016 allows, and what programs of Western Europe write against it.
UTF_8, WINDOWS = "UTF-8", "Windows-1252"


def spelt_out(path: Path, target: Path) -> str | None:
    """Writes a file anew, in ASCII: its letters beyond that as the escapes that the standard has for them.

    Returns:
        How its letters were read; None where it has none and nothing was written.
    """
    with path.open("rb") as stream:
        if stream.read(len(BYTE_ORDER_MARK)) != BYTE_ORDER_MARK:
            stream.seek(0)
        if all(chunk.isascii() for chunk in iter(lambda: stream.read(CHUNK_BYTES), b"")):
            return None
    try:
        _write(path, target, UTF_8)
    except UnicodeDecodeError:
        _write(path, target, WINDOWS)
        return WINDOWS
    return UTF_8


def _write(path: Path, target: Path, encoding: str) -> None:
    decoder = codecs.getincrementaldecoder("utf-8-sig" if encoding == UTF_8 else encoding)(
        "strict" if encoding == UTF_8 else "replace"  # a few bytes are no letter in Windows' set
    )
    with path.open("rb") as stream, target.open("wb") as out:
        while chunk := stream.read(CHUNK_BYTES):
            out.write(BEYOND_ASCII.sub(_escape, decoder.decode(chunk)).encode("ascii"))
        out.write(BEYOND_ASCII.sub(_escape, decoder.decode(b"", final=True)).encode("ascii"))


def _escape(found: re.Match[str]) -> str:
    r"""``\X2\`` with four figures a letter, or ``\X4\`` with eight where one is too rare for that (ISO 10303-21)."""
    letters = found[0]
    if max(letters) <= "\uffff":
        return f"\\X2\\{letters.encode('utf-16-be').hex().upper()}\\X0\\"
    return f"\\X4\\{letters.encode('utf-32-be').hex().upper()}\\X0\\"

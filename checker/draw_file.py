"""A drawing written as a file: whole or not at all, over no input."""

import os
import re
from dataclasses import dataclass
from pathlib import Path

from checker.errors import InputError, OutputError
from checker.report.publish import write_beside
from checker.section.png import png
from checker.section.sketch import Sketch
from checker.section.svg import svg

ENDINGS = (".svg", ".png")


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing, what its file is called where nothing says so, and the files that it was made from."""

    sketch: Sketch
    name: str
    inputs: tuple[Path, ...] = ()


def safe_name(text: str) -> str:
    """A text as a name of a file on any system."""
    kept = re.sub(r"[^\w.+-]+", "-", text).strip("-.")[:60]
    return f"section-{kept}" if kept else "section"


def check_out(out: Path | None) -> None:
    """Sees before any work that a drawing's file has an ending that can be written.

    Raises:
        InputError: It hasn't.
    """
    if out is not None and out.suffix.lower() not in ENDINGS:
        raise InputError(f"--out {out}", "a drawing is written as .svg or .png", "end the name with one of them")


def is_folder(path: Path) -> bool:
    """Whether a folder stands there; not where the name is too long, or a link leads to itself, which writing then tells."""
    return os.path.isdir(path)  # noqa: PTH112 - Path.is_dir raises an error then


def write(drawn: Drawn, out: Path | None) -> Path:
    """Writes a drawing whole, or not at all.

    Args:
        drawn: The drawing.
        out: Where to; None: beside where the command is run, by the drawing's name.

    Returns:
        Where it is.

    Raises:
        OutputError: It would be written over an input, or can't be written.
    """
    path = out or Path(drawn.name)
    check_out(path)
    if os.path.realpath(path) in {os.path.realpath(one) for one in drawn.inputs}:
        raise OutputError(str(path), "the drawing would be written over an input", "name another file with --out")
    if is_folder(path):
        raise OutputError(str(path), "a folder stands there", "name a file with --out")
    content = png(drawn.sketch) if path.suffix.lower() == ".png" else svg(drawn.sketch).encode()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, content)
    except OSError as error:
        what = f"the drawing can't be written: {error.strerror}"
        raise OutputError(str(path), what, "check permissions and room, or --out") from error
    return path


def write_whole(path: Path, content: bytes) -> None:
    """Writes beside what stands there, then takes its place, so that nobody ever sees half a file.

    Raises:
        OSError: It can't be written; nothing is left of it.
    """
    beside = write_beside(path, content)
    try:
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise

"""Files of ``wayroom fit``: the drawing of the section, and the worked sheet."""

from pathlib import Path

from checker.draw_file import is_folder, write_whole
from checker.errors import InputError, OutputError
from checker.fit import Answer
from checker.fit.section import section_of_answer
from checker.rule.code import Code

DRAWINGS, SHEETS = (".svg", ".png"), (".html", ".pdf")
#: Drawings are measured in pixels of 1/96 inch.
PX_PER_MM = 96.0 / 25.4


def check_files(draw: Path | None, sheet: Path | None, *, blanks: bool, most: str) -> None:
    """Sees before anything is worked out that the files that are asked for can be written.

    Args:
        draw: Of the drawing; None: none is asked for.
        sheet: Of the sheet; None: none is asked for.
        blanks: Whether it is to have blanks.
        most: The cable of which it is asked how many go in.

    Raises:
        InputError: An ending isn't one of ours, or blanks make no sense.
        OutputError: There is no such folder, or a folder of that name.
    """
    _check_name("--draw", draw, DRAWINGS)
    _check_name("--sheet", sheet, SHEETS)
    if sheet is not None and sheet.suffix.lower() == ".pdf":
        from checker.sheet.pdf import check_installed

        check_installed()
    if draw is not None and sheet is not None and draw.absolute() == sheet.absolute():
        raise InputError("--draw, --sheet", "both name the same file", "name two")
    if blanks and sheet is None:
        raise InputError("--blanks", "there is no sheet to leave blanks on", "say --sheet FILE.html or FILE.pdf")
    if blanks and most:
        raise InputError("--blanks", "how many go in by --most is the answer itself", "list the cables with --cable")


def write_files(answer: Answer, code: Code, draw: Path | None, sheet: Path | None, *, blanks: bool) -> None:
    """Writes the files that are asked for.

    Raises:
        InputError: What writes PDF files isn't installed.
        OutputError: A file can't be written.
    """
    if sheet is not None:
        _write(sheet, sheet_bytes(answer, code, sheet.suffix, blanks=blanks))
    if draw is not None:
        _write(draw, drawing_bytes(answer, code, draw.suffix))


def _check_name(option: str, path: Path | None, endings: tuple[str, ...]) -> None:
    if path is None:
        return
    if path.suffix.lower() not in endings:
        raise InputError(option, f"{path.name!r} ends in none of {', '.join(endings)}", f"name a file {endings[0]}")
    if is_folder(path):
        raise OutputError(str(path), "a folder of that name stands there", "name another file")
    if not is_folder(path.absolute().parent):
        raise OutputError(str(path), "there is no such folder", "make it, or name another one")


def drawing_bytes(answer: Answer, code: Code, ending: str) -> bytes:
    """The section as a file with that ending."""
    from checker.section.drawing import sketch_of
    from checker.section.png import png
    from checker.section.svg import svg

    sketch = sketch_of(section_of_answer(answer, code=code.full_title))
    return svg(sketch).encode() if ending.lower() == ".svg" else png(sketch)


def sheet_bytes(answer: Answer, code: Code, ending: str, *, blanks: bool = False) -> bytes:
    """The worked sheet as a file with that ending."""
    from checker.section.svg import svg
    from checker.sheet import sheet_of
    from checker.sheet.html import html
    from checker.sheet.pdf import pdf
    from checker.sheet.section import section_of

    sheet = sheet_of(answer, code, blanks=blanks)
    drawing = section_of(answer, sheet.drawing_mm * PX_PER_MM)
    if ending.lower() == ".pdf":
        return pdf(sheet, drawing)
    return html(sheet, "" if drawing is None else svg(drawing).partition("?>\n")[2]).encode()


def _write(path: Path, data: bytes) -> None:
    """Writes a file whole or not at all."""
    try:
        write_whole(path, data)
    except OSError as error:
        raise OutputError(str(path), f"it can't be written: {error.strerror}", "name another file") from error

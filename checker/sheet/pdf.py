"""The sheet as a PDF for A4 paper, drawn from the same content as the HTML. The same sheet gives the same bytes."""

import io
from functools import partial
from typing import Any
from xml.sax.saxutils import escape

from checker.errors import InputError
from checker.section.sketch import Sketch
from checker.sheet.blanks import Line
from checker.sheet.content import BOXES, Sheet
from checker.sheet.pdf_font import BOLD, FONT, letters, load_fonts

INK, SOFT, THIN = "#16191d", "#464d55", "#b9bfc6"
PT_PER_MM = 72.0 / 25.4
#: The section is drawn no higher and no wider than this.
MOST_WIDE_MM, MOST_HIGH_MM = 180.0, 105.0
#: What the page's frame keeps free on each side, in points.
PADDING = 6
#: A box to write a figure into is as wide as this text.
BLANK = "\u00a0" * 14


def check_installed() -> None:
    """Sees whether there is what writes PDF files.

    Raises:
        InputError: It isn't installed.
    """
    try:
        import reportlab  # noqa: F401 - only asked for
    except ImportError as error:
        hint = "pip install '.[pdf]' in Wayroom's folder, or name a file .html"
        raise InputError("--sheet", "what writes PDF files isn't installed", hint) from error


def pdf(sheet: Sheet, drawing: Sketch | None = None) -> bytes:
    """The sheet as PDF, one page where it has room.

    Args:
        sheet: What it says.
        drawing: The section; None: there is none.

    Raises:
        InputError: What writes PDF files isn't installed.
    """
    check_installed()
    from reportlab import platypus

    load_fonts()
    target = io.BytesIO()
    margin = 15 * PT_PER_MM
    document = platypus.SimpleDocTemplate(
        target, pagesize=(210 * PT_PER_MM, 297 * PT_PER_MM), leftMargin=margin, rightMargin=margin, topMargin=12 * PT_PER_MM,
        bottomMargin=14 * PT_PER_MM, title=sheet.title, author="Wayroom", subject="A worked answer", lang="en", invariant=1,
    )  # fmt: skip
    footer = partial(_footer, text=letters(sheet.cautions[-1]))
    document.build(_story(sheet, drawing), onFirstPage=footer, onLaterPages=footer)
    return target.getvalue()


def _footer(canvas: Any, document: Any, *, text: str) -> None:
    canvas.saveState()
    canvas.setFont(FONT, 7)
    canvas.setFillColor(SOFT)
    canvas.drawString(document.leftMargin + PADDING, 8 * PT_PER_MM, text)
    canvas.drawRightString(
        document.pagesize[0] - document.rightMargin - PADDING, 8 * PT_PER_MM, f"page {canvas.getPageNumber()}"
    )
    canvas.restoreState()


def _story(sheet: Sheet, drawing: Sketch | None) -> list[Any]:
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import KeepTogether, Paragraph, Spacer

    from checker.sheet.pdf_drawing import drawn

    plain = ParagraphStyle("plain", fontName=FONT, fontSize=8.5, leading=11, textColor=INK)
    # a line to write on is higher than one to read
    roomy = ParagraphStyle("roomy", plain, leading=17) if sheet.is_blank else plain
    soft = ParagraphStyle("soft", plain, fontSize=7.5, leading=9.5, textColor=SOFT)
    title = ParagraphStyle("title", plain, fontName=BOLD, fontSize=14, leading=17, spaceAfter=3)
    head = ParagraphStyle("head", plain, fontName=BOLD, fontSize=9.5, leading=12, spaceBefore=6, spaceAfter=2)
    large = ParagraphStyle("large", plain, fontName=BOLD, fontSize=11, leading=14)

    def told(text: str, style: Any = plain) -> Any:
        return Paragraph(letters(escape(text)), style)

    def line(parts: Line, style: Any = roomy) -> Any:
        return Paragraph(
            "".join(_piece(piece.text, is_blank=piece.is_worked and sheet.is_blank) for piece in parts), style
        )

    bold = ParagraphStyle("bold", roomy, fontName=BOLD)
    story = [told(sheet.title, title), told("What is given", head)]
    story.append(_table([[told(label, soft), told(text)] for label, text in sheet.facts], (38, 142)))
    story.append(told("The cables", head))
    if sheet.method:
        story += [told(sheet.method), Spacer(0, 3)]
    headings = [told(text, soft) for text in ("No.", "Cable", "Number", "Outside", "What they add")]
    cables = [
        [told(str(number)), told(row.cable), told(row.number), told(row.size), line(row.adds)]
        for number, row in enumerate(sheet.rows, start=1)
    ]
    story.append(_table([headings, *cables], (9, 40, 16, 31, 84), repeat=1))
    if sheet.steps:
        steps = [
            [told(label, soft), line(parts, bold if label.startswith(("Fill", "Used")) else plain)]
            for label, parts in sheet.steps
        ]
        story += [told("The arithmetic", head), _table(steps, (38, 142))]
    story += [told("The limit", head), told(sheet.limit), told("The answer", head), *_answer(sheet, told, large, roomy)]
    if drawing is not None:
        story.append(
            KeepTogether(
                [told("The section", head), drawn(drawing, MOST_WIDE_MM * PT_PER_MM, MOST_HIGH_MM * PT_PER_MM)]
            )
        )
    story.append(KeepTogether([told("What this covers", head), *(told(text, soft) for text in sheet.cautions)]))
    return story


def _answer(sheet: Sheet, told: Any, large: Any, plain: Any) -> list[Any]:
    from reportlab.platypus import Paragraph, Spacer

    if not sheet.is_blank:
        return [told(sheet.verdict, large), told(sheet.reason), *(told(text) for text in sheet.notes)]
    box = '<font backColor="#ffffff">[\u00a0\u00a0\u00a0]</font>'
    boxes = (f"{box}\u00a0{text}" for text in BOXES)
    return [Paragraph("\u00a0\u00a0\u00a0 ".join(boxes), plain), Spacer(0, 6), told(f"Why: {'_' * 80}")]


def _table(rows: list[list[Any]], widths_mm: tuple[float, ...], repeat: int = 0) -> Any:
    from reportlab.platypus import Table

    style = [
        ("VALIGN", (0, 0), (-1, -1), "TOP"), ("LINEBELOW", (0, 0), (-1, -1), 0.4, THIN), ("LEFTPADDING", (0, 0), (-1, -1), 0),
        ("RIGHTPADDING", (0, 0), (-1, -1), 6), ("TOPPADDING", (0, 0), (-1, -1), 1), ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
    ]  # fmt: skip
    if repeat:
        style.append(("LINEBELOW", (0, 0), (-1, 0), 0.8, INK))
    return Table(rows, [width * PT_PER_MM for width in widths_mm], style=style, repeatRows=repeat, hAlign="LEFT")


def _piece(text: str, *, is_blank: bool) -> str:
    if is_blank:
        return f'<u color="{INK}">{BLANK}</u>'
    return letters(escape(text))

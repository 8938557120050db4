"""The sheet as one HTML file that needs nothing else, for a browser and for A4 paper."""

from html import escape

from checker.sheet.blanks import Line
from checker.sheet.content import BOXES, Sheet

CSS = """
@page { size: A4; margin: 11mm 15mm; }
* { box-sizing: border-box; }
html { background: #fff; color: #16191d; }
body { font: 9.5pt/1.3 system-ui, "Liberation Sans", "DejaVu Sans", Arial, sans-serif;
  max-width: 180mm; margin: 6mm auto; padding: 0 4mm; }
h1 { font-size: 15pt; line-height: 1.15; margin: 0 0 2mm; }
h2 { font-size: 10.5pt; margin: 2.3mm 0 0.6mm; border-bottom: 0.5mm solid #16191d; break-after: avoid; }
p { margin: 0 0 1mm; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: baseline; padding: 0.5mm 3mm 0.5mm 0;
  border-bottom: 0.2mm solid #b9bfc6; overflow-wrap: anywhere; }
tr { break-inside: avoid; }
thead th { font-size: 8.5pt; white-space: nowrap; color: #464d55; border-bottom-color: #16191d; }
tbody th { font-weight: 400; }
.facts th, .steps th { width: 38mm; color: #464d55; }
.figure { text-align: right; }
.cables td:first-child { width: 9mm; }
.cables tbody th, .cables .figure { white-space: nowrap; }
td { font-variant-numeric: tabular-nums; }
.last th, .last td { font-weight: 700; border-bottom: 0.4mm solid #16191d; }
.verdict { font-size: 13pt; font-weight: 700; margin: 1mm 0; }
.boxes { display: flex; flex-wrap: wrap; gap: 2mm 9mm; list-style: none; margin: 1.5mm 0; padding: 0; }
.boxes span { display: inline-block; width: 4.5mm; height: 4.5mm; border: 0.4mm solid #16191d; margin-right: 2mm; vertical-align: -0.8mm; }
.blank { display: inline-block; width: 19mm; height: 4.7mm; border: 0.3mm solid #16191d; vertical-align: -1.2mm; margin: 0.1mm 0.5mm; }
figure { margin: 1.5mm 0 0; line-height: 0; break-inside: avoid; text-align: center; }
figure svg { max-width: 100%; height: auto; max-height: 105mm; }
.caution { font-size: 8.5pt; color: #464d55; }
@media print { body { margin: 0; padding: 0; max-width: none; } }
"""


def html(sheet: Sheet, drawing: str = "") -> str:
    """The sheet as HTML.

    Args:
        sheet: What it says.
        drawing: The section as SVG, which says itself in words what it shows; empty: there is none.
    """
    parts = [
        f"<h1>{escape(sheet.title)}</h1>",
        "<h2>What is given</h2>",
        f'<table class="facts"><tbody>{"".join(_two(label, escape(text)) for label, text in sheet.facts)}</tbody></table>',
        "<h2>The cables</h2>",
        *([f"<p>{escape(sheet.method)}</p>"] if sheet.method else []),
        _cables(sheet),
    ]
    if sheet.steps:
        rows = "".join(
            _two(label, _line(line, sheet), last=label.startswith(("Fill", "Used"))) for label, line in sheet.steps
        )
        parts += ["<h2>The arithmetic</h2>", f'<table class="steps"><tbody>{rows}</tbody></table>']
    parts += ["<h2>The limit</h2>", f"<p>{escape(sheet.limit)}</p>", "<h2>The answer</h2>", *_answer(sheet)]
    if drawing:
        parts += ["<h2>The section</h2>", f"<figure>{drawing}</figure>"]
    parts += ["<h2>What this covers</h2>", *(f'<p class="caution">{escape(text)}</p>' for text in sheet.cautions)]
    head = (
        f'<meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f"<title>{escape(sheet.title)}</title><style>{CSS}</style>"
    )
    body = "\n".join(parts)
    return f'<!doctype html>\n<html lang="en"><head>{head}</head>\n<body><main>\n{body}\n</main></body></html>\n'


def _cables(sheet: Sheet) -> str:
    head = "".join(
        f'<th scope="col"{kind}>{text}</th>'
        for text, kind in (
            ("No.", ""),
            ("Cable", ""),
            ("Number", ' class="figure"'),
            ("Outside", ""),
            ("What they add", ""),
        )
    )
    rows = "".join(
        f'<tr><td>{number}</td><th scope="row">{escape(row.cable)}</th>'
        f'<td class="figure">{escape(row.number)}</td><td>{escape(row.size)}</td>'
        f"<td>{_line(row.adds, sheet)}</td></tr>"
        for number, row in enumerate(sheet.rows, start=1)
    )
    return f'<table class="cables"><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>'


def _answer(sheet: Sheet) -> list[str]:
    if sheet.is_blank:
        boxes = "".join(f'<li><span role="img" aria-label="box to tick"></span>{text}</li>' for text in BOXES)
        return [f'<ul class="boxes">{boxes}</ul>', f"<p>Why: {'_' * 70}</p>"]
    notes = [f"<p>{escape(text)}</p>" for text in sheet.notes]
    return [f'<p class="verdict">{escape(sheet.verdict)}</p>', f"<p>{escape(sheet.reason)}</p>", *notes]


def _two(label: str, content: str, *, last: bool = False) -> str:
    kind = ' class="last"' if last else ""
    return f'<tr{kind}><th scope="row">{escape(label)}</th><td>{content}</td></tr>'


def _line(line: Line, sheet: Sheet) -> str:
    blank = '<span class="blank" role="img" aria-label="to be worked out"></span>'
    return "".join(blank if piece.is_worked and sheet.is_blank else escape(piece.text) for piece in line)

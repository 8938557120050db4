"""The font of the sheet's PDF, and what of a text it can write."""

from pathlib import Path

FONT, BOLD = "Sheet", "Sheet-Bold"
#: What the font lacks, and how it is written instead.
INSTEAD = {"Σ": "∑", "″": '"', "→": "to"}


def load_fonts() -> None:
    """The two fonts that reportlab brings along, since those of every reader lack the signs of arithmetic."""
    import reportlab
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    folder = Path(reportlab.__file__).parent / "fonts"
    for name, file in ((FONT, "Vera.ttf"), (BOLD, "VeraBd.ttf")):
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(folder / file)))


def letters(text: str) -> str:
    """A text in the letters that the font has."""
    return "".join(INSTEAD.get(letter, letter) for letter in text)

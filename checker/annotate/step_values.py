"""Values as STEP text (ISO 10303-21), in ASCII whatever the file's own letters are written as."""

import re
import uuid

#: IFC's figures of a GlobalId, six bits each.
FIGURES = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"
GLOBAL_ID_FIGURES = 22
#: So many letters an IfcLabel and an IfcIdentifier may have.
MOST_LETTERS = 255
NOT_PLAIN = re.compile(r"[^\x20-\x7e]+")


def string(text: str) -> str:
    r"""A string in its quotes; what isn't printable ASCII as ``\X2\`` with four figures a letter, or ``\X4\`` with eight."""
    whole = text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")  # half a letter has no code of its own
    whole = whole.replace("\0", "\ufffd")  # in many programs a text ends there
    return "'" + NOT_PLAIN.sub(_escape, whole.replace("\\", "\\\\").replace("'", "''")) + "'"


def _escape(found: re.Match[str]) -> str:
    letters = found[0]
    if max(letters) <= "\uffff":
        return f"\\X2\\{letters.encode('utf-16-be').hex().upper()}\\X0\\"
    return f"\\X4\\{letters.encode('utf-32-be').hex().upper()}\\X0\\"


def short(text: str) -> str:
    """A text that an IfcLabel takes: cut where it is too long, and that is seen."""
    return text if len(text) <= MOST_LETTERS else f"{text[: MOST_LETTERS - 1]}…"


def real(number: float) -> str:
    """A finite number with its point, as STEP wants one: ``45.0``, ``1.E-07``."""
    figures, mark, power = repr(float(number)).partition("e")
    return figures + ("" if "." in figures else ".") + (f"E{power}" if mark else "")


def global_id(guid: str) -> str:
    """A UUID as an IFC GlobalId."""
    number, figures = uuid.UUID(guid).int, ""
    for _ in range(GLOBAL_ID_FIGURES):
        number, rest = divmod(number, 64)
        figures = FIGURES[rest] + figures
    return figures

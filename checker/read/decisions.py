"""Days, and whose decision something is and why, as ``wayroom.toml`` says them."""

from datetime import date, datetime
from typing import Annotated

from pydantic import AfterValidator, BeforeValidator
from pydantic_core import PydanticCustomError

from checker.read.packed import printable


def _day(written: object) -> object:
    """Only a day is one: a number would be read as seconds since 1970, and a time has a zone in which it may be another day.

    What is none becomes None, of which the field says what it must be.
    """
    if isinstance(written, datetime):
        raise PydanticCustomError("date_from_datetime_inexact", "no day")
    if isinstance(written, date):
        return written
    try:
        day = date.fromisoformat(written) if isinstance(written, str) else None
    except ValueError:
        return None
    return day if day is not None and day.isoformat() == written else None


def _said(text: str) -> str:
    """In one line, without what a terminal would obey; at least a letter or a digit is somebody, or a reason."""
    told = printable(" ".join(text.split()))
    if not any(map(str.isalnum, told)):
        raise PydanticCustomError("string_pattern_mismatch", "nothing")
    return told


Day = Annotated[date, BeforeValidator(_day)]
Said = Annotated[str, AfterValidator(_said)]

"""What ``wayroom.toml`` says of how the schedule is kept."""

import difflib
import re
from collections.abc import Iterable, Mapping

from pydantic import Field, field_validator

from checker.model import Service, State
from checker.read.mapping import Part
from checker.read.schedule_words import KNOWN, OTHER_UNITS, UNITS, normal

UNIT_IN_BRACKETS = re.compile(r"[(\[]([^()\[\]]*)[)\]]$")


class ScheduleSpec(Part):
    """``[schedule]``: the sheet, and how its columns and words are called there.

    ``columns`` are their names by ours, ``services`` and ``states`` our words by theirs. ``group_headings`` are texts that head groups of
    circuits and are no marks. Theirs are compared in any case.
    """

    sheet: str = ""
    columns: dict[str, str] = Field(default_factory=dict)
    services: dict[str, Service] = Field(default_factory=dict)
    states: dict[str, State] = Field(default_factory=dict)
    group_headings: tuple[str, ...] = ()

    @field_validator("columns")
    @classmethod
    def _known_columns(cls, columns: dict[str, str]) -> dict[str, str]:
        for ours, theirs in columns.items():
            if ours not in KNOWN:
                near = difflib.get_close_matches(ours, KNOWN, 1, 0.0)
                raise ValueError(f"there is no column {ours!r}; did you mean {near[0]!r}?")
            if not normal(theirs):
                raise ValueError(f"{ours} is empty: give the name that the column has in the schedule")
            unit = UNIT_IN_BRACKETS.search(normal(theirs))
            if unit and ours in UNITS and unit[1].strip() in OTHER_UNITS:
                raise ValueError(f"{theirs!r} is in another unit than {ours}: convert the column first")
        _differ(columns.values(), "two columns of ours can't both be")
        return columns

    @field_validator("services", "states")
    @classmethod
    def _different_words(cls, words: Mapping[str, Service | State]) -> Mapping[str, Service | State]:
        if not all(normal(word) for word in words):
            raise ValueError("a word is empty: give it as it stands in the schedule")
        _differ(words, "two entries are for")
        return words

    @field_validator("group_headings")
    @classmethod
    def _no_blank_heading(cls, texts: tuple[str, ...]) -> tuple[str, ...]:
        if not all(normal(text) for text in texts):
            raise ValueError("a text is empty: give it as it stands in the schedule")
        return texts


def _differ(names: Iterable[str], what: str) -> None:
    seen = set()
    for name in names:
        if normal(name) in seen:
            raise ValueError(f"{what} {name!r}")
        seen.add(normal(name))

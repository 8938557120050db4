"""Limits: figures of a code, each with what stands behind it. A rule declares the ones that it wants as a model of its own."""

import math
from collections.abc import Mapping
from types import UnionType
from typing import Any, Self, Union, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, JsonValue, PrivateAttr, field_validator

from checker.rule.table import Table
from checker.rule.verdict import Basis


class Limit(BaseModel):
    """One figure of a code, or the project's own in its place.

    ``source`` is publication and clause. Where the project tightens it, ``reason`` says why and ``code_value`` keeps the code's figure.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    value: float = Field(strict=True)
    basis: Basis
    source: str = Field(pattern=r"\S")
    confidence: str = Field(pattern=r"\S")
    reason: str = ""
    code_value: float | None = None

    @field_validator("confidence")
    @classmethod
    def _is_sure_enough(cls, confidence: str) -> str:
        if confidence.strip().lower().startswith("low"):
            raise ValueError("a figure of low confidence doesn't ship as a code's figure")
        return confidence

    @property
    def cited(self) -> str:
        """Source, and the project's reason where it set the figure."""
        return f"{self.source} ({self.reason})" if self.reason else self.source


class Limits(BaseModel):
    """Base of what a rule reads from a code: fields of type ``Limit``, ``Limit | None`` or ``Table``.

    ``stricter`` says, for a limit that a project may set, which way is stricter.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    #: Rules keep what they worked out by their limits, and ask for it for every circuit: the hash is had once.
    _hash: int | None = PrivateAttr(default=None)

    def __hash__(self) -> int:
        """Of its figures."""
        if self._hash is None:
            self._hash = hash(tuple(getattr(self, name) for name in type(self).model_fields))
        return self._hash

    def __eq__(self, other: object) -> bool:
        """By its figures, whether or not their hash was asked for."""
        return type(self) is type(other) and dict(self) == dict(other)

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy, with a hash of its own."""
        copied = super().model_copy(update=update, deep=deep)
        copied._hash = None
        return copied


#: Marks a limit that a project can't give where the code has none: it eases what the code asks.
ONLY_A_CODES: dict[str, JsonValue] = {"only_a_codes": True}


def is_only_a_codes(limits: type[Limits], field: str) -> bool:
    """Whether a project can't give a limit that the code doesn't have."""
    extra = limits.model_fields[field].json_schema_extra
    return isinstance(extra, dict) and bool(extra.get("only_a_codes"))


#: Marks a figure that says what a rule speaks of, as where a band ends: no way is stricter, so a project can't set it.
DEFINES: dict[str, JsonValue] = {"defines": True}


def is_definition(limits: type[Limits], field: str) -> bool:
    """Whether a figure is a definition of the code's, which neither way of changing makes stricter."""
    extra = limits.model_fields[field].json_schema_extra
    return isinstance(extra, dict) and bool(extra.get("defines"))


#: Marks a limit without which the rule has no question: where neither code nor project gives it, the rule isn't asked.
ASKED_WITH: dict[str, JsonValue] = {"asked_with": True}


def needed_to_ask(limits: type[Limits]) -> list[str]:
    """The limits that a rule needs to have a question at all."""
    extras = ((name, field.json_schema_extra) for name, field in limits.model_fields.items())
    return [name for name, extra in extras if isinstance(extra, dict) and extra.get("asked_with")]


def lacking(limits: Limits) -> list[str]:
    """The limits that a rule needs to have a question at all, and that neither code nor project gives."""
    return [name for name in needed_to_ask(type(limits)) if getattr(limits, name) is None]


#: Marks the limit of a formula for circuits that the designer declares not to be overloaded together.
EASES_OVERLOAD: dict[str, JsonValue] = {"eases_overload": True}


def eases_overload(limits: Limits) -> bool:
    """Whether a code has a formula for circuits that aren't overloaded together."""
    extras = ((name, field.json_schema_extra) for name, field in type(limits).model_fields.items())
    marked = [name for name, extra in extras if isinstance(extra, dict) and extra.get("eases_overload")]
    return any(getattr(limits, name) is not None for name in marked)


#: Marks a limit that is a share: more than all of it is a slip.
SHARE: dict[str, JsonValue] = {"most": 1.0}
#: Marks one that is a share of what lies there, and may be more than all of it.
SHARE_MORE: dict[str, JsonValue] = {"most": 10.0}


def most_of(limits: type[Limits], field: str) -> float:
    """The most that a limit can be."""
    extra = limits.model_fields[field].json_schema_extra
    most = extra.get("most") if isinstance(extra, dict) else None
    return most if isinstance(most, float) else math.inf


#: Units of limits by how their names end; an ending that holds another comes first.
UNITS = {
    "_n_per_mm2": " N/mm²", "_n_per_m": " N/m", "_mm2": " mm²", "_in2": " in²", "_mm": " mm", "_m": " m", "_deg": "°", "_c": " °C",
    "_v": " V", "_a": " A", "_n": " N",
}  # fmt: skip


def in_words(limits: type[Limits], field: str, value: float) -> str:
    """A figure of a limit as people read it: a share in per cent, any other with the unit that its name ends in."""
    if most_of(limits, field) in {SHARE["most"], SHARE_MORE["most"]}:
        return f"{100.0 * value:g} %"
    unit = next((unit for ending, unit in UNITS.items() if field.endswith(ending)), "")
    return f"{value:g}{unit}"


def figures_of(limits: type[Limits]) -> list[str]:
    """The names of what a rule reads from a code that are figures, not tables."""
    return [
        name for name, info in limits.model_fields.items() if Limit in (info.annotation, *get_args(info.annotation))
    ]


def unread_fields(limits: type[Limits]) -> list[str]:
    """The fields that no code can give, as ``name: type``: neither a limit nor a table, with None beside it or not."""
    told = []
    for name, info in limits.model_fields.items():
        is_union = get_origin(info.annotation) in {Union, UnionType}
        sorts = (set(get_args(info.annotation)) if is_union else {info.annotation}) - {type(None)}
        if sorts not in ({Limit}, {Table}):
            told.append(f"{name}: {getattr(info.annotation, '__name__', info.annotation)}")
    return told


def tighter_is_lower(limits: type[Limits], field: str) -> bool:
    """Whether a smaller figure of this field is the stricter one; so unless the field says otherwise."""
    extra = limits.model_fields[field].json_schema_extra
    return not (isinstance(extra, dict) and extra.get("stricter") == "higher")


__all__ = [
    "ASKED_WITH",
    "DEFINES",
    "EASES_OVERLOAD",
    "ONLY_A_CODES",
    "SHARE",
    "SHARE_MORE",
    "Limit",
    "Limits",
    "Table",
    "eases_overload",
    "figures_of",
    "in_words",
    "is_definition",
    "is_only_a_codes",
    "lacking",
    "most_of",
    "needed_to_ask",
    "tighter_is_lower",
    "unread_fields",
]

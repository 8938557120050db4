"""What ``wayroom.toml`` says of findings that somebody waives."""

import re

from pydantic import Field, model_validator

from checker.read.decisions import Day, Said
from checker.read.mapping import Part
from checker.rule.waiver import Waiver

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_WILD = frozenset("*?")


class WaiverSpec(Part):
    """``[[waivers]]``: findings that ``who`` waives, and ``why``. ``until`` is the last day that it counts.

    Which findings: by ``issue``, the GUID of an issue note or the id of a finding; or by ``rule`` and place: ``carriers`` by tag, name or
    GlobalId, the ``storeys`` that these are on, a ``compartment`` of theirs, ``circuits`` by their marks; ``*`` and ``?`` are wildcards,
    of names, not of GlobalIds. All that is given must fit, and a finding that names other carriers or circuits besides isn't meant. A
    name that carriers of several storeys have waives nothing without ``storeys``. A rule without a place is refused: it would waive what
    nobody has seen. ``up_to`` is the figure up to which it holds, in the unit of the column ``value`` of ``failing.csv``.
    """

    issue: str = ""
    rule: str = ""
    carriers: tuple[str, ...] = ()
    compartment: int | None = Field(default=None, ge=1, le=50)
    circuits: tuple[str, ...] = ()
    storeys: tuple[str, ...] = ()
    up_to: float | None = Field(default=None, ge=0, strict=True)
    who: Said
    why: Said
    until: Day

    @model_validator(mode="after")
    def _names_issue(self) -> "WaiverSpec":
        if not self.issue.strip():
            return self
        if self.rule.strip() or self.carriers or self.circuits or self.storeys or self.compartment is not None:
            raise ValueError("give issue alone, or rule with a place")
        if not _UUID.fullmatch(_plain(self.issue)):
            raise ValueError("issue is no GUID: copy it from the columns topic or finding of failing.csv")
        return self

    @model_validator(mode="after")
    def _names_little(self) -> "WaiverSpec":
        for pattern in (*self.carriers, *self.circuits, *self.storeys):
            if not pattern.strip():
                raise ValueError("one of carriers, circuits or storeys is empty")
        for pattern in (*self.carriers, *self.circuits):
            if _WILD & set(pattern) and not any(map(str.isalnum, pattern)):
                raise ValueError(f"{pattern!r} would fit everything: name what is meant")
        return self

    @model_validator(mode="after")
    def _names_place(self) -> "WaiverSpec":
        if self.issue.strip():
            return self
        if not self.rule.strip():
            raise ValueError("say what is waived: issue, or rule with carriers or circuits")
        if not (self.carriers or self.circuits):
            raise ValueError("a rule alone is too wide: give carriers or circuits, or the issue")
        if self.compartment is not None and not self.carriers:
            raise ValueError("give the carriers whose compartment is meant")
        if self.storeys and not self.carriers:
            raise ValueError("give the carriers that are on those storeys")
        return self

    @property
    def waiver(self) -> Waiver:
        """The same for whoever judges; names in an order of their own."""
        return Waiver(
            who=self.who,
            why=self.why,
            until=self.until,
            issue=_plain(self.issue),
            rule=self.rule.strip(),
            carriers=tuple(sorted({pattern.strip() for pattern in self.carriers})),
            compartment=self.compartment,
            circuits=tuple(sorted({pattern.strip() for pattern in self.circuits})),
            storeys=tuple(sorted({pattern.strip() for pattern in self.storeys})),
            up_to=self.up_to,
        )


def _plain(guid: str) -> str:
    """A GUID in lower case, without the braces that some programs put around it."""
    return guid.strip().strip("{}").lower()

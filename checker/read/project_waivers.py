"""What ``wayroom.toml`` says of findings that somebody waives."""

import re
from datetime import date

from pydantic import Field, model_validator

from checker.read.mapping import Part
from checker.rule.waiver import Waiver

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")


class WaiverSpec(Part):
    """``[[waivers]]``: findings that ``who`` waives, and ``why``. ``until`` is the last day that it counts.

    Which findings: by ``issue``, the GUID of an issue note or the id of a finding; or by ``rule`` and place: ``carriers`` by tag, name or
    GlobalId, a ``compartment`` of theirs, ``circuits`` by their marks; ``*`` and ``?`` are wildcards. All that is given must fit, and a
    finding that names other carriers or circuits besides isn't meant. A rule without a place is refused: it would waive what nobody has
    seen.
    """

    issue: str = ""
    rule: str = ""
    carriers: tuple[str, ...] = ()
    compartment: int | None = Field(default=None, ge=1, le=50)
    circuits: tuple[str, ...] = ()
    who: str = Field(min_length=1, pattern=r"\S")
    why: str = Field(min_length=1, pattern=r"\S")
    until: date

    @model_validator(mode="after")
    def _names_findings(self) -> "WaiverSpec":
        has_place = bool(self.carriers or self.circuits or self.compartment is not None)
        if self.issue.strip():
            if self.rule.strip() or has_place:
                raise ValueError("give issue alone, or rule with a place")
            if not _UUID.fullmatch(_plain(self.issue)):
                raise ValueError("issue is no GUID: copy it from the columns topic or finding of failing.csv")
            return self
        if not self.rule.strip():
            raise ValueError("say what is waived: issue, or rule with carriers or circuits")
        if not (self.carriers or self.circuits):
            raise ValueError("a rule alone is too wide: give carriers or circuits, or the issue")
        if self.compartment is not None and not self.carriers:
            raise ValueError("give the carriers whose compartment is meant")
        for pattern in (*self.carriers, *self.circuits):
            if not pattern.strip():
                raise ValueError("one of carriers or circuits is empty")
            if not pattern.strip("*? \t"):
                raise ValueError(f"{pattern!r} would fit everything: name what is meant")
        return self

    @property
    def waiver(self) -> Waiver:
        """The same for whoever judges; names in an order of their own."""
        return Waiver(
            who=" ".join(self.who.split()),
            why=" ".join(self.why.split()),
            until=self.until,
            issue=_plain(self.issue),
            rule=self.rule.strip(),
            carriers=tuple(sorted({pattern.strip() for pattern in self.carriers})),
            compartment=self.compartment,
            circuits=tuple(sorted({pattern.strip() for pattern in self.circuits})),
        )


def _plain(guid: str) -> str:
    """A GUID in lower case, without the braces that some programs put around it."""
    return guid.strip().strip("{}").lower()

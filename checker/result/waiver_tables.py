"""Tables of what is waived: by whom, why, until when."""

from dataclasses import dataclass

#: The family of findings about waivers.
FAMILY = "waiver"


@dataclass(frozen=True, slots=True)
class WaivedBy:
    """Who waived a finding, or a limit so that it isn't a fail; why; and ``until``, the last day, as 2027-06-30."""

    who: str
    why: str
    until: str


@dataclass(frozen=True, slots=True)
class WaiverRow:
    """One waiver of findings that the project has.

    ``names``: what it names, in words. ``state``: ``holds`` where it waives something, ``ran out``, ``no time`` where it isn't known
    whether it ran out, ``waives nothing``. ``reason`` says why it doesn't hold; empty where it does. ``findings`` are the ids of what it
    waives; ``finding`` is the id of the finding about the waiver itself, where there is one.
    """

    names: str
    who: str
    why: str
    until: str
    state: str
    reason: str = ""
    findings: tuple[str, ...] = ()
    finding: str = ""

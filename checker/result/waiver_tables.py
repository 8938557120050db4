"""Tables of what is waived: by whom, why, until when."""

from dataclasses import dataclass

#: The family of findings about waivers.
FAMILY = "waiver"
#: How a finding's reason says that a waiver of it ran out, before whose and when.
NO_LONGER = "no longer waived: "


@dataclass(frozen=True, slots=True)
class WaivedBy:
    """Who waived a finding, or a limit so that it isn't a fail; why; and ``until``, the last day, as 2027-06-30.

    ``up_to``: of a waiver of the finding, the figure up to which it holds, in the finding's unit (of a current that a circuit needs, over
    what it carries); None: whatever the figure is.
    """

    who: str
    why: str
    until: str
    up_to: float | None = None


@dataclass(frozen=True, slots=True)
class WaiverRow:
    """One waiver of findings that the project has.

    ``names``: what it names, in words. ``state``: ``holds`` where it waives something, ``ran out``, ``no time`` where it isn't known
    whether it ran out, ``exceeded`` where something that it names fails and goes further than it reaches, ``waives nothing``. ``reason``
    says why it doesn't hold, or not for all; empty where it does. ``findings`` are the ids of what it waives; ``finding`` is the id of the
    finding about the waiver itself, where there is one. ``up_to``: how far it reaches, as above. ``fails`` are the ids of what it names
    and fails all the same, the gravest first.
    """

    names: str
    who: str
    why: str
    until: str
    state: str
    reason: str = ""
    findings: tuple[str, ...] = ()
    finding: str = ""
    up_to: float | None = None
    fails: tuple[str, ...] = ()

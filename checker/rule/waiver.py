"""What somebody waives of what was found: which findings, who, why, until when, how far. It changes no limit, and no other finding."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Waiver:
    """One waiver. It names findings by ``issue``, or by ``rule`` and place.

    Attributes:
        who: Whose decision it is.
        why: Their reason.
        until: The last day on which it holds.
        issue: The id of a finding or the GUID of a topic, in lower case; empty: it goes by rule and place.
        rule: Id of a rule.
        carriers: Patterns of what carriers are called; empty: it doesn't go by them.
        compartment: A number; None: it doesn't go by it.
        circuits: Patterns of marks; empty: it doesn't go by them.
        storeys: Patterns of the storeys of those carriers; empty: whichever there is.
        up_to: The figure up to which it holds (of a limit that is the least wanted: down to which), in the unit of the rule's figure; of
            a current that a circuit needs, over what it carries. None: it holds whatever the figure is.
    """

    who: str
    why: str
    until: date
    issue: str = ""
    rule: str = ""
    carriers: tuple[str, ...] = ()
    compartment: int | None = None
    circuits: tuple[str, ...] = ()
    storeys: tuple[str, ...] = ()
    up_to: float | None = None

    @property
    def names(self) -> str:
        """What it names, in words."""
        if self.issue:
            return f"issue {self.issue}"
        place = list(self.carriers)
        if self.storeys:
            place.append(f"{'storey' if len(self.storeys) == 1 else 'storeys'} {', '.join(self.storeys)}")
        if self.compartment is not None:
            place.append(f"compartment {self.compartment}")
        if self.circuits:
            place.append(f"{'circuit' if len(self.circuits) == 1 else 'circuits'} {', '.join(self.circuits)}")
        return f"{self.rule} at {', '.join(place)}"

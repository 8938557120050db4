"""What every subject of a rule can say of itself, so that rules can be asked about it at both ends of what isn't certain."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol, Self

from checker.model.installation import Carrier
from checker.model.provenance import Confidence


@dataclass(frozen=True, slots=True)
class About:
    """Where and whose a subject is: what its finding names.

    Attributes:
        carriers: Keys of the carriers that it is told at, in the order in which a person would name them.
        compartment: Its number; None: whole carriers, or several.
        circuits: Marks of the circuits concerned.
        label: What a person would call it, where that is no carrier: a fitting, a wall, a run.
        id_keys: What its identity over revisions goes by; empty: the carriers.
        places: Compartments (or whole carriers: None) that share its verdict; empty: the carriers, with the compartment.
        guess: What it rests on that is a guess, as "the kind or size of T-4"; empty: nothing.
    """

    carriers: tuple[str, ...]
    compartment: int | None = None
    circuits: tuple[str, ...] = ()
    label: str = ""
    id_keys: tuple[str, ...] = ()
    places: tuple[tuple[str, int | None], ...] = ()
    guess: str = ""


class Subject(Protocol):
    """What a rule can be asked about, beside compartments and circuits, which have judges of their own."""

    @property
    def about(self) -> About:
        """Where and whose it is."""

    @property
    def doubts(self) -> tuple[str, ...]:
        """Why its two readings differ, or why it isn't all that bears on the answer, one sentence each."""

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may bear on it besides: then it can't pass."""

    def least_loaded(self) -> Self:
        """The reading in its favour."""

    def most_loaded(self) -> Self:
        """The reading against it."""


#: So many carriers that are a guess are named in a reason.
GUESSED_SHOWN = 4


def guess_of(carriers: Iterable[Carrier]) -> str:
    """The kind or size of those carriers of which it is a guess, in words; empty where none is."""
    guessed = [
        carrier.place.label
        for carrier in carriers
        if Confidence.LOW in {carrier.kind_confidence, carrier.section.confidence}
    ]
    if not guessed:
        return ""
    more = f" and {len(guessed) - GUESSED_SHOWN} more lengths" if len(guessed) > GUESSED_SHOWN else ""
    return f"the kind or size of {', '.join(guessed[:GUESSED_SHOWN])}{more}"

"""A carrier as the model has it, for rules that ask whether the model is complete."""

from dataclasses import dataclass

from checker.model.asked import About
from checker.model.installation import Carrier


@dataclass(frozen=True, slots=True)
class ModelledCarrier:
    """One carrier segment with what the model says of it.

    Attributes:
        carrier: The segment.
        lacking: What of its size isn't known, in words; empty: all is.
        open_ends: Its ends that nothing is joined to, in words.
        is_landed_on: Whether circuits come in or leave at each of those, so that an open end is meant.
        circuits: Marks of circuits that lie in it for certain.
        may_hold: Whether other circuits may lie in it besides.
    """

    carrier: Carrier
    lacking: tuple[str, ...] = ()
    open_ends: tuple[str, ...] = ()
    is_landed_on: bool = False
    circuits: tuple[str, ...] = ()
    may_hold: bool = False

    @property
    def about(self) -> About:
        """The carrier."""
        return About((self.carrier.key,), circuits=self.circuits)

    @property
    def doubts(self) -> tuple[str, ...]:
        """None: what a model says of a carrier is there or isn't."""
        return ()

    @property
    def more_may_count(self) -> bool:
        """No: see ``doubts``."""
        return False

    def least_loaded(self) -> "ModelledCarrier":
        """There is only one reading."""
        return self

    def most_loaded(self) -> "ModelledCarrier":
        """There is only one reading."""
        return self

"""A carrier as the model has it, for rules that ask whether the model is complete."""

from dataclasses import dataclass

from checker.model.asked import About
from checker.model.installation import Carrier


@dataclass(frozen=True, slots=True)
class ModelledCarrier:
    """One carrier segment with what the model says of it.

    Attributes:
        carrier: The segment.
        lacking: Why the inside of some of its compartments can't be had, in words without names; empty: each can.
        open_ends: Its ends that nothing is joined to and where no circuit comes in, as ``start`` and ``end``; None: where its ends are
            isn't known.
        is_joined: Whether anything is joined to it at all, at an end or at a side.
        may_come_in: Whether circuits may come in there all the same: the ends of some, or their ways, aren't known.
        circuits: Marks of circuits that lie in it for certain, those that the model draws there among them.
        may_hold: Whether other circuits may lie in it besides.
        told: What of all this is told among the problems already, so that no rule tells it again: ``size``, ``ends``, ``use``.
    """

    carrier: Carrier
    lacking: tuple[str, ...] = ()
    open_ends: tuple[str, ...] | None = ()
    is_joined: bool = True
    may_come_in: bool = False
    circuits: tuple[str, ...] = ()
    may_hold: bool = False
    told: frozenset[str] = frozenset()

    @property
    def about(self) -> About:
        """The carrier, by the name that people have for it."""
        return About((self.carrier.key,), circuits=self.circuits, label=self.carrier.place.label)

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

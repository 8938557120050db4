"""How full a compartment is by the code's own measure, for rules that ask for room beside it."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.subjects import LoadedCompartment


@dataclass(frozen=True, slots=True)
class Fill:
    """What the code's rule of fill answered. ``value`` and ``limit`` are ratios of the same ``measure``; None: it couldn't say.

    ``basis`` and ``source`` are the limit's, ``reason`` what the rule said. ``is_within``: whether it passes; None: that isn't known, even
    where there is a value. ``at_least``: whether the value is only the least that it can be. ``needs``: what would settle what isn't known.
    """

    value: float | None
    limit: float | None
    measure: str = ""
    basis: str = ""
    source: str = ""
    reason: str = ""
    is_within: bool | None = None
    at_least: bool = False
    needs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FilledCompartment:
    """A compartment with its fill, in its favour (``fill``) and against it (``fill_most``)."""

    loaded: LoadedCompartment
    fill: Fill
    fill_most: Fill

    @property
    def about(self) -> About:
        """The compartment."""
        carrier = self.loaded.carrier
        marks = tuple(sorted({cable.circuit for cable in self.loaded.cables}))
        return About((carrier.key,), self.loaded.number, marks, guess=guess_of([carrier]))

    @property
    def doubts(self) -> tuple[str, ...]:
        """Those of what it holds and of its size."""
        return self.loaded.doubts

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in it."""
        return self.loaded.unbounded

    def least_loaded(self) -> "FilledCompartment":
        """The reading in its favour."""
        return self

    def most_loaded(self) -> "FilledCompartment":
        """The reading against it."""
        return replace(self, fill=self.fill_most)

"""Walls and slabs that keep fire, and where carriers pass them."""

from dataclasses import dataclass, replace

from checker.model.asked import About, guess_of
from checker.model.installation import Place
from checker.model.prisms import Prism
from checker.model.subjects import LoadedCompartment


@dataclass(frozen=True, slots=True)
class Barrier:
    """A wall or slab that a model rates for fire.

    ``what``: ``wall``, ``slab`` …; ``fire_rating`` as the model writes it. ``prisms`` together are its body, without openings; none: it has
    no place.
    """

    key: str
    place: Place
    what: str
    fire_rating: str
    prisms: tuple[Prism, ...] = ()

    @property
    def called(self) -> str:
        """What a person would call it: by its name, since tags of walls are often numbers; without one as anything else."""
        name = self.place.name or self.place.label
        return name if self.what in name.lower() else f"{self.what} {name}"

    @property
    def label(self) -> str:
        """The same with its rating."""
        return f"{self.called} ({self.fire_rating})"


@dataclass(frozen=True, slots=True)
class Penetration:
    """One compartment of a carrier where it passes a barrier.

    ``doubt``: why it isn't certain that it passes; empty where it is.
    """

    loaded: LoadedCompartment
    barrier: Barrier
    doubt: str = ""

    @property
    def about(self) -> About:
        """The compartment and the barrier."""
        carrier = self.loaded.carrier
        marks = tuple(sorted({cable.circuit for cable in self.loaded.cables}))
        at = f"/{self.loaded.number}" if len(carrier.section.lanes) > 1 else ""
        return About(
            (carrier.key,),
            self.loaded.number,
            marks,
            label=f"{carrier.place.label}{at} at {self.barrier.label}",
            id_keys=(carrier.key, self.barrier.key),
            guess=guess_of([carrier]),
        )

    @property
    def doubts(self) -> tuple[str, ...]:
        """Those of what it holds and of its size, and of its passing the barrier."""
        return (*self.loaded.doubts, *((self.doubt,) if self.doubt else ()))

    @property
    def more_may_count(self) -> bool:
        """Whether something that can't be counted may lie in it."""
        return self.loaded.unbounded

    def least_loaded(self) -> "Penetration":
        """The reading in its favour."""
        return replace(self, loaded=self.loaded.least_loaded())

    def most_loaded(self) -> "Penetration":
        """The reading against it."""
        return replace(self, loaded=self.loaded.most_loaded())

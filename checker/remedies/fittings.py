"""Fittings that are changed: a box in place of a bend, a divider that is carried through."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.model import FittingKind, Installation, Partition
from checker.network.graph import Network
from checker.trial.changes import Routes


@dataclass(frozen=True, slots=True)
class PutBox:
    """A fitting becomes a box. ``met`` are the carriers of the runs that it parts."""

    fitting: str
    met: tuple[str, ...]

    @property
    def carriers(self) -> frozenset[str]:
        """All of the run."""
        return frozenset(self.met)

    @property
    def circuits(self) -> frozenset[str]:
        """None is changed itself."""
        return frozenset()

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the box."""
        fittings = tuple(
            replace(item, kind=FittingKind.BOX, radius_mm=None) if item.key == self.fitting else item
            for item in installation.fittings
        )
        return replace(installation, fittings=fittings), routes


@dataclass(frozen=True, slots=True)
class Keep:
    """Fittings keep the compartments that meet in them apart. ``met`` are the carriers that are divided there."""

    fittings: tuple[str, ...]
    met: tuple[str, ...]

    @property
    def carriers(self) -> frozenset[str]:
        """Those that are divided."""
        return frozenset(self.met)

    @property
    def circuits(self) -> frozenset[str]:
        """None is changed itself."""
        return frozenset()

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """As if the project said so."""
        fittings = tuple(
            replace(item, partition=Partition.KEPT, partition_why="tried") if item.key in self.fittings else item
            for item in installation.fittings
        )
        return replace(installation, fittings=fittings), routes


def bends_between(network: Network, meets: dict[str, set[str]], run: Sequence[str]) -> list[str]:
    """The bends between the conduits of a run, those nearest to its middle first.

    Args:
        network: What is joined.
        meets: Each element with what it is joined to.
        run: The conduits in order.
    """
    place = {key: number for number, key in enumerate(run)}
    found: list[tuple[float, str]] = []
    for key in sorted({met for own in run for met in meets.get(own, ()) if met in network.fittings}):
        at = sorted(place[met] for met in meets[key] if met in place)
        if network.fittings[key].kind is FittingKind.BEND and len(at) == 2:
            found.append((abs((at[0] + at[1]) / 2.0 - (len(run) - 1) / 2.0), key))
    return [key for _, key in sorted(found)]

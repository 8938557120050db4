"""Fittings that are changed: a box in place of a bend, a divider that is carried through."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from checker.model import Fitting, FittingKind, Installation, Partition
from checker.network.graph import Network
from checker.trial.changes import Routes


@dataclass(frozen=True, slots=True)
class Refit:
    """Fittings become others, each in the place of the one of its key. ``met``: carriers whose runs or compartments hang on them."""

    fittings: tuple[Fitting, ...]
    met: tuple[str, ...]

    @property
    def carriers(self) -> frozenset[str]:
        """Those that hang on them."""
        return frozenset(self.met)

    @property
    def circuits(self) -> frozenset[str]:
        """None is changed itself."""
        return frozenset()

    def made(self, installation: Installation, routes: Routes) -> tuple[Installation, Routes]:
        """With the other fittings."""
        others = {item.key: item for item in self.fittings}
        fittings = tuple(others.get(item.key, item) for item in installation.fittings)
        return replace(installation, fittings=fittings), routes


def put_box(bend: Fitting, run: tuple[str, ...]) -> Refit:
    """A box in place of a bend, which parts the run of these carriers."""
    return Refit((replace(bend, kind=FittingKind.BOX, radius_mm=None),), run)


def keep_apart(fittings: Iterable[Fitting], divided: tuple[str, ...]) -> Refit:
    """Fittings keep the compartments of these carriers apart, as if the project said so."""
    kept = (replace(item, partition=Partition.KEPT, partition_why="tried") for item in fittings)
    return Refit(tuple(kept), divided)


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

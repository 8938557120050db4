"""Makes the subjects that rules ask for, beside compartments and circuits, of what was read, routed and loaded."""

from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass

from checker.model import (
    CarrierPair,
    CircuitPair,
    DividedFitting,
    Enclosure,
    Installation,
    LoadedRun,
    ModelledCarrier,
    Penetration,
    Subject,
)
from checker.network.carrier_pairs import carrier_pairs
from checker.network.grouping import Grouped
from checker.network.loading import Loading
from checker.network.modelled import modelled_carriers
from checker.network.pairs_apart import circuit_pairs
from checker.network.penetrations import penetrations
from checker.network.pulls import loaded_runs
from checker.network.route import Routing


@dataclass(frozen=True, slots=True)
class Made:
    """All that a run has made before rules are asked."""

    installation: Installation
    routing: Routing
    loading: Loading
    grouped: Grouped


def subjects_of(
    wanted: Collection[type], installation: Installation, routing: Routing, loading: Loading, grouped: Grouped
) -> Iterator[Subject]:
    """The subjects of the sorts that are wanted, sort by sort in a fixed order.

    Args:
        wanted: The sorts that some rule asks for.
        installation: What there is.
        routing: Where circuits go.
        loading: What lies where.
        grouped: What lies together.
    """
    made = Made(installation, routing, loading, grouped)
    for sort, build in BUILDERS.items():
        if sort in wanted:
            yield from build(made)


#: Sort of subject → what makes all of them.
BUILDERS: dict[type, Callable[[Made], Iterable[Subject]]] = {
    DividedFitting: lambda made: made.loading.fittings,
    Enclosure: lambda made: made.grouped.enclosures.values(),
    LoadedRun: lambda made: loaded_runs(made.routing, made.loading),
    Penetration: lambda made: penetrations(made.installation.barriers, made.loading.compartments),
    CarrierPair: lambda made: carrier_pairs(made.grouped.enclosures, made.routing.network.neighbours()),
    CircuitPair: lambda made: circuit_pairs(made.installation, made.routing, made.loading),
    ModelledCarrier: lambda made: modelled_carriers(made.installation, made.routing, made.loading),
}

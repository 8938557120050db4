"""Where a circuit's cables would lie on another way than the one that was found."""

from collections.abc import Sequence

from checker.model import Installation, PlacedCable
from checker.network.graph import Network
from checker.network.lane_problems import LaneProblems
from checker.network.lanes import Lanes
from checker.network.near_ways import NearWay
from checker.network.placing import Lying, Passes, cables_of, lying_of, times
from checker.network.route import Route, Visit

__all__ = ["Lying", "NearLoading", "Passes"]


class NearLoading:
    """Tells where circuits lie on ways; as ``loading`` does of the ways that were found.

    Args:
        installation: What there is.
        network: The graph.
    """

    def __init__(self, installation: Installation, network: Network) -> None:
        self._circuits = {circuit.mark: circuit for circuit in installation.circuits}
        self._carriers, self._lanes = network.carriers, Lanes(network)
        self._cables: dict[str, list[PlacedCable]] = {}

    def cables(self, mark: str, passes: int) -> tuple[PlacedCable, ...]:
        """A circuit's cables, as they lie where it passes so many times."""
        return tuple(times(self._once(mark), passes)) if passes else ()

    def _once(self, mark: str) -> list[PlacedCable]:
        if mark not in self._cables:
            self._cables[mark] = cables_of(self._circuits[mark])
        return self._cables[mark]

    def lying(self, mark: str, visits: Sequence[Visit]) -> Lying:
        """Where a circuit lies on a way."""
        circuit = self._circuits[mark]
        if circuit.cables and not self._once(mark):
            return Lying({}, {})
        return lying_of(circuit, visits, self._lanes.of(circuit, visits, LaneProblems()), self._carriers)

    def led(self, route: Route, way: NearWay) -> tuple[Visit, ...]:
        """The visits of a circuit of which one leg is led a near way."""
        before = [visit for visit in route.visits if visit.leg < way.leg]
        return (*before, *way.visits, *(visit for visit in route.visits if visit.leg > way.leg))

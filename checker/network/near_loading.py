"""Where a circuit's cables would lie on another way than the one that was found."""

from collections.abc import Sequence

from checker.model import Installation, PlacedCable
from checker.network.graph import Network
from checker.network.lane_problems import LaneProblems
from checker.network.lanes import Lanes
from checker.network.near_ways import NearWay
from checker.network.placing import Lying, Passes, cables_of, lying_of, times
from checker.network.route import Route, Visit

__all__ = ["Budget", "Lying", "NearLoading", "Passes", "SpentError", "steps_of"]

#: So many cables or circuits that lie together make asking about them about twice as much work.
CROWD = 8


class SpentError(Exception):
    """What may be spent on asking about near ways is spent."""


class Budget:
    """How much is still asked about near ways, in steps and not in seconds, so that it is the same on every machine.

    A step is about the work of asking a rule of one compartment or of one length of a circuit's way; a crowd there is more of it.
    """

    def __init__(self) -> None:
        self._in_all = self._here = 0

    def refill(self, steps: int) -> None:
        """Allows so many steps in all from here on."""
        self._in_all = steps

    def begin(self, steps: int) -> None:
        """Allows so many steps for one finding, and no more than are left in all."""
        self._here = min(steps, self._in_all)

    def spend(self, steps: int) -> None:
        """Takes steps off.

        Raises:
            SpentError: There are fewer left; what was to be done isn't to be begun.
        """
        if steps > self._here:
            raise SpentError
        self._here -= steps
        self._in_all -= steps


def steps_of(number: int) -> int:
    """What is spent on so many things that lie, or could lie, together."""
    return 1 + number // CROWD


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

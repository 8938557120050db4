"""Where a circuit's cables would lie on another way than the one that was found."""

from collections import defaultdict
from collections.abc import Sequence

from checker.model import Installation, PlacedCable
from checker.network.graph import Network
from checker.network.lane_problems import LaneProblems
from checker.network.lanes import Lanes
from checker.network.loading import Place, passes_of, placed, times
from checker.network.route import Visit


class NearLoading:
    """Puts cables into the compartments of a way; into each that takes them where it isn't known which.

    Args:
        installation: What there is.
        network: The graph.
    """

    def __init__(self, installation: Installation, network: Network) -> None:
        self._circuits = {circuit.mark: circuit for circuit in installation.circuits}
        self._carriers, self._lanes = network.carriers, Lanes(network)

    def on_way(self, mark: str, visits: Sequence[Visit]) -> dict[Place, tuple[PlacedCable, ...]]:
        """A circuit's cables by carrier and compartment."""
        circuit = self._circuits[mark]
        cables = [item for cable in circuit.cables if (item := placed(circuit, cable)).count != 0]
        lanes: dict[tuple[str, int | None], list[Visit]] = defaultdict(list)
        for visit, choice in zip(visits, self._lanes.of(circuit, visits, LaneProblems()), strict=True):
            lanes[visit.carrier, choice.number].append(visit)
        found: dict[Place, tuple[PlacedCable, ...]] = {}
        for (key, number), here in lanes.items():
            section = self._carriers[key].section
            fitting = [lane.number for lane in section.lanes if lane.takes(circuit.service)]
            numbers = [number] if number is not None else fitting or [lane.number for lane in section.lanes]
            for lane in numbers:
                found[key, lane] = (*found.get((key, lane), ()), *times(cables, passes_of(here)))
        return found

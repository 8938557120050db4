"""How a circuit's cables lie in the compartments of a way: how often in each, and as what."""

from collections import Counter, defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from checker.model import Cable, Carrier, Circuit, PlacedCable, cable_area_mm2
from checker.network.lanes import LaneChoice
from checker.network.route import Visit, passes_of

Place = tuple[str, int]
#: How many times a circuit's cables lie in a compartment: for certain, and besides if they lie in that one and not beside it.
Passes = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Lying:
    """Where a circuit lies on a way: its passes by compartment, and those by carrier, whatever the compartment."""

    compartments: Mapping[Place, Passes]
    carriers: Mapping[str, int]

    def at(self, place: Place) -> Passes:
        """Its passes through a compartment."""
        return self.compartments.get(place, (0, 0))

    def within(self, carriers: Collection[str]) -> frozenset[tuple[Place | str, Passes | int]]:
        """How it lies in some carriers: the same of all ways that differ elsewhere only."""
        places = [item for item in self.compartments.items() if item[0][0] in carriers]
        return frozenset([*places, *(item for item in self.carriers.items() if item[0] in carriers)])

    def without(self, carrier: str) -> "Lying":
        """The same on a way that doesn't pass a carrier and is the same elsewhere."""
        return Lying(
            {place: passes for place, passes in self.compartments.items() if place[0] != carrier},
            {key: passes for key, passes in self.carriers.items() if key != carrier},
        )


def lying_of(
    circuit: Circuit, visits: Sequence[Visit], choices: Sequence[LaneChoice], carriers: Mapping[str, Carrier]
) -> Lying:
    """Where a circuit lies on a way.

    Args:
        circuit: The circuit.
        visits: Its whole way.
        choices: The compartment of each visit; of one that isn't known it may lie in each that takes its service, or in any if none does.
        carriers: By key.
    """
    lanes: dict[tuple[str, int | None], list[Visit]] = defaultdict(list)
    whole: dict[str, list[Visit]] = defaultdict(list)
    for visit, choice in zip(visits, choices, strict=True):
        lanes[visit.carrier, choice.number].append(visit)
        whole[visit.carrier].append(visit)
    certain, perhaps = Counter[Place](), Counter[Place]()
    for (key, number), here in lanes.items():
        if number is not None:
            certain[key, number] += passes_of(here)
            continue
        section = carriers[key].section
        for lane in [lane for lane in section.lanes if lane.takes(circuit.service)] or section.lanes:
            perhaps[key, lane.number] += passes_of(here)
    found = {place: (certain[place], perhaps[place]) for place in dict.fromkeys((*certain, *perhaps))}
    return Lying(found, {key: passes_of(here) for key, here in whole.items()})


def times(cables: list[PlacedCable], passes: int) -> list[PlacedCable]:
    """As many cables for each pass."""
    if passes == 1:
        return cables
    return [replace(cable, count=None if cable.count is None else cable.count * passes) for cable in cables]


def cables_of(circuit: Circuit) -> list[PlacedCable]:
    """A circuit's cables as they lie where it passes once, in an order that doesn't go by the rows of the schedule."""
    placed_ones = [item for cable in circuit.cables if (item := placed(circuit, cable)).count != 0]
    return sorted(placed_ones, key=repr)


def placed(circuit: Circuit, cable: Cable) -> PlacedCable:
    """The cables of one row of a circuit, all sets together, as they lie in a compartment."""
    is_flat = cable.diameter_mm is None
    return PlacedCable(
        circuit=circuit.mark,
        service=circuit.service,
        key=cable.key,
        count=None if cable.count is None or "sets" in circuit.unread else cable.count * circuit.sets,
        area_mm2=cable.area_mm2 or cable_area_mm2(cable.diameter_mm, cable.width_mm, cable.height_mm),
        width_mm=cable.width_mm if is_flat else None,
        height_mm=cable.height_mm if is_flat else None,
        diameter_mm=cable.diameter_mm,
        csa_mm2=cable.csa_mm2,
        awg_kcmil=cable.awg_kcmil,
        cores=cable.cores,
        stranded=cable.stranded,
        rated_voltage_v=cable.rated_voltage_v,
        voltage_v=circuit.voltage_v,
        planning=cable.planning,
        mass_kg_per_km=cable.mass_kg_per_km,
        conductor=cable.conductor,
        area_least_mm2=_area_least_mm2(cable, is_flat=is_flat),
        diameter_least_mm=cable.diameter_least_mm,
        width_least_mm=cable.width_least_mm if is_flat else None,
        height_least_mm=cable.height_least_mm if is_flat else None,
        tolerance=cable.tolerance,
    )


def _area_least_mm2(cable: Cable, *, is_flat: bool) -> float | None:
    """The area at the lower end of a size that is a range; None where it is none."""
    if not is_flat:
        return cable_area_mm2(cable.diameter_least_mm, None, None)
    width, height = cable.width_least_mm, cable.height_least_mm
    if width is None and height is None:
        return None
    return cable_area_mm2(
        None, cable.width_mm if width is None else width, cable.height_mm if height is None else height
    )

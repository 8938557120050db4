"""What isn't known of the subjects of rules, as inputs that can be given: walls, depths, sizes of cables, ways of circuits."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import partial

from checker.model import (
    Condition,
    DividedFitting,
    Installation,
    LoadedCompartment,
    Partition,
    RoutedCircuit,
    State,
)
from checker.network.drawn_loose import loose_cables
from checker.network.route import RoutedBy, Routing
from checker.network.sizing import OPEN, depth_span, empty_compartment, insides, wall_span
from checker.questions import fixes
from checker.questions.settling import Input
from checker.rule.code import Sizes
from checker.rule.needs import (
    COMPARTMENT,
    DEPTH,
    DRAWN,
    EXISTING,
    INSIDE,
    LOST_ROWS,
    PERFORATED,
    SCHEDULE,
    SINGLE_LAYER,
    SIZE,
    WALL,
    WAY,
    of_cable,
    of_carrier,
    of_circuit,
    of_type,
)

#: Between these is every current.
CURRENTS_A = (0.001, 100.0, 1_000_000.0)
#: No more cables lie together.
MOST_CABLES = 1_000_000


class Inputs:
    """Finds what isn't known of a subject.

    Args:
        installation: What there is.
        routing: Where circuits go.
        sizes: The code's reading of inside sizes.
    """

    def __init__(self, installation: Installation, routing: Routing, sizes: Sizes) -> None:
        self._sizes, self._installation, self._routing = sizes, installation, routing
        routes = {route.circuit: route for route in routing.routes}
        self._astray = {mark for mark, route in routes.items() if route.routed_by is RoutedBy.NONE or route.has_gap}
        self._gaps = {mark for mark, route in routes.items() if route.has_gap}
        self._uncounted = tuple(
            of_circuit(WAY, circuit.mark)
            for circuit in installation.circuits
            if circuit.mark in self._astray
            and circuit.state is not State.REMOVED
            and (not circuit.calls or "to" in circuit.unread)
        )
        self._everywhere = frozenset(self._anywhere())
        self._has_existing = any(circuit.state is State.EXISTING for circuit in installation.circuits)
        self._loose: Mapping[str, str] | None = None

    def of_compartment(self, subject: LoadedCompartment) -> dict[str, Input[LoadedCompartment]]:
        """Its wall, its depth, the sizes and numbers of its cables, and where circuits lie that may lie here."""
        found: dict[str, Input[LoadedCompartment]] = {}
        carrier = subject.carrier
        spans = {WALL: wall_span(carrier, self._sizes), DEPTH: depth_span(carrier, self._sizes)}
        for what, span in spans.items():
            if span is not None and subject.size_doubt:
                least, most = span if what == WALL else (span[1], span[0])
                sizes = tuple(
                    partial(self._resized, what=what, size=size) for size in (least, (least + most) / 2, most)
                )
                found[of_type(what, carrier)] = Input(sizes, is_smooth=True)
        for cable in (*subject.cables, *subject.possible):
            if cable.count is None or cable.is_several:
                need = of_circuit("number of cables", cable.circuit)
                found[need] = Input(
                    tuple(partial(fixes.counted, mark=cable.circuit, count=count) for count in (1, MOST_CABLES)),
                    is_smooth=True,
                    is_of_circuit=True,
                )
            if cable.is_ranged or cable.area_mm2 is None:
                need = of_cable(SIZE, cable)
                shares = tuple(partial(fixes.sized, need=need, share=share) for share in (0.0, 0.5, 1.0))
                found[need] = Input(shares, is_smooth=True, is_of_circuit=not cable.key)
        for mark in dict.fromkeys(cable.circuit for cable in subject.possible):
            found[self.place_of(mark)] = Input(is_of_circuit=True, mark=mark)
        return found

    def of_fitting(self, subject: DividedFitting) -> dict[str, Input[DividedFitting]]:
        """Whether it keeps compartments apart, and which circuits pass it that may."""
        found: dict[str, Input[DividedFitting]] = {}
        if subject.fitting is not None and subject.fitting.partition is None:
            ends = tuple(partial(fixes.parted, partition=partition) for partition in (Partition.KEPT, Partition.OPEN))
            found[f"the partition of fitting {subject.label}"] = Input(ends)
        for mark in dict.fromkeys(cable.circuit for cable in subject.possible):
            found[self.place_of(mark)] = Input(is_of_circuit=True, mark=mark)
        return found

    def of_routed(self, subject: RoutedCircuit) -> dict[str, Input[RoutedCircuit]]:
        """The circuits that may lie beside it, its loaded conductors, and how the trays on its way are laid."""
        found: dict[str, Input[RoutedCircuit]] = {}
        load = subject.load
        if load.loaded_conductors is None and "loaded_conductors" not in load.unread:
            ends = tuple(partial(fixes.with_load, mark=load.mark, given={"loaded_conductors": n}) for n in (2, 3))
            found[of_circuit("loaded conductors", load.mark)] = Input(ends, is_of_circuit=True)
        for what, column in (("design current", "design_current_a"), ("device rating", "device_rating_a")):
            if getattr(load, column) is None and column not in load.unread:
                amps = tuple(partial(fixes.with_load, mark=load.mark, given={column: value}) for value in CURRENTS_A)
                found[of_circuit(what, load.mark)] = Input(amps, is_smooth=True, is_of_circuit=True)
        for enclosure in subject.enclosures:
            for member in (*enclosure.members, *enclosure.possible):
                other = member.load
                if other.circuits is not None and other.circuits != other.circuits_least:
                    numbers = tuple(
                        partial(fixes.with_load, mark=other.mark, given={"circuits": number, "circuits_least": number})
                        for number in (other.circuits_least, other.circuits)
                    )
                    found.setdefault(of_circuit("live conductors", other.mark), Input(numbers, is_of_circuit=True))
            for member in enclosure.possible:
                mark = member.load.mark
                found.setdefault(self.place_of(mark), Input(is_of_circuit=True, mark=mark))
            carrier = enclosure.carrier
            for what, field in ((PERFORATED, "perforated"), (SINGLE_LAYER, "single_layer")):
                if carrier.kind in OPEN and getattr(carrier.laying, field) is None:
                    need = of_type(what, carrier)
                    laid = tuple(
                        partial(fixes.laid, need=need, what=what, field=field, value=value) for value in (True, False)
                    )
                    found.setdefault(need, Input(laid))
        return found

    def layers_of(self, subject: RoutedCircuit) -> frozenset[str]:
        """What would tell whether all cables of the trays on its way go into one layer; nothing where that is known."""
        found: set[str] = set()
        for enclosure in subject.enclosures:
            carrier = enclosure.carrier
            if carrier.kind in OPEN and fixes.has_open_layers(enclosure) and carrier.laying.single_layer is not False:
                cables = (*enclosure.cables, *enclosure.possible_cables)
                found |= {of_cable(SIZE, cable) for cable in cables if cable.thickness_mm is None or cable.is_ranged}
                found |= {of_circuit("number of cables", cable.circuit) for cable in cables if cable.count is None}
                found |= {self.place_of(cable.circuit) for cable in enclosure.possible_cables}
                if wall_span(carrier, self._sizes) is not None:
                    found.add(of_type(WALL, carrier))
                if carrier.section.width_mm is None:
                    found.add(of_type(INSIDE, carrier))
        return frozenset(found)

    def more_in(self, subject: LoadedCompartment) -> frozenset[str]:
        """What would tell whether something that can't be counted lies in a compartment."""
        if not subject.unbounded:
            return frozenset()
        carrier = subject.carrier
        found = set(self._everywhere)
        if carrier.condition is Condition.EXISTING and not self._has_existing:
            found.add(EXISTING)
        if carrier.key in self._drawn_in():
            found.add(DRAWN)
        if not carrier.length_mm:
            found.add(of_carrier("length", carrier))
        found.update(self._uncounted)
        return frozenset(found)

    def own_way(self, mark: str) -> str:
        """What would tell a circuit's way; empty where it is known."""
        return of_circuit(WAY, mark) if mark in self._astray else ""

    def place_of(self, mark: str) -> str:
        """What would tell where a circuit lies: its way, or on that its compartment."""
        return of_circuit(WAY if mark in self._astray else COMPARTMENT, mark)

    def _anywhere(self) -> Iterable[str]:
        if self._installation.lost_rows:
            yield LOST_ROWS
        circuits = self._installation.circuits
        if not self._installation.is_scheduled or all(circuit.state is State.REMOVED for circuit in circuits):
            yield SCHEDULE

    def _drawn_in(self) -> Mapping[str, str]:
        """Carriers in which the model draws cables that no circuit owns; all of them where those may lie in any."""
        if self._loose is None:
            loose = loose_cables(self._installation) if self._installation.model_cables else None
            keys = {} if loose is None else dict(loose.doubts)
            if loose is not None and loose.everywhere:
                keys |= {carrier.key: loose.everywhere for carrier in self._installation.carriers}
            self._loose = keys
        return self._loose

    def _resized(self, subject: LoadedCompartment, what: str, size: float) -> LoadedCompartment:
        """A compartment with another wall or depth of its carrier."""
        section = subject.carrier.section
        if what == WALL:
            section = replace(section, wall_mm=size, wall_range_mm=None)
        else:
            section = replace(section, usable_depth_mm=size)
        carrier = replace(subject.carrier, section=section)
        sized = empty_compartment(carrier, subject.number, insides(carrier, self._sizes)[subject.number - 1])
        return replace(
            subject,
            carrier=carrier,
            area_mm2=sized.area_mm2,
            area_least_mm2=sized.area_least_mm2,
            width_mm=sized.width_mm,
            width_least_mm=sized.width_least_mm,
            bore_mm=sized.bore_mm,
            side_mm=sized.side_mm,
            side_least_mm=sized.side_least_mm,
            size_doubt=sized.size_doubt,
        )

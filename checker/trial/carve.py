"""Cuts out of an installation what a change may bear on, so that trying one costs as much as what it touches and not as the whole.

What a verdict hangs on isn't known beforehand, as rules may come from anybody. So a carve is only a guess, a generous one, and ``Trials``
asks it first whether it tells the same as the whole does of what is touched.
"""

import itertools
from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from checker.model import Carrier, Installation
from checker.network.box_cells import BoxCells, box_of
from checker.network.drawn_owners import CableOwners
from checker.network.joins import Join
from checker.network.loading import Loading
from checker.network.route import Route, RoutedBy, Routing, Visit

#: What lies this near to a carrier may bear on its verdicts: as far as trays are looked for above each other, and more than any other.
AROUND_MM = 1600.0


@dataclass(frozen=True, slots=True)
class Carve:
    """A part of an installation.

    ``whole`` are the carriers of which all that lies in them is in the part as well; what is beyond is only there to be joined to.
    ``routes`` are in the order of the part's circuits; a way is cut where it leaves the part.
    """

    installation: Installation
    routes: tuple[Route, ...]
    joins: tuple[Join, ...]
    whole: frozenset[str]


class Carver:
    """Cuts parts out.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies where.
    """

    def __init__(self, installation: Installation, routing: Routing, loading: Loading) -> None:
        self._installation, self._routing = installation, routing
        self._numbers = {carrier.key: number for number, carrier in enumerate(installation.carriers)}
        self._fittings = {fitting.key: number for number, fitting in enumerate(installation.fittings)}
        self._circuits = {circuit.mark: number for number, circuit in enumerate(installation.circuits)}
        self._routes = {route.circuit: route for route in routing.routes}
        #: Circuits of which it isn't known where they lie are in every part: they could lie there.
        self._everywhere = {
            route.circuit for route in routing.routes if route.routed_by is RoutedBy.NONE or route.has_gap
        }
        self._in: dict[str, set[str]] = defaultdict(set)
        self._runs: dict[str, tuple[str, ...]] = {}
        self._lanes: dict[tuple[str, str], set[int]] = defaultdict(set)
        self._apart: dict[str, set[str]] = defaultdict(set)
        self._meets: dict[str, list[int]] = defaultdict(list)
        # ways are found already, so of drawn cables only those matter that no circuit owns
        self._loose = tuple(CableOwners(installation).of_none())
        self._space = BoxCells()
        self._placed: list[str] = []
        self._take_loading(loading)
        self._take_ways()
        for carrier in installation.carriers:
            if carrier.axis_mm:
                self._placed.append(carrier.key)
                self._space.add(box_of(list(carrier.axis_mm), _half_mm(carrier)))

    def _take_loading(self, loading: Loading) -> None:
        for item in loading.compartments:
            key = item.carrier.key
            for cable in (*item.cables, *item.possible):
                if cable.circuit not in self._everywhere:
                    self._in[key].add(cable.circuit)
            for cable in item.cables:
                self._lanes[cable.circuit, key].add(item.number)
            if item.run is not None:
                self._runs[key] = item.run.carriers

    def _take_ways(self) -> None:
        for route in self._routing.routes:
            for key in route.carriers:
                self._in[key].add(route.circuit)
        for circuit in self._installation.circuits:
            for mark in circuit.apart_from:
                self._apart[circuit.mark].add(mark)
                self._apart[mark].add(circuit.mark)
        for number, join in enumerate(self._routing.joins):
            for element in {join.one.element, join.other.element}:
                self._meets[element].append(number)

    def circuits_in(self, keys: Iterable[str]) -> set[str]:
        """The circuits that lie in some carriers, or may."""
        return {mark for key in keys for mark in self._in.get(key, ())}

    def around(self, keys: Collection[str], marks: Collection[str]) -> Carve:
        """The part that verdicts on some carriers and circuits hang on, as far as can be told beforehand.

        Args:
            keys: Carriers that are touched.
            marks: Circuits that are touched.
        """
        asked = set(marks) | self.circuits_in(keys)
        asked |= {mark for one in marks for mark in self._apart.get(one, ())}
        whole = set(keys) | self._near(keys)
        for mark in asked:
            whole |= self._routes[mark].carriers if mark in self._routes else set()
        whole |= {member for key in whole for member in self._runs.get(key, ())}
        rim, fittings = self._beyond(whole)
        rim |= {member for key in rim for member in self._runs.get(key, ())}
        fittings |= self._beyond(rim)[1]
        kept = whole | rim
        return self._cut(kept, fittings, asked, frozenset(whole))

    def everything(self) -> Carve:
        """The whole as a part of itself."""
        whole = frozenset(self._numbers)
        return Carve(self._installation, self._routing.routes, self._routing.joins, whole)

    def _near(self, keys: Iterable[str]) -> set[str]:
        found: set[str] = set()
        for carrier in (self._installation.carriers[self._numbers[key]] for key in keys):
            for a, b in itertools.pairwise(carrier.axis_mm):
                found |= {self._placed[number] for number in self._space.near(a, b, AROUND_MM + _half_mm(carrier))}
        return found

    def _beyond(self, keys: Iterable[str]) -> tuple[set[str], set[str]]:
        """The carriers that some are joined to, through any fittings, and those fittings."""
        carriers, fittings = set[str](), set[str]()
        waiting = list(keys)
        inside = set(waiting)
        while waiting:
            for number in self._meets.get(waiting.pop(), ()):
                join = self._routing.joins[number]
                for element in (join.one.element, join.other.element):
                    if element in inside or element in carriers or element in fittings:
                        continue
                    if element in self._numbers:
                        carriers.add(element)
                    elif element in self._fittings:
                        fittings.add(element)
                        waiting.append(element)
        return carriers, fittings

    def _cut(self, kept: set[str], fittings: set[str], asked: set[str], whole: frozenset[str]) -> Carve:
        here = self._installation
        marks = self.circuits_in(whole) | asked | self._everywhere
        numbers = sorted(self._circuits[mark] for mark in marks if mark in self._circuits)
        circuits = tuple(here.circuits[number] for number in numbers)
        routes = tuple(self._cut_way(self._routes[circuit.mark], kept, asked) for circuit in circuits)
        inside = kept | fittings
        meeting = {number for element in inside for number in self._meets.get(element, ())}
        joins = (self._routing.joins[number] for number in sorted(meeting))
        held = tuple(join for join in joins if {join.one.element, join.other.element} <= inside)
        part = replace(
            here,
            carriers=tuple(here.carriers[number] for number in sorted(self._numbers[key] for key in kept)),
            fittings=tuple(here.fittings[number] for number in sorted(map(self._fittings.__getitem__, fittings))),
            circuits=circuits,
            model_cables=self._loose,
        )
        return Carve(part, routes, held, whole)

    def _cut_way(self, route: Route, kept: set[str], asked: set[str]) -> Route:
        """A way as far as it lies in a part. Of circuits that aren't asked about their compartments are told beforehand."""
        if route.circuit in asked and kept.issuperset(route.carriers):
            return route
        visits = tuple(self._told(route.circuit, visit) for visit in route.visits if visit.carrier in kept)
        lines = tuple(line for line in route.lines if line[0] in kept)
        return replace(route, visits=visits, lines=lines)

    def _told(self, mark: str, visit: Visit) -> Visit:
        """A visit with its compartment, where that is known: what told it may lie beyond the part."""
        lanes = self._lanes.get((mark, visit.carrier), ())
        if visit.compartment is not None or len(lanes) != 1:
            return visit
        return visit._replace(compartment=next(iter(lanes)))


def _half_mm(carrier: Carrier) -> float:
    section = carrier.section
    sizes = (section.width_mm, section.height_mm, section.outside_diameter_mm, section.bore_mm)
    return max((size for size in sizes if size is not None), default=0.0)

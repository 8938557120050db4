"""The ways that a circuit could take between two places: the shortest, and the shortest of those that do without some carriers."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

from checker.errors import InputError
from checker.model import Circuit, Equipment, Installation
from checker.network.closures import Closures
from checker.network.ends import Landing, Landings, Names
from checker.network.graph import Network, Node
from checker.network.no_ways import NoWay, NoWays
from checker.network.route import Route, Routing
from checker.network.search import Search
from checker.network.shortest import Missing, Shortest, nodes_of

#: The reason that is given for what the question asks of a way.
AS_ASKED = "as asked"


@dataclass(frozen=True, slots=True)
class Way:
    """A way.

    ``nodes`` are the places where its ends come in; ``closed`` what it was to do without, of all that it could pass. ``compartment``: the
    one that was picked in carriers where nothing else tells it; None: none was.
    """

    route: Route
    nodes: tuple[Node, ...]
    closed: frozenset[str] = frozenset()
    compartment: int | None = None

    @property
    def is_other(self) -> bool:
        """Whether it is another than a check would find."""
        return bool(self.closed) or self.compartment is not None

    def in_compartment(self, number: int, keys: frozenset[str]) -> "Way":
        """The same way in a compartment of some carriers.

        Args:
            number: The compartment.
            keys: Those carriers.
        """
        visits = (visit._replace(compartment=number) if visit.carrier in keys else visit for visit in self.route.visits)
        return replace(self, route=replace(self.route, visits=tuple(visits)), compartment=number)

    @property
    def measure_mm(self) -> float:
        """Its length with its drops; without end where that isn't known."""
        parts = (self.route.length_mm, *self.route.drops_mm)
        return sum(part if part is not None else float("inf") for part in parts)


@dataclass(frozen=True, slots=True)
class NoneFound:
    """Why there is no way. ``is_known``: there is none in the model; else something isn't known that a way hangs on."""

    why: str
    hint: str
    is_known: bool


class Ways:
    """Finds ways of one circuit.

    Args:
        installation: What there is, without the circuit.
        routing: Where the others go.
        circuit: The one, with its ends, its service and what is asked of its way.
    """

    def __init__(self, installation: Installation, routing: Routing, circuit: Circuit) -> None:
        self._installation, self._routing, self._circuit = installation, routing, circuit
        self._landings = Landings(installation, routing.joins)
        self._closures = Closures(installation)

    def first(self) -> Way | NoneFound:
        """The shortest way, as a check would find it if the circuit stood in the schedule."""
        ends = self._ends(frozenset())
        network = self._network(node for end in ends for node in nodes_of(end))
        search = Search(network)
        found = Shortest(search, self._closures, [ends]).route(self._circuit, ends)
        if isinstance(found, Missing):
            return self._none(found, search)
        return Way(found, tuple(dict.fromkeys(node for end in ends for node in nodes_of(end))))

    def without(self, keys: frozenset[str], usual: Way) -> Way | None:
        """The shortest way that passes none of some carriers; its ends may come in on others than the nearest.

        One that only leaves the usual way before its end, and hangs down to it from there, is no other way.

        Args:
            keys: Those carriers.
            usual: The way that passes them, and does without others already.
        """
        closed = usual.closed | keys
        ends = self._ends(closed)
        if any(end.node is None for end in ends):
            return None
        found = Shortest(self._elsewhere, self._closures, [ends]).route(self._circuit, ends, closed)
        if isinstance(found, Missing):
            return None
        (there,), (here,) = usual.route.legs, found.legs
        elsewhere = {one[0] for one, other in zip(here.nodes, there.nodes, strict=True) if one[0] != other[0]}
        if not elsewhere.isdisjoint(usual.route.carriers):
            return None
        return Way(found, here.nodes, closed)

    @cached_property
    def _elsewhere(self) -> Search:
        """On a network with every place where the ends could come in."""
        closed = self._closures.of(self._circuit)
        texts = (self._circuit.origin, *self._circuit.calls)
        around = [landing for text in texts for landing in self._landings.around(text, self._circuit.service, closed)]
        return Search(self._network(node for landing in around for node in nodes_of(landing)))

    def _ends(self, closed: frozenset[str]) -> list[Landing]:
        circuit = self._circuit
        shut = self._closures.of(circuit) | closed if closed else self._closures.of(circuit)
        return [self._landings.find(text, circuit.service, shut) for text in (circuit.origin, *circuit.calls)]

    def _network(self, nodes: Iterable[Node]) -> Network:
        places = [(key, along) for key, along in (*self._routing.landings, *nodes) if along is not None]
        return Network(self._installation, self._routing.joins, places)

    def _none(self, missing: Missing, search: Search) -> NoneFound:
        why, closed = missing.why, self._closures.of(self._circuit)
        if missing.places is not None:
            said, _, _ = NoWays(search, self._routing.joins).told([NoWay(self._circuit, *missing.places, closed)])
            why = "; ".join([why, *said.values()])
        is_known = not ("isn't known" in missing.why or missing.why.startswith("too many"))
        hint = "say --service" if not is_known and self._circuit.service is None else missing.hint
        if any(told.endswith(AS_ASKED) for told in self._circuit.limits.told):
            # what the search says of the project file is then meant of the question, too
            why, hint = (text.replace("wayroom.toml", "--via, --avoid or wayroom.toml") for text in (why, hint))
        return NoneFound(why, hint, is_known)


def check_ends(installation: Installation, origin: str, call: str) -> None:
    """Whether both ends are names of one element each, and not of the same.

    Raises:
        InputError: They aren't.
    """
    names = Names(installation)
    keys = []
    for option, text in (("FROM", origin), ("TO", call)):
        found = names.find(text)
        if not found and names.left_out(text):
            raise InputError(
                option, f"{text!r} isn't read: {names.left_out(text)}", "name another end, or let it be read"
            )
        if not found:
            near = names.near(text)
            hint = (
                f"did you mean {', '.join(near)}?" if near else "name equipment or a carrier by GlobalId, Tag or Name"
            )
            raise InputError(option, f"nothing in the model is called {text!r}", hint)
        if len(found) > 1:
            ids = ", ".join(
                f"{item.place.global_id} ({'equipment' if isinstance(item, Equipment) else item.kind})"
                for item in found[:5]
            )
            raise InputError(option, f"{len(found)} elements are called {text!r}", f"name one by its GlobalId: {ids}")
        keys.append(found[0].key)
    if keys[0] == keys[1]:
        raise InputError("FROM, TO", "both are the same element", "name two ends between which the cables are to run")

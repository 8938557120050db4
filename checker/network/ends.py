"""Finds what a schedule names, and the place on a carrier where its cable comes in."""

import difflib
from collections import defaultdict
from dataclasses import dataclass, replace

from checker.model import Carrier, Equipment, Installation, Service, Vec
from checker.model.geometry import distance
from checker.network.cells import Grid
from checker.network.graph import PLACES, WHOLE, Node
from checker.network.joins import Join
from checker.network.on_axis import place_on

#: Of more carriers than this around one place it isn't asked which is the nearest, and of more as near as each other none is chosen.
MOST_AROUND, MOST_AS_NEAR = 5000, 100
#: So many ends without a carrier in reach are told how far the nearest is.
MOST_FAR = 20
#: What parts the names of a route, or a name from its compartment: a name that holds one of these is given by GlobalId.
PARTING = frozenset(";|/\r\n")
#: A misspelt name is compared with so many others.
MOST_COMPARED = 2000


@dataclass(frozen=True, slots=True)
class Landing:
    """Where a circuit's end comes in: a node of the network, and the drop from the equipment to it (None: not known).

    ``others``: places that are as good, of which the way is to choose. ``why_not``: there is none.
    """

    node: Node | None = None
    drop_mm: float | None = 0.0
    others: tuple["Landing", ...] = ()
    why_not: str = ""
    hint: str = ""


class Names:
    """Elements by GlobalId, Tag, Name and the mark that the project maps, looked up in that order."""

    def __init__(self, installation: Installation, *, only_carriers: bool = False) -> None:
        self._by: tuple[dict[str, list[Carrier | Equipment]], ...] = tuple(defaultdict(list) for _ in range(4))
        self._known: list[str] = []
        self._left_out = {
            text.strip(): why
            for place, why in installation.left_out
            for text in (place.mark, place.name, place.tag, place.global_id)
            if text.strip()
        }
        elements: tuple[Carrier | Equipment, ...] = installation.carriers
        if not only_carriers:
            elements = (*installation.carriers, *installation.equipment)
        for element in elements:
            place = element.place
            for index, text in zip(self._by, (place.global_id, place.tag, place.name, place.mark), strict=True):
                if text.strip():
                    index[text.strip()].append(element)

    def find(self, text: str) -> list[Carrier | Equipment]:
        """What goes by a name; several where it is ambiguous."""
        return next((index[text] for index in self._by if text in index), [])

    def in_route(self, carrier: Carrier) -> str:
        """What the schedule's route calls a carrier so that no other goes by that name: its label where that does, else its GlobalId."""
        label = carrier.place.label
        is_plain = PARTING.isdisjoint(label) and label == label.strip()
        own = is_plain and [item.key for item in self.find(label)] == [carrier.key]
        return label if own else carrier.place.global_id or label

    def left_out(self, text: str) -> str:
        """Why what goes by a name isn't among what was read; empty where nothing that was left out does."""
        return self._left_out.get(text, "")

    def near(self, text: str) -> list[str]:
        """The nearest spellings there are."""
        if not self._known:
            self._known = sorted({name for index in self._by[1:] for name in index})
        known = self._known
        if len(known) > MOST_COMPARED:  # comparing is slow: of very many only those that begin alike
            start = text[:2].casefold()
            known = [name for name in known if name[:2].casefold() == start][:MOST_COMPARED]
        return difflib.get_close_matches(text, known, 3)


class Landings:
    """Finds landings: on the carrier that equipment is connected to, else on the nearest one on its storey that takes the service."""

    def __init__(self, installation: Installation, joins: tuple[Join, ...]) -> None:
        self._names = Names(installation)
        self._carriers = {carrier.key: carrier for carrier in installation.carriers}
        self._looked_far = 0
        self._reach_mm = installation.reach_mm
        self._connected: dict[str, list[tuple[str, Vec | None]]] = defaultdict(list)
        equipment = {item.key for item in installation.equipment}
        for join in joins:
            for one, other in ((join.one, join.other), (join.other, join.one)):
                if one.element in equipment and other.element in self._carriers:
                    self._connected[one.element].append((other.element, other.point_mm))
        self._all = installation.carriers
        self._grid = Grid(self._reach_mm)
        for number, carrier in enumerate(installation.carriers):
            if carrier.axis_mm:
                self._grid.add(number, carrier.axis_mm)
        self._known: dict[tuple[str, Service | None, frozenset[str]], Landing] = {}

    def find(
        self, text: str, service: Service | None, closed: frozenset[str] = frozenset(), *, is_kept: bool = True
    ) -> Landing:
        """The landing of an end that the schedule names, on none of some carriers. Kept for the next who asks, unless nobody will."""
        landing = self._known.get((text, service, closed))
        if landing is None:
            landing = self._find(text, service, closed)
            if is_kept:
                self._known[text, service, closed] = landing
        return landing

    def around(self, text: str, service: Service | None, closed: frozenset[str] = frozenset()) -> list[Landing]:
        """All carriers that an end could come in on, the nearest first: the one that it is connected to, and all within reach."""
        first, found = self.find(text, service, closed), self._names.find(text)
        near = [first, *first.others] if first.node is not None else []
        if len(found) == 1 and isinstance(found[0], Equipment) and self._is_connected(found[0], service):
            return near
        if len(found) == 1 and isinstance(found[0], Equipment) and found[0].point_mm is not None:
            spots = self._spots(found[0], found[0].point_mm, service, closed, same_storey=True) or []
            taken = {landing.node[0] for landing in near if landing.node is not None}
            near += [Landing((key, along), drop) for drop, key, along in spots if key not in taken]
        return near

    def on(self, text: str, carriers: list[Carrier]) -> Landing:
        """Where something that the schedule names comes in on carriers that it names too: on the nearest. No node: on none of them."""
        found = self._names.find(text)
        if len(found) != 1:
            return self._find(text, None, frozenset())
        if isinstance(found[0], Carrier):
            named = any(carrier.key == found[0].key for carrier in carriers)
            return Landing((found[0].key, WHOLE)) if named else Landing()
        point = found[0].point_mm
        spots = [(place_on(carrier, point), carrier.key) for carrier in carriers] if point is not None else []
        near = sorted((round(spot[1], 1), key, round(spot[0], PLACES)) for spot, key in spots if spot is not None)
        return Landing((near[0][1], near[0][2]), near[0][0]) if near else Landing()

    def _find(self, text: str, service: Service | None, closed: frozenset[str]) -> Landing:
        found = self._names.find(text)
        if not text:
            return Landing(why_not="one of its ends isn't named", hint="name equipment or a carrier in the schedule")
        if not found and self._names.left_out(text):
            return Landing(
                why_not=f"{text!r} isn't read: {self._names.left_out(text)}", hint="name another end, or let it be read"
            )
        if not found:
            near = self._names.near(text)
            hint = (
                f"did you mean {', '.join(near)}?"
                if near
                else "name it by GlobalId, Tag or Name, or add a model that has it"
            )
            return Landing(why_not=f"nothing in the model is called {text!r}", hint=hint)
        if len(found) > 1:
            ids = ", ".join(item.place.global_id for item in found[:5])
            return Landing(
                why_not=f"{len(found)} elements are called {text!r}", hint=f"name one by its GlobalId: {ids}"
            )
        element = found[0]
        if isinstance(element, Carrier):
            if not element.takes(service):
                return Landing(
                    why_not=f"the carrier {text!r} has no compartment for {service}",
                    hint="see its type in wayroom.toml",
                )
            if element.key in closed:
                return Landing(
                    why_not=f"the carrier {text!r} is closed to it", hint="see what wayroom.toml says of its way"
                )
            return Landing((element.key, WHOLE))
        return self._land(element, service, closed)

    def _land(self, equipment: Equipment, service: Service | None, closed: frozenset[str]) -> Landing:
        joined = []
        for key, point in sorted(self._connected.get(equipment.key, ()), key=str):
            carrier = self._carriers[key]
            if carrier.takes(service) and key not in closed:
                spot = place_on(carrier, point) if point is not None else None
                known = point is not None and equipment.point_mm is not None
                drop = distance(equipment.point_mm, point) if known else None  # type: ignore[arg-type]
                joined.append(Landing((key, round(spot[0], PLACES) if spot else 0.0), drop))
        if joined:
            return replace(joined[0], others=tuple(joined[1:]))
        label = equipment.place.label
        if self._is_connected(equipment, service):  # then that is where its cables come in, and nowhere else
            return Landing(
                why_not=f"every carrier that {label} is connected to is closed to it",
                hint="see what wayroom.toml says of its way, or connect it to another carrier",
            )
        if equipment.point_mm is None:
            return Landing(
                why_not=f"it isn't known where {label} is", hint="give it a placement, or name the carrier instead"
            )
        nearest = self._nearest(equipment, equipment.point_mm, service, closed, same_storey=True)
        if nearest is not None:
            return nearest
        reach = f"{self._reach_mm / 1000:g} m"
        barred = (
            self._nearest(equipment, equipment.point_mm, service, frozenset(), same_storey=True) if closed else None
        )
        if barred is not None and barred.node is not None:
            return Landing(
                why_not=f"every carrier that takes {service or 'it'} within {reach} of {label} is closed to it",
                hint=f"see what wayroom.toml says of its way; the nearest is {self._carriers[barred.node[0]].place.label}",
            )
        elsewhere = self._nearest(equipment, equipment.point_mm, service, closed, same_storey=False)
        hint = "join it, name a carrier instead, or set reach_m in wayroom.toml"
        if elsewhere is not None and elsewhere.node is not None:
            other = self._carriers[elsewhere.node[0]]
            hint = f"{other.place.label} is {(elsewhere.drop_mm or 0.0) / 1000:.2f} m away, but on storey {other.place.storey!r}; {hint}"
        elif (far := self._nearest_of_all(equipment.point_mm, service, closed)) is not None:
            hint = f"the nearest is {far[1]}, {far[0] / 1000:.2f} m away; {hint}"
        return Landing(
            why_not=f"no carrier that takes {service or 'it'} is within {reach} of {label} on its storey", hint=hint
        )

    def _is_connected(self, equipment: Equipment, service: Service | None) -> bool:
        """Whether equipment is connected to a carrier that takes a service."""
        return any(self._carriers[key].takes(service) for key, _ in self._connected.get(equipment.key, ()))

    def _nearest_of_all(self, point: Vec, service: Service | None, closed: frozenset[str]) -> tuple[float, str] | None:
        """How far the nearest of all carriers that take a service is, and what it is called; looked for a few times only, as it is slow."""
        if self._looked_far >= MOST_FAR:
            return None
        self._looked_far += 1
        fitting = (carrier for carrier in self._all if carrier.takes(service) and carrier.key not in closed)
        spots = ((place_on(carrier, point), carrier.place.label) for carrier in fitting)
        return min(((round(spot[1], 1), label) for spot, label in spots if spot is not None), default=None)

    def _spots(
        self, equipment: Equipment, point: Vec, service: Service | None, closed: frozenset[str], *, same_storey: bool
    ) -> list[tuple[float, str, float]] | None:
        """How far carriers within reach are, with their keys and the places on them, the nearest first; None: there are too many."""
        found: list[tuple[float, str, float]] = []
        storey = equipment.place.storey.strip()
        around = self._grid.near(point, MOST_AROUND)
        for carrier in [self._all[number] for number in around or ()]:
            other = carrier.place.storey.strip()
            if not carrier.takes(service) or carrier.key in closed:
                continue
            if same_storey and storey and other and other != storey:
                continue
            spot = place_on(carrier, point)
            if spot is not None and spot[1] <= self._reach_mm:
                found.append((round(spot[1], 1), carrier.key, round(spot[0], PLACES)))
        return None if around is None else sorted(found)

    def _nearest(
        self, equipment: Equipment, point: Vec, service: Service | None, closed: frozenset[str], *, same_storey: bool
    ) -> Landing | None:
        """The nearest carrier within reach, and those that are as near; no node where there are too many to tell."""
        found = self._spots(equipment, point, service, closed, same_storey=same_storey)
        near = found or []
        nearest = [Landing((key, along), drop) for drop, key, along in near if drop == near[0][0]]
        if found is None or len(nearest) > MOST_AS_NEAR:
            return Landing(
                why_not=f"too many carriers lie around {equipment.place.label} to tell which it belongs to",
                hint="give the elements their places in the model, or name a carrier instead",
            )
        return replace(nearest[0], others=tuple(nearest[1:])) if nearest else None

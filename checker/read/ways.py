"""What the project file says of circuits' ways, put to the carriers and circuits that there are."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from checker.model import Carrier, Circuit, Problem, Service, WayLimits
from checker.model.texts import listed, natural, quoted
from checker.model.words import wildcard
from checker.read.project import FILE_NAME, Project
from checker.read.project_ways import RedundantSpec, WaySpec

UNUSED = "so what it says is used nowhere"


@dataclass(slots=True)
class Led:
    """Circuits with what the project says of their ways, and what of that fits nothing."""

    circuits: list[Circuit]
    problems: list[Problem] = field(default_factory=list)


def with_way_limits(circuits: Sequence[Circuit], carriers: Sequence[Carrier], project: Project) -> Led:
    """Puts ``[[closed]]``, ``[[ways]]`` and ``[[redundant]]`` to circuits.

    A name in them is a pattern of GlobalIds, tags, names and types of carriers, or of marks of circuits.
    """
    led = Led(list(circuits))
    names = _Names(carriers, led.problems)
    closed, told = frozenset[str](), tuple[str, ...]()
    for number, spec in enumerate(project.closed, start=1):
        where = f"{FILE_NAME}, [[closed]] {number}"
        found = names.find(spec.carriers, where)
        closed |= found
        told += (f"{_or(spec.carriers)} closed: {spec.reason}",) if found else ()
    everywhere = WayLimits((), closed, told)
    ways = [_Way(spec, carriers, names, number) for number, spec in enumerate(project.ways, start=1)]
    known: dict[
        tuple[tuple[int, ...], Service | None], WayLimits
    ] = {}  # one object for all that the same entries speak of
    for number, circuit in enumerate(led.circuits):
        fitting = tuple(place for place, way in enumerate(ways) if way.speaks_of(circuit))
        if (fitting, circuit.service) not in known:
            parts = [ways[place].limits_of(circuit.service) for place in fitting]
            known[fitting, circuit.service] = _together([everywhere, *parts])
        led.circuits[number] = replace(circuit, limits=known[fitting, circuit.service])
    for way in ways:
        if not way.is_used and circuits:
            what = f"no circuit of the schedule fits it ({way.name})"
            led.problems.append(
                Problem(way.where, what, UNUSED, "compare its patterns with the schedule's marks and services")
            )
    _pair(led, project.redundant)
    return led


class _Names:
    """Carriers by patterns of what they are called."""

    def __init__(self, carriers: Sequence[Carrier], problems: list[Problem]) -> None:
        self._carriers, self._problems = carriers, problems

    def find(self, patterns: Iterable[str], where: str) -> frozenset[str]:
        """The keys of all that fit one of some patterns; a pattern that nothing fits is told."""
        found = set()
        for pattern in patterns:
            fits = wildcard(pattern.strip()).fullmatch
            fitting = {
                item.key
                for item in self._carriers
                # what has no name isn't what an empty pattern means
                if any(text and fits(text) for text in (*item.place.names, item.type_name.strip()))
            }
            if not fitting:
                what = f"no carrier has a GlobalId, tag, name or type like {quoted(pattern)}"
                self._problems.append(Problem(where, what, UNUSED, "compare it with the columns of segments.csv"))
            found |= fitting
        return frozenset(found)


class _Way:
    """One entry of ``[[ways]]``."""

    def __init__(self, spec: WaySpec, carriers: Sequence[Carrier], names: _Names, number: int) -> None:
        self.spec, self.where, self.is_used = spec, f"{FILE_NAME}, [[ways]] {number}", False
        self.name = ", ".join((*spec.circuits, *spec.services))
        self._marks = [wildcard(pattern) for pattern in spec.circuits]
        self._carriers = carriers
        groups = [(pattern, names.find([pattern], self.where)) for pattern in spec.via]
        closed = names.find(spec.avoid, self.where)
        if spec.kinds:
            closed |= {item.key for item in carriers if item.kind not in spec.kinds}
        via = tuple(group for _, group in groups if group)
        self.limits = WayLimits(via, closed, (self._told(),), tuple(pattern for pattern, group in groups if not group))

    def _told(self) -> str:
        parts = [f"by way of {', then '.join(self.spec.via)}"] if self.spec.via else []
        parts += [f"not by {_or(self.spec.avoid)}"] if self.spec.avoid else []
        parts += [f"by {_or(self.spec.kinds)} only"] if self.spec.kinds else []
        parts += ["by its service's own containment only"] if self.spec.own_containment else []
        return ", ".join(parts) + (f": {self.spec.reason}" if self.spec.reason else "")

    def speaks_of(self, circuit: Circuit) -> bool:
        """Whether it speaks of a circuit."""
        marked = not self._marks or any(pattern.fullmatch(circuit.mark) for pattern in self._marks)
        fits = marked and (not self.spec.services or circuit.service in self.spec.services)
        self.is_used = self.is_used or fits
        return fits

    def limits_of(self, service: Service | None) -> WayLimits:
        """What it says of circuits of a service, whose own containment is what has a compartment that names it."""
        if not self.spec.own_containment:
            return self.limits
        others = {
            item.key
            for item in self._carriers
            if not any(lane.services is not None and service in lane.services for lane in item.section.lanes)
        }
        return replace(self.limits, closed=self.limits.closed | others)


def _together(limits: Sequence[WayLimits]) -> WayLimits:
    return WayLimits(
        tuple(group for one in limits for group in one.via),
        frozenset().union(*(one.closed for one in limits)),
        tuple(text for one in limits for text in one.told),
        tuple(pattern for one in limits for pattern in one.lacking),
    )


def _pair(led: Led, specs: Iterable[RedundantSpec]) -> None:
    """Makes circuits of one mark and the other keep apart from each other; one without the other is told."""
    places = {circuit.mark: number for number, circuit in enumerate(led.circuits)}
    apart: dict[str, set[str]] = {}
    for number, spec in enumerate(specs, start=1):
        where = f"{FILE_NAME}, [[redundant]] {number}"
        partners: dict[str, set[str]] = {}  # a mark that both patterns fit may have one by each
        for one, other in (spec.circuits, spec.circuits[::-1]):
            fits = _captured(one).fullmatch
            for mark in places:
                if (found := fits(mark)) is not None:
                    partners.setdefault(mark, set()).add(_filled(other, found.groups()))
        alone = [
            f"{mark} (no {_or(sorted(partners[mark], key=natural))})"
            for mark in sorted(partners, key=natural)
            if partners[mark].isdisjoint(places)
        ]
        for mark, others in partners.items():
            for partner in others & places.keys() - {mark}:
                apart.setdefault(mark, set()).add(partner)
        if not partners and places:
            what = f"no circuit has a mark like {quoted(spec.circuits[0])} or {quoted(spec.circuits[1])}"
            led.problems.append(Problem(where, what, UNUSED, "compare it with the marks of the schedule"))
        if alone:
            what = f"circuits have no other to keep apart from: {listed(alone)}"
            hint = "compare it with the marks of the schedule"
            led.problems.append(Problem(where, what, f"{UNUSED} for them", hint, elements=len(alone)))
    for mark, others in apart.items():
        circuit = led.circuits[places[mark]]
        led.circuits[places[mark]] = replace(circuit, apart_from=tuple(sorted({*circuit.apart_from, *others})))


def _captured(pattern: str) -> re.Pattern[str]:
    """A pattern that keeps what its wildcards stand for."""
    return re.compile(re.escape(pattern).replace(r"\*", "(.*)").replace(r"\?", "(.)"), re.DOTALL)


def _filled(pattern: str, parts: Iterable[str]) -> str:
    """A pattern with its wildcards, in order, made what they stand for."""
    texts, left = re.split(r"[*?]", pattern), [*parts, ""]
    return "".join(text + part for text, part in zip(texts, left, strict=True))


def _or(names: Sequence[str]) -> str:
    return " or ".join(names)

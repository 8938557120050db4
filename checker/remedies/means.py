"""What trying needs at hand: who lies where, what the catalogue has, other ways, and a quick look before anything is tried in earnest."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

from checker.judging import asking, filled
from checker.model import (
    Carrier,
    Circuit,
    Condition,
    FilledCompartment,
    Installation,
    LoadedCompartment,
    Port,
    State,
)
from checker.model.texts import natural
from checker.network.joining import find_joins
from checker.network.redundant import apart_groups
from checker.network.reroute import Detours
from checker.network.route import Route, RoutedBy
from checker.network.sizing import empty_compartment, insides
from checker.remedies.clashes import clashes
from checker.result.remedy_tables import RemedyRow
from checker.result.tables import FindingRow
from checker.rule import Outcome, judge, judge_subject
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.trial import Change, Situation, Trials

MOVED_STATES = {State.NEW, State.SPARE}
#: Ways that the schedule can give anew: not those that the model draws, or that wayroom.toml asks for.
MOVED_WAYS = {RoutedBy.SCHEDULE, RoutedBy.SHORTEST}


@dataclass(frozen=True, slots=True)
class Stretch:
    """Findings that fail by one cause, next to each other: what is tried is to mend all of them."""

    findings: tuple[FindingRow, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """The carriers that they are told at, each once."""
        return tuple(dict.fromkeys(key for row in self.findings for key in row.carriers))

    @property
    def compartment(self) -> int | None:
        """The compartment that they are of; of one topic it is one."""
        return self.findings[0].compartment

    @property
    def ids(self) -> tuple[str, ...]:
        """Those of its findings."""
        return tuple(row.id for row in self.findings)


class Seen:
    """What was tried or ruled out, in order: for all of a stretch, or for one finding of it."""

    def __init__(self) -> None:
        self._labels: list[tuple[str, str]] = []
        self._barred: dict[str, str] = {}

    def note(self, label: str, finding: str = "") -> None:
        """Something was tried or ruled out."""
        self._labels.append((label, finding))

    def bar(self, why: str, finding: str = "") -> None:
        """There is nothing to try, for a reason."""
        self._barred[finding] = why

    def why_not(self, finding: str) -> str:
        """Why there was nothing to try for a finding; empty where nothing bars it."""
        return self._barred.get(finding) or self._barred.get("", "")

    def of(self, finding: str) -> list[str]:
        """What was looked at for a finding, each once."""
        return list(dict.fromkeys(label for label, own in self._labels if own in {"", finding}))


@dataclass(frozen=True, slots=True)
class Try:
    """Something to try, with what would be told of it: ``row.findings`` are those that it is to mend.

    ``label``: what was tried then, if nothing comes out right.
    """

    changes: tuple[Change, ...]
    row: RemedyRow
    label: str = ""


class Means:
    """What there is to try with.

    Args:
        situation: What was found.
        code: Whose limits apply.
        plugins: The rules and catalogues that there are.
    """

    def __init__(self, situation: Situation, code: Code, plugins: Plugins) -> None:
        self.situation, self.plugins = situation, plugins
        self.trials = Trials(situation, code, plugins)
        self.detours = Detours(situation.installation, situation.routing)
        self.carriers: dict[str, Carrier] = situation.routing.network.carriers
        self.circuits: dict[str, Circuit] = {circuit.mark: circuit for circuit in situation.installation.circuits}
        self.routes: dict[str, Route] = {route.circuit: route for route in situation.routing.routes}
        self._code = code

    @cached_property
    def loaded(self) -> dict[tuple[str, int], LoadedCompartment]:
        """Every compartment, by carrier and number."""
        return {(item.carrier.key, item.number): item for item in self.situation.loading.compartments}

    @cached_property
    def meets(self) -> dict[str, set[str]]:
        """Every element with what it is joined to."""
        return self.situation.routing.network.meets()

    def shares_type(self, carriers: Iterable[Carrier]) -> bool:
        """Whether others have a type that some carriers have: what is done to the type is done to them too, and wasn't tried."""
        keys: dict[tuple[str, str], set[str]] = defaultdict(set)
        for own in carriers:
            if own.type_name:
                keys[own.place.model, own.type_name].add(own.key)
        return any(not self._of_type[named] <= own for named, own in keys.items())

    @cached_property
    def _of_type(self) -> dict[tuple[str, str], set[str]]:
        """The carriers of each type, by file and name."""
        found: dict[tuple[str, str], set[str]] = defaultdict(set)
        for own in self.carriers.values():
            found[own.place.model, own.type_name].add(own.key)
        return found

    def is_new(self, keys: Iterable[str]) -> bool:
        """Whether none of some carriers is there already."""
        return all(self.carriers[key].condition is not Condition.EXISTING for key in keys)

    def lies_in(self, mark: str, key: str, number: int) -> bool:
        """Whether a circuit lies in one compartment for certain; in none that isn't there."""
        loaded = self.loaded.get((key, number))
        return loaded is not None and any(cable.circuit == mark for cable in loaded.cables)

    def lying(self, keys: Iterable[str], number: int | None) -> dict[str, float]:
        """Circuits that lie in some carriers for certain, by their marks, with the most of one's area that they occupy, in mm²."""
        most: dict[str, float] = {}
        for key in keys:
            here: dict[str, float] = {}
            for lane in self.carriers[key].section.lanes:
                if number in {None, lane.number}:
                    for cable in self.loaded[key, lane.number].cables:
                        here[cable.circuit] = here.get(cable.circuit, 0.0) + (cable.occupied_mm2 or 0.0)
            for mark, area in here.items():
                most[mark] = max(area, most.get(mark, 0.0))
        return most

    def movable(self, areas: dict[str, float], among: Iterable[str] | None = None) -> list[str]:
        """Those of some circuits that can be led otherwise by their schedule, those that take most room first."""
        allowed = None if among is None else set(among)
        found = [
            mark
            for mark in areas
            if mark in self.circuits
            and (allowed is None or mark in allowed)
            and self.circuits[mark].state in MOVED_STATES
            and self.routes[mark].routed_by in MOVED_WAYS
            and not self.routes[mark].has_gap
            and not self.circuits[mark].limits.told
            and not self.circuits[mark].returns_other_way  # no column route says how
            and mark not in self.leading
        ]
        return sorted(found, key=lambda mark: (-areas[mark], natural(mark), mark))

    @cached_property
    def leading(self) -> set[str]:
        """Circuits after which others are led, that have to keep apart from them: those would go elsewhere with another way given."""
        circuits, found = self.situation.installation.circuits, set[str]()
        for group in apart_groups(circuits):
            marks = [circuits[number].mark for number in group]
            led = {mark for mark in marks if self.routes[mark].routed_by not in {RoutedBy.SCHEDULE, RoutedBy.DRAWN}}
            found |= {mark for mark in marks if led - {mark}}
        return found

    def fits(self, stretch: Stretch, sized: dict[str, Carrier]) -> bool:
        """Whether all of a stretch may pass with carriers resized: False only where the rule asked of its compartments alone says no."""
        return all(self._may_pass(row, loaded) for row, loaded in self._resized(stretch, sized))

    def keeps_joins(self, sized: dict[str, Carrier]) -> bool:
        """Whether carriers join what they joined before when they are resized: a larger one may come to touch what it passes by."""
        part = self.trials.carver.around(sized.keys(), ()).installation
        elements = [*(own.key for own in part.carriers), *(own.key for own in part.fittings)]
        ports = tuple(port for key in elements for port in self._ports.get(key, ()))
        before = replace(part, equipment=(), ports=ports)
        after = replace(before, carriers=tuple(sized.get(own.key, own) for own in before.carriers))
        return _joined(before) == _joined(after)

    def has_room(self, sized: dict[str, Carrier]) -> bool:
        """Whether carriers reach into no others, farther than before, when they are resized."""
        around = self.trials.carver.around(sized.keys(), ()).installation.carriers
        return not clashes(sized, around, self.situation.routing.network.neighbours())

    @cached_property
    def _ports(self) -> dict[str, list[Port]]:
        ports: dict[str, list[Port]] = defaultdict(list)
        for port in self.situation.installation.ports:
            ports[port.element].append(port)
        return ports

    def relieved(self, stretch: Stretch, marks: Iterable[str]) -> bool:
        """Whether all of a stretch may pass without some circuits."""
        gone = set(marks)
        return all(
            self._may_pass(row, replace(loaded, cables=tuple(it for it in loaded.cables if it.circuit not in gone)))
            for row in stretch.findings
            if (loaded := self._at(row)) is not None
        )

    def _at(self, row: FindingRow) -> LoadedCompartment | None:
        return None if row.compartment is None else self.loaded.get((row.carriers[0], row.compartment))

    def _resized(self, stretch: Stretch, sized: dict[str, Carrier]) -> Iterator[tuple[FindingRow, LoadedCompartment]]:
        for row in stretch.findings:
            before = self._at(row)
            if before is not None:
                carrier = sized[before.carrier.key]
                inside = insides(carrier, self._code.sizes)[before.number - 1]
                empty = empty_compartment(carrier, before.number, inside)
                yield (
                    row,
                    replace(
                        empty,
                        cables=before.cables,
                        possible=before.possible,
                        possible_doubts=before.possible_doubts,
                        unbounded=before.unbounded,
                        run=before.run,
                    ),
                )

    def _may_pass(self, row: FindingRow, loaded: LoadedCompartment) -> bool:
        """What the rule of a finding says of one compartment alone; True where it asks about more than that."""
        rule = self.plugins.rules[row.rule]
        asked = asking(rule, self._code)
        if rule.subject is LoadedCompartment:
            return not rule.asks(loaded) or asked.of(judge, loaded).outcome is Outcome.PASS
        if rule.subject is FilledCompartment:
            alone = replace(self.situation.loading, compartments=(loaded,))
            subjects = filled(alone, self.plugins.rules, self._code)
            return all(
                asked.of(judge_subject, subject).outcome is Outcome.PASS for subject in subjects if rule.asks(subject)
            )
        return True


def _joined(installation: Installation) -> set[frozenset[tuple[str, str]]]:
    return {frozenset((join.one.mark, join.other.mark)) for join in find_joins(installation).joins}

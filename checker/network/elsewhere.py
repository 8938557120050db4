"""Compartments and circuits as rules would be asked about them if circuits took other ways."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from checker.model import Enclosure, LoadedCompartment, Member, RoutedCircuit
from checker.model.texts import few_of
from checker.network.grouping import Grouped, enclosure_of
from checker.network.loading import Loading, Place
from checker.network.near_loading import Budget, Lying, NearLoading, Passes, steps_of
from checker.network.near_ways import NearWay, NearWays
from checker.rule.verdict import Outcome

Choice = TypeVar("Choice")
#: Looking whether a circuit could do without a carrier is a search, about as much work as so many steps.
SEARCH_STEPS = 8
#: Ways by which a circuit lies otherwise, and how it lies then; no way: one that was only found by closing a carrier.
Choices = list[tuple[NearWay | None, Choice]]


class Elsewhere:
    """Puts circuits where their near ways lead.

    Attributes:
        found: Where circuits that have near ways, or could have, lie now, by mark.
        led: The near ways of circuits, with where they would lie then, the least long first.

    What would cost more than is left of the budget raises ``SpentError``.

    Args:
        near: The ways that circuits could as well take.
        loading: What lies where.
        where: Where cables would lie on other ways.
        grouped: What heats what.
        budget: How much may be asked.
    """

    def __init__(self, near: NearWays, loading: Loading, where: NearLoading, grouped: Grouped, budget: Budget) -> None:
        self._near, self._where, self._grouped, self._budget = near, where, grouped, budget
        self._compartments: dict[str, list[LoadedCompartment]] = defaultdict(list)
        for item in loading.compartments:
            self._compartments[item.carrier.key].append(item)
        self.found = {mark: where.lying(mark, route.visits) for mark, (_, route) in near.asked.items()}
        self.led: dict[str, list[tuple[NearWay, Lying]]] = {}
        self._differ: dict[str, set[str]] = defaultdict(set)
        self._could: dict[tuple[str, str], bool] = {}
        self._moving: dict[tuple[str, Outcome], list[str]] = {}
        self._between: dict[tuple[str, Place, Outcome], Passes] = {}
        self._through_of: dict[tuple[str, str, Outcome], Passes] = {}
        self._of_one: dict[tuple[object, ...], Enclosure] = {}
        for mark, ways in near.ways.items():
            route, found = near.asked[mark][1], self.found[mark]
            by_length = sorted(ways, key=lambda way: way.longer_mm)
            self.led[mark] = [(way, where.lying(mark, where.led(route, way))) for way in by_length]
            for _, lying in self.led[mark]:
                for (key, _), _ in lying.compartments.items() ^ found.compartments.items():
                    self._differ[key].add(mark)

    def moving(self, key: str, outcome: Outcome) -> list[str]:
        """Circuits that may lie otherwise in a carrier than they do."""
        if (key, outcome) not in self._moving:
            here = (member.load.mark for member in self._grouped.enclosures[key].members)
            leaving = {mark for mark in here if self._could_leave(mark, key, outcome)}
            moving = self._differ.get(key, set()) | leaving
            self._budget.spend(steps_of(len(moving)) if moving else 0)
            self._moving[key, outcome] = sorted(moving)
        return self._moving[key, outcome]

    def _could_leave(self, mark: str, key: str, outcome: Outcome) -> bool:
        """Whether a circuit could do without a carrier, which is looked into for a fail only: on a pass it hardly bears."""
        if outcome is not Outcome.FAIL or mark not in self.found:
            return False
        if (mark, key) not in self._could:
            self._budget.spend(SEARCH_STEPS)
            self._could[mark, key] = self._near.can_do_without(mark, key)
        return self._could[mark, key]

    def choices(self, mark: str, place: Place, outcome: Outcome) -> Choices[Passes]:
        """The ways by which a circuit's passes through a compartment are others, the least long first."""
        now, ways = self.found[mark].at(place), self.led.get(mark, ())
        found: Choices[Passes] = [(way, lying.at(place)) for way, lying in ways if lying.at(place) != now]
        if self._leaves_unseen(mark, place[0], outcome) and now != (0, 0):
            found.append((None, (0, 0)))
        return found

    def _leaves_unseen(self, mark: str, key: str, outcome: Outcome) -> bool:
        """Whether a circuit could do without a carrier by a way that isn't among its near ways."""
        ways = self.led.get(mark, ())
        return all(key in lying.carriers for _, lying in ways) and self._could_leave(mark, key, outcome)

    def between(self, mark: str, place: Place, outcome: Outcome) -> Passes:
        """The fewest passes of a circuit through a compartment, and how many more there may be."""
        if (mark, place, outcome) not in self._between:
            self._between[mark, place, outcome] = self._range(mark, place[0], outcome, lambda lying: lying.at(place))
        return self._between[mark, place, outcome]

    def _through(self, mark: str, key: str, outcome: Outcome) -> Passes:
        """The same through a carrier."""
        if (mark, key, outcome) not in self._through_of:
            self._through_of[mark, key, outcome] = self._range(
                mark, key, outcome, lambda lying: (lying.carriers.get(key, 0), 0)
            )
        return self._through_of[mark, key, outcome]

    def _range(self, mark: str, key: str, outcome: Outcome, of: Callable[[Lying], Passes]) -> Passes:
        """The fewest and further passes through a part of a carrier; of several legs each may be led otherwise."""
        sure, perhaps = of(self.found[mark])
        fewest, most = sure, sure + perhaps
        legs: dict[int, list[Passes]] = defaultdict(list)
        for way, lying in self.led.get(mark, ()):
            legs[way.leg].append(of(lying))
        for ways in legs.values():
            fewest += min(0, *(one - sure for one, _ in ways))
            most += max(0, *(one + more - sure - perhaps for one, more in ways))
        fewest = 0 if self._could_leave(mark, key, outcome) else max(fewest, 0)
        return fewest, most - fewest

    def loaded(self, subject: LoadedCompartment, passes: Mapping[str, Passes]) -> LoadedCompartment:
        """A compartment in which circuits lie otherwise: their passes for certain, and those that may be."""
        cables = [cable for cable in subject.cables if cable.circuit not in passes]
        possible = [cable for cable in subject.possible if cable.circuit not in passes]
        for mark, (sure, perhaps) in passes.items():
            cables += self._where.cables(mark, sure)
            possible += self._where.cables(mark, perhaps)
        return replace(subject, cables=tuple(cables), possible=tuple(possible))

    def _enclosed(
        self, enclosure: Enclosure, passes: Mapping[str, Passes], of: Callable[[str, Place], Passes]
    ) -> Enclosure:
        """An enclosure in which circuits lie otherwise.

        Args:
            enclosure: As it is.
            passes: Through it, by mark: for certain, and those that may be.
            of: The same through a compartment.
        """
        key = enclosure.carrier.key
        self._budget.spend(steps_of(len(enclosure.members) + len(enclosure.possible) + len(passes)))
        compartments = [
            self.loaded(item, {mark: of(mark, (key, item.number)) for mark in passes})
            for item in self._compartments[key]
        ]
        members = [member for member in enclosure.members if member.load.mark not in passes]
        possible = [member for member in enclosure.possible if member.load.mark not in passes]
        for mark, (sure, perhaps) in passes.items():
            members += [Member(self._grouped.loads[mark], sure)] if sure else []
            possible += [Member(self._grouped.loads[mark], perhaps)] if perhaps else []
        return enclosure_of(compartments, tuple(members), tuple(possible))

    def among(self, subject: RoutedCircuit, others: Mapping[str, Lying], outcome: Outcome) -> RoutedCircuit:
        """A circuit among others that lie elsewhere than they do."""
        enclosures = []
        for enclosure in subject.enclosures:
            key = enclosure.carrier.key
            passes = {
                mark: (others[mark].carriers.get(key, 0), 0) for mark in self.moving(key, outcome) if mark in others
            }
            enclosures.append(
                self._enclosed(enclosure, passes, lambda mark, place: others[mark].at(place)) if passes else enclosure
            )
        return replace(subject, enclosures=tuple(enclosures))

    def with_others(self, subject: RoutedCircuit, outcome: Outcome) -> RoutedCircuit:
        """A circuit among others that may lie wherever their near ways lead."""
        mine, enclosures = subject.load.mark, []
        for enclosure in subject.enclosures:
            key = enclosure.carrier.key
            if (enclosure, outcome) not in self._of_one:
                passes = {mark: self._through(mark, key, outcome) for mark in self.moving(key, outcome) if mark != mine}
                self._of_one[enclosure, outcome] = (
                    self._enclosed(enclosure, passes, lambda mark, place: self.between(mark, place, outcome))
                    if passes
                    else enclosure
                )
            enclosures.append(self._of_one[enclosure, outcome])
        return replace(subject, enclosures=tuple(enclosures))

    def on_ways(self, subject: RoutedCircuit) -> list[tuple[NearWay, RoutedCircuit]]:
        """A circuit on each of its near ways. What was kept of the circuit before is let go."""
        self._of_one.clear()
        return [(way, self._on(subject, lying)) for way, lying in self.led.get(subject.load.mark, ())]

    def _on(self, subject: RoutedCircuit, lying: Lying) -> RoutedCircuit:
        """A circuit on another way."""
        mark = subject.load.mark
        passed = []
        for key in lying.carriers:
            enclosure = self._grouped.enclosures[key]
            if mark in self._differ.get(key, ()):
                here = (key, lying.carriers[key], lying.within((key,)))
                if here not in self._of_one:
                    passes = {mark: (lying.carriers[key], 0)}
                    self._of_one[here] = self._enclosed(enclosure, passes, lambda _, place: lying.at(place))
                enclosure = self._of_one[here]
            passed.append(enclosure)
        doubts = few_of(doubt for item in passed if item.unbounded for doubt in item.doubts)
        return replace(subject, enclosures=tuple(passed), open_doubts=doubts)

    def others(self, subjects: Sequence[RoutedCircuit], outcome: Outcome) -> dict[str, Choices[Lying]]:
        """Other circuits that could come to lie on a circuit's ways, or leave them, each with the ways by which.

        Of ways that are alike there the least long one.
        """
        mine = subjects[0].load.mark
        passed = dict.fromkeys(item.carrier.key for subject in subjects for item in subject.enclosures)
        found: dict[str, Choices[Lying]] = defaultdict(list)
        for key in passed:
            moving = self.moving(key, outcome)
            self._budget.spend(steps_of(len(moving)))
            for mark in moving:
                if mark != mine and self._leaves_unseen(mark, key, outcome) and key in self.found[mark].carriers:
                    found[mark].append((None, self.found[mark].without(key)))
                elif mark != mine:
                    found[mark] += []
        for mark, unseen in found.items():
            self._budget.spend(steps_of(len(self.led.get(mark, ()))))
            alike = {self.found[mark].within(passed)}
            ways = []
            for way, lying in self.led.get(mark, ()):
                if lying.within(passed) not in alike:
                    alike.add(lying.within(passed))
                    ways.append((way, lying))
            found[mark] = [*ways, *unseen]
        return {mark: found[mark] for mark in sorted(found) if found[mark]}

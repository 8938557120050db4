"""Would a verdict be the same if circuits took other ways that are only a little longer?

Nothing but the length tells the way that was found from those, so a verdict that hangs on the choice says so, and on whose way.
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from checker.judging import Judged, JudgedCircuit
from checker.model import Carrier, Enclosure, LoadedCompartment, Member, PlacedCable, RoutedCircuit
from checker.model.texts import listed
from checker.network.grouping import Grouped, enclosure_of
from checker.network.loading import Loading, Place
from checker.network.near_loading import NearLoading
from checker.network.near_ways import NearWay, NearWays
from checker.rule import Outcome, Rule, judge, judge_circuit
from checker.rule.code import Code
from checker.rule.limits import Limits
from checker.units import metres

#: So many circuits, each of which a verdict hangs on, are named; of so many it is asked whether it does.
NAMED, ASKED = 3, 40
DECIDED = {Outcome.PASS, Outcome.FAIL}
WOULD = {Outcome.PASS: "would pass", Outcome.FAIL: "would fail", Outcome.UNKNOWN: "would not be known"}

AnyJudged = TypeVar("AnyJudged", Judged, JudgedCircuit)
Coming = list[tuple[NearWay, tuple[PlacedCable, ...]]]


@dataclass(frozen=True, slots=True)
class Told:
    """What is to be said of a verdict. ``is_same``: it is so on all near ways."""

    text: str
    is_same: bool


class Sureness:
    """Asks the rules about the near ways, too.

    Args:
        near: The ways that circuits could as well take.
        near_mm: How much longer these may be, as the project says.
        loading: What lies where.
        where: Where cables would lie on other ways.
        grouped: What heats what.
        carriers: By key.
        rules: By id.
        code: Whose limits hold.
    """

    def __init__(
        self,
        near: NearWays,
        near_mm: float,
        loading: Loading,
        where: NearLoading,
        grouped: Grouped,
        carriers: Mapping[str, Carrier],
        rules: Mapping[str, Rule],
        code: Code,
    ) -> None:
        self._near, self._grouped, self._carriers, self._rules, self._code = near, grouped, carriers, rules, code
        self._near_m = metres(near_mm)
        more = f"; {listed(sorted(near.cut_short))} has more than were looked at" if near.cut_short else ""
        self._same = Told(f"the same on all ways of its circuits up to {self._near_m:g} m longer{more}", is_same=True)
        self._compartments: dict[str, list[LoadedCompartment]] = defaultdict(list)
        for item in loading.compartments:
            self._compartments[item.carrier.key].append(item)
        self._coming: dict[Place, Coming] = defaultdict(list)
        for mark in sorted(near.ways):
            for way in near.ways[mark]:
                for place, cables in where.on_way(mark, way.visits).items():
                    self._coming[place].append((way, cables))

    def told(
        self, judged: Iterable[Judged], rated: Iterable[JudgedCircuit]
    ) -> tuple[list[Judged], list[JudgedCircuit]]:
        """The same verdicts, each with whether it hangs on the ways of circuits; where it does its reason says so."""
        return (
            [_with(item, self.of_compartment(item)) for item in judged],
            [_with(item, self.of_circuit(item)) for item in rated],
        )

    def of_compartment(self, judged: Judged) -> Told | None:
        """What is to be said of a verdict on a compartment; None of one that is unknown, or that no rule gave."""
        rule, verdict, subject = self._rules.get(judged.rule), judged.verdict, judged.subject
        if verdict.outcome not in DECIDED or rule is None:
            return None
        limits = self._code.limits[rule.id]
        coming = self._coming.get((subject.carrier.key, subject.number), [])
        leaving = self._leaving(subject.carrier.key, {cable.circuit for cable in subject.cables}, verdict.outcome)
        if not coming and not leaving:
            return self._same
        if judge(rule, _either(subject, coming, leaving), limits).outcome is verdict.outcome:
            return self._same
        flips = [
            (mark, way, outcome)
            for mark, way, changed in self._one_at_a_time(subject, coming, leaving)
            if (outcome := judge(rule, changed, limits).outcome) is not verdict.outcome
        ]
        return self._hangs(verdict.outcome, flips, {way.circuit for way, _ in coming} | leaving)

    def of_circuit(self, judged: JudgedCircuit) -> Told | None:
        """What is to be said of a circuit's rating: on its own near ways, and with the others on theirs."""
        rule, outcome, subject = self._rules[judged.rule], judged.verdict.outcome, judged.subject
        if outcome not in DECIDED:
            return None
        limits = self._code.limits[rule.id]
        mark = subject.load.mark
        own = [(way, self._on(subject, way)) for way in self._near.ways.get(mark, ())]
        if all(self._ask(rule, one, limits, outcome) is outcome for one in (subject, *(other for _, other in own))):
            return self._same
        flips: list[tuple[str, NearWay | None, Outcome]] = [
            (mark, way, found)
            for way, other in own
            if (found := judge_circuit(rule, other, limits).outcome) is not outcome
        ]
        others = self._others(subject, outcome)
        for other in sorted(others)[:ASKED] if not flips else ():
            found = self._ask(rule, subject, limits, outcome, {other})
            if found is not outcome:
                flips.append((other, others[other], found))
        return self._hangs(outcome, flips, {mark, *others})

    def _leaving(self, carrier: str, marks: Iterable[str], outcome: Outcome) -> set[str]:
        """Circuits that lie in a carrier and could do without it; of a pass, on which they hardly bear, by the ways known already."""
        if outcome is Outcome.FAIL:
            return {mark for mark in marks if self._near.can_do_without(mark, carrier)}
        return {mark for mark in marks if any(carrier not in way.carriers for way in self._near.ways.get(mark, ()))}

    def _one_at_a_time(
        self, subject: LoadedCompartment, coming: Coming, leaving: set[str]
    ) -> Iterator[tuple[str, NearWay | None, LoadedCompartment]]:
        """The compartment with one circuit led otherwise, for each circuit and way."""
        for mark in sorted(leaving)[:ASKED]:
            rest = tuple(cable for cable in subject.cables if cable.circuit != mark)
            yield mark, self._without(mark, subject.carrier.key), replace(subject, cables=rest)
        for way, cables in coming[:ASKED]:
            yield way.circuit, way, replace(subject, cables=(*subject.cables, *cables))

    def _without(self, mark: str, carrier: str) -> NearWay | None:
        """The least long near way of a circuit that doesn't pass a carrier."""
        ways = [way for way in self._near.ways.get(mark, ()) if carrier not in way.carriers]
        return min(ways, key=lambda way: way.longer_mm, default=None)

    def _ask(
        self, rule: Rule, subject: RoutedCircuit, limits: Limits, outcome: Outcome, marks: set[str] | None = None
    ) -> Outcome:
        """The verdict where other circuits, all or some, may lie on its way or not."""
        enclosures = tuple(
            self._perhaps(enclosure, subject.load.mark, outcome, marks) for enclosure in subject.enclosures
        )
        return judge_circuit(rule, replace(subject, enclosures=enclosures), limits).outcome

    def _perhaps(self, enclosure: Enclosure, mine: str, outcome: Outcome, marks: set[str] | None) -> Enclosure:
        """An enclosure in which the circuits that could come or leave may lie or not."""
        key = enclosure.carrier.key
        there = {member.load.mark for member in enclosure.members} - {mine}
        leaving = {mark for mark in self._leaving(key, there, outcome) if marks is None or mark in marks}
        compartments, coming = [], dict[str, None]()
        for item in self._compartments[key]:
            here = [
                (way, cables)
                for way, cables in self._coming.get((key, item.number), ())
                if way.circuit != mine and (marks is None or way.circuit in marks)
            ]
            coming |= dict.fromkeys(way.circuit for way, _ in here)
            compartments.append(_either(item, here, leaving))
        if not coming and not leaving:
            return enclosure
        members = tuple(member for member in enclosure.members if member.load.mark not in leaving)
        away = tuple(member for member in enclosure.members if member.load.mark in leaving)
        come = tuple(Member(self._grouped.loads[mark]) for mark in coming if mark not in leaving)
        return enclosure_of(compartments, members, (*enclosure.possible, *away, *come))

    def _others(self, subject: RoutedCircuit, outcome: Outcome) -> dict[str, NearWay | None]:
        """Other circuits that could come to lie on a circuit's way, or leave it, each with the way by which."""
        mine, found = subject.load.mark, dict[str, NearWay | None]()
        for enclosure in subject.enclosures:
            key = enclosure.carrier.key
            for item in self._compartments[key]:
                found |= {
                    way.circuit: way for way, _ in self._coming.get((key, item.number), ()) if way.circuit != mine
                }
            there = {member.load.mark for member in enclosure.members} - {mine}
            found |= {mark: self._without(mark, key) for mark in self._leaving(key, there, outcome) - found.keys()}
        return found

    def _on(self, subject: RoutedCircuit, way: NearWay) -> RoutedCircuit:
        """A circuit on another way of one of its legs."""
        _, route = self._near.asked[way.circuit]
        keys = [visit.carrier for visit in route.visits if visit.leg != way.leg]
        keys += [visit.carrier for visit in way.visits]
        passed = {enclosure.carrier.key: enclosure for enclosure in subject.enclosures}
        me = Member(subject.load)
        for key in dict.fromkeys(keys):
            if key not in passed:
                there = self._grouped.enclosures[key]
                compartments = [
                    replace(item, cables=(*item.cables, *self._mine(way, key, item.number)))
                    for item in self._compartments[key]
                ]
                passed[key] = enclosure_of(compartments, (*there.members, me), there.possible)
        return replace(subject, enclosures=tuple(passed[key] for key in dict.fromkeys(keys)))

    def _mine(self, way: NearWay, key: str, number: int) -> tuple[PlacedCable, ...]:
        return tuple(cable for other, cables in self._coming.get((key, number), ()) if other == way for cable in cables)

    def _hangs(
        self, outcome: Outcome, flips: Sequence[tuple[str, NearWay | None, Outcome]], marks: Iterable[str]
    ) -> Told:
        """On whose way a verdict hangs, in words."""
        if not flips:
            what = (
                f"hangs on which of their ways {listed(sorted(marks))} take, none more than {self._near_m:g} m longer"
            )
            return Told(what, is_same=False)
        first = dict[str, tuple[NearWay | None, Outcome]]()
        for mark, way, found in flips:
            first.setdefault(mark, (way, found))
        parts = [
            f"fails only if {mark} goes this way: {self._by(way)} it {WOULD[found]}"
            if outcome is Outcome.FAIL
            else f"{WOULD[found]} if {mark} went {self._by(way)}"
            for mark, (way, found) in first.items()
        ]
        return Told(listed(parts, NAMED, "; "), is_same=False)

    def _by(self, way: NearWay | None) -> str:
        if way is None:
            return "by another way"
        return f"by {self._carriers[way.by].place.label} ({metres(way.longer_mm):.2f} m longer)"


def _with(item: AnyJudged, told: Told | None) -> AnyJudged:
    if told is None:
        return item
    reason = item.verdict.reason if told.is_same else f"{item.verdict.reason}; {told.text}"
    return replace(item, other_ways=told.text, verdict=replace(item.verdict, reason=reason))


def _either(subject: LoadedCompartment, coming: Coming, leaving: set[str]) -> LoadedCompartment:
    """A compartment in which the circuits that could come or leave may lie or not."""
    rest = tuple(cable for cable in subject.cables if cable.circuit not in leaving)
    away = tuple(cable for cable in subject.cables if cable.circuit in leaving)
    come = tuple(cable for _, cables in coming for cable in cables)
    return replace(subject, cables=rest, possible=(*subject.possible, *away, *come))

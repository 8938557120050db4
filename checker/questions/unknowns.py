"""Every unknown finding with the answers that would settle it."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from checker.judging import Asking, Judged, JudgedCircuit, JudgedSubject, asking, filled
from checker.model import (
    Carrier,
    CarrierKind,
    DividedFitting,
    Enclosure,
    FilledCompartment,
    Installation,
    LoadedCompartment,
    Member,
    Place,
    PlacedCable,
    Problem,
    ProblemKind,
    RoutedCircuit,
    Section,
    Subject,
)
from checker.network.loading import Loading
from checker.network.route import Routing
from checker.questions import fixes
from checker.questions.inputs import Inputs
from checker.questions.settling import FAVOUR, Needs, Open, all_of, differ, needs_of
from checker.rule import Outcome, Rule, Tells, Verdict, judge, judge_circuit, judge_subject
from checker.rule.code import Code
from checker.rule.needs import INSIDE, SIZE, of_cable, of_sizes, of_type

#: So many verdicts are asked for on all compartments, and on all circuits, each of which counts as often as it has enclosures; beyond that
#: all that is open of a verdict counts as needed. What lies in compartments that are the same is asked about once.
MOST_ASKED = 40_000
#: A plain carrier, as which the way of a circuit is taken whose way isn't known.
ANY = Carrier("", Place("", ""), CarrierKind.TRUNKING, Section())


@dataclass(frozen=True, slots=True)
class Unknown:
    """An unknown finding: who gave it, what it is about, and what would settle it; None: that isn't known."""

    rule: str
    label: str
    carriers: tuple[str, ...]
    circuits: tuple[str, ...]
    needs: Needs


class Unknowns:
    """Finds what would settle unknown findings.

    Args:
        installation: What there is.
        routing: Where circuits go.
        loading: What lies where.
        rules: By id.
        code: Whose limits hold.
    """

    def __init__(
        self, installation: Installation, routing: Routing, loading: Loading, rules: Mapping[str, Rule], code: Code
    ) -> None:
        self._inputs = Inputs(installation, routing, code.sizes)
        self._by_carrier: dict[str, list[LoadedCompartment]] = {}
        for item in loading.compartments:
            self._by_carrier.setdefault(item.carrier.key, []).append(item)
        self._asking = {key: asking(rule, code) for key, rule in rules.items() if key in code.limits}
        self._loading, self._rules, self._code = loading, rules, code
        self._labels = {carrier.key: carrier.place.label for carrier in installation.carriers}
        self._known: dict[object, Needs] = {}
        self._left = MOST_ASKED
        self._unasked = 0

    def problems(self) -> list[Problem]:
        """What is to be said of those that were too many to ask about, once all were gone through."""
        if not self._unasked:
            return []
        return [
            Problem(f"{self._unasked} unknown findings", "there is too much unknown to ask for each which answers are enough",
                    "for these questions.csv counts all that is open as needed", "answer the first questions, and run it again",
                    ProblemKind.INFERENCE, self._unasked)
        ]  # fmt: skip

    def of_all(
        self, judged: Iterable[Judged], rated: Iterable[JudgedCircuit], others: Iterable[JudgedSubject]
    ) -> Iterator[Unknown]:
        """All unknown ones of what was judged."""
        yield from self.of_compartments(judged)
        yield from self.of_circuits(rated)
        yield from self.of_others(others)

    def of_compartments(self, judged: Iterable[Judged]) -> Iterator[Unknown]:
        """Those on compartments, in an order of their own, so that what is asked first doesn't go by the order of files."""
        self._left = MOST_ASKED
        unknown = (item for item in judged if item.verdict.outcome is Outcome.UNKNOWN)
        for item in sorted(unknown, key=lambda one: (one.rule, one.subject.carrier.key, one.subject.number)):
            subject = item.subject
            marks = tuple(sorted({cable.circuit for cable in subject.cables}))
            label = f"{subject.carrier.place.label}/{subject.number}"
            yield Unknown(item.rule, label, (subject.carrier.key,), marks, self._of_compartment(item))

    def of_circuits(self, judged: Iterable[JudgedCircuit]) -> Iterator[Unknown]:
        """Those on circuits."""
        self._left = MOST_ASKED
        unknown = (item for item in judged if item.verdict.outcome is Outcome.UNKNOWN)
        for item in sorted(unknown, key=lambda one: (one.rule, one.subject.load.mark)):
            mark = item.subject.load.mark
            places = (item.place,) if item.place else ()
            yield Unknown(item.rule, f"circuit {mark}", places, (mark,), self._of_circuit(item))

    def of_others(self, judged: Iterable[JudgedSubject]) -> Iterator[Unknown]:
        """Those on anything else."""
        self._left = MOST_ASKED
        unknown = [(item.subject.about, item) for item in judged if item.verdict.outcome is Outcome.UNKNOWN]
        for about, item in sorted(unknown, key=lambda pair: (pair[1].rule, pair[0].carriers, str(pair[0]))):
            label = about.label or ", ".join(self._labels.get(key, key) for key in about.carriers)
            yield Unknown(item.rule, label or "the installation", about.carriers, about.circuits, self._of_other(item))

    def _of_compartment(self, item: Judged) -> Needs:
        subject, more = item.subject, self._inputs.more_in(item.subject)
        same = (item.rule, more, item.verdict.needs, _situation(subject))
        if same not in self._known:
            self._known[same] = self._asked_of_compartment(subject, self._asking.get(item.rule), more)
        return self._known[same]

    def _asked_of_compartment(self, subject: LoadedCompartment, asked: Asking | None, more: frozenset[str]) -> Needs:
        inputs = self._inputs.of_compartment(subject)
        if asked is None:  # no rule of fill is for its kind: that of one that isn't known may be found
            if subject.carrier.kind is not CarrierKind.UNKNOWN:
                return None
            inside = [] if subject.area_mm2 else [of_type(INSIDE, subject.carrier)]
            return frozenset((of_type("kind", subject.carrier), *inside, *of_sizes(subject.cables), *inputs, *more))
        opened = Open(
            subject,
            inputs,
            more,
            fixes.bounded,
            fixes.placed,
            self._spending(1 + (len(subject.cables) + len(subject.possible)) // 16, lambda one: asked.of(judge, one)),
            lambda one: (
                asked.rule.function(one.least_loaded(), asked.limits),
                asked.rule.function(one.most_loaded(), asked.limits),
            ),
            goes_by_sizes=asked.rule.tells is Tells.FILL,
        )
        return self._needs(opened)

    def _of_circuit(self, item: JudgedCircuit) -> Needs:
        asked, subject = self._asking[item.rule], item.subject
        mark = subject.load.mark
        own = self._inputs.own_way(mark)
        more = frozenset([own] if own else [])
        if not subject.enclosures:
            more |= {own or f"the way of circuit {mark}"}
            alone = replace(subject, enclosures=(Enclosure(ANY, (Member(subject.load),)),))
        else:
            alone = subject
            for enclosure in subject.enclosures:
                if enclosure.unbounded:
                    more |= self._more_of(enclosure.carrier.key)
        layers = self._inputs.layers_of(alone)
        if layers and _is_of_layers(asked, alone):
            more |= layers
        opened = Open(
            alone,
            self._inputs.of_routed(alone),
            more,
            lambda one, end: replace(fixes.layered(one, goes_in=end == FAVOUR), open_doubts=()),
            fixes.beside,
            self._spending(len(alone.enclosures), lambda one: asked.of(judge_circuit, one)),
            lambda one: (
                asked.rule.function(one, asked.limits),
                asked.rule.function(one.most_loaded(), asked.limits),
            ),
            goes_by_sizes=True,
        )
        return self._needs(opened)

    def _more_of(self, key: str) -> frozenset[str]:
        return frozenset(need for item in self._by_carrier.get(key, ()) for need in self._inputs.more_in(item))

    def _of_other(self, item: JudgedSubject) -> Needs:
        asked, subject = self._asking[item.rule], item.subject
        if isinstance(subject, DividedFitting):
            more = frozenset(
                need for carrier in subject.carriers if subject.unbounded for need in self._more_of(carrier.key)
            )
            opened: Open[DividedFitting] = Open(
                subject,
                self._inputs.of_fitting(subject),
                more,
                fixes.bounded_fitting,
                fixes.passed,
                self._spending(1, lambda one: asked.of(judge_subject, one)),
                lambda one: (
                    asked.rule.function(one.least_loaded(), asked.limits),
                    asked.rule.function(one.most_loaded(), asked.limits),
                ),
            )
            return self._needs(opened)
        if isinstance(subject, FilledCompartment):
            return self._of_filled(item, subject.loaded)
        least, most = subject.least_loaded(), subject.most_loaded()
        answers = [asked.rule.function(one, asked.limits) for one in (least, most)]
        needs = item.verdict.needs
        if not needs and any(one.outcome is Outcome.UNKNOWN for one in answers):
            return None
        open_ones = set(needs)
        if subject.more_may_count or differ(*answers):
            # where nothing is known by name, what a doubt says is the question
            open_ones |= self._open_of(subject) or (set() if needs else set(subject.doubts))
        return frozenset(open_ones) or None

    def _of_filled(self, item: JudgedSubject, loaded: LoadedCompartment) -> Needs:
        """What goes by a compartment's fill is settled by what settles that."""
        asked, more = self._asking[item.rule], self._inputs.more_in(loaded)
        same = (item.rule, more, item.verdict.needs, _situation(loaded))

        def readings(one: LoadedCompartment) -> tuple[Verdict, Verdict]:
            subject = self._filled(one)
            least, most = subject.least_loaded(), subject.most_loaded()
            return asked.rule.function(least, asked.limits), asked.rule.function(most, asked.limits)

        if same not in self._known:
            opened = Open(
                loaded,
                self._inputs.of_compartment(loaded),
                more,
                fixes.bounded,
                fixes.placed,
                self._spending(
                    1 + (len(loaded.cables) + len(loaded.possible)) // 16,
                    lambda one: asked.of(judge_subject, self._filled(one)),
                ),
                readings,
                goes_by_sizes=True,
            )
            self._known[same] = self._needs(opened)
        return self._known[same]

    def _filled(self, loaded: LoadedCompartment) -> FilledCompartment:
        """A compartment with its fill as it is now."""
        return next(filled(replace(self._loading, compartments=(loaded,)), self._rules, self._code))

    def _open_of(self, subject: Subject) -> set[str]:
        """What isn't known of what lies in a subject, or in its parts."""
        found: set[str] = set()
        for part in (subject, *(getattr(subject, name, None) for name in ("one", "other"))):
            for name in ("cables", "possible", "possible_cables"):
                cables = [cable for cable in getattr(part, name, ()) or () if isinstance(cable, PlacedCable)]
                found |= {of_cable(SIZE, cable) for cable in cables if cable.is_ranged}
                found |= {self._inputs.place_of(cable.circuit) for cable in cables if name != "cables"}
        loaded = getattr(subject, "loaded", None)
        if isinstance(loaded, LoadedCompartment):
            found |= {*self._inputs.of_compartment(loaded), *self._inputs.more_in(loaded)}
        elif subject.more_may_count:
            found |= {need for key in subject.about.carriers for need in self._more_of(key)}
        return found

    def _spending(self, steps: int, ask: Callable[..., Verdict]) -> Callable[..., Verdict]:
        def spent(subject: object) -> Verdict:
            self._left -= steps
            return ask(subject)

        return spent

    def _needs(self, opened: Open[Any]) -> Needs:
        if self._left > 0:
            return needs_of(opened)
        self._unasked += 1
        return all_of(opened)


def _is_of_layers(asked: Asking, subject: RoutedCircuit) -> bool:
    """Whether a rule goes by how cables lie on trays, as far as a circuit's way shows it."""
    declared = fixes.declared(subject)
    answers = (
        asked.rule.function(fixes.layered(declared, goes_in=goes).most_loaded(), asked.limits) for goes in (False, True)
    )
    return differ(*answers)


def _situation(subject: LoadedCompartment) -> tuple[object, ...]:
    """All of a compartment that answers about it go by, but for names: those that agree in it are settled by the same."""
    carrier, run = subject.carrier, subject.run
    return (
        carrier.kind,
        carrier.type_name or carrier.key,
        carrier.section,
        carrier.material,
        carrier.laying,
        subject.number,
        None if run is None else (run.length_m, run.bends_deg, run.between_enclosures),
        subject.cables,
        tuple(map(id, subject.possible)),  # they are many, and the same ones in many compartments
        subject.unbounded,
    )

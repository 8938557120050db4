"""Which answers would settle an unknown verdict: the rule is asked again with each of them given, at every end of what it could be.

Answers settle a verdict if that is decided at both ends and in the middle, with all else as open as it is, and if what else is open moves
its figure by no more than a little. The fewest that do are found by leaving out one after the other of all: what the verdict doesn't hang
on falls away so.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from typing import Generic, TypeVar

from checker.model.texts import natural
from checker.rule import Outcome, Verdict
from checker.rule.needs import ALL_WAYS

#: Answers that are enough together, and all needed. None: it isn't known what would settle it.
Needs = frozenset[str] | None
SubjectT = TypeVar("SubjectT")
#: Of so many answers each is left out alone; of more those about circuits go together.
MOST_ALONE = 12
FAVOUR, MIDDLE, AGAINST = 0, 1, 2
#: What else is open may move a figure by so much of its limit: only an answer that brings it as near to the limit leaves it unknown.
#: Without that no wall would settle anything as long as the way of one thin cable isn't known.
LITTLE = 0.05


@dataclass(frozen=True, slots=True)
class Input(Generic[SubjectT]):
    """Something that isn't known of a subject, and what the subject is with it given: in its favour, in the middle, and against it.

    ``is_smooth``: it may be anything between its ends, not only one of them. ``mark``: it is where that circuit lies, and there are no
    ``fixes``, since they may be many and are given all at once.
    """

    fixes: tuple[Callable[[SubjectT], SubjectT], ...] = ()
    is_smooth: bool = False
    is_of_circuit: bool = False
    mark: str = ""

    @property
    def is_of_sizes(self) -> bool:
        """Whether sizes hang on it: it is one, or it is where cables lie."""
        return self.is_smooth or bool(self.mark)


@dataclass(frozen=True, slots=True)
class Open(Generic[SubjectT]):
    """An unknown verdict's subject with all that is open of it.

    Attributes:
        subject: As it was judged.
        inputs: What isn't known of it, by the words for it.
        more: What would tell whether there is something besides that can't be counted.
        bounded: The subject with nothing besides at the end in its favour, with something, and with far too much.
        placing: The subject with some circuits that may lie there lying there, or not.
        ask: Judges it.
        readings: The rule's own answers in its favour and against it.
        goes_by_sizes: Whether figures bear on it even where another thing that isn't known keeps it from saying so.
    """

    subject: SubjectT
    inputs: Mapping[str, Input[SubjectT]]
    more: frozenset[str]
    bounded: Callable[[SubjectT, int], SubjectT]
    placing: Callable[[SubjectT, frozenset[str], bool], SubjectT]
    ask: Callable[[SubjectT], Verdict]
    readings: Callable[[SubjectT], tuple[Verdict, Verdict]]
    goes_by_sizes: bool = False

    def given(self, answers: Collection[str], end: int) -> SubjectT:
        """The subject with some answers given, all at one end."""
        subject = self._fixed(self.subject, answers, end)
        return self.bounded(subject, end) if self.more <= frozenset(answers) else subject

    def _fixed(self, subject: SubjectT, answers: Collection[str], end: int) -> SubjectT:
        found = [self.inputs[need] for need in sorted(answers) if need in self.inputs]
        marks = frozenset(one.mark for one in found if one.mark)
        if marks:
            subject = self.placing(subject, marks, end != FAVOUR)
        for fixes in (one.fixes for one in found if one.fixes):
            subject = fixes[min(end, len(fixes) - 1) if end != AGAINST else -1](subject)
        return subject

    def is_settled(self, answers: Collection[str]) -> bool:
        """Whether it is decided whatever these answers are."""
        is_plain = len(answers) == 1 and not any(need in self.more or self.inputs[need].is_smooth for need in answers)
        for end in (FAVOUR, MIDDLE, AGAINST):
            subject = self.given(answers, end)
            if self.ask(subject).outcome is Outcome.UNKNOWN:
                return False
            # between the ends what is still open may matter even where it doesn't at them
            if not is_plain and _is_far(*self.readings(subject)):
                return False
        return True

    def matter(self, answers: Collection[str]) -> bool:
        """Whether some answers bear on the verdict at all, with all others given in its favour or against it."""
        if any(need in self.more or (self.goes_by_sizes and self.inputs[need].is_of_sizes) for need in answers):
            return True
        others = frozenset((*self.inputs, *self.more)).difference(answers)
        given = (self.given(others, end) for end in (AGAINST, FAVOUR))
        return any(
            differ(*(self.ask(self._fixed(subject, answers, end)) for end in (FAVOUR, AGAINST))) for subject in given
        )


def needs_of(opened: Open[SubjectT]) -> Needs:
    """The fewest answers that settle a verdict; the places of many circuits as one."""
    return _as_one(opened, _fewest(opened))


def _as_one(opened: Open[SubjectT], needs: Needs) -> Needs:
    """Where the places of many circuits are needed together, no single one is a question worth asking."""
    places = [need for need in needs or () if need in opened.inputs and opened.inputs[need].mark]
    return needs if needs is None or len(places) <= MOST_ALONE else needs.difference(places) | {ALL_WAYS}


def _fewest(opened: Open[SubjectT]) -> Needs:
    """The fewest answers that settle a verdict. There is only one such set: what a decided answer hangs on."""
    all_ = frozenset((*opened.inputs, *opened.more))
    if not all_:
        return frozenset(opened.ask(opened.subject).needs) or None
    if not opened.is_settled(all_):
        return _with_needs(opened, all_)
    kept = all_
    for part in _parts(opened, all_):
        fewer = kept - frozenset(part)
        if part and fewer and opened.is_settled(fewer):
            kept = fewer
    return kept


def _with_needs(opened: Open[SubjectT], all_: frozenset[str]) -> Needs:
    """What the rule itself asks for besides, with all that bears on the verdict; none where it doesn't say what would settle it."""
    verdicts = [opened.ask(opened.given(all_, end)) for end in (FAVOUR, MIDDLE, AGAINST)]
    unknown = [verdict for verdict in verdicts if verdict.outcome is Outcome.UNKNOWN]
    if not all(verdict.needs for verdict in unknown):
        return None
    needs = frozenset(need for verdict in unknown for need in verdict.needs)
    return needs.union(*(part for part in _parts(opened, all_) if part and opened.matter(part))) or None


def _parts(opened: Open[SubjectT], answers: Collection[str]) -> list[list[str]]:
    """Answers as they are left out, one by one; those about circuits first, and of many all of these together."""
    ordered = sorted(answers, key=lambda need: (natural(need), need))
    of_circuits = [need for need in ordered if _is_of_circuit(opened, need)]
    others = [[need] for need in ordered if not _is_of_circuit(opened, need)]
    return [of_circuits, *others] if len(ordered) > MOST_ALONE else [*([need] for need in of_circuits), *others]


def _is_of_circuit(opened: Open[SubjectT], need: str) -> bool:
    return need in opened.inputs and opened.inputs[need].is_of_circuit


def _is_far(one: Verdict, other: Verdict) -> bool:
    """Whether what is still open moves the figure by more than a little of its limit; where there is none, whether it changes anything."""
    if one.use is None or other.use is None or one.needs != other.needs:
        return differ(one, other)
    return abs(one.use - other.use) > LITTLE


def differ(one: Verdict, other: Verdict) -> bool:
    """Whether two answers aren't the same; where there is no figure, by their words."""
    if (one.outcome, one.value, one.limit, one.needs) != (other.outcome, other.value, other.limit, other.needs):
        return True
    return one.value is None and one.reason != other.reason


def all_of(opened: Open[SubjectT]) -> Needs:
    """All that is open of a verdict, without asking whether less would do."""
    return _as_one(opened, frozenset((*opened.inputs, *opened.more, *opened.ask(opened.subject).needs)) or None)

"""The answer: by the code, and beside it by geometry alone."""

from dataclasses import dataclass, replace

from checker.fit.by_code import Judged, in_own_words
from checker.fit.cables import MOST_CABLES
from checker.fit.carriers import type_named
from checker.fit.geometry import MOST_MOVED, NOT_LOOKED, Going, count_by_geometry, goes_in, proof_against
from checker.fit.question import Question
from checker.fit.room import most_by_code
from checker.fit.subject import Asked, asked_of
from checker.model import CarrierKind, LoadedCompartment, PlacedCable
from checker.rule import Outcome, Verdict
from checker.rule.catalogue import CarrierType
from checker.rule.plugins import Plugins
from checker.tolerance import fill_range, told_within


@dataclass(frozen=True, slots=True)
class Left:
    """How many more cables of one kind go in by the code, if only of that kind; None: it can't be said."""

    cable: str
    count: int | None


@dataclass(frozen=True, slots=True)
class Answer:
    """What is answered.

    Attributes:
        verdict: The code's, of fill.
        rule: The rule that said it.
        carrier: What the carrier is called.
        internal_mm2: Its inside; None: not known.
        occupied_mm2: What the cables take, of those whose size is a range the most.
        size_source: Where the carrier's size comes from.
        most: How many of the cable asked for go in besides, by the code; None: not asked, or not to be said.
        asked_most: Whether that was asked.
        wants_run: Whether the run of a conduit wasn't given whole.
        spare: What is said of the spare that is wanted; None: none is.
        geometry_only_count: For how many of them a place was found in a drawing, beside those that are listed; None: not to be said, or
            not asked.
        left: What else goes in, for each kind of cable that was asked about.
        subject: The compartment with all that lies in it.
        occupied_least_mm2: The least that the cables take.
        going: Whether a place was found in a drawing for all that lies in it; not looked for where it is asked how many go in.
        ends: The fill with all sizes as small, and as large, as their standards let them be, as ratios; None: not known, or not to be said.
        against: What the rule answers with all that isn't certain against it; None: nothing is uncertain.
    """

    verdict: Verdict
    rule: str
    carrier: str
    internal_mm2: float | None
    occupied_mm2: float | None
    size_source: str
    subject: LoadedCompartment
    most: int | None = None
    asked_most: bool = False
    wants_run: bool = False
    spare: Verdict | None = None
    geometry_only_count: int | None = None
    left: tuple[Left, ...] = ()
    occupied_least_mm2: float | None = None
    going: Going = NOT_LOOKED
    ends: tuple[float, float] | None = None
    against: Verdict | None = None

    @property
    def outcome(self) -> Outcome:
        """The code's answer, with the spare that is wanted."""
        return self._judged.outcome

    @property
    def decisive(self) -> Verdict:
        """What decides: the fill, or the spare."""
        return self._judged.decisive

    @property
    def in_check_s_words(self) -> Verdict:
        """The verdict as a check words it: where the limit lies within the tolerances its reason says so."""
        return self.verdict if self.ends is None else told_within(self.verdict, self.subject, self.ends)

    @property
    def exit_status(self) -> int:
        """0: it fits; 1: it doesn't; 3: it can't be said."""
        return {Outcome.PASS: 0, Outcome.FAIL: 1}.get(self.outcome, 3)

    @property
    def _judged(self) -> Judged:
        return Judged(self.rule, self.verdict, self.spare)


def answer(question: Question, plugins: Plugins) -> Answer:
    """Answers a question.

    Raises:
        InputError: It is asked wrongly.
    """
    asked = asked_of(question, plugins)
    subject, one = asked.subject, asked.most
    judged = asked.by_code.judged(subject)
    most, geometry = None, None
    if one is not None:
        most = most_by_code(asked.by_code, subject, one)
        geometry = count_by_geometry(subject, one) if question.geometry else None
        # where none goes in the answer is the one for one, which says why
        subject = replace(subject, cables=(*subject.cables, replace(one, count=most or 1)))
        judged = asked.by_code.judged(subject)
        if most is None and judged.outcome is Outcome.PASS:
            unknown = replace(judged.fill, outcome=Outcome.UNKNOWN, reason=f"more than {MOST_CABLES} aren't counted")
            judged = replace(judged, fill=unknown)
    if question.geometry and judged.outcome is Outcome.PASS:
        judged = judged.unless(proof_against(subject))
    kind = subject.carrier.kind
    return Answer(
        verdict=in_own_words(judged.fill),
        rule=judged.rule,
        carrier=subject.carrier.place.name,
        internal_mm2=subject.area_mm2,
        occupied_mm2=subject.occupied_mm2,
        size_source=asked.size_source,
        subject=subject,
        most=most,
        asked_most=one is not None,
        wants_run=kind is CarrierKind.CONDUIT and (question.length_m is None or question.bends is None),
        spare=None if judged.spare is None else in_own_words(judged.spare),
        geometry_only_count=geometry,
        left=_left(asked, subject, judged),
        occupied_least_mm2=subject.occupied_least_mm2,
        going=goes_in(subject, MOST_MOVED) if question.geometry and one is None else NOT_LOOKED,
        against=judged.against,
        ends=_ends(asked, subject, judged, type_named(question.carrier, plugins.carriers)),
    )


def _ends(
    asked: Asked, subject: LoadedCompartment, judged: Judged, carrier: CarrierType | None
) -> tuple[float, float] | None:
    """The fill at both ends of the tolerances, of the cables and of a conduit's wall. They change no verdict."""
    if not judged.rule or judged.fill.found:
        return None
    if carrier is not None and carrier.wall_tolerance_mm is not None and subject.bore_mm is not None:
        subject = replace(subject, bore_tolerance_mm=2 * carrier.wall_tolerance_mm)
    code = asked.by_code
    return fill_range(code.plugins.rules[judged.rule], subject, code.code.limits[judged.rule])


def _left(asked: Asked, subject: LoadedCompartment, judged: Judged) -> tuple[Left, ...]:
    """For each kind that was listed how many more of it go in by the code, all else as it is; nothing where it doesn't fit as it is."""
    if judged.outcome is not Outcome.PASS:
        return ()
    kinds: dict[str, PlacedCable] = {cable.key: cable for cable in asked.listed}
    return tuple(Left(key, most_by_code(asked.by_code, subject, cable)) for key, cable in kinds.items())

"""Asks rules at both ends of what isn't certain: same answer, that answer; else ``unknown`` with why."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from checker.model import LoadedCompartment, PlacedCable, RoutedCircuit, Subject
from checker.rule.limits import Limits
from checker.rule.rule import Rule
from checker.rule.verdict import Outcome, Verdict

#: Of so many rows of cables whose size is a range it is asked what each does alone at its other end.
MOST_MIXED = 6


def judge(rule_: Rule, subject: LoadedCompartment, limits: Limits) -> Verdict:
    """Asks a rule at both ends of what isn't certain: same answer, that answer; else ``unknown`` with why.

    A fail with all doubt in its favour is a fail. A pass with all doubt against it is a pass. What is reported is the reading in
    its favour, since every other may be an invention. Where sizes are ranges each of them is asked about alone at its other end as
    well, for rules by which thicker isn't always worse.
    """
    lenient = rule_.function(subject.least_loaded(), limits)
    if lenient.outcome is Outcome.UNKNOWN:
        return _unknown(rule_, subject, limits, lenient)
    if subject.is_certain:
        return lenient
    ranges_matter = bool(subject.range_doubt) and rule_.function(_thick(subject), limits) != lenient
    if lenient.outcome is Outcome.PASS:
        return _passed(rule_, subject, limits, lenient, ranges_matter=ranges_matter)
    least = subject.least_loaded()
    for cables in _mixed(least.cables, _thick(subject).cables):
        if rule_.function(_with_cables(least, cables), limits).outcome is not Outcome.FAIL:
            return _between(lenient, subject.range_doubt)
    ranges = replace(subject, possible=()).range_doubt
    told = _told_besides(lenient, ranges, "even so") if ranges and ranges_matter else lenient
    # what isn't sized or counted comes on top of it
    is_lower = subject.occupied_mm2 is None and told.value is not None
    return replace(told, at_least=True) if is_lower else told


def _unknown(rule_: Rule, subject: LoadedCompartment, limits: Limits, lenient: Verdict) -> Verdict:
    """What is unknown in its favour, with a value only if that isn't merely a lower bound."""
    strict = rule_.function(subject.most_loaded(), limits)
    needs = _needs(lenient, strict)
    if subject.unbounded or subject.occupied_mm2 is None or strict.value != lenient.value:
        reasons = (*subject.doubts, lenient.reason)
        told = "; ".join(dict.fromkeys(reason for reason in reasons if reason))
        return replace(lenient, value=None, reason=told, needs=needs)
    return replace(lenient, needs=needs)


def _passed(
    rule_: Rule, subject: LoadedCompartment, limits: Limits, lenient: Verdict, *, ranges_matter: bool
) -> Verdict:
    """What passes in its favour: a pass if it does against it, too."""
    thin = tuple(cable.at_least() for cable in subject.cables)
    doubts = list(_doubts(rule_, subject, limits, lenient, thin, ranges_matter=ranges_matter))
    most = subject.most_loaded()
    strict = rule_.function(most, limits)
    lenient = replace(lenient, at_least=lenient.at_least or ranges_matter)
    if subject.unbounded:
        return replace(lenient, outcome=Outcome.UNKNOWN, reason="; ".join(doubts), needs=_needs(lenient, strict))
    if strict.outcome is Outcome.PASS:
        for cables in _mixed((*thin, *(cable.at_least() for cable in subject.possible)), most.cables):
            if rule_.function(_with_cables(most, cables), limits).outcome is not Outcome.PASS:
                return _between(lenient, subject.range_doubt)
        return _told_besides(lenient, "; ".join(doubts), "holds even so") if doubts else lenient
    # what isn't sized makes it a lower bound of nothing known
    value = None if subject.occupied_mm2 is None else lenient.value
    told = "; ".join(dict.fromkeys((*doubts, strict.reason)))
    return replace(lenient, outcome=Outcome.UNKNOWN, value=value, reason=told, needs=_needs(lenient, strict))


def _doubts(
    rule_: Rule,
    subject: LoadedCompartment,
    limits: Limits,
    lenient: Verdict,
    thin: tuple[PlacedCable, ...],
    *,
    ranges_matter: bool,
) -> Iterator[str]:
    """Those of its doubts that bear on the answer."""
    if subject.size_doubt and rule_.function(_with_cables(subject.most_loaded(), thin), limits) != lenient:
        yield subject.size_doubt
    if ranges_matter or any(cable.is_ranged for cable in subject.possible):
        yield subject.range_doubt
    larger = replace(
        _with_cables(subject.most_loaded(), (*thin, *subject.possible)),
        area_mm2=subject.area_mm2,
        bore_mm=subject.bore_mm,
    )
    if subject.unbounded or rule_.function(larger, limits) != lenient:
        yield from subject.possible_doubts


def _with_cables(subject: LoadedCompartment, cables: tuple[PlacedCable, ...]) -> LoadedCompartment:
    return replace(subject, cables=cables)


def _mixed(thin: Sequence[PlacedCable], thick: Sequence[PlacedCable]) -> Iterator[tuple[PlacedCable, ...]]:
    """All cables at one end of their size but one; of one such row alone both ends are asked anyway."""
    ranged = [number for number, cable in enumerate(thick) if cable.is_ranged]
    for number in ranged[:MOST_MIXED] if len(ranged) > 1 else ():
        yield (*thin[:number], thick[number], *thin[number + 1 :])
        yield (*thick[:number], thin[number], *thick[number + 1 :])


def _between(verdict: Verdict, ranges: str) -> Verdict:
    """Unknown, as the answer is another one where only some of the sizes are at one end."""
    reason = f"{ranges}; with some of them at the upper end and others at the lower the answer is another one"
    return replace(verdict, outcome=Outcome.UNKNOWN, value=None, reason=reason)


def _thick(subject: LoadedCompartment) -> LoadedCompartment:
    """The reading in its favour, but for cables whose size is a range: those at its upper end."""
    least = subject.least_loaded()
    both = zip(subject.cables, least.cables, strict=True)
    return _with_cables(least, tuple(own if own.is_ranged and own.count is not None else thin for own, thin in both))


def _told_besides(verdict: Verdict, doubts: str, how: str) -> Verdict:
    return replace(verdict, reason=f"{verdict.reason}; {how}: {doubts}")


def _needs(*verdicts: Verdict) -> tuple[str, ...]:
    """What would settle both readings; nothing where of one that is unknown it isn't known what would."""
    if any(verdict.outcome is Outcome.UNKNOWN and not verdict.needs for verdict in verdicts):
        return ()
    return tuple(dict.fromkeys(need for verdict in verdicts for need in verdict.needs))


def judge_subject(rule_: Rule, subject: Subject, limits: Limits) -> Verdict:
    """Asks a rule about any other subject, in its favour and against it.

    A fail in its favour is a fail. A pass against it is a pass, unless something that can't be counted may bear on it. Where the answer is
    unknown a figure is given only if both readings have the same.
    """
    lenient = rule_.function(subject.least_loaded(), limits)
    if lenient.outcome is Outcome.FAIL:
        return lenient
    strict = rule_.function(subject.most_loaded(), limits)
    if lenient.outcome is Outcome.UNKNOWN:
        value = lenient.value if strict.value == lenient.value else None
        return replace(lenient, value=value, needs=_needs(lenient, strict))
    if strict.outcome is Outcome.PASS and (strict.regardless or not subject.more_may_count):
        if (strict.value, strict.limit) == (lenient.value, lenient.limit):
            return lenient
        if not subject.doubts:
            return strict
        return replace(strict, reason=f"{strict.reason}; so at the most: {'; '.join(subject.doubts)}")
    reasons = subject.doubts if strict.outcome is Outcome.PASS else (*subject.doubts, strict.reason)
    return replace(
        lenient,
        outcome=Outcome.UNKNOWN,
        value=lenient.value if strict.value == lenient.value and not subject.more_may_count else None,
        reason="; ".join(dict.fromkeys(reason for reason in reasons if reason)),
        needs=_needs(lenient, strict),
    )


def judge_circuit(rule_: Rule, subject: RoutedCircuit, limits: Limits) -> Verdict:
    """Asks a rule about a circuit at both ends of what isn't certain.

    A fail with all doubt in its favour is a fail, unless the other end passes: a circuit that is light in its favour alone keeps to the
    full group there. A pass with all doubt against it is a pass, and reported are its figures then, since no more can be counted on. Else
    it is unknown, with a figure only where both ends have the same.
    """
    doubts = subject.open_doubts
    if not subject.enclosures:
        return Verdict(Outcome.UNKNOWN, "; ".join(doubts), unit="A", needs=(f"the way of circuit {subject.load.mark}",))
    lenient, strict = rule_.function(subject, limits), rule_.function(subject.most_loaded(), limits)
    if lenient.outcome is Outcome.FAIL and strict.outcome is not Outcome.PASS:
        return lenient
    if strict.outcome is Outcome.PASS and lenient.outcome is not Outcome.FAIL and not doubts:
        # what is read in its favour needn't be better everywhere: alone in a layer a cable may carry less than alone in a bunch
        both = [strict, lenient] if lenient.outcome is Outcome.PASS else [strict]
        return min(both, key=lambda verdict: math.inf if verdict.limit is None else verdict.limit)
    perhaps = [] if strict == lenient else [doubt for enclosure in subject.enclosures for doubt in enclosure.doubts]
    reasons = [*doubts, strict.reason, *perhaps]
    if strict.reason != lenient.reason:
        reasons.append(f"in its favour it {lenient.reason}" if lenient.outcome is Outcome.PASS else lenient.reason)
    rating = strict.rating
    is_one = (
        not doubts
        and rating is not None
        and lenient.rating is not None
        and rating.capacity_a == lenient.rating.capacity_a
    )
    if rating is not None and not is_one:
        rating = replace(
            rating, carrier="", base_a=None, base_source="", factors=(), capacity_a=None, grouping_factor=None
        )
    return replace(
        strict,
        outcome=Outcome.UNKNOWN,
        limit=strict.limit if is_one else None,
        reason="; ".join(dict.fromkeys(reason for reason in reasons if reason)),
        rating=rating,
        needs=_needs(lenient, strict),
    )

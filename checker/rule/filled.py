"""What a rule of fill says of a compartment, for the rules that ask about that."""

from checker.model import Fill, FilledCompartment, LoadedCompartment
from checker.rule.limits import Limits
from checker.rule.rule import Rule
from checker.rule.verdict import Outcome, Verdict


def filled_by(rule_: Rule, subject: LoadedCompartment, limits: Limits) -> FilledCompartment:
    """A compartment with what a rule of fill says of it, in its favour and against it."""
    ends = (subject.least_loaded(), subject.most_loaded())
    return FilledCompartment(subject, *(_fill(rule_.function(end, limits)) for end in ends))


def _fill(verdict: Verdict) -> Fill:
    return Fill(
        verdict.value,
        verdict.limit,
        verdict.measure,
        verdict.basis,
        verdict.source,
        verdict.reason,
        is_within={Outcome.PASS: True, Outcome.FAIL: False}.get(verdict.outcome),
        at_least=verdict.at_least,
        needs=verdict.needs,
    )

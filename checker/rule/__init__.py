"""What a rule, a code and a table are, and how they are found."""

from checker.rule.judge import judge, judge_circuit, judge_subject
from checker.rule.limits import (
    ASKED_WITH,
    DEFINES,
    EASES_OVERLOAD,
    ONLY_A_CODES,
    SHARE,
    SHARE_MORE,
    Limit,
    Limits,
    lacking,
    tighter_is_lower,
)
from checker.rule.rating import Factor, Rating
from checker.rule.rule import Rule, Tells, rule
from checker.rule.table import Table, number
from checker.rule.verdict import Basis, Outcome, Verdict, use_of, worst

__all__ = [
    "ASKED_WITH",
    "DEFINES",
    "EASES_OVERLOAD",
    "ONLY_A_CODES",
    "SHARE",
    "SHARE_MORE",
    "Basis",
    "Factor",
    "Limit",
    "Limits",
    "Outcome",
    "Rating",
    "Rule",
    "Table",
    "Tells",
    "Verdict",
    "judge",
    "judge_circuit",
    "judge_subject",
    "lacking",
    "number",
    "rule",
    "tighter_is_lower",
    "use_of",
    "worst",
]

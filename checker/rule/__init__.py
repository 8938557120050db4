"""What a rule, a code and a table are, and how they are found."""

from checker.rule.limits import EASES_OVERLOAD, ONLY_A_CODES, SHARE, Limit, Limits, tighter_is_lower
from checker.rule.rating import Factor, Rating
from checker.rule.rule import Rule, judge, judge_circuit, judge_fitting, rule
from checker.rule.table import Table, number
from checker.rule.verdict import Basis, Outcome, Verdict, worst

__all__ = [
    "EASES_OVERLOAD",
    "ONLY_A_CODES",
    "SHARE",
    "Basis",
    "Factor",
    "Limit",
    "Limits",
    "Outcome",
    "Rating",
    "Rule",
    "Table",
    "Verdict",
    "judge",
    "judge_circuit",
    "judge_fitting",
    "number",
    "rule",
    "tighter_is_lower",
    "worst",
]

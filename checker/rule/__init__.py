"""What a rule, a code and a table are, and how they are found."""

from checker.rule.limits import Limit, Limits, tighter_is_lower
from checker.rule.rule import Rule, judge, rule
from checker.rule.table import Table, number
from checker.rule.verdict import Basis, Outcome, Verdict, worst

__all__ = [
    "Basis",
    "Limit",
    "Limits",
    "Outcome",
    "Rule",
    "Table",
    "Verdict",
    "judge",
    "number",
    "rule",
    "tighter_is_lower",
    "worst",
]

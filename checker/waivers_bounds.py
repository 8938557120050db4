"""How far a waiver reaches: the figure up to which it holds, and what is read against a finding where its figure isn't certain."""

from collections.abc import Mapping
from dataclasses import replace

from checker.answers import Answers
from checker.findings import id_of
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.model import Installation
from checker.report.csv_files import DECIMALS
from checker.result.notes import amounts, is_of_figure
from checker.result.tables import FindingRow
from checker.rule import Rule
from checker.rule.code import Code
from checker.rule.waiver import Waiver

#: Ratios beyond this are meant as per cent: nobody waives a carrier ten times as full as it is large.
MOST_RATIO = 10.0


class Extents:
    """How far what a finding tells may go: its figure is the one in its favour, and others may be as true."""

    def __init__(self, installation: Installation, answers: Answers, rules: Mapping[str, Rule], code: Code) -> None:
        """Args: what was judged, how, and by what. Nothing is asked until a finding is."""
        self._installation, self._answers, self._rules, self._code = installation, answers, rules, code
        self._by_rule: dict[str, dict[str, Judged | JudgedCircuit | JudgedSubject]] = {}

    def worst(self, row: FindingRow) -> FindingRow:
        """The finding with the figure that is read against it; None where no figure bounds it."""
        item = self._items(row.rule).get(row.id)
        if item is None:
            return row
        if isinstance(item, Judged):
            if item.subject.is_certain:
                return row
            is_bounded = not item.subject.unbounded and None not in {
                cable.occupied_mm2 for cable in (*item.subject.cables, *item.subject.possible)
            }
        elif isinstance(item, JudgedCircuit):
            is_bounded = not item.subject.open_doubts
        else:
            is_bounded = not item.subject.more_may_count
        if not is_bounded:
            return replace(row, value=None)
        against = self._rules[row.rule].function(item.subject.most_loaded(), self._code.limits[row.rule])
        worse = replace(row, value=against.value, limit=against.limit)
        before, after = figure(row), figure(worse)
        if before is None or after is None:
            return worse
        return worse if (after < before if row.is_floor else after > before) else row

    def _items(self, rule: str) -> Mapping[str, Judged | JudgedCircuit | JudgedSubject]:
        if rule not in self._by_rule:
            self._by_rule[rule] = {
                id_of(self._installation, item): item for item in self._answers.all() if item.rule == rule
            }
        return self._by_rule[rule]


def figure(row: FindingRow) -> float | None:
    """The figure of a finding that a waiver's bound is held against; None: there is none.

    Of a current it is what the circuit needs over what it carries, since what it carries changes with what lies beside it.
    """
    return row.use if row.is_current else row.value


def bound_of(waiver: Waiver, row: FindingRow) -> str:
    """How far a waiver of a finding reaches, in words after its day; empty where it has no bound and the finding has no figure."""
    if waiver.up_to is None:
        return ", whatever the figure" if is_of_figure(row) else ""
    return f", {_way(row)} {_told(waiver.up_to, row)}"


def why_beyond(waiver: Waiver, row: FindingRow, extents: Extents | None) -> str:
    """Why a waiver doesn't reach as far as a finding that it names goes, in words after ``it``; empty: it does.

    Args:
        waiver: One that gives ``up_to`` or doesn't.
        row: A finding that fails.
        extents: What else its figure may be; None: it is certain.
    """
    if waiver.up_to is None:
        return ""
    unit = _unit(row)
    if unit == "ratio" and waiver.up_to > MOST_RATIO:
        return f"gives up_to = {waiver.up_to:g} where the figure is a ratio: {waiver.up_to:g} % is {waiver.up_to / 100.0:g}"
    reach = f"reaches {_way(row)} {_told(waiver.up_to, row)}"
    if not is_of_figure(row) or figure(row) is None:
        return f"{reach}, and what is found there is no figure"
    if _is_beyond(waiver.up_to, row):
        return f"{reach}, and it is {amounts(figure(row), waiver.up_to, unit)[0]}"
    worst = row if extents is None else extents.worst(row)
    if figure(worst) is None:
        return f"{reach}, and how far it goes isn't known"
    if _is_beyond(waiver.up_to, worst):
        return f"{reach}, and it may be {amounts(figure(worst), waiver.up_to, unit)[0]}"
    return ""


def _is_beyond(up_to: float, row: FindingRow) -> bool:
    """Whether a finding's figure, as tables write it, goes further."""
    found = round(figure(row) or 0.0, DECIMALS)
    return found < up_to if row.is_floor else found > up_to


def _way(row: FindingRow) -> str:
    return "down to" if row.is_floor else "up to"


def _unit(row: FindingRow) -> str:
    return "ratio" if row.is_current else row.unit


def _told(up_to: float, row: FindingRow) -> str:
    """A bound with all its digits, in the unit of the figure."""
    unit = _unit(row)
    if unit == "ratio":
        of = " of what it carries" if row.is_current else ""
        return f"{100.0 * up_to:.10g} %{of}"
    return f"{up_to:.10g}°" if unit == "deg" else f"{up_to:.10g} {unit}".rstrip()

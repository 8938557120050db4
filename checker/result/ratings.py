"""The rating of each circuit, where several rules or none speak of it."""

from checker.result.tables import CircuitRow, RatingRow, Result
from checker.rule.verdict import SEVERITY, Outcome


def worst_ratings(result: Result) -> dict[str, RatingRow]:
    """The worst rating of each circuit that has one; of equal ones the first."""
    worst: dict[str, RatingRow] = {}
    for row in result.ratings:
        if row.circuit not in worst or SEVERITY[Outcome(row.verdict)] > SEVERITY[Outcome(worst[row.circuit].verdict)]:
            worst[row.circuit] = row
    return worst


def no_rating(row: CircuitRow) -> str:
    """The verdict of a circuit without a rating: unknown where it should have one, none where it carries no load."""
    return "unknown" if row.is_loaded else ""


def no_rating_why(row: CircuitRow) -> str:
    """Why a circuit has no rating."""
    if row.is_loaded:
        return "the code that was asked for has no rule for ratings"
    if row.state in {"spare", "removed"}:
        return f"{row.state}: it carries no load, so no rating is asked for"
    return "no loaded conductors: it carries no load that heats, so no rating is asked for"

"""What would settle findings that are unknown."""

from checker.findings import id_of
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.questions import Unknowns
from checker.room.counting import Tried
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins


def needs_of(tried: Tried, code: Code, plugins: Plugins) -> dict[str, tuple[str, ...]]:
    """What would settle each finding that is unknown, by its id."""
    wanted = {row.id for row in tried.unknowns}
    there = tried.effects.situation
    found: dict[str, tuple[str, ...]] = {}
    unknowns = Unknowns(there.installation, there.routing, there.loading, plugins.rules, code)
    for item in there.answers.all():
        if item.verdict.outcome is not Outcome.UNKNOWN:
            continue
        key = id_of(there.installation, item)
        if key in wanted:
            judged = [item] if isinstance(item, Judged) else []
            rated = [item] if isinstance(item, JudgedCircuit) else []
            others = [item] if isinstance(item, JudgedSubject) else []
            (unknown,) = unknowns.of_all(judged, rated, others)
            found[key] = tuple(sorted(unknown.needs or ()))
    return found

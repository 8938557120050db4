"""What would settle findings that are unknown."""

from checker.answers import ask_all
from checker.findings import finding_rows
from checker.judging import Judged, JudgedCircuit, JudgedSubject
from checker.network.grouping import group_circuits
from checker.network.near_ways import NearWays
from checker.progress import Progress
from checker.questions import Unknowns
from checker.room.counting import Tried
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import Plugins


def needs_of(tried: Tried, code: Code, plugins: Plugins) -> dict[str, tuple[str, ...]]:
    """What would settle each finding that is unknown, by its id."""
    if not tried.unknowns:
        return {}
    wanted = {row.id for row in tried.unknowns}
    there = tried.effects.situation
    grouped = group_circuits(there.installation, there.routing, there.loading)
    near = NearWays(there.installation, there.routing.network, there.routing.routes)
    answers = ask_all(there.installation, there.routing, there.loading, grouped, near, code, plugins, Progress())
    found: dict[str, tuple[str, ...]] = {}
    unknowns = Unknowns(there.installation, there.routing, there.loading, plugins.rules, code)
    for item in answers.all():
        if item.verdict.outcome is not Outcome.UNKNOWN:
            continue
        judged = [item] if isinstance(item, Judged) else []
        rated = [item] if isinstance(item, JudgedCircuit) else []
        others = [item] if isinstance(item, JudgedSubject) else []
        (row,) = finding_rows(there.installation, judged, rated, code, others)
        if row.id in wanted:
            (unknown,) = unknowns.of_all(judged, rated, others)
            found[row.id] = tuple(sorted(unknown.needs or ()))
    return found

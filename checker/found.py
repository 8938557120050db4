"""What the rules find of what was read, with tolerances and waivers: one way there for a check and for a drawing."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.answers import Answers, ask_all
from checker.findings import finding_rows
from checker.model import Installation
from checker.network.grouping import Grouped, group_circuits
from checker.network.loading import Loading, load
from checker.network.near_ways import NearWays
from checker.network.route import Routing
from checker.network.routing import route_all
from checker.progress import Progress
from checker.result.archive import File
from checker.result.tables import FindingRow
from checker.rule.code import Code
from checker.rule.plugins import Plugins
from checker.rule.waiver import Waiver
from checker.tolerance import FillRange, with_ranges
from checker.waivers import Waived, waive
from checker.waivers_bounds import Extents
from checker.waivers_issues import Issues


@dataclass(frozen=True, slots=True)
class Found:
    """Where circuits go, what lies where, and what the rules say of it.

    ``judged`` and ``as_judged`` are answers and findings without any waiver, ``waived`` is what waivers make of them; ``ranges`` are those
    of fill, by carrier and compartment.
    """

    routing: Routing
    loading: Loading
    grouped: Grouped
    near: NearWays
    judged: Answers
    as_judged: tuple[FindingRow, ...]
    ranges: dict[tuple[str, int], FillRange]
    waived: Waived

    @property
    def answers(self) -> Answers:
        """What the rules say, with what is waived of it."""
        return self.waived.answers(self.judged)


def find(
    installation: Installation,
    code: Code,
    plugins: Plugins,
    waivers: Sequence[Waiver],
    time: str,
    progress: Progress,
    *,
    previous: File | None = None,
    previous_name: str = "",
) -> Found:
    """Routes, loads, judges and waives.

    Args:
        installation: What there is.
        code: Whose limits apply, with those loosened that are on that day.
        plugins: The rules that there are.
        waivers: Findings that the project waives.
        time: Of the run, ISO 8601; empty: there is none.
        progress: Is told how far it is.
        previous: The issue notes of the run before, whose issues a waiver may name.
        previous_name: What messages call them.
    """
    progress.stage("routing circuits")
    routing = route_all(installation, progress.step)
    loading = load(installation, routing, code.sizes)
    grouped = group_circuits(installation, routing, loading)
    near = NearWays(installation, routing.network, routing.routes)
    answers = ask_all(installation, routing, loading, grouped, near, code, plugins, progress)
    ranged, ranges = with_ranges(answers.judged, plugins.rules, code)
    judged = replace(answers, judged=tuple(ranged))
    rows = finding_rows(installation, judged.judged, judged.rated, code, judged.others)
    issues = Issues(installation, routing, loading, judged, previous, previous_name)
    extents = Extents(installation, judged, plugins.rules, code)
    waived = waive(waivers, rows, installation, code, time, issues, extents)
    return Found(routing, loading, grouped, near, judged, rows, ranges, waived)

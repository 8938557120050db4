"""An installation with the ways of its circuits, and what the rules say of it."""

from dataclasses import dataclass, replace

from checker.answers import Answers, Touches, ask_all
from checker.findings import finding_rows
from checker.model import Installation
from checker.network.graph import Network
from checker.network.grouping import group_circuits
from checker.network.loading import Loading, load
from checker.network.near_ways import NearWays
from checker.network.route import Route, Routing
from checker.progress import Progress
from checker.result.tables import FindingRow
from checker.rule.code import Code
from checker.rule.plugins import Plugins


class Silent(Progress):
    """Tells nobody, whatever a plain one is made to do: what is tried is no stage of a run."""

    def stage(self, text: str) -> None:
        """Nothing."""

    def step(self, done: int, total: int) -> None:
        """Nothing."""


@dataclass(frozen=True, slots=True)
class Situation:
    """What is judged, what the rules said, and the findings of that by id; ways that are a little longer aren't asked about."""

    installation: Installation
    routing: Routing
    loading: Loading
    answers: Answers
    findings: dict[str, FindingRow]


def situation_of(
    installation: Installation, routing: Routing, code: Code, plugins: Plugins, touches: Touches | None = None
) -> Situation:
    """Loads and judges an installation whose circuits are led already.

    Args:
        installation: What there is.
        routing: Where its circuits go, in its order.
        code: Whose limits apply.
        plugins: The rules that there are.
        touches: What is judged, by carriers and circuits; None: all.
    """
    installation = replace(installation, near_mm=None)
    loading = load(installation, routing, code.sizes)
    grouped = group_circuits(installation, routing, loading)
    near = NearWays(installation, routing.network, routing.routes)
    answers = ask_all(installation, routing, loading, grouped, near, code, plugins, Silent(), touches)
    rows = finding_rows(installation, answers.judged, answers.rated, code, answers.others)
    return Situation(installation, routing, loading, answers, {row.id: row for row in rows})


def routing_of(installation: Installation, before: Routing, routes: tuple[Route, ...]) -> Routing:
    """The same joins and places, with the carriers and ways that there are now.

    Args:
        installation: What there is now.
        before: Where circuits went.
        routes: The ways of its circuits, in its order.
    """
    keys = {carrier.key for carrier in installation.carriers}
    ends = (node for route in routes for leg in route.legs for node in leg.nodes)
    landings = tuple(node for node in dict.fromkeys((*before.landings, *ends)) if node[0] in keys)
    places = [(key, along) for key, along in landings if along is not None]
    network = Network(installation, before.joins, places)
    return replace(before, network=network, routes=routes, landings=landings, joins=network.joins)

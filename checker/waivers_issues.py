"""The issues of a run as a waiver may name them: before anything is waived."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.answers import Answers
from checker.assemble import carrier_rows, compartment_rows
from checker.history.issues import Held, held_by_issues
from checker.model import Installation
from checker.network.loading import Loading
from checker.network.route import Routing, ways_of
from checker.result.archive import File
from checker.result.gathering import gathered
from checker.result.tables import FindingRow
from checker.result.topics import group_findings


@dataclass(frozen=True, slots=True)
class Issues:
    """What issues are told from: what was judged, and the earlier notes with what messages call them."""

    installation: Installation
    routing: Routing
    loading: Loading
    answers: Answers
    previous: File | None = None
    previous_name: str = ""

    def held(self, findings: Sequence[FindingRow]) -> Mapping[str, Held]:
        """What each holds, by its GUID.

        Args:
            findings: Of the answers, without any waiver.
        """
        compartments = compartment_rows(self.loading, self.answers.judged, self.answers.rated)
        carriers = {row.key: row for row in carrier_rows(self.installation, self.loading, compartments)}
        neighbours, ways = self.routing.network.neighbours(), ways_of(self.routing)
        groups = gathered(group_findings(findings, carriers, neighbours, ways), carriers)
        return held_by_issues([[row.id for row in group] for group in groups], self.previous, self.previous_name)

"""What of several findings is the gravest: one order for terminal, page and issue notes."""

import math

from checker.result.notes import is_of_figure
from checker.result.tables import FindingRow

#: What a person would see to first.
BASES = ("requirement", "guidance", "project", "note")


def gravity(finding: FindingRow) -> tuple[int, float, str, str]:
    """A key to sort by, the gravest first: by what stands behind the limit, then by how far beyond it; what has no figure is farthest."""
    basis = BASES.index(finding.basis) if finding.basis in BASES else len(BASES)
    use = finding.use if is_of_figure(finding) else None
    return (basis, -round(math.inf if use is None else use, 9), finding.rule, finding.id)

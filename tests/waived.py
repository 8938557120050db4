"""Installations of which something fails, and what a check with waivers says of them."""

from datetime import date

from checker.checking import check_installation
from checker.model import Circuit, Installation
from checker.result.tables import FindingRow, Result
from checker.rule.plugins import load_plugins
from checker.rule.waiver import Waiver
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
NOW = "2026-11-28T09:00:00Z"
FILL = "fill.compartment"
W = Waiver("R. Okafor", "one pull only", date(2027, 6, 30), rule=FILL, carriers=("T1",))


def cables(mark: str, number: int, *ends: str) -> Circuit:
    """So many of 10 mm: 78.54 mm² each. The inside is 48 · 48 = 2304 mm²: 13 take 44.3 % of it, 14 take 47.7 %, and the limit is 45 %."""
    return circuit(mark, *(ends or ("DB", "S1")), count=number)


def plain(number: int = 14) -> Installation:
    outlets = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    return installation(carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)), cables("C1", number), *outlets)


def two(second: float = 9000.0) -> Installation:
    """Two lengths far from each other, each with 14 cables of its own circuit, so that both fail, of two causes."""
    return installation(
        carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)), carrier("T2", (0.0, second, 0.0), (3000.0, second, 0.0)),
        cables("C1", 14, "A", "B"), cables("C2", 14, "C", "D"),
        outlet("A", (0.0, 200.0, 0.0)), outlet("B", (3000.0, 200.0, 0.0)),
        outlet("C", (0.0, second + 200.0, 0.0)), outlet("D", (3000.0, second + 200.0, 0.0)),
    )  # fmt: skip


def checked(inst: Installation, *waivers: Waiver, now: str | None = NOW, previous: bytes | None = None) -> Result:
    return check_installation(inst, CODE, PLUGINS, now=now, waivers=waivers, previous=previous)


def fills(result: Result) -> dict[str, str]:
    """Verdicts of fill by carrier."""
    return {row.carriers[0]: row.verdict for row in result.findings if row.rule == FILL}


def fill(result: Result) -> FindingRow:
    (found,) = [row for row in result.findings if row.rule == FILL]
    return found


def about(result: Result) -> list[tuple[str, str]]:
    """Rule and verdict of what is found of waivers."""
    return [(row.rule, row.verdict) for row in result.findings if row.rule.startswith("waiver.")]

"""Small installations made in memory, and what is offered for them."""

import itertools
from dataclasses import replace

from checker.model import CarrierKind, FittingKind, Installation, Section
from checker.network.routing import route_all
from checker.progress import Progress
from checker.remedies import Remedied, remedies_of
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.result.tables import FindingRow
from checker.rule.plugins import load_plugins
from checker.trial import Situation, situation_of
from tests.installations import carrier, circuit, fitting, installation, outlet

PLUGINS = load_plugins()
BS = PLUGINS.codes["bs-7671"]
#: 48 × 48 = 2304 mm² inside, of which 45 % are 1036.8 mm²: thirteen cables of 78.5 mm² each, and no fourteenth.
STEEL_50 = Section(width_mm=50.0, height_mm=50.0, wall_mm=1.0)
#: 98 × 48 = 4704 mm² inside; in two compartments 48.5 × 48 = 2328 mm² each, of which 45 % are 1047.6 mm²: thirteen cables as well.
STEEL_100 = Section(width_mm=100.0, height_mm=50.0, wall_mm=1.0)
NO_LOAD = {"loaded_conductors": 0.0}


def laid(mark: str, count: int, **more: object):
    """A circuit of cables of 10 mm that carry no load, from the board to the socket."""
    made = circuit(mark, "DB", "S1", count=count, **{"voltage_v": 230.0, **more})  # type: ignore[arg-type]
    cables = tuple(replace(cable, rated_voltage_v=750.0) for cable in made.cables)
    return replace(made, cables=cables, electrical=dict(NO_LOAD))


def site(*items: object, length_mm: float = 4000.0) -> Installation:
    board, socket = outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (length_mm, 200.0, 0.0))
    return installation(board, socket, *items)  # type: ignore[arg-type]


def judged(inst: Installation, code=BS) -> Situation:
    return situation_of(inst, route_all(inst), code, PLUGINS)


def failing(situation: Situation) -> list[tuple[FindingRow, ...]]:
    return [(row,) for row in situation.findings.values() if row.verdict == "fail"]


def offered(inst: Installation, code=BS) -> tuple[dict[RemedyKind, RemedyRow], Remedied]:
    situation = judged(inst, code)
    found = remedies_of(situation, failing(situation), code, PLUGINS, Progress())
    return {row.kind: row for row in found.remedies}, found


def straight(section: Section = STEEL_50, key: str = "T1", **more: object):
    return replace(carrier(key, (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), section, material="Steel"), **more)  # type: ignore[arg-type]


def ring(power: int, other: int = 100, far_mm: float = 2000.0) -> Installation:
    """A narrow trunking between two wide ones, and a way round it ``other`` mm wide, which goes so far to the side."""
    wide, round_it = (replace(STEEL_50, width_mm=size, height_mm=size) for size in (100.0, float(other)))
    points = [(2000.0, 0.0, 0.0), (2000.0, far_mm, 0.0), (6000.0, far_mm, 0.0), (6000.0, 0.0, 0.0)]
    around = [
        carrier(f"U{number}", one, two, round_it)
        for number, (one, two) in enumerate(itertools.pairwise(points), start=1)
    ]
    return site(
        carrier("A", (0.0, 0.0, 0.0), points[0], wide),
        carrier("D", points[0], points[3], STEEL_50),
        carrier("E", points[3], (8000.0, 0.0, 0.0), wide),
        *around,
        laid("P1", power),
        laid("P2", power),
        length_mm=8000.0,
    )


def bends(number: int, kind: FittingKind = FittingKind.BEND) -> Installation:
    """A run of conduit with so many right angles."""
    tube = Section(outside_diameter_mm=20.0, wall_mm=1.6)
    points = [(0.0, 0.0, 0.0)]
    for step in range(number + 1):
        x, y, z = points[-1]
        points.append((x + 1000.0, y, z) if step % 2 == 0 else (x, y + 1000.0, z))
    tubes = [
        carrier(f"C{place}", one, two, tube, CarrierKind.CONDUIT, material="Steel")
        for place, (one, two) in enumerate(itertools.pairwise(points), start=1)
    ]
    met = [fitting(f"B{place}", point, kind) for place, point in enumerate(points[1:-1], start=1)]
    board, socket = outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (points[-1][0], points[-1][1] + 200.0, 0.0))
    thin = laid("P1", 2, area_of=3.5)
    return installation(board, socket, *tubes, *met, thin)

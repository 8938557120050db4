"""Questions about room on small installations, and what they are asked of; trunking of 50 mm is 48 × 48 = 2304 mm² inside."""

from checker.model import Installation, Section, Service
from checker.read.project import Project
from checker.read.sources import Sources
from checker.room import Answer, RoomQuestion
from checker.room.answering import answer_for
from checker.room.objects import as_object
from checker.room.question import bundle_of
from checker.room.text import as_text
from checker.room.told import way_steps
from checker.room.ways import check_ends
from checker.rule.plugins import code_of, load_plugins
from tests.installations import STEEL_50, carrier, circuit, fitting, installation, lanes, outlet

PLUGINS = load_plugins()
WIDE = Section(width_mm=100.0, height_mm=50.0, wall_mm=1.0, source="test")  # 98 × 48 = 4704 mm² inside
LARGE = Section(width_mm=100.0, height_mm=100.0, wall_mm=1.0, source="test")  # 98 × 98 = 9604 mm²
DATA = (("service", "data"), ("voltage_v", "48"), ("loaded_conductors", "0"))
NO_LOAD = {"loaded_conductors": 0}


def data(mark: str, count: int, **more: object):
    return circuit(mark, "DB", "S1", service=Service.DATA, count=count, voltage_v=48.0, electrical=NO_LOAD, **more)


def question(*cables: str, ends: tuple[str, str] = ("DB", "S1"), columns=DATA, **more) -> RoomQuestion:
    return RoomQuestion(Sources((), None, Project(), None), *ends, cables, columns=columns, **more)


def ask(
    here: Installation, *cables: str, code: str = "bs-7671", ends: tuple[str, str] = ("DB", "S1"), **more
) -> Answer:
    asked = question(*cables, ends=ends, **more)
    check_ends(here, *ends)
    answer = answer_for(asked, here, bundle_of(asked, here, PLUGINS), code_of(PLUGINS, code), PLUGINS)
    assert as_text(answer)
    assert as_object(answer)["verdict"] == answer.outcome.value
    return answer


def one_trunking(*circuits, section: Section = STEEL_50, **more) -> Installation:
    return installation(
        carrier("T1", (0.0, 0.0, 0.0), (5000.0, 0.0, 0.0), section),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (5000.0, 0.0, 300.0)),
        *circuits,
        **more,
    )


def two_ways(taken: int) -> Installation:
    """From S to E straight through A, or round by B1, B2 and B3, which is 2 m longer; ``taken`` cables lie in A."""
    return installation(
        carrier("S", (0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), LARGE),
        carrier("A", (1000.0, 0.0, 0.0), (3000.0, 0.0, 0.0)),
        carrier("B1", (1000.0, 0.0, 0.0), (1000.0, 1000.0, 0.0), WIDE),
        carrier("B2", (1000.0, 1000.0, 0.0), (3000.0, 1000.0, 0.0), WIDE),
        carrier("B3", (3000.0, 1000.0, 0.0), (3000.0, 0.0, 0.0), WIDE),
        carrier("E", (3000.0, 0.0, 0.0), (4000.0, 0.0, 0.0), LARGE),
        fitting("J1", (1000.0, 0.0, 0.0)),
        fitting("J2", (3000.0, 0.0, 0.0)),
        outlet("DB", (0.0, 0.0, 300.0)),
        outlet("S1", (4000.0, 0.0, 300.0)),
        data("D1", taken, route="S;A;E"),
    )


def keys(answer: Answer) -> list[str]:
    assert answer.best is not None
    return [key for key, _ in way_steps(answer.best)]


def divided(*circuits) -> Installation:
    section = Section(
        width_mm=100.0,
        height_mm=50.0,
        wall_mm=1.0,
        divider_mm=2.0,
        lanes=lanes(Service.DATA, Service.DATA),
        source="test",
    )  # 2 × (98 - 2) / 2 × 48 = 2 × 2304 mm²
    return one_trunking(*circuits, section=section)

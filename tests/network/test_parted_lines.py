"""From single cores that the model draws through different steel enclosures to what is found there."""

from checker.asking import subjects_of
from checker.judging import judge_subjects
from checker.model import Circuit, Enclosure
from checker.network.grouping import group_circuits
from checker.network.loading import load
from checker.network.routing import route_all
from checker.rule.plugins import load_plugins
from tests.installations import carrier, circuit, installation, outlet
from tests.network.test_drawn import line

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]


def verdicts(*lost: tuple[float, float, float]) -> dict[str, str]:
    """Three single cores of one circuit through steel conduits, the third by places of its own; by carrier."""
    parts = [
        carrier("T1", (0, 0, 0), (3000, 0, 0), material="steel"), carrier("T2", (3000, 0, 0), (6000, 0, 0), material="steel"),
        carrier("X", (0, 1000, 0), (6000, 1000, 0), material="steel"),
    ]  # fmt: skip
    straight = ((0.0, 200.0, 0.0), (0.0, 0.0, 0.0), (6000.0, 0.0, 0.0), (6000.0, 200.0, 0.0))
    cables = (line("a", *straight), line("b", *straight), line("c", *(lost or straight)))
    ends = (outlet("DB", (0, 200, 0)), outlet("S1", (6000, 200, 0)))
    of: Circuit = circuit("P1", "DB", "S1", count=3, electrical={"loaded_conductors": 3})
    found = installation(*parts, *ends, of, model_cables=cables)
    routing = route_all(found)
    loading = load(found, routing, CODE.sizes)
    grouped = group_circuits(found, routing, loading)
    subjects = subjects_of({Enclosure}, found, routing, loading, grouped)
    judged = judge_subjects(subjects, PLUGINS.rules, CODE)
    return {
        item.subject.about.carriers[0]: item.verdict.outcome.value
        for item in judged
        if item.rule == "segregation.enclosure"
    }


def test_all_through_one_is_within_and_one_alone_fails_where_it_lies() -> None:
    assert verdicts() == {"T1": "pass", "T2": "pass"}
    assert verdicts((0, 200, 0), (0, 1000, 0), (6000, 1000, 0), (6000, 200, 0)) == {
        "T1": "unknown",
        "T2": "unknown",
        "X": "fail",
    }

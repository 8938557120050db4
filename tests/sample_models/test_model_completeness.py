"""What the rules of completeness tell of the samples, against the plans that were written by hand and the worked ways."""

import csv
import re
from functools import cache
from pathlib import Path

import pytest

from checker.findings import model_problems
from checker.judging import judge_subjects
from checker.model import Problem
from checker.network.loading import load
from checker.network.modelled import modelled_carriers
from checker.network.routing import route_all
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.rule.plugins import load_plugins
from tests.sample_models import plan_data_room, plan_vet_practice, plan_workshop
from tests.sample_models.plans import Plan

SAMPLES = Path(__file__).parents[2] / "sample_models"
PLANS = {"vet_practice": plan_vet_practice.PLAN, "data_room": plan_data_room.PLAN, "workshop": plan_workshop.MOST}
each_sample = pytest.mark.parametrize("folder", sorted(PLANS))


@cache
def problems(folder: str) -> tuple[Problem, ...]:
    """What is told of joins, and what the rules of completeness tell; without all other rules, which have no part in it."""
    plugins = load_plugins()
    sources = find_sources([SAMPLES / folder], None)
    installation = read_installation(sources, plugins.cables, carriers=tuple(plugins.carriers.values()))
    code = plugins.codes[sources.project.project.code]
    routing = route_all(installation)
    loading = load(installation, routing, code.sizes)
    judged = judge_subjects(modelled_carriers(installation, routing, loading), plugins.rules, code)
    return (*routing.problems, *model_problems(judged, plugins.rules))


def worked_ways(folder: str) -> list[list[str]]:
    with (SAMPLES / folder / "expected.csv").open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if row["table"] == "route"]
    assert len(rows) > 30
    return [row["carriers"].split("; ") for row in rows if row["carriers"]]


def told(folder: str, words: str) -> set[str]:
    """The tags that problems of completeness name; in the samples none is about more carriers than it names."""
    found: set[str] = set()
    for problem in problems(folder):
        if words in problem.what and problem.hint:
            tags = problem.where.split(", ")
            assert len(tags) == problem.elements
            found.update(tags)
    return found


def open_on(plan: Plan) -> set[str]:
    """Carriers of which the plan joins nothing to an end."""
    met: set[tuple[str, float]] = {(one, step.leave) for (one, _), steps in plan.steps.items() for step in steps}
    return {tag for tag, length in plan.lengths.items() if not {(tag, 0.0), (tag, length)} <= met}


@each_sample
def test_what_ends_in_nothing_is_open_on_the_plan_and_all_else_has_a_reason(folder: str) -> None:
    named, is_open = told(folder, "joined to nothing"), open_on(PLANS[folder])
    assert named
    assert named <= is_open
    # any other open end is where a worked way begins or ends, or nearly meets something, which is told for itself
    ends = {tag for way in worked_ways(folder) for tag in (way[0], way[-1])}
    missed = {
        tag
        for problem in problems(folder)
        if "joined to it" in problem.what or "aren't joined" in problem.what
        for tag in re.split(" / ", problem.where)
    }
    assert is_open - named <= ends | missed


@each_sample
def test_what_holds_no_circuit_is_on_no_worked_way(folder: str) -> None:
    passed = {tag for way in worked_ways(folder) for tag in way}
    assert told(folder, "no circuit lies in it") == PLANS[folder].lengths.keys() - passed


def test_what_is_unused_is_what_was_meant_to_be() -> None:
    assert told("workshop", "no circuit lies in it") == {"RC-99"}  # it stops 4 in short, and nothing is led to it
    assert told("data_room", "no circuit lies in it") == {"BU-04"}  # only LD-02 would, and it has no way
    assert told("vet_practice", "no circuit lies in it") == set()

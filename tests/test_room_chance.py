"""Room for one more in networks by chance: what is promised is what the whole says, judged anew with circuits of one's own."""

import functools
import random
from dataclasses import replace

import pytest

from checker.model import CarrierKind, Circuit, Installation, RouteStep, Section, Service
from checker.network.routing import route_all
from checker.room.answering import Answer, answer_for
from checker.room.objects import as_object
from checker.room.question import MOST_CIRCUITS, bundle_of
from checker.rule import Outcome
from checker.rule.code import Code
from checker.rule.plugins import code_of
from checker.rule.verdict import SEVERITY
from checker.trial import situation_of
from tests.installations import carrier, circuit, fitting, installation, lanes, outlet
from tests.room_questions import PLUGINS, question

CODES = {key: code_of(PLUGINS, key) for key in ("bs-7671", "nfpa-70")}
STEP_MM, COLUMNS, ROWS = 2000.0, 4, 3
ENDS, SEEDS = ("O0", f"O{COLUMNS * ROWS - 1}"), 40


def a_section(chance: random.Random) -> tuple[Section, CarrierKind]:
    size = chance.choice([(50.0, 50.0), (75.0, 50.0), (100.0, 50.0), (100.0, 100.0), (None, None)])
    kind = chance.choice([CarrierKind.TRUNKING] * 5 + [CarrierKind.CONDUIT])
    if kind is CarrierKind.CONDUIT:
        return Section(bore_mm=chance.choice([28.0, 40.0, 60.0]), source="test"), kind
    divided = chance.random() < 0.3
    own = lanes(Service.DATA, chance.choice([Service.DATA, Service.POWER])) if divided else lanes(None)
    return Section(width_mm=size[0], height_mm=size[1], wall_mm=1.0, divider_mm=2.0, lanes=own, source="test"), kind


def a_network(chance: random.Random) -> Installation:
    """Trunkings and conduits along a grid of streets, with boxes at its corners and a few data circuits between outlets."""
    items: list[object] = []
    corners = [(column * STEP_MM, row * STEP_MM, 0.0) for column in range(COLUMNS) for row in range(ROWS)]
    for number, point in enumerate(corners):
        items.append(fitting(f"J{number}", point))
        if chance.random() < 0.5 or number in {0, len(corners) - 1}:
            items.append(outlet(f"O{number}", (point[0] + 300.0, point[1], 200.0)))
    for one in corners:
        for other in ((one[0] + STEP_MM, one[1], 0.0), (one[0], one[1] + STEP_MM, 0.0)):
            if other in corners and chance.random() < 0.85:
                section, kind = a_section(chance)
                items.append(carrier(f"T{len(items)}", one, other, section, kind))
    outlets = [item.key for item in items if type(item).__name__ == "Equipment"]
    for number in range(chance.randint(1, 6)):
        begin, end = chance.sample(outlets, 2)
        count, size = chance.randint(1, 8), chance.choice([6.0, 8.0, 10.0])
        more = {"electrical": {"loaded_conductors": 0}, "voltage_v": 48.0}
        items.append(circuit(f"D{number}", begin, end, service=Service.DATA, count=count, area_of=size, **more))
    return installation(*items)  # type: ignore[arg-type]


@functools.cache
def answered(seed: int) -> tuple[Installation, Code, Answer]:
    chance = random.Random(seed)  # noqa: S311 - no secret
    here = a_network(chance)
    code = CODES[chance.choice(sorted(CODES))]
    asked = question("6mm=3", ends=ENDS)
    return here, code, answer_for(asked, here, bundle_of(asked, here, PLUGINS), code, PLUGINS)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_as_many_as_are_promised_go_in_by_the_whole_and_one_more_doesnt(seed: int) -> None:
    here, code, answer = answered(seed)
    bundle = answer.bundle
    if answer.best is None:
        added = replace(here, circuits=(*here.circuits, bundle.circuit))
        assert not route_all(added).routes[-1].routed_by
        return
    before = situation_of(here, route_all(here), code, PLUGINS).findings
    route = as_object(answer)["route"]

    def outcome(number: int) -> Outcome:
        more = [_given(bundle.numbered(one), route) for one in range(1, number + 1)]
        there = replace(here, circuits=(*here.circuits, *more))
        after = situation_of(there, route_all(there), code, PLUGINS).findings
        marks = {one.mark for one in more}
        bad = [Outcome.PASS]
        for key, row in after.items():
            was = before[key].verdict if key in before else "pass"
            worse = SEVERITY[Outcome(row.verdict)] > SEVERITY[Outcome(was)]
            if worse or not marks.isdisjoint(row.circuits):
                bad.append(Outcome(row.verdict))
        return max(bad, key=SEVERITY.__getitem__)

    if answer.most:
        assert outcome(answer.most) is Outcome.PASS
    if answer.most is not None and answer.most < MOST_CIRCUITS and answer.outcome is not Outcome.UNKNOWN:
        assert outcome(answer.most + 1) is not Outcome.PASS
    assert outcome(1) is answer.best.of(1).outcome


def _given(one: Circuit, route: str) -> Circuit:
    steps = [(step, *step.partition("/")[::2]) for step in route.split("; ")]
    return replace(one, route=tuple(RouteStep(text, name, int(lane) if lane else None) for text, name, lane in steps))


@pytest.mark.parametrize("seed", range(8))
def test_the_answer_doesnt_hang_on_the_order_in_which_things_are_read(seed: int) -> None:
    chance = random.Random(seed)  # noqa: S311 - no secret
    here = a_network(chance)
    asked = question("6mm=3", ends=ENDS)

    def told(there: Installation) -> object:
        return as_object(answer_for(asked, there, bundle_of(asked, there, PLUGINS), CODES["bs-7671"], PLUGINS))

    def shuffled(items: tuple) -> tuple:
        return tuple(chance.sample(items, len(items)))

    other = replace(
        here,
        fittings=shuffled(here.fittings),
        equipment=shuffled(here.equipment),
        circuits=shuffled(here.circuits),
    )
    assert told(here) == told(other)


def test_what_was_tried_by_chance_is_of_every_sort() -> None:
    sorts = set()
    for seed in range(SEEDS):
        _, _, answer = answered(seed)
        sorts.add(answer.outcome.value)
        sorts |= {"no way"} if answer.best is None else set()
        sorts |= {"other ways"} if answer.others else set()
        sorts |= {"another way is the best"} if answer.best is not None and answer.best.way.closed else set()
        sorts |= {"a compartment picked"} if answer.best is not None and answer.best.way.compartment else set()
    assert sorts >= {
        "pass",
        "fail",
        "unknown",
        "no way",
        "other ways",
        "another way is the best",
        "a compartment picked",
    }

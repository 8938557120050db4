"""What a change is told to do is what it does: parts are held against the whole, judged anew with the change made."""

import random
from dataclasses import replace
from pathlib import Path

import pytest

from checker.checking import code_for
from checker.model import Lane, Service
from checker.network.routing import route_all
from checker.read.installation import read_installation
from checker.read.sources import find_sources
from checker.room.counting import AddCircuits
from checker.room.question import Bundle
from checker.rule.plugins import load_plugins
from checker.trial import Change, Divide, Effects, Recable, Reroute, Resize, Situation, Trials, situation_of
from checker.trial.situation import routing_of

SAMPLES = Path(__file__).parents[2] / "sample_models"
PLUGINS = load_plugins()


def opened(name: str):
    sources = find_sources([SAMPLES / name], None)
    code, _ = code_for(sources, None, PLUGINS)
    installation = read_installation(sources, PLUGINS.cables, lambda _: None, tuple(PLUGINS.carriers.values()))
    return situation_of(installation, route_all(installation), code, PLUGINS), code


@pytest.fixture(scope="module", params=["data_room", "vet_practice", "workshop"])
def sample(request: pytest.FixtureRequest):
    return opened(request.param)


def a_change(chance: random.Random, situation: Situation) -> Change:
    """Any change of any sort; whether it makes sense doesn't matter here."""
    carriers, routes = situation.installation.carriers, [route for route in situation.routing.routes if route.visits]
    some = chance.sample(carriers, chance.randint(1, 3))
    route = chance.choice(routes)
    circuit = next(item for item in situation.installation.circuits if item.mark == route.circuit)
    sort = chance.choice(["resize", "divide", "lane", "reroute", "recable", "add"])
    if sort == "resize":
        times = chance.choice([0.5, 1.5, 2.0])
        return Resize(tuple((item.key, _times(item.section, times)) for item in some))
    if sort == "divide":
        lanes = (Lane(1, None, frozenset({Service.POWER})), Lane(2, None, frozenset({Service.DATA})))
        return Divide(tuple(item.key for item in some), lanes)
    if sort == "lane":
        keys, number = sorted(route.carriers)[:3], chance.randint(1, 2)
        visits = (visit._replace(compartment=number) if visit.carrier in keys else visit for visit in route.visits)
        return Reroute((replace(route, visits=tuple(visits)),), route.carriers)
    if sort == "reroute":
        kept = route.visits[: max(1, len(route.visits) // 2)]
        return Reroute((replace(route, visits=kept),), route.carriers)
    cables = tuple(replace(cable, count=(cable.count or 1) * 3) for cable in circuit.cables)
    if sort == "recable":
        return Recable(circuit.mark, cables, route.carriers)
    more = Bundle(replace(circuit, apart_from=()), (), "one more")
    return AddCircuits(more, route, chance.randint(1, 2))


def mended(effects: Effects) -> list[str]:
    """What failed and passes with a change, or isn't asked any more."""
    return [
        key for key, row in effects.before.items() if row.verdict == "fail" and effects.verdict(key) in {"", "pass"}
    ]


def _times(section, times: float):
    sized = {
        name: value * times
        for name in ("width_mm", "height_mm", "outside_diameter_mm", "bore_mm", "inside_area_mm2")
        if (value := getattr(section, name)) is not None
    }
    return replace(section, **sized)


def test_parts_tell_of_a_change_what_the_whole_does(sample) -> None:
    before, code = sample
    trials = Trials(before, code, PLUGINS)
    chance = random.Random(7)  # noqa: S311 - no secret
    changed = 0
    for _ in range(60):
        change = a_change(chance, before)
        effects = trials.effects([change])
        installation, routes = change.made(before.installation, before.routing.routes)
        after = situation_of(installation, routing_of(installation, before.routing, routes), code, PLUGINS)
        for key, row in effects.after.items():
            whole = after.findings[key]
            assert (row.verdict, row.value, row.limit) == (whole.verdict, whole.value, whole.limit), change
        # nothing changes that isn't touched
        for key, row in after.findings.items():
            if key not in effects.after:
                assert key in before.findings, (change, row)
                assert row.verdict == before.findings[key].verdict, (change, row)
        changed += bool(effects.worse or mended(effects))
    assert changed > 10  # else nothing was tried here


def test_a_part_is_smaller_than_the_whole() -> None:
    before, code = opened("vet_practice")
    trials = Trials(before, code, PLUGINS)
    number = len(before.installation.carriers)
    for carrier in before.installation.carriers:
        part = trials.carver.around({carrier.key}, set())
        assert carrier.key in part.whole
        assert len(part.installation.carriers) < number


def test_where_a_part_would_tell_otherwise_the_whole_is_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    before, code = opened("workshop")
    trials = Trials(before, code, PLUGINS)
    key = next(route for route in before.routing.routes if len(route.carriers) > 3).visits[0].carrier
    from checker.trial.carve import Carver

    around = Carver.around

    def too_little(self, keys, marks):
        part = around(self, keys, marks)
        return replace(part, installation=replace(part.installation, circuits=()), routes=())

    monkeypatch.setattr(Carver, "around", too_little)
    section = next(carrier.section for carrier in before.installation.carriers if carrier.key == key)
    effects = trials.effects([Resize(((key, section),))])
    assert not effects.worse
    assert not mended(effects)
    assert len(effects.situation.installation.carriers) == len(before.installation.carriers)

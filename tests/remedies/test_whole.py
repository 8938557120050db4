"""What holds of all that is offered: nothing in the whole is worse, the order tells nothing, and the work is bounded."""

import random
from dataclasses import replace

import pytest

from checker.model import Installation, Service
from checker.progress import Progress
from checker.remedies import finding as of_findings
from checker.remedies import remedies_of
from checker.remedies.means import Try
from checker.result.remedy_tables import RemedyKind, RemedyRow
from checker.trial import situation_of
from checker.trial.situation import routing_of
from tests.installations import lanes
from tests.remedies.sites import BS, PLUGINS, failing, judged, laid, ring, site, straight
from tests.remedies.verdicts import GRADES


def test_where_the_work_is_used_up_it_says_that_nothing_was_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(of_findings, "LEAST_WORK", 0)
    inst = site(straight(), laid("P1", 16))
    situation = judged(inst)
    worst, other = failing(situation)[0], (replace(failing(situation)[0][0], id="one more"),)
    situation.findings["one more"] = other[0]
    found = remedies_of(situation, [worst, other], BS, PLUGINS, Progress())
    assert [row.findings for row in found.remedies] == [(worst[0].id,)]
    assert found.tried == {"one more": "not tried: too much else fails"}


def test_what_was_tried_before_the_work_was_used_up_is_said_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """The way round, 50 × 50 like D, is tried first, and is too narrow for fifteen cables; then there is no work left for a larger D."""
    monkeypatch.setattr(of_findings, "LEAST_WORK", 1)
    inst = ring(15, other=50)
    inst = replace(inst, circuits=inst.circuits[:1])
    found = remedies_of(judged(inst), failing(judged(inst)), BS, PLUGINS, Progress())
    assert found.remedies == ()
    assert set(found.tried.values()) == {"nothing helped: another way for P1; the rest not tried: too much else fails"}


def any_site(chance: random.Random) -> Installation:
    """A few trunkings in a ring or a row with some circuits, often too full."""
    inst = ring(chance.randint(4, 12), chance.choice([50, 75, 100]))
    divided = chance.random() < 0.5
    sections = {
        own.key: replace(own.section, lanes=lanes(None, None))
        if divided and own.key in {"A", "D", "E"}
        else own.section
        for own in inst.carriers
    }
    made = [
        laid(
            f"P{number}",
            chance.randint(1, 9),
            service=chance.choice([Service.POWER, Service.POWER, Service.CONTROL, Service.FIRE_ALARM]),
            compartment=chance.choice([1, 1, 2]) if divided else None,
        )
        for number in range(chance.randint(2, 5))
    ]
    return replace(
        inst,
        carriers=tuple(replace(own, section=sections[own.key]) for own in inst.carriers),
        circuits=tuple(made),
    )


def test_whatever_is_offered_nothing_in_the_whole_is_worse_with_it(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[tuple[Try, RemedyRow]] = []
    tried = of_findings._Trier._tried

    def kept(self, one: Try) -> RemedyRow | None:
        row = tried(self, one)
        if row is not None:
            made.append((one, row))
        return row

    monkeypatch.setattr(of_findings._Trier, "_tried", kept)
    chance = random.Random(11)  # noqa: S311 - no secret
    kinds: set[RemedyKind] = set()
    for _ in range(40):
        before = judged(any_site(chance))
        made.clear()
        remedies_of(before, failing(before), BS, PLUGINS, Progress())
        for one, row in made:
            changed, routes = before.installation, before.routing.routes
            for change in one.changes:
                changed, routes = change.made(changed, routes)
            after = situation_of(changed, routing_of(changed, before.routing, routes), BS, PLUGINS)
            kinds.add(row.kind)
            for own in row.findings:
                assert own not in after.findings or after.findings[own].verdict == "pass"
            for key, finding in after.findings.items():
                old = before.findings.get(key)
                assert GRADES[finding.verdict] <= (0 if old is None else GRADES[old.verdict]), (row.text, finding)
    assert len(kinds) >= 4  # else little was tried


def test_what_is_offered_doesnt_hang_on_the_order_of_elements_and_rows() -> None:
    chance = random.Random(5)  # noqa: S311 - no secret
    for _ in range(6):
        inst = any_site(chance)
        situation = judged(inst)
        groups = failing(situation)
        found = remedies_of(situation, groups, BS, PLUGINS, Progress())
        turned = judged(replace(inst, carriers=inst.carriers[::-1], circuits=inst.circuits[::-1]))
        again = remedies_of(turned, [(turned.findings[group[0].id],) for group in groups], BS, PLUGINS, Progress())
        assert again.remedies == found.remedies
        assert again.tried == found.tried

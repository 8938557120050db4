"""The weight of cables on a tray, from the installation to the finding; and what may never happen."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import Cable, Carrier, CarrierKind, Enclosure, Installation, Laying, Place, PlacedCable, Section
from checker.result.tables import FindingRow
from checker.rule import Basis, Limit, Outcome, judge_subject
from checker.rule.needs import answered_in
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from rules.support.load import SupportLimits
from tests.installations import carrier, circuit, installation, lanes, outlet

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
DECLARED = Laying(span_m=2.0, safe_load_kg_per_m=10.0, mass_kg_per_m=2.0)
TRAY = Section(
    width_mm=300.0, height_mm=50.0, wall_mm=1.5, usable_depth_mm=45.0, source="test", lanes=lanes(None, None)
)
WORST = {Outcome.PASS: 0, Outcome.UNKNOWN: 1, Outcome.FAIL: 2}


def site(kg_per_km: float | None, laying: Laying = DECLARED, **of_circuit: object) -> Installation:
    """A tray of two compartments, and three cables of P1 in the first of them, four of P2 in the second."""
    tray = replace(carrier("T", (0, 0, 0), (4000, 0, 0), TRAY, CarrierKind.TRAY), laying=laying)
    cables = (Cable(2, "x", 3, 20.0, mass_kg_per_km=kg_per_km),), (Cable(3, "x", 4, 20.0, mass_kg_per_km=kg_per_km),)
    first = replace(circuit("P1", "DB", "S1", compartment=1, **of_circuit), cables=cables[0])
    second = replace(circuit("P2", "DB", "S1", compartment=2), cables=cables[1])
    return installation(tray, outlet("DB", (0, 0, -300)), outlet("S1", (4000, 0, -300)), first, second)


def loads(inst: Installation, spare: float | None = None) -> list[FindingRow]:
    wanted = {} if spare is None else {"support.load": {"spare_share": spare, "reason": "a second phase"}}
    code = tightened(CODE, wanted, "wayroom.toml", PLUGINS.rules)
    return [row for row in check_installation(inst, code, PLUGINS).findings if row.rule == "support.load"]


def test_the_cables_of_all_compartments_weigh_on_it() -> None:
    (found,) = loads(site(1000.0))
    # 7 · 1000 / 1000 + 2
    assert (found.verdict, found.value, found.limit, found.unit) == ("pass", 9.0, 10.0, "kg/m")
    assert (found.carriers, found.compartment, found.circuits) == (("T",), None, ("P1", "P2"))
    assert found.basis == "project"
    assert "at a span of 2 m" in found.reason


def test_spare_is_of_the_cables_alone_and_told_with_the_projects_reason() -> None:
    (within,) = loads(site(1000.0), 0.10)
    (over,) = loads(site(1000.0), 0.20)
    assert (within.verdict, within.value) == ("pass", pytest.approx(1.1 * 7.0 + 2.0))  # 9.7
    assert (over.verdict, over.value) == ("fail", pytest.approx(1.2 * 7.0 + 2.0))  # 10.4
    assert "a second phase" in over.source


def test_a_carrier_whose_type_declares_nothing_of_its_supports_is_not_asked_about() -> None:
    assert loads(site(1000.0, Laying())) == []
    (found,) = loads(site(1000.0, Laying(span_m=2.0, mass_kg_per_m=2.0)))
    assert (found.verdict, found.value) == ("unknown", None)
    assert "its safe load isn't declared" in found.reason


def test_a_pass_by_an_estimate_says_if_and_ends_in_no_loose_words() -> None:
    inst = site(None)
    measured = [
        replace(one, cables=(replace(one.cables[0], csa_mm2=25.0, cores=1, conductor="copper", diameter_mm=10.0),))
        for one in inst.circuits
    ]
    (found,) = loads(replace(inst, circuits=tuple(measured)))
    # 25 · 8.89 · 1.05 + (78.5398 − 25) · 1.5 = 233.3625 + 80.3097 = 313.672 kg/km; seven of them, and 2
    assert (found.verdict, found.value) == ("pass", pytest.approx(7 * 0.313672 + 2.0, abs=1e-4))
    assert "if cable x weighs no more than estimated" in found.reason


@pytest.mark.parametrize(
    ("rise_mm", "verdict"), [(0.0, "pass"), (1900.0, "pass"), (2100.0, "unknown"), (4000.0, "unknown")]
)
def test_a_safe_load_of_level_spans_says_nothing_of_a_tray_that_climbs(rise_mm: float, verdict: str) -> None:
    # 4 m long: at 30° it rises 2 m
    inst = site(1000.0)
    level_mm = (4000.0**2 - rise_mm**2) ** 0.5
    tray = replace(inst.carriers[0], end_mm=(level_mm, 0.0, rise_mm))
    (found,) = loads(
        replace(inst, carriers=(tray,), equipment=(inst.equipment[0], outlet("S1", (level_mm, 0, rise_mm - 300))))
    )
    assert found.verdict == verdict
    assert ("it climbs" in found.reason) == (verdict == "unknown")
    (heavy,) = loads(
        replace(
            site(9000.0), carriers=(tray,), equipment=(inst.equipment[0], outlet("S1", (level_mm, 0, rise_mm - 300)))
        )
    )
    assert heavy.verdict == ("fail" if verdict == "pass" else "unknown")  # 65 kg/m of 10


def test_a_circuit_without_a_way_may_weigh_on_it() -> None:
    inst = site(1000.0)
    more = replace(circuit("P3", "DB", "NOWHERE"), cables=(Cable(4, "y", 2, 20.0, mass_kg_per_km=1000.0),))
    (found,) = loads(replace(inst, circuits=(*inst.circuits, more)))
    assert found.verdict == "unknown"  # 9 for certain, 11 with it
    assert "P3" in found.reason
    light = replace(more, cables=(Cable(4, "y", 1, 20.0, mass_kg_per_km=900.0),))
    (found,) = loads(replace(inst, circuits=(*inst.circuits, light)))
    assert (found.verdict, found.value) == ("pass", pytest.approx(9.9))


def test_what_would_settle_an_unknown_answer_is_named_once_for_each_question() -> None:
    tray = replace(site(None).carriers[0], type_name="T-300", laying=replace(DECLARED, mass_kg_per_m=None))
    rule = PLUGINS.rules["support.load"]
    cable = PlacedCable("P1", None, "x", 3, None)
    verdict = judge_subject(
        rule, Enclosure(tray, cables=(cable, replace(cable, circuit="P2", count=None))), SupportLimits()
    )
    assert verdict.outcome is Outcome.UNKNOWN
    assert verdict.needs == ("the mass of type 'T-300'", "the mass of cable x", "the number of cables of circuit P2")
    assert all(answered_in(need) != ("", "") for need in verdict.needs)


CABLES = st.builds(
    PlacedCable,
    circuit=st.sampled_from(["P1", "P2"]),
    service=st.none(),
    key=st.sampled_from(["x", "y"]),
    count=st.sampled_from([None, 0, 1, 5]),
    area_mm2=st.none(),
    diameter_mm=st.sampled_from([None, 10.0, 30.0]),
    csa_mm2=st.sampled_from([None, 2.5, 25.0]),
    cores=st.sampled_from([None, 1, 4]),
    conductor=st.sampled_from(["", "copper", "Al"]),
    mass_kg_per_km=st.sampled_from([None, None, 100.0, 2000.0]),
)
ENCLOSURES = st.builds(
    lambda laying, sure, perhaps, is_open: Enclosure(
        Carrier("T", Place("T", "m"), CarrierKind.TRAY, Section(), laying=laying),
        cables=tuple(sure),
        possible_cables=tuple(perhaps),
        doubts=("a circuit isn't routed",) if perhaps or is_open else (),
        unbounded=is_open,
    ),
    st.builds(
        Laying,
        span_m=st.sampled_from([None, 2.0, 2.0]),
        safe_load_kg_per_m=st.sampled_from([1.0, 5.0, 50.0]),
        mass_kg_per_m=st.sampled_from([None, 0.0, 1.0]),
    ),
    st.lists(CABLES, max_size=4),
    st.lists(CABLES, max_size=2),
    st.booleans(),
)


def outcome(subject: Enclosure, spare: float | None = None) -> Outcome:
    limit = None if spare is None else Limit(value=spare, basis=Basis.PROJECT, source="test", confidence="given")
    return judge_subject(PLUGINS.rules["support.load"], subject, SupportLimits(spare_share=limit)).outcome


@given(ENCLOSURES, CABLES)
def test_one_cable_more_and_more_spare_never_make_it_better(subject: Enclosure, more: PlacedCable) -> None:
    before = outcome(subject)
    assert WORST[outcome(replace(subject, cables=(*subject.cables, more)))] >= WORST[before]
    assert WORST[outcome(subject, 0.25)] >= WORST[before]
    assert WORST[outcome(subject, 0.5)] >= WORST[outcome(subject, 0.25)]


@given(ENCLOSURES, st.randoms())
def test_the_order_of_cables_changes_nothing(subject: Enclosure, dice: object) -> None:
    shuffled = list(subject.cables)
    dice.shuffle(shuffled)  # type: ignore[attr-defined]
    assert outcome(replace(subject, cables=tuple(shuffled))) is outcome(subject)


@given(ENCLOSURES, st.sampled_from([50.0, 500.0, 5000.0]))
def test_a_mass_that_becomes_known_never_turns_an_answer_round(subject: Enclosure, mass: float) -> None:
    """Unless it is outside of what the construction allows: then the estimate wasn't one of that cable."""
    known = []
    for cable in subject.cables:
        is_open = cable.mass_kg_per_km is None and (cable.csa_mm2 is None or cable.cores is None)
        known.append(replace(cable, mass_kg_per_km=mass) if is_open else cable)
    before, after = outcome(subject), outcome(replace(subject, cables=tuple(known)))
    if before is not Outcome.UNKNOWN:
        assert after is before

"""Spare in every compartment, and room in what can't be opened again: from the installation to the finding, and what may never happen."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.checking import check_installation
from checker.model import (
    Carrier,
    CarrierKind,
    Fill,
    FilledCompartment,
    Installation,
    Laying,
    LoadedCompartment,
    Place,
    PlacedCable,
    Section,
    Surroundings,
)
from checker.result.tables import FindingRow, Result
from checker.rule import Basis, Limit, Limits, Outcome, judge, judge_subject
from checker.rule.needs import answered_in
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from rules.access.closed import ClosedLimits
from rules.fill.spare import SpareLimits
from tests.installations import STEEL_50, carrier, circuit, installation, outlet

PLUGINS = load_plugins()
WORST = {Outcome.PASS: 0, Outcome.UNKNOWN: 1, Outcome.FAIL: 2}
NOT_SAID = Laying()
BORE_20 = Section(bore_mm=20.0, outside_diameter_mm=25.0, source="test")
SPARE = {"fill.spare": {"spare_share": 0.25, "reason": "a second phase"}}
CLOSED = {"access.closed": {"space_factor": 0.35, "spare_share": 0.25, "reason": "the slab stays whole"}}


def site(number: int, laying: Laying = NOT_SAID, kind: CarrierKind = CarrierKind.TRUNKING) -> Installation:
    """A carrier with so many cables of 10 mm, 78.54 mm² each; the trunking holds 2304 mm², the conduit 314.16 mm²."""
    section = BORE_20 if kind is CarrierKind.CONDUIT else STEEL_50
    part = replace(carrier("T", (0, 0, 0), (4000, 0, 0), section, kind), laying=laying)
    cables = circuit("P1", "DB", "S1", count=number)
    return installation(part, outlet("DB", (0, 0, -300)), outlet("S1", (4000, 0, -300)), cables)


def checked(inst: Installation, wanted: dict[str, dict[str, float | str]], code: str = "bs-7671") -> Result:
    own = tightened(PLUGINS.codes[code], wanted, "wayroom.toml", PLUGINS.rules)
    return check_installation(inst, own, PLUGINS)


def found(result: Result, rule: str) -> list[FindingRow]:
    return [row for row in result.findings if row.rule == rule]


@pytest.mark.parametrize(("number", "verdict"), [(10, "pass"), (11, "fail")])
def test_spare_is_asked_of_a_trunking_by_the_codes_own_limit(number: int, verdict: str) -> None:
    result = checked(site(number), SPARE)
    (row,) = found(result, "fill.spare")
    # 1.25 · 10 · 78.5398 / 2304 = 42.6 %, 1.25 · 11 · 78.5398 / 2304 = 46.9 %, of 45 %
    assert (row.verdict, row.limit, row.unit, row.basis) == (verdict, 0.45, "ratio", "project")
    assert row.value == pytest.approx(1.25 * number * 78.53982 / 2304.0, abs=1e-6)
    assert (row.carriers, row.compartment, row.circuits) == (("T",), 1, ("P1",))
    assert "a second phase" in row.source
    (fill,) = found(result, "fill.compartment")
    assert fill.verdict == "pass"


def test_spare_goes_by_the_number_of_conductors_where_the_code_does() -> None:
    # three take 235.6 of 314.16 mm² and fail by themselves; one of 78.54 is 25 %, with 25 % more 31.25 %, of 53 %
    verdicts = {n: found(checked(site(n, kind=CarrierKind.CONDUIT), SPARE, "nfpa-70"), "fill.spare")[0] for n in (1, 3)}
    assert (verdicts[1].verdict, verdicts[1].value, verdicts[1].limit) == ("pass", pytest.approx(0.3125), 0.53)
    assert verdicts[3].verdict == "fail"
    assert "over without any spare" in verdicts[3].reason


def test_spare_in_a_conduit_with_a_multicore_cable_goes_by_the_terms_of_the_others_too() -> None:
    # 10,000 / (31 + 10) = 243.9, published 244; eight of term 30 are 240, 98.4 %, and with 25 % more 123 %; by area eight of 3.4 mm and one
    # of 2 mm take 75.8 of 221.7 mm², 34.2 %, and with 25 % more 42.7 % of 45 %
    section = Section(outside_diameter_mm=20.0, bore_mm=16.8, source="test")
    part = carrier("T", (0, 0, 0), (10_000, 0, 0), section, CarrierKind.CONDUIT)
    single, multi = circuit("P1", "DB", "S1", area_of=3.4, count=8), circuit("P2", "DB", "S1", area_of=2.0)
    multi = replace(multi, cables=(replace(multi.cables[0], csa_mm2=0.5, cores=2),))
    board, end = outlet("DB", (0, 0, -300)), outlet("S1", (10_000, 0, -300))
    result = checked(installation(part, board, end, single, multi), SPARE)
    (fill,), (spare,) = found(result, "fill.conduit"), found(result, "fill.spare")
    assert (fill.verdict, fill.measure, fill.value) == ("pass", "term", pytest.approx(240 / 244, abs=1e-6))
    assert (spare.verdict, spare.measure, spare.value) == ("fail", "term", pytest.approx(1.25 * 240 / 244, abs=1e-6))


def test_what_does_not_go_in_at_all_is_told_without_a_figure_that_looks_within() -> None:
    # a cable of 24 mm in 23 mm of height: 452.4 of 98 · 23 = 2254 mm² is 20.1 %, 25.1 % with spare, under 45 %
    section = Section(width_mm=100.0, height_mm=25.0, wall_mm=1.0, source="test")
    part = carrier("T", (0, 0, 0), (4000, 0, 0), section)
    thick = circuit("P1", "DB", "S1", area_of=24.0)
    result = checked(installation(part, outlet("DB", (0, 0, -300)), outlet("S1", (4000, 0, -300)), thick), SPARE)
    (row,) = found(result, "fill.spare")
    assert (row.verdict, row.found) == ("fail", "over without any spare")


def test_without_a_spare_of_the_project_none_is_asked_and_that_is_said() -> None:
    result = checked(site(11), {})
    assert found(result, "fill.spare") == []
    assert any("fill.spare (spare_share)" in text for text in result.cautions)


def test_where_the_fill_is_unknown_so_is_the_spare() -> None:
    inst = site(5)
    (only,) = inst.circuits
    unsized = replace(only, mark="P2", cables=(replace(only.cables[0], diameter_mm=None),))
    (row,) = found(checked(replace(inst, circuits=(only, unsized)), SPARE), "fill.spare")
    assert (row.verdict, row.value) == ("unknown", None)
    assert "P2" in row.reason


CAST, BURIED = Laying(installed=Surroundings.CAST_IN), Laying(installed=Surroundings.GROUND)
SHUT, OPENED = Laying(can_be_reopened=False), Laying(can_be_reopened=True)


@pytest.mark.parametrize(
    ("kind", "laying", "is_asked"),
    [
        (CarrierKind.TRUNKING, SHUT, True),
        (CarrierKind.TRUNKING, CAST, False),  # floor trunking has lids
        (CarrierKind.TRUNKING, replace(CAST, can_be_reopened=False), True),
        (CarrierKind.CONDUIT, CAST, True),
        (CarrierKind.CONDUIT, BURIED, True),
        (CarrierKind.CONDUIT, replace(CAST, can_be_reopened=True), False),
        (CarrierKind.CONDUIT, Laying(installed=Surroundings.AIR), False),
        (CarrierKind.CONDUIT, Laying(), False),
        (CarrierKind.TRUNKING, OPENED, False),
        (CarrierKind.TRAY, CAST, True),
        (CarrierKind.LADDER, BURIED, True),
        (CarrierKind.UNKNOWN, CAST, False),
    ],
)
def test_only_what_is_declared_closed_or_has_no_lids_and_is_built_in_is_asked_about(
    kind: CarrierKind, laying: Laying, *, is_asked: bool
) -> None:
    rows = found(checked(site(1, laying, kind), CLOSED), "access.closed")
    assert len(rows) == is_asked


@pytest.mark.parametrize(("number", "verdict"), [(1, "pass"), (2, "fail")])
def test_a_conduit_cast_in_keeps_to_the_projects_limit_by_area(number: int, verdict: str) -> None:
    # 1.25 · 78.54 / 314.16 = 31.25 % and twice that, of 35 %
    (row,) = found(checked(site(number, CAST, CarrierKind.CONDUIT), CLOSED), "access.closed")
    assert (row.verdict, row.limit, row.measure, row.basis) == (verdict, 0.35, "area", "project")
    assert row.value == pytest.approx(0.3125 * number)
    assert (row.carriers, row.compartment, row.circuits) == (("T",), 1, ("P1",))
    assert "the slab stays whole" in row.source


def test_a_failing_one_becomes_an_issue() -> None:
    result = checked(site(2, CAST, CarrierKind.CONDUIT), CLOSED)
    (row,) = found(result, "access.closed")
    assert row.topic in {topic.guid for topic in result.topics if topic.rule == "access.closed"}


def test_a_closed_carrier_without_the_projects_figures_is_unknown_and_says_where_they_go() -> None:
    result = checked(site(1, SHUT), {})
    (row,) = found(result, "access.closed")
    assert row.verdict == "unknown"
    assert '[limits."access.closed"]' in row.reason
    (asked,) = [item for item in result.questions if "access.closed" in item.question]
    assert asked.where == 'wayroom.toml, [limits."access.closed"]'


def test_what_would_settle_an_unknown_answer_is_named() -> None:
    part = Carrier("T", Place("T", "m"), CarrierKind.CONDUIT, Section(), type_name="C-25", laying=CAST)
    cable = PlacedCable("P1", None, "x", 3, None)
    verdict = judge(PLUGINS.rules["access.closed"], LoadedCompartment(part, 1, None, cables=(cable,)), ClosedLimits())
    assert verdict.outcome is Outcome.UNKNOWN
    assert sorted(verdict.needs) == [
        "a limit of the project for access.closed",
        "the diameter of cable x",
        "the size of type 'C-25'",
    ]
    assert all(answered_in(need) != ("", "") for need in verdict.needs)


CABLES = st.builds(
    PlacedCable,
    circuit=st.sampled_from(["P1", "P2"]),
    service=st.none(),
    key=st.just("x"),
    count=st.sampled_from([None, 0, 1, 3]),
    area_mm2=st.sampled_from([None, 50.0, 200.0, 700.0]),
)
COMPARTMENTS = st.builds(
    lambda area, least, sure, perhaps, is_open: LoadedCompartment(
        Carrier("T", Place("T", "m"), CarrierKind.TRUNKING, Section(), laying=SHUT),
        1,
        area,
        area_least_mm2=None if area is None or least is None else least * area,
        size_doubt="" if least is None else "the wall isn't known",
        cables=tuple(sure),
        possible=tuple(perhaps),
        possible_doubts=("a circuit isn't routed",) if perhaps or is_open else (),
        unbounded=is_open,
    ),
    st.sampled_from([None, 1000.0, 2304.0, 2304.0]),
    st.sampled_from([None, None, 0.8]),
    st.lists(CABLES, max_size=4),
    st.lists(CABLES, max_size=2),
    st.booleans(),
)
SHARES = st.sampled_from([None, 0.05, 0.25, 0.9])


def limit(value: float | None) -> Limit | None:
    return None if value is None else Limit(value=value, basis=Basis.PROJECT, source="test", confidence="given")


def of_closed(subject: LoadedCompartment, spare: float | None) -> Outcome:
    limits = ClosedLimits(space_factor=limit(0.35), spare_share=limit(spare))
    return judge(PLUGINS.rules["access.closed"], subject, limits).outcome


def filled(subject: LoadedCompartment) -> FilledCompartment:
    """With what the rule for trunking of one code says of it."""
    rule, limits = PLUGINS.rules["fill.compartment"], PLUGINS.codes["bs-7671"].limits["fill.compartment"]

    def fill(end: LoadedCompartment) -> Fill:
        said = rule.function(end, limits)
        is_within = {Outcome.PASS: True, Outcome.FAIL: False}.get(said.outcome)
        return Fill(
            said.value,
            said.limit,
            said.measure,
            said.basis,
            said.source,
            said.reason,
            is_within,
            said.at_least,
            said.needs,
        )

    return FilledCompartment(subject, fill(subject.least_loaded()), fill(subject.most_loaded()))


def of_spare(subject: LoadedCompartment, spare: float | None) -> Outcome:
    limits: Limits = SpareLimits(spare_share=limit(spare))
    return judge_subject(PLUGINS.rules["fill.spare"], filled(subject), limits).outcome


@given(COMPARTMENTS, CABLES, SHARES)
def test_one_cable_more_never_makes_it_better(
    subject: LoadedCompartment, more: PlacedCable, spare: float | None
) -> None:
    fuller = replace(subject, cables=(*subject.cables, more))
    assert WORST[of_closed(fuller, spare)] >= WORST[of_closed(subject, spare)]
    assert WORST[of_spare(fuller, spare)] >= WORST[of_spare(subject, spare)]


@given(COMPARTMENTS, st.lists(st.floats(0.01, 1.0), min_size=2, max_size=2).map(sorted))
def test_more_spare_never_makes_it_better(subject: LoadedCompartment, shares: list[float]) -> None:
    less, more = shares
    assert WORST[of_closed(subject, more)] >= WORST[of_closed(subject, less)]
    assert WORST[of_spare(subject, more)] >= WORST[of_spare(subject, less)]


@given(COMPARTMENTS, SHARES)
def test_a_spare_that_becomes_known_never_turns_a_fail_round(subject: LoadedCompartment, spare: float | None) -> None:
    if of_closed(subject, None) is Outcome.FAIL:
        assert of_closed(subject, spare) is Outcome.FAIL

"""The mechanics behind ``pulling.tension``, and properties of the rules of pulling."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.errors import ProjectFileError
from checker.model import RunPiece
from checker.rule import Basis, Limit, Outcome, judge_subject
from checker.rule.plugins import load_plugins
from checker.rule.tighten import tightened
from checker.testing_runs import run_of
from rules.pulling.forces import Bundle, bundle, pull

PLUGINS = load_plugins()
SINGLE = Bundle(1.0, 1.0)
SIZES = st.floats(0.05, 60.0)
STRAIGHTS = st.builds(lambda length, share: RunPiece("C", length, length * share), SIZES, st.floats(-1.0, 1.0))
TURNS = st.builds(
    lambda turn, radius: RunPiece("B", radius * math.radians(turn) / 1000.0, 0.0, turn, radius),
    st.floats(5.0, 120.0),
    st.floats(40.0, 1000.0),
)
WAYS = st.lists(st.one_of(STRAIGHTS, TURNS), min_size=1, max_size=6)


def test_the_worked_figures_of_a_straight_and_a_bend_come_out() -> None:
    # own numbers of the shared figures: 412.0 N, then 714.0 N (the short form, without the bend's own weight), 1190 N/m at 0.6 m
    straight, corner = RunPiece("C", 40.0), RunPiece("B", 0.0, 0.0, 90.0)
    assert pull([straight], 29.43, 0.35, SINGLE).tension_n == pytest.approx(412.0, abs=0.05)
    assert pull([straight, corner], 29.43, 0.35, SINGLE).tension_n == pytest.approx(714.0, abs=0.05)
    bend = replace(corner, radius_mm=600.0)
    assert pull([straight, bend], 29.43, 0.35, SINGLE).side_n_per_m == pytest.approx(1190.0, rel=1e-3)


def test_up_an_incline_the_weight_counts_beside_the_friction() -> None:
    # 50 m that rise 30 m, so 40 m on the level, 10 N/m, friction 0.5: 10 · (0.5 · 40 + 30) = 500 N; downward 10 · (20 − 30) < 0
    up = RunPiece("C", 50.0, 30.0)
    assert pull([up], 10.0, 0.5, SINGLE).tension_n == pytest.approx(500.0)
    assert pull([up.turned_round()], 10.0, 0.5, SINGLE).tension_n == 0.0


def test_what_it_takes_on_the_way_counts_though_it_is_less_at_the_end() -> None:
    # 100 m level 0.5 · 10 · 100 = 500 N, then 40 m down: 500 − 400 = 100 N at the end
    way = [RunPiece("C", 100.0), RunPiece("D", 40.0, -40.0)]
    assert pull(way, 10.0, 0.5, SINGLE).tension_n == pytest.approx(500.0)


@pytest.mark.parametrize(
    ("diameters", "correction", "share"),
    [
        # D = 30, d = 10: x = 10 / 20 = 0.5
        ((10.0,), 1.0, 1.0),
        ((10.0,) * 2, 1 / math.sqrt(0.75), 0.5 / math.sqrt(0.75)),
        ((10.0,) * 3, 1 + 4 / 3 * 0.25, (3 * (1 + 1 / 3) - 2) / 3),  # cradled 1.333 is more than 1.155 in a triangle
        ((10.0,) * 4, 1.5, 0.5),
        ((10.0,) * 5, 1.4, 1.0),
        ((10.0, 8.0), 1.4, 1.0),
    ],
)
def test_cables_wedge_each_other_by_their_number(diameters: tuple[float, ...], correction: float, share: float) -> None:
    found = bundle(diameters, 30.0)
    assert found is not None
    assert (found.weight_correction, found.side_share) == (pytest.approx(correction), pytest.approx(share))


def test_how_equal_cables_lie_is_not_known_where_they_are_as_wide_as_the_bore_or_the_bore_is_not_known() -> None:
    assert bundle((10.0, 10.0), 20.0) is None
    assert bundle((10.0, 10.0), None) is None
    assert bundle((10.0,), None) == SINGLE


@given(way=WAYS, weight=st.floats(0.01, 200.0), friction=st.floats(0.05, 1.0), times=st.floats(1.0, 10.0))
def test_as_many_times_the_weight_takes_as_many_times_the_force(
    way: list[RunPiece], weight: float, friction: float, times: float
) -> None:
    one, many = (pull(way, heavy, friction, SINGLE) for heavy in (weight, weight * times))
    assert many.tension_n == pytest.approx(times * one.tension_n, rel=1e-6, abs=1e-9)
    assert many.side_n_per_m == pytest.approx(times * one.side_n_per_m, rel=1e-6, abs=1e-9)


@given(way=WAYS, friction=st.floats(0.05, 1.0), more=st.floats(0.0, 0.5), longer=TURNS)
def test_more_friction_or_one_more_bend_never_takes_less(
    way: list[RunPiece], friction: float, more: float, longer: RunPiece
) -> None:
    least = pull(way, 10.0, friction, SINGLE).tension_n
    assert pull(way, 10.0, friction + more, SINGLE).tension_n >= least - 1e-9
    assert pull([longer, *way], 10.0, friction, SINGLE).tension_n >= least - 1e-9
    assert pull([*way, longer], 10.0, friction, SINGLE).tension_n >= least - 1e-9


def as_case(way: list[RunPiece], count: int) -> dict[str, object]:
    pieces = [
        {"length_m": piece.length_m, "rise_m": piece.rise_m, "turn_deg": piece.turn_deg, "radius_mm": piece.radius_mm}
        for piece in way
    ]
    cable = {
        "count": count,
        "diameter_mm": 6.0,
        "csa_mm2": 6.0,
        "cores": 1,
        "conductor": "copper",
        "mass_kg_per_km": 90.0,
    }
    return {
        "pieces": [*pieces, {"turn_deg": 90.0, "radius_mm": 100.0, "length_m": 0.157}],
        "bore_mm": 40.0,
        "cables": [cable],
    }


@given(way=WAYS, count=st.integers(1, 9))
def test_a_run_that_is_written_down_from_its_other_end_is_answered_the_same(way: list[RunPiece], count: int) -> None:
    rule, limits = PLUGINS.rules["pulling.tension"], PLUGINS.codes["iec-60364"].limits["pulling.tension"]
    run = run_of(as_case(way, count))
    other = replace(run, pieces=tuple(piece.turned_round() for piece in reversed(run.pieces)), ends=run.ends[::-1])
    one, two = judge_subject(rule, run, limits), judge_subject(rule, other, limits)
    assert (one.outcome, one.unit) == (two.outcome, two.unit)
    assert one.value == pytest.approx(two.value)


@given(way=WAYS, count=st.integers(5, 20))
def test_one_more_of_many_equal_cables_never_takes_less_and_never_mends_a_fail(way: list[RunPiece], count: int) -> None:
    # from five on the weight correction is the same; they bear as much more as they weigh, so that only pressure can tell
    rule, limits = PLUGINS.rules["pulling.tension"], PLUGINS.codes["iec-60364"].limits["pulling.tension"]
    fewer, more = (judge_subject(rule, run_of(as_case(way, number)), limits) for number in (count, count + 1))
    if fewer.outcome is Outcome.FAIL:
        assert more.outcome is Outcome.FAIL
    if fewer.unit == more.unit:
        assert fewer.value is not None
        assert more.value is not None
        assert more.value >= fewer.value - 1e-9


@given(
    diameter=st.floats(2.0, 30.0),
    radius=st.floats(30.0, 500.0),
    bore=st.floats(10.0, 60.0),
    share=st.floats(0.1, 1.0),
)
def test_a_tighter_bend_never_mends_a_fail(diameter: float, radius: float, bore: float, share: float) -> None:
    rule, limits = PLUGINS.rules["pulling.radius"], PLUGINS.codes["bs-7671"].limits["pulling.radius"]

    def answered(at_mm: float) -> Outcome:
        case = {
            "pieces": [{"turn_deg": 90, "radius_mm": at_mm}],
            "bore_mm": bore,
            "cables": [{"count": 1, "diameter_mm": diameter, "cores": 1}],
        }
        return judge_subject(rule, run_of(case), limits).outcome

    severity = [Outcome.PASS, Outcome.UNKNOWN, Outcome.FAIL]
    assert severity.index(answered(radius * share)) >= severity.index(answered(radius))


def test_a_project_may_know_its_friction_where_the_codes_have_none() -> None:
    rule = PLUGINS.rules["pulling.tension"]
    for code in PLUGINS.codes.values():
        limits = code.limits.get("pulling.tension")
        if limits is not None:
            assert getattr(limits, "friction") is None  # noqa: B009 - the base of all limits has no such field
    own = Limit(value=0.25, basis=Basis.PROJECT, source="wayroom.toml", confidence="given", reason="with lubricant")
    limits = PLUGINS.codes["iec-60364"].limits["pulling.tension"].model_copy(update={"friction": own})
    # 5 cables of 90 g/m = 4.4145 N/m; 0.25 · 1.4 · 4.4145 · 60 = 92.70 N
    case = {**as_case([], 5), "pieces": [{"length_m": 60.0}]}
    verdict = judge_subject(rule, run_of(case), limits)
    assert verdict.value == pytest.approx(92.70, abs=0.01)
    assert "the friction is 0.25, and" in verdict.reason


def test_a_friction_in_per_cent_is_a_slip_and_never_reckoned_with() -> None:
    with pytest.raises(ProjectFileError, match="more than 2"):
        tightened(
            PLUGINS.codes["bs-7671"],
            {"pulling.tension": {"friction": 35.0, "reason": "lubricant"}},
            "wayroom.toml",
            PLUGINS.rules,
        )


def test_the_source_of_an_answer_is_that_of_the_limit_that_governs() -> None:
    rule = PLUGINS.rules["pulling.tension"]
    data = {"service": "data", "count": 2, "diameter_mm": 6.6, "cores": 8, "mass_kg_per_km": 45.0}
    heavy = {
        "count": 1,
        "diameter_mm": 40.0,
        "csa_mm2": 400.0,
        "cores": 1,
        "conductor": "copper",
        "mass_kg_per_km": 10000.0,
    }

    def source(cable: dict[str, object], code: str) -> str:
        case = {"pieces": [{"length_m": 100.0}], "bore_mm": 100.0, "cables": [cable]}
        return judge_subject(rule, run_of(case), PLUGINS.codes[code].limits["pulling.tension"]).source

    assert "data cable of four pairs" in source(data, "bs-7671")
    assert "aluminium" in source({**heavy, "conductor": "aluminium"}, "bs-7671")
    assert "grip" in source(heavy, "nfpa-70")
    assert "of copper conductor" in source(heavy, "bs-7671")

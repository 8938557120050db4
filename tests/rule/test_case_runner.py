"""A case that can't be asked says why, in a sentence."""

from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from checker.model import PlacedCable
from checker.rule.plugins import load_plugins
from checker.testing import NEEDED, SUBJECTS_OF, Case, not_shown, read_cases, run_case
from checker.testing_cables import placed_cable_of
from checker.testing_keys import Keys

GOOD = {
    "name": "pass: a few",
    "source": "4 · 78.54 / 2304 = 0.136",
    "code": "bs-7671",
    "kind": "trunking",
    "area_mm2": 2304.0,
    "cables": [{"count": 4, "diameter_mm": 10}],
    "outcome": "pass",
    "value": 0.136,
}
SPARE = {"spare_share": 0.25}


def case(rule: str = "fill.compartment", **changes: Any) -> Case:
    return Case(rule, GOOD["name"], {key: value for key, value in (GOOD | changes).items() if value is not None})  # type: ignore[arg-type]


def test_a_case_as_it_should_be_holds() -> None:
    assert run_case(case()).outcome == "pass"
    assert run_case(case(limits={"space_factor": 0.1}, outcome="fail")).limit == 0.1


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (case(code="bs-9999"), "there is no code 'bs-9999'; one of: bs-7671, iec-60364, nfpa-70"),
        (case(code=None), "it names no code"),
        (case("fill.none"), "there is no rule 'fill.none', after which its file is named; one of: "),
        (case(code="iec-60364"), "the code iec-60364 doesn't ask fill.compartment; one of: bs-7671, nfpa-70"),
        (case(limits={"factor": 0.4}), "fill.compartment has no limit 'factor'; one of: space_factor"),
        (case(limits={"space_factor": "0.4"}), "space_factor = '0.4' is no number"),
        (case("fill.conduit", limits={"lengths": 3}), "fill.conduit has no limit 'lengths'"),
        (case(source=None), "the case names no source"),
        (case(outcome="fail"), "fill.compartment, pass: a few: "),
        (case(value=0.137), "fill.compartment, pass: a few: "),
        (case(vaule=0.136), "no case of fill.compartment has the key 'vaule', so it shows nothing"),
        (case(circuits=["P1", "P2"]), "no case of fill.compartment has the key 'circuits', so it shows nothing"),
    ],
)
def test_one_that_can_not_be_asked_or_does_not_hold_says_so(wrong: Case, words: str) -> None:
    with pytest.raises(AssertionError) as caught:
        run_case(wrong)
    assert str(caught.value).startswith((f"{wrong.rule}, pass: a few: ", "value: "))
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("value", "holds"), [("0.1", True), ("0.14", True), ("0.140", False), ("1.4e-1", True), ("1.40e-1", False)]
)
def test_a_figure_holds_to_the_digits_that_are_written(tmp_path: Path, value: str, *, holds: bool) -> None:
    """0.13635: 0.14 to two places, 0.136 to three; a nought at the end is a digit that is given."""
    path = tmp_path / "fill.compartment.toml"
    path.write_text(
        f"""[[case]]
name = "pass: a few"
source = "4 · 78.54 / 2304 = 0.13635"
code = "bs-7671"
kind = "trunking"
area_mm2 = 2304.0
cables = [{{ count = 4, diameter_mm = 10 }}]
outcome = "pass"
value = {value}
""",
        encoding="utf-8",
    )
    (read_one,) = read_cases(path)
    if holds:
        assert run_case(read_one).outcome == "pass"
    else:
        with pytest.raises(AssertionError, match=r"value: fill\.compartment, pass: a few"):
            run_case(read_one)


def test_one_without_the_limit_that_makes_the_question_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(
        "checker.testing_limits.lacking", lambda limits: [] if limits.space_factor else ["space_factor"]
    )
    tray = {"kind": "tray", "width_mm": 100.0}
    with pytest.raises(
        AssertionError, match=r"without space_factor the rule isn't asked; give it: limits = \{ space_factor = … \}"
    ):
        run_case(case("fill.tray", **tray))
    assert run_case(case("fill.tray", limits={"space_factor": 0.4}, **tray)).limit == 0.4


def test_one_about_something_that_no_case_describes_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    rule = "segregation.fitting"
    monkeypatch.delitem(SUBJECTS_OF, load_plugins().rules[rule].subject)
    with pytest.raises(AssertionError, match="nothing in SUBJECTS_OF reads a DividedFitting from a case"):
        run_case(case(rule))


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (case(cables=[{"count": 4, "diameter_mm": 10, "diamter_least_mm": 9}]), "has the key 'cables.diamter_least_mm'"),
        (case(possible=[{"cuont": 1, "diameter_mm": 1}]), "has the key 'possible.cuont'"),
        (case(run={"lenght_m": 3.0}), "has the key 'run.lenght_m'"),
        (case("support.load", cables=[{"key": "a", "mass_kg_per_m": 1}], area_mm2=None), "has the key 'cables.mass_kg_per_m'"),
        (case("pulling.bends", pieces=[{"turn": 90}], kind=None, area_mm2=None, cables=[]), "has the key 'pieces.turn'"),
        (
            case("grouping.rating", circuits=[{"mark": "C1", "csa_mm2": 2.5, "count": 3, "coers": 1}], cables=None, area_mm2=None),
            "has the key 'circuits.coers'",
        ),
        (case("fill.spare", fill={"verdict": "pass", "vaule": 0.3}, limits=SPARE, cables=None, area_mm2=None), "has the key 'fill.vaule'"),
    ],
    ids=lambda item: item.rule if isinstance(item, Case) else "",
)  # fmt: skip
def test_a_misspelt_key_of_a_table_in_a_case_is_told_too(wrong: Case, words: str) -> None:
    with pytest.raises(AssertionError, match="shows nothing") as caught:
        run_case(wrong)
    assert words in str(caught.value)


def test_a_key_that_nobody_asks_for_is_told_before_the_wrong_answer_that_it_may_be_the_cause_of() -> None:
    """Without its area, written wrongly, the answer is unknown, which says nothing of the slip."""
    with pytest.raises(AssertionError, match="has the key 'aera_mm2', so it shows nothing"):
        run_case(case(area_mm2=None, aera_mm2=2304.0, outcome="fail"))


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        (case(kind=None), "it lacks the key 'kind', which a LoadedCompartment needs"),
        (case("segregation.spacing", one={"kind": "tray"}, clear_mm=100.0, beside_m=1.0), "it lacks the key 'other'"),
        (case("segregation.spacing", one={}, clear_mm=100.0, beside_m=1.0), "it lacks the key 'one.kind'"),
        (case("segregation.redundancy"), "it lacks the key 'circuits', which a CircuitPair needs"),
        (case("grouping.rating", circuits=[{"csa_mm2": 2.5}]), "it lacks the key 'circuits.mark'"),
        (case("fill.spare", limits=SPARE), "it lacks the key 'fill', which a FilledCompartment needs"),
        (case(kind="trnking"), "no LoadedCompartment can be made of it: 'trnking'"),
        (case(cables=[{"service": "dtaa"}]), "no LoadedCompartment can be made of it: 'dtaa'"),
        (case(cables=[{"diameter_mm": "10"}]), "no LoadedCompartment can be made of it: "),
        (case(kind="tray"), "kind = 'tray', but the rule speaks of trunking alone"),
        (case("fill.tray", limits={"space_factor": 0.4}), "kind = 'trunking', but the rule speaks of ladder, tray alone"),
        (case(outcome=None), "it lacks the key 'outcome', one of: pass, fail, unknown"),
        (case(outcome="passes"), "it lacks the key 'outcome', one of: pass, fail, unknown"),
    ],
)  # fmt: skip
def test_one_that_lacks_something_or_is_of_another_kind_says_what(wrong: Case, words: str) -> None:
    with pytest.raises(AssertionError) as caught:
        run_case(wrong)
    assert str(caught.value).startswith(f"{wrong.rule}, pass: a few: ")
    assert words in str(caught.value)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", r"fill\.compartment\.toml: it has no \[\[case\]\]"),
        (
            '[[case]]\nname = "one"\n[[case]]\nkind = "tray"\n',
            r"fill\.compartment\.toml, case 2: it lacks the key 'name'",
        ),
    ],
)
def test_a_file_without_cases_or_names_says_so(tmp_path: Path, text: str, words: str) -> None:
    path = tmp_path / "fill.compartment.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(AssertionError, match=words):
        list(read_cases(path))


def test_a_cable_of_a_case_can_have_every_field_that_a_placed_cable_has() -> None:
    """A range of 9 to 10 mm: π/4 · 81 = 63.617 mm² to π/4 · 100 = 78.540 mm²."""
    told: dict[str, Any] = {
        "circuit": "P1", "service": "data", "key": "k", "count": 2, "diameter_mm": 10.0, "width_mm": 3.0, "height_mm": 2.0,
        "csa_mm2": 2.5, "awg_kcmil": "12", "cores": 3, "stranded": True, "rated_voltage_v": 450.0, "voltage_v": 230.0,
        "planning": True, "is_several": True, "mass_kg_per_km": 90.0, "conductor": "copper", "diameter_least_mm": 9.0,
        "width_least_mm": 2.5, "height_least_mm": 1.5,
    }  # fmt: skip
    made = placed_cable_of(1, told)
    areas = {"area_mm2", "area_least_mm2"}
    not_asked = {"tolerance"}  # no rule goes by it
    assert {field.name for field in fields(PlacedCable)} == told.keys() | areas | not_asked
    assert {name: getattr(made, name) for name in told} == told
    assert (made.area_mm2, made.area_least_mm2) == (pytest.approx(78.540, abs=5e-4), pytest.approx(63.617, abs=5e-4))
    given = placed_cable_of(1, told | {"area_mm2": 70.0, "area_least_mm2": 60.0})
    assert (given.area_mm2, given.area_least_mm2) == (70.0, 60.0)


def test_of_a_cable_what_a_case_leaves_out_is_not_known() -> None:
    """A flat one of 10 × 4 mm: 4 · 6 + π/4 · 16 = 36.566 mm²; one size of two is none."""
    bare = placed_cable_of(3, {})
    assert (bare.circuit, bare.service, bare.count, bare.area_mm2, bare.is_ranged) == ("C3", "power", None, None, False)
    assert placed_cable_of(0, {"service": ""}).service is None
    assert placed_cable_of(0, {"width_mm": 10.0, "height_mm": 4.0}).area_mm2 == pytest.approx(36.566, abs=5e-4)
    assert placed_cable_of(0, {"width_mm": 10.0}).area_mm2 is None


def test_a_range_of_a_cables_size_is_judged_at_both_ends() -> None:
    """10 of 9 to 11 mm in 2304 mm²: 10 · 63.617 / 2304 = 27.6 % to 10 · 95.033 / 2304 = 41.2 %; the project's limit is 35 %."""
    ranged = [{"count": 10, "diameter_mm": 11.0, "diameter_least_mm": 9.0}]
    assert (
        run_case(case(cables=ranged, limits={"space_factor": 0.35}, outcome="unknown", value=None)).outcome == "unknown"
    )


def test_what_every_rule_must_show_goes_by_outcomes_and_names() -> None:
    """A case called a pass that expects a fail shows no pass."""
    names = ["exactly at the limit is a pass", "missing", "empty", "published: pass"]
    assert not_shown(Case("r", name, {"outcome": "unknown"}) for name in names) == ["pass", "fail"]
    cases = [Case("r", "published, exactly at the limit", {"outcome": "pass"}), Case("r", "over", {"outcome": "fail"})]
    assert not_shown(cases) == ["missing", "empty"]
    assert not_shown([]) == list(NEEDED)


def test_taking_all_keys_at_once_is_asking_for_each() -> None:
    keys = Keys({"one": {"a": 1, "b": 2}, "two": [{"c": 3}], "three": 4})
    assert keys.unasked == ["one", "two", "three"]
    assert dict(**keys["one"]) == {"a": 1, "b": 2}
    assert keys["two"][0].get("d") is None
    assert keys.unasked == ["two.c", "three"]
    assert dict(keys["two"][0].items()) == {"c": 3}
    assert keys.unasked == ["three"]

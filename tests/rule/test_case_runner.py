"""A case that can't be asked says why, in a sentence."""

from pathlib import Path
from typing import Any

import pytest

from checker.rule.plugins import load_plugins
from checker.testing import SUBJECTS_OF, Case, read_cases, run_case

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

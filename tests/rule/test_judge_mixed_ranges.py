"""Rules by which thicker isn't always worse: cables whose size is a range are asked about each at its other end, too."""

import pytest

from checker.model import Carrier, CarrierKind, LoadedCompartment, Place, PlacedCable, Section
from checker.rule import Limits, Outcome, Rule, Verdict, judge
from checker.units import circle_area_mm2


class NoLimits(Limits):
    """None."""


def crushed(subject: LoadedCompartment, limits: NoLimits) -> Verdict:  # noqa: ARG001 - the contract of a rule
    """No cable of less than 4 mm beside one of more than 20 mm."""
    sizes = [cable.diameter_mm or 0.0 for cable in subject.cables]
    bad = min(sizes) < 4.0 and max(sizes) > 20.0
    return Verdict(Outcome.FAIL if bad else Outcome.PASS, "thin beside thick" if bad else "alike")


RULE = Rule("crush.beside", "Thin beside thick", frozenset(), LoadedCompartment, NoLimits, crushed, "A test's.")


def compartment(*spans: tuple[float, float]) -> LoadedCompartment:
    cables = tuple(
        PlacedCable(
            f"C{number}", None, "", 1, circle_area_mm2(most), diameter_mm=most,
            area_least_mm2=None if least == most else circle_area_mm2(least), diameter_least_mm=None if least == most else least,
        )
        for number, (least, most) in enumerate(spans)
    )  # fmt: skip
    return LoadedCompartment(Carrier("K", Place("K", "m"), CarrierKind.TRUNKING, Section()), 1, 2304.0, cables=cables)


@pytest.mark.parametrize(
    ("spans", "outcome"),
    [
        # all thin: 19 beside 3.5; all thick: 21 beside 4.5; but 21 beside 3.5 fails
        (((19.0, 21.0), (3.5, 4.5)), Outcome.UNKNOWN),
        (((19.0, 20.0), (3.5, 4.5)), Outcome.PASS),
        (((21.0, 22.0), (3.5, 3.9)), Outcome.FAIL),
        # in favour 21 beside 3.5 fails, but 21 to 22 beside 4.5 passes
        (((21.0, 22.0), (3.5, 4.5)), Outcome.UNKNOWN),
        (((21.0, 21.0), (4.5, 4.5)), Outcome.PASS),
    ],
)
def test_an_answer_stands_only_if_it_is_the_same_with_each_cable_alone_at_its_other_end(
    spans: tuple[tuple[float, float], ...], outcome: Outcome
) -> None:
    verdict = judge(RULE, compartment(*spans), NoLimits())
    assert verdict.outcome is outcome, verdict

"""What an annotation says of a carrier, from a result of six lengths: T-003 has two compartments."""

from dataclasses import replace

import pytest

from checker.annotate.facts import annotations
from checker.result.tables import Result
from tests.report.results import small_result

FILLS = (0.5, 0.1, 0.2, 0.2, 0.1, 0.1)
RULE = "fill.compartment"


def said(result: Result, label: str) -> dict[str, object]:
    model = result.carriers[0].place.model
    (found,) = [one for one in annotations(result, model, {RULE, "fill.seal"}, has_times=True) if one.label == label]
    assert len({fact.name for fact in found.facts}) == len(found.facts)
    return {fact.name: fact.value for fact in found.facts}


def test_of_compartments_that_are_as_full_as_each_other_the_first_speaks_for_the_carrier() -> None:
    told = said(small_result(FILLS), "T-003")
    assert (told["FillCompartment"], told["Fill"]) == (1, 0.2)
    fuller = said(small_result((*FILLS[:3], 0.3, *FILLS[4:])), "T-003")
    assert (fuller["FillCompartment"], fuller["Fill"], fuller["Compartment1Fill"]) == (2, 0.3, 0.2)


def test_the_rule_of_its_fill_is_one_that_asks_about_it_alone_and_each_finding_is_told_once() -> None:
    result = small_result(FILLS)
    first = result.findings[0]
    keys = (first.carriers[0], first.carriers[0], result.findings[1].carriers[0])  # a place where a length meets itself
    both = replace(first, id="of both", rule="fill.seal", carriers=keys)
    for rows in ((both, *result.findings), (*result.findings, both)):
        told = said(replace(result, findings=rows), "T-001")
        assert told["FillRule"] == RULE
        assert sorted(told["FindingsFail"]) == sorted((first.id, "of both"))  # type: ignore[call-overload]


@pytest.mark.parametrize("created", ["", "1980-01-01T00:00:00Z", "yesterday"])
def test_when_it_was_checked_is_left_out_where_no_model_says_when_it_is(created: str) -> None:
    result = small_result(FILLS)
    assert "CheckedAt" not in said(replace(result, created=created), "T-001")
    assert said(replace(result, created="2026-11-02T09:00:00Z"), "T-001")["CheckedAt"] == "2026-11-02T09:00:00Z"

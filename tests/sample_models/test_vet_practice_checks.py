"""What else is asked of the vet practice's lengths and runs, against the worked answers: seals, closed conduits, loads, bends, pulls."""

from pathlib import Path

import pytest

from checker.result.tables import Result
from tests.sample_models.test_vet_practice import expected, near

WORKED = expected(Path(__file__).parents[2] / "sample_models" / "vet_practice", "check")
#: All that expected.csv has answers for, so that those of a new rule are held against it once they stand there.
RULES = sorted({row["rule"] for row in WORKED})


@pytest.mark.parametrize("rule", RULES)
def test_every_answer_is_the_worked_one(vet_result: Result, rule: str) -> None:
    labels = {row.key: row.place.tag for row in vet_result.carriers}
    # a run is the same from either end
    found = {
        (tuple(sorted(labels[key] for key in finding.carriers)), finding.compartment): finding
        for finding in vet_result.findings
        if finding.rule == rule
    }
    worked = {
        (tuple(row["key"].split("; ")), int(row["compartment"]) if row["compartment"] else None): row
        for row in WORKED
        if row["rule"] == rule
    }
    assert worked.keys() == found.keys()
    for place, row in worked.items():
        assert found[place].verdict == row["verdict"], place
        assert near(found[place].value, row["value"]), (place, found[place].value, row["value"])
        assert near(found[place].limit, row["limit"]), (place, found[place].limit)


def test_every_rule_that_the_code_asks_has_worked_answers(vet_result: Result) -> None:
    apart = {
        "fill.compartment",
        "fill.conduit",
        "fill.tray",
        "segregation.compartment",
        "segregation.fitting",
        "grouping.rating",
    }
    assert {finding.rule for finding in vet_result.findings} == {*RULES, *apart}
    assert len(RULES) >= 8
    assert len(WORKED) >= 100


def test_the_waived_bends_say_who_waived_them_until_when_and_against_what(vet_result: Result) -> None:
    [waived] = [finding for finding in vet_result.findings if finding.verdict == "waived"]
    assert waived.rule == "pulling.bends"
    assert (waived.value, waived.limit) == (270.0, 180.0)
    assert "waived to 270° by the practice's electrical engineer until 2027-06-30" in waived.reason

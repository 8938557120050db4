"""A limit that the project loosened, and ways that are only a little longer: 13 cables are 44 % of LOW or MID, 14 are 48 %, 18 are 61 %."""

from checker.checking import check_installation
from checker.model import Circuit
from checker.rule.tighten import with_loosened
from tests.installations import circuit, installation
from tests.test_loosening import CODE, FILL
from tests.test_sureness import ENDS, PLUGINS, SAME, WIDE_TRUNKS, rail, said


def fill_of(carrier: str, *circuits: Circuit) -> tuple[str, str]:
    inst = installation(*WIDE_TRUNKS, rail(0), rail(1), *ENDS, *circuits, near_mm=2000.0)
    result = check_installation(inst, with_loosened(CODE, [FILL], ""), PLUGINS, now="2026-01-01T00:00:00Z")
    return said(result, "fill.compartment", carrier)


def fixed(count: int, by: str) -> Circuit:
    return circuit("FIXED", "DB", "S", count=count, route=f"FEED;{by};TAIL")


FREE = circuit("C1", "DB", "S", count=4)  # by LOW; by MID it is 0.80 m longer


def test_what_is_waived_and_no_worse_on_other_ways_is_the_same() -> None:
    assert fill_of("LOW", fixed(10, "LOW"), FREE) == ("waived", SAME)  # 14; without C1 10, which even passes


def test_what_is_waived_would_fail_if_more_came() -> None:
    assert fill_of("MID", fixed(14, "MID"), FREE) == ("waived", "would fail if C1 went by MID (0.80 m longer)")


def test_what_passes_would_be_waived_if_more_came() -> None:
    assert fill_of("MID", fixed(10, "MID"), FREE) == ("pass", "would be waived if C1 went by MID (0.80 m longer)")


def test_what_fails_would_be_waived_if_some_went() -> None:
    words = "fails only if C1 goes this way: by MID (0.80 m longer) it would be waived"
    assert fill_of("LOW", fixed(14, "LOW"), FREE) == ("fail", words)

"""The lower and upper limits of cables' sizes that we ship: those of the public figures, and no others."""

import csv
from pathlib import Path

import pytest

from checker.model.tolerance import Tolerance
from checker.rule.plugins import load_plugins

CABLES = load_plugins().cables
CARRIERS = load_plugins().carriers
SINGLE = {"H07V-U / IEC 60227 IEC 01": "h07v-u", "H07V-R / IEC 60227 IEC 01": "h07v-r"}


def figures(shared: Path, name: str) -> list[dict[str, str]]:
    with (shared / "figures" / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


@pytest.mark.corpus
def test_single_core_cables_have_the_limits_of_their_standard_where_it_has_both(shared: Path) -> None:
    rows = [row for row in figures(shared, "1a_single_core_diameters.csv") if row["od_lower_mm"]]
    assert len(rows) == 5 + 17  # H07V-U to 10 mm², H07V-R to 400 mm²
    for row in rows:
        cable = CABLES[f"{SINGLE[row['type']]}-{row['csa_mm2']}"]
        assert cable.tolerance == Tolerance(float(row["od_lower_mm"]), float(row["od_upper_mm"])), cable.key
        assert cable.diameter_mm == float(row["od_upper_mm"])  # by which the code counts it


@pytest.mark.corpus
def test_flat_cables_have_the_limits_of_both_sides(shared: Path) -> None:
    rows = figures(shared, "1b_flat_twin_earth.csv")
    assert len(rows) == 7
    for row in rows:
        width, height = ((float(row[f"{side}_lower_mm"]), float(row[f"{side}_upper_mm"])) for side in ("w", "h"))
        assert CABLES[f"6242y-{row['csa_mm2']}"].tolerance == Tolerance(None, None, *width, *height)


@pytest.mark.corpus
def test_planning_values_have_the_ends_of_what_is_made(shared: Path) -> None:
    published = sorted(
        (float(row["od_low_mm"]), float(row["od_high_mm"])) for row in figures(shared, "1d_data_fibre_fire.csv")
    )
    planned = [cable.tolerance for cable in CABLES.values() if cable.planning]
    own = sorted((item.diameter_least_mm or 0.0, item.diameter_most_mm or 0.0) for item in planned if item is not None)
    assert own == published
    assert len(own) == len(planned) == 19


def test_what_has_no_limits_in_the_public_figures_has_none_here() -> None:
    """Of H07V-K and H07Z-R, and above 400 mm², only upper limits are known; armoured cables have approximate sizes, NFPA 70 prints one."""
    assert {cable.key for cable in CABLES.values() if cable.tolerance is None and cable.key.startswith("h07v-r")} == {
        "h07v-r-500",
        "h07v-r-630",
    }
    for prefix in ("h07v-k-", "h07z-r-", "bs5467-", "thhn-", "xhhw-", "tw-"):
        kept = [cable for cable in CABLES.values() if cable.key.startswith(prefix)]
        assert kept, prefix
        assert all(cable.tolerance is None for cable in kept), prefix


def test_limits_say_where_they_are_from_and_are_about_the_size_that_counts() -> None:
    for cable in CABLES.values():
        assert bool(cable.tolerance) == bool(cable.limits_source), cable.key
        if cable.tolerance is not None and cable.diameter_mm is not None:
            assert cable.diameter_mm == cable.tolerance.diameter_most_mm, cable.key


def test_steel_conduit_alone_has_a_tolerance_of_its_wall() -> None:
    """BS 4568-1: nominal, 0.15 mm more or less; no figure is known of trunking, trays, plastic conduit or NFPA 70's."""
    own = {key: carrier.wall_tolerance_mm for key, carrier in CARRIERS.items() if carrier.wall_tolerance_mm is not None}
    assert own == {f"conduit-steel-{size}": 0.15 for size in (16, 20, 25, 32, 40, 50)}

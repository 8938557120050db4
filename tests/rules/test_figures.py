"""The tables that we ship, against published values beside the project, and against themselves."""

import csv
from pathlib import Path

import pytest

from checker.fit import Question, answer
from checker.model import Carrier, CarrierKind, LoadedCompartment, Place, PlacedCable, Run, Section
from checker.rule import Outcome
from checker.rule.plugins import load_plugins
from checker.units import circle_area_mm2
from rules.fill.conduit import ConduitLimits, conduit


def published(shared: Path, name: str) -> list[dict[str, str]]:
    with (shared / "figures" / name).open(encoding="utf-8", newline="") as stream:
        return list(csv.DictReader(stream))


def capacity(outside_mm: float, length_m: float, bends: int) -> float:
    """The conduit's term as the rule uses it: one cable whose term is 30, and the fill that comes of it."""
    limits = load_plugins().codes["bs-7671"].limits["fill.conduit"]
    assert isinstance(limits, ConduitLimits)
    cable = PlacedCable("P", None, "", 1, 12.0, csa_mm2=2.5, cores=1)
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, Section(outside_diameter_mm=outside_mm))
    verdict = conduit(
        LoadedCompartment(carrier, 1, 200.0, cables=(cable,), run=Run(1, ("K",), length_m, bends * 90.0)), limits
    )
    assert verdict.value
    return 30.0 / verdict.value


@pytest.mark.corpus
def test_every_published_conduit_term_above_3_m_or_with_bends_comes_out(shared: Path) -> None:
    rows = [row for row in published(shared, "7b_uk_conduit_factors_some.csv") if row["length_m"]]
    assert len(rows) > 90
    for row in rows:
        found = capacity(float(row["od_mm"]), float(row["length_m"]), int(row["bends_90"]))
        assert found == pytest.approx(float(row["factor"])), row


@pytest.mark.corpus
def test_every_published_conduit_term_for_short_straight_runs_is_tabled(shared: Path) -> None:
    table = {
        float(row["outside_diameter_mm"]): row["straight_to_3_m"]
        for row in load_plugins().tables["uk_conduit_capacities.csv"].rows
    }
    rows = [row for row in published(shared, "7b_uk_conduit_factors_some.csv") if not row["length_m"]]
    assert rows
    for row in rows:
        assert float(table[float(row["od_mm"])]) == float(row["factor"])


@pytest.mark.corpus
def test_the_cable_areas_are_the_published_trunking_terms(shared: Path) -> None:
    keys = {"solid PVC": "h07v-u", "stranded PVC": "h07v-r", "stranded thermosetting": "h07z-r"}
    rows = [
        row
        for row in published(shared, "7b_uk_cable_factors_some.csv")
        if row["use"] == "trunking" and row["type"] in keys
    ]
    assert rows
    for row in rows:
        cable = load_plugins().cables[f"{keys[row['type']]}-{row['csa_mm2']}"]
        digits = len(row["factor"].partition(".")[2])
        assert cable.diameter_mm
        assert round(circle_area_mm2(cable.diameter_mm), digits) == float(row["factor"]), row


@pytest.mark.corpus
def test_45_percent_of_the_inside_is_the_published_trunking_term(shared: Path) -> None:
    walls = {
        (float(row["width_mm"]), float(row["height_mm"])): float(row["wall_mm"])
        for row in load_plugins().tables["uk_trunking_walls.csv"].rows
    }
    rows = published(shared, "7b_uk_trunking_factors_some.csv")
    assert rows
    for row in rows:
        width, height = float(row["width_mm"]), float(row["height_mm"])
        wall = walls[width, height]
        assert 0.45 * (width - 2 * wall) * (height - 2 * wall) == pytest.approx(float(row["factor"]), abs=0.5001)


def test_terms_and_sizes_rise_as_sizes_do() -> None:
    tables = load_plugins().tables
    for short in ("yes", "no"):
        terms = [
            (float(row["csa_mm2"]), float(row["term"]))
            for row in tables["uk_cable_terms.csv"].rows
            if row["straight_to_3_m"] == short
        ]
        assert [term for _, term in sorted(terms)] == sorted(term for _, term in terms)
    for outside in (16.0, 20.0, 25.0, 32.0):
        for bends in range(4):
            assert capacity(outside, 1.0 if bends else 3.5, bends) > capacity(outside, 5.0, bends)
    assert capacity(20.0, 2.0, 1) > capacity(20.0, 2.0, 2) > capacity(20.0, 2.0, 3) > capacity(20.0, 2.0, 4)


def test_a_capacity_is_a_published_number_and_never_a_fraction() -> None:
    for outside in (16.0, 20.0, 25.0, 32.0):
        assert capacity(outside, 4.2, 2) == pytest.approx(round(capacity(outside, 4.2, 2)))


def test_a_run_of_another_bore_than_any_tabled_is_unknown() -> None:
    limits = load_plugins().codes["bs-7671"].limits["fill.conduit"]
    assert isinstance(limits, ConduitLimits)
    carrier = Carrier("K", Place("K", "m"), CarrierKind.CONDUIT, Section(outside_diameter_mm=21.0))
    cable = PlacedCable("P", None, "", 1, 12.0, csa_mm2=2.5, cores=1)
    verdict = conduit(LoadedCompartment(carrier, 1, 200.0, cables=(cable,), run=Run(1, ("K",), 2.0, 0.0)), limits)
    assert verdict.outcome is Outcome.UNKNOWN


NFPA_CARRIERS = {
    "EMT (358)": "emt",
    "IMC (342)": "imc",
    "RMC (344)": "rmc",
    "PVC Sch 40 (352)": "pvc40",
    "PVC Sch 80 (352)": "pvc80",
}
NFPA_CABLES = {"THHN/THWN/THWN-2": "thhn", "TW/THW/THHW/THW-2": "tw", "XHHW/XHHW-2/XHH": "xhhw"}


@pytest.mark.corpus
def test_how_many_go_into_a_conduit_is_what_annex_c_prints(shared: Path) -> None:
    plugins = load_plugins()
    rows = published(shared, "7a_nec_annex_c_counts_some.csv")
    assert rows
    for row in rows:
        carrier, cable = (
            f"{NFPA_CARRIERS[row['raceway']]}-{row['trade_size']}",
            f"{NFPA_CABLES[row['type']]}-{row['awg_kcmil']}",
        )
        found = answer(Question(plugins.codes["nfpa-70"], carrier=carrier, most=cable, length_m=3.0), plugins)
        assert found.most == int(row["published_count"]), row


@pytest.mark.parametrize(
    ("cables", "length_m", "carrier", "outcome"),
    [
        # published answers: 3 × 12, 4 × 10, 8 × 8 AWG THHN take 1-1/4 EMT; 3 × 3/0, 1 and 6 AWG THHN in a nipple take 1-1/2 RMC
        (("thhn-12=3", "thhn-10=4", "thhn-8=8"), 3.0, "emt-1", Outcome.FAIL),
        (("thhn-12=3", "thhn-10=4", "thhn-8=8"), 3.0, "emt-1-1/4", Outcome.PASS),
        (("thhn-3/0=3", "thhn-1=1", "thhn-6=1"), 0.6, "rmc-1-1/4", Outcome.FAIL),
        (("thhn-3/0=3", "thhn-1=1", "thhn-6=1"), 0.6, "rmc-1-1/2", Outcome.PASS),
    ],
)
def test_mixed_conductors_take_the_published_conduit(
    cables: tuple[str, ...], length_m: float, carrier: str, outcome: Outcome
) -> None:
    plugins = load_plugins()
    question = Question(plugins.codes["nfpa-70"], carrier=carrier, cables=cables, length_m=length_m)
    assert answer(question, plugins).verdict.outcome is outcome

"""A circuit whose rating fails and is waived: its row, the length that it is told at, and the page say so."""

import csv
import io
from dataclasses import replace
from datetime import date

import pytest

from checker.checking import check_installation
from checker.report.csv_files import routes_csv
from checker.report.html import report_html
from checker.result.accounting import count
from checker.result.tables import Result
from checker.rule.plugins import load_plugins
from checker.rule.waiver import Waiver
from tests.installations import carrier, circuit, installation, outlet

PLUGINS = load_plugins()
CODE = PLUGINS.codes["bs-7671"]
RATED = "grouping.rating"
W = Waiver("R. Okafor", "load measured", date(2027, 6, 30), rule=RATED, circuits=("C1",))
#: Alone in trunking 2.5 mm² in PVC, B1, two loaded, carries 24 A (IEC 60364-5-52 Table B.52.2).
OVER = {"design_current_a": 25.0, "device_rating_a": 25.0}  # by its length: 25 A > 24 A
ASKEW = {
    "design_current_a": 23.0,
    "device_rating_a": 20.0,
}  # by no length: Ib > In; of a cable of no known size none governs


def checked(load: dict[str, float], *waivers: Waiver) -> Result:
    one = circuit("C1", "DB", "S1", count=2, electrical={**load, "loaded_conductors": 2})
    if load is ASKEW:
        one = replace(one, cables=tuple(replace(cable, csa_mm2=None) for cable in one.cables))
    ends = (outlet("DB", (0.0, 200.0, 0.0)), outlet("S1", (3000.0, 200.0, 0.0)))
    inst = installation(carrier("T1", (0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)), one, *ends)
    return check_installation(inst, CODE, PLUGINS, now="2026-11-28T09:00:00Z", waivers=waivers)


@pytest.mark.parametrize("load", [OVER, ASKEW], ids=["by its length", "by no length"])
def test_a_circuit_is_waived_and_stays_at_the_length_where_it_was_told(load: dict[str, float]) -> None:
    before, after = checked(load), checked(load, W)
    failing, waived = ([row for row in result.findings if row.rule == RATED] for result in (before, after))
    assert [(row.verdict, row.carriers) for row in failing] == [("fail", ("T1",))]
    assert [(row.verdict, row.carriers) for row in waived] == [("waived", ("T1",))]
    assert (before.compartments[0].worst_verdict, after.compartments[0].worst_verdict) == ("fail", "waived")
    assert [row.verdict for row in after.ratings] == ["waived"]
    (row,) = csv.DictReader(io.StringIO(routes_csv(after).decode("utf-8")))
    assert row["verdict"] == "waived"
    assert row["reason"].endswith("; waived by R. Okafor until 2027-06-30, whatever the figure: load measured")
    assert count(after).circuits_rated == count(before).circuits_rated == 1
    assert "waived by R. Okafor until 2027-06-30, whatever the figure: load measured" in report_html(after).decode(
        "utf-8"
    )


def test_a_circuit_is_meant_by_the_length_that_it_is_told_at_too() -> None:
    by_length = Waiver(W.who, W.why, W.until, rule=RATED, carriers=("T1",))
    (row,) = [row for row in checked(OVER, by_length).findings if row.rule == RATED]
    assert row.verdict == "waived"

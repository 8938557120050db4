"""The next thicker cables."""

from dataclasses import replace

from checker.model import Cable, Circuit, Service
from checker.remedies.cables import rows_to_change, thicker, with_cable
from checker.rule.plugins import load_plugins

CABLES = load_plugins().cables


def row(key: str, count: int = 1) -> Cable:
    """A row of the schedule that names a cable and no size of its own."""
    own = CABLES[key]
    return Cable(
        2, key, count, own.diameter_mm, csa_mm2=own.csa_mm2, cores=own.cores, stranded=own.stranded, awg_kcmil=own.awg_kcmil,
        conductor=own.conductor, insulation=own.insulation, rated_voltage_v=own.rated_voltage_v, source=own.source,
        area_mm2=own.area_mm2, mass_kg_per_km=own.mass_kg_per_km,
        tolerance=own.tolerance,
    )  # fmt: skip


def of(*rows: Cable) -> Circuit:
    return Circuit("P1", "DB", ("S1",), Service.POWER, cables=rows)


def test_the_next_ones_are_of_the_same_family_and_the_thinnest_first() -> None:
    assert [item.key for item in thicker(CABLES["h07v-u-4"], CABLES)] == ["h07v-u-6", "h07v-u-10"]
    assert thicker(CABLES["bs5467-3x6"], CABLES)[0].key == "bs5467-3x10"
    assert thicker(CABLES["thhn-12"], CABLES)[0].key == "thhn-10"  # thinner by its number, thicker by its metal
    assert thicker(CABLES["h07v-u-10"], CABLES) == []


def test_the_thickest_row_comes_first_and_only_rows_as_the_table_has_them() -> None:
    rows = (row("h07v-u-2.5"), row("h07v-u-4", 2))
    assert [own.key for own in rows_to_change(of(*rows), CABLES)] == ["h07v-u-4", "h07v-u-2.5"]
    given = replace(rows[1], diameter_mm=5.0, source="schedule")
    assert [own.key for own in rows_to_change(of(rows[0], given), CABLES)] == ["h07v-u-2.5"]
    assert list(rows_to_change(of(Cable(2, diameter_mm=5.0)), CABLES)) == []


def test_other_rows_and_counts_stay() -> None:
    circuit = of(row("h07v-u-4", 3), row("h07v-u-2.5"))
    changed = with_cable(circuit, CABLES["h07v-u-4"], CABLES["h07v-u-6"])
    assert changed == (row("h07v-u-6", 3), row("h07v-u-2.5"))

"""From runs to findings: what a check says of pulling, where, and in what words."""

from dataclasses import replace

import pytest

from checker.checking import check_installation
from checker.model import Cable, Circuit, FittingKind, Installation, Section
from checker.result.notes import shown
from checker.result.tables import FindingRow
from checker.rule.plugins import load_plugins
from tests.installations import circuit, fitting, installation, outlet
from tests.model.test_turns import bend
from tests.model.test_turns import conduit as curved
from tests.network.joined import conduit

PLUGINS = load_plugins()


def site(*circuits: Circuit, boxes: bool = True) -> Installation:
    """Three right-angle bends between two boxes, 2 m, 1 m, 1 m and 3 m apart; the first bend is bent of conduit itself, at 60 mm."""
    arc = replace(
        curved(bend(60.0, 90.0, 0.0, 0.0)),
        key="C2",
        section=Section(outside_diameter_mm=20.0, bore_mm=16.8, source="test"),
    )
    pipe = arc.section
    return installation(
        conduit("C1", (-2000, -60, 0), (0, -60, 0), pipe), arc, conduit("C3", (60, 0, 0), (60, 1000, 0), pipe),
        fitting("B2", (60, 1000, 0), FittingKind.BEND, 60.0), conduit("C4", (60, 1000, 0), (1060, 1000, 0), pipe),
        fitting("B3", (1060, 1000, 0), FittingKind.BEND, 60.0), conduit("C5", (1060, 1000, 0), (1060, 1000, 3000), pipe),
        *([fitting("X", (-2030, -60, 0)), fitting("Y", (1060, 1000, 3030))] if boxes else []),
        outlet("DB", (-2000, -160, 0)), outlet("M", (1060, 1100, 3000)), *circuits,
    )  # fmt: skip


def armoured(mark: str) -> Circuit:
    cable = Cable(
        row=2,
        key="bs5467-4x16",
        count=1,
        diameter_mm=13.0,
        cores=4,
        csa_mm2=16.0,
        conductor="copper",
        mass_kg_per_km=1000.0,
    )
    return replace(circuit(mark, "DB", "M"), cables=(cable,))


def findings(inst: Installation, code: str = "bs-7671") -> dict[str, FindingRow]:
    result = check_installation(inst, PLUGINS.codes[code], PLUGINS)
    return {row.rule: row for row in result.findings if row.rule.startswith("pulling.")}


def test_a_run_has_one_finding_a_rule_that_names_all_its_conduits_and_circuits() -> None:
    found = findings(site(circuit("P1", "DB", "M"), armoured("P2")))
    assert set(found) == {"pulling.bends", "pulling.radius", "pulling.tension"}
    for row in found.values():
        assert row.carriers == ("C1", "C2", "C3", "C4", "C5")
        assert row.circuits == ("P1", "P2")
        assert row.compartment is None


def test_too_many_bends_are_told_in_degrees() -> None:
    found = findings(site(circuit("P1", "DB", "M")))["pulling.bends"]
    assert (found.verdict, shown(found)) == ("fail", "270° of bends in a run / 180°")
    assert found.reason == "turns by 270° between X and Y"
    assert findings(site(circuit("P1", "DB", "M")), "nfpa-70")["pulling.bends"].verdict == "pass"


def test_a_bend_too_tight_for_its_cable_is_told_though_others_have_no_radius() -> None:
    # 6 · 13 = 78 mm; inside 60 − 16.8 / 2 = 51.6 mm
    found = findings(site(armoured("P2")))["pulling.radius"]
    assert (found.verdict, shown(found)) == ("fail", "51.6 mm inside radius of a bend / at least 78 mm")


def test_a_cable_that_leaves_the_run_before_a_bend_is_not_held_against_it() -> None:
    # its board hangs half-way along C3: it passes C3 to C5, and the bend of 60 mm comes before
    inst = site(replace(armoured("P2"), origin="MID"))
    found = findings(replace(inst, equipment=(*inst.equipment, outlet("MID", (160, 500, 0)))))["pulling.radius"]
    assert found.verdict == "unknown"
    assert "P2 don't pass all" in found.reason


def test_the_radius_of_bends_that_the_model_does_not_draw_is_not_known() -> None:
    found = findings(site(circuit("P1", "DB", "M", area_of=4.0)))["pulling.radius"]
    assert found.verdict == "unknown"
    assert "B2, B3" in found.reason


def test_a_fitting_that_is_drawn_bent_brings_its_radius() -> None:
    inst = site(circuit("P1", "DB", "M", area_of=4.0))
    drawn = tuple(replace(item, radius_mm=50.0) if item.kind is FittingKind.BEND else item for item in inst.fittings)
    found = findings(replace(inst, fittings=drawn))["pulling.radius"]
    # 50 − 16.8 / 2 = 41.6 mm; at most 8 · 4 = 32 mm, whatever the cable's construction
    assert (found.verdict, shown(found)) == ("pass", "41.6 mm inside radius of a bend / at least 32 mm")


def test_the_force_is_told_in_newtons_from_the_better_end() -> None:
    # 9.81 N/m in 3 m down from Y: it draws itself in as far as B3, so that end is the better one
    found = findings(site(armoured("P2")))["pulling.tension"]
    assert found.verdict == "pass"
    assert "drawn from Y to X" in found.reason
    assert shown(found).endswith(
        (" N to draw it in / 3200 N", " N/m pressure in a bend / 4378 N/m")
    )  # 4 · 16 · 50 = 3200 N


def test_a_run_without_known_ends_is_unknown_unless_what_is_known_of_it_is_too_much() -> None:
    open_ended = site(circuit("P1", "C1", "C5"), boxes=False)
    no_drops = replace(
        open_ended, equipment=(), circuits=(replace(open_ended.circuits[0], origin="C3", calls=("C4",)),)
    )
    found = findings(no_drops)["pulling.bends"]
    assert (found.verdict, shown(found)) == ("fail", "at least 270° of bends in a run / 180°")
    within = findings(no_drops, "nfpa-70")["pulling.bends"]
    assert (within.verdict, within.value) == ("unknown", None)


@pytest.mark.parametrize("code", sorted(PLUGINS.codes))
def test_nothing_is_asked_of_short_straight_conduits(code: str) -> None:
    inst = installation(
        fitting("X", (-30, 0, 0)), conduit("C1", (0, 0, 0), (9000, 0, 0)), fitting("Y", (9030, 0, 0)),
        outlet("DB", (0, -50, 0)), outlet("M", (9000, 50, 0)), circuit("P1", "DB", "M"),
    )  # fmt: skip
    assert findings(inst, code) == {}


def test_what_would_settle_bends_without_a_radius_is_asked_once_for_a_type() -> None:
    inst = site(circuit("P1", "DB", "M", area_of=4.0))
    typed = tuple(
        replace(item, type_name="Bend 25") if item.kind is FittingKind.BEND else item for item in inst.fittings
    )
    result = check_installation(replace(inst, fittings=typed), PLUGINS.codes["bs-7671"], PLUGINS)
    [row] = [row for row in result.questions if "radius" in row.question]
    assert row.question == "the radius of bends of type 'Bend 25'"
    assert row.where == "model, or wayroom.toml, [[fittings]] name = 'Bend 25', radius_mm"

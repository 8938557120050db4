"""A carrier's section from all that may tell it: which of two sources is used, and what is said of the other."""

import itertools
from typing import Any

import pytest

from checker.model import CarrierKind, Confidence, ProblemKind
from checker.model.geometry import Vec
from checker.read.chords import straight
from checker.read.mapping import PropertySpec, Quantity
from checker.read.profiles import Profile
from checker.read.project import TypeSpec
from checker.read.properties import Held, Value
from checker.read.sections import Evidence, Sized, resolve_section
from checker.read.shapes import Sweep
from checker.rule.catalogue import CarrierType

W, H = Quantity.WIDTH, Quantity.HEIGHT
TRAY, CONDUIT = CarrierKind.TRAY, CarrierKind.CONDUIT
SET = "Pset_ElementSize"


def body(
    width: float | None = None, height: float | None = None, profile: str = "IfcRectangleProfileDef", **more: Any
) -> Sweep:
    path = straight([(0.0, 0.0, 0.0), (3000.0, 0.0, 0.0)])
    assert path is not None
    across: Vec = (0.0, 1.0, 0.0)
    return Sweep(path, across, profile, width, height, **more)


def both(set_name: str, names: tuple[str, str], width: float, height: float, **more: bool) -> list[Held]:
    return [
        Held(set_name, name, value, is_length=True, **more) for name, value in zip(names, (width, height), strict=True)
    ]


#: Each source alone, the most believed first: its evidence for a width and a height, what is told of it, and how sure it is.
SOURCES: dict[str, tuple[Any, str, Confidence]] = {
    "standard": (
        lambda w, h: {"held": both(SET, ("NominalWidth", "NominalHeight"), w, h)},
        "property NominalWidth",
        Confidence.HIGH,
    ),
    "mapped": (
        lambda w, h: {"held": both("Maße", ("Breite", "Höhe"), w, h)},
        "property Breite, by wayroom.toml",
        Confidence.HIGH,
    ),
    "quantity": (
        lambda w, h: {"held": both("Qto_X", ("Width", "Height"), w, h, is_quantity=True)},
        "quantity Width",
        Confidence.HIGH,
    ),
    "material": (
        lambda w, h: {"profile": Profile("IfcRectangleProfileDef", w, h)},
        "material profile",
        Confidence.HIGH,
    ),
    "shape": (lambda w, h: {"sweep": body(w, h)}, "profile", Confidence.HIGH),
    "project": (lambda w, h: {"spec": TypeSpec(name="T", width_mm=w, height_mm=h)}, "project file", Confidence.MEDIUM),
    "name": (lambda w, h: {"texts": [f"Tray {w:g}x{h:g}"]}, "name", Confidence.LOW),
}
PAIRS = list(itertools.combinations(SOURCES, 2))
MAPPED = {
    W: (PropertySpec(quantity=W, property="Breite"),),
    H: (PropertySpec(quantity=H, property="Höhe"),),
}


def resolved(*evidence: dict[str, Any], kind: CarrierKind = TRAY, **more: Any) -> Sized:
    merged: dict[str, Any] = {}
    for part in evidence:
        for key, value in part.items():
            merged[key] = [*merged[key], *value] if key in {"held", "texts"} and key in merged else value
    return resolve_section(Evidence(kind, **merged, **more), MAPPED)


@pytest.mark.parametrize("source", SOURCES)
def test_each_source_alone_gives_the_size_with_its_name_and_how_sure_it_is(source: str) -> None:
    evidence, told, confidence = SOURCES[source]
    sized = resolved(evidence(300.0, 60.0))
    section = sized.section
    assert (section.width_mm, section.height_mm) == (300.0, 60.0)
    assert section.source.startswith(f"width: {told}")
    assert section.confidence is confidence
    assert not sized.said


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_of_two_sources_in_conflict_the_more_believed_is_used_and_the_difference_said(first: str, second: str) -> None:
    sized = resolved(SOURCES[first][0](300.0, 60.0), SOURCES[second][0](450.0, 100.0))
    assert (sized.section.width_mm, sized.section.height_mm) == (300.0, 60.0)
    assert {said.kind for said in sized.said} == {ProblemKind.ASSUMPTION}
    told = [said.what for said in sized.said]
    assert len(told) == 2
    assert "width is 300 mm by its " + SOURCES[first][1] in told[0]
    assert "450 mm by its" in told[0]
    assert "height is 60 mm" in told[1]


@pytest.mark.parametrize(("first", "second"), PAIRS)
def test_two_sources_that_agree_to_a_millimetre_leave_nothing_to_say(first: str, second: str) -> None:
    assert not resolved(SOURCES[first][0](300.0, 60.0), SOURCES[second][0](301.0, 60.0)).said


def test_a_width_and_a_height_may_come_from_two_sources_and_the_less_sure_counts() -> None:
    sized = resolved({"held": [Held(SET, "NominalWidth", 300.0)]}, {"texts": ["Tray 300x60"]})
    assert (sized.section.width_mm, sized.section.height_mm) == (300.0, 60.0)
    assert sized.section.source.startswith("width: property NominalWidth; height: name")
    assert sized.section.confidence is Confidence.LOW


def test_a_shape_turned_on_its_side_is_no_contradiction() -> None:
    assert not resolved(SOURCES["standard"][0](300.0, 60.0), {"sweep": body(60.0, 300.0)}).said


def test_half_a_size_is_no_size() -> None:
    section = resolved({"held": [Held(SET, "NominalWidth", 300.0)]}).section
    assert (section.width_mm, section.height_mm, section.source) == (300.0, None, "")


@pytest.mark.parametrize(
    ("shape", "told", "confidence"),
    [
        (body(300.0, 60.0, "body"), "extents of its body", Confidence.MEDIUM),
        (body(300.0, 60.0, "bounding box"), "bounding box", Confidence.LOW),
        (body(300.0, 60.0, turned=True), "plan of its body", Confidence.MEDIUM),
    ],
)
def test_a_shape_that_is_less_than_a_section_is_believed_less(shape: Sweep, told: str, confidence: Confidence) -> None:
    section = resolved({"sweep": shape}).section
    assert section.source == f"width: {told}; height: {told}"
    assert section.confidence is confidence


def test_a_shape_isnt_corrected_by_its_unit_for_where_it_lies_is_in_the_same() -> None:
    sized = resolved({"sweep": body(300.0, 60.0)}, file_mm=1000.0)  # declared metres, drawn in millimetres
    assert sized.section.width_mm is None
    assert any("300000 mm is no width of a carrier" in said.what for said in sized.said)


def test_a_conduits_nominal_width_is_its_outside_diameter() -> None:
    section = resolved({"held": [Held(SET, "NominalWidth", 25.0)]}, kind=CONDUIT).section
    assert (section.outside_diameter_mm, section.width_mm) == (25.0, None)


def test_a_conduit_of_two_sides_that_differ_is_not_round() -> None:
    section = resolved(SOURCES["standard"][0](50.0, 25.0), kind=CONDUIT).section
    assert (section.outside_diameter_mm, section.width_mm, section.height_mm) == (None, 50.0, 25.0)


EMT = CarrierType("emt-3/4", "conduit", "electrical metallic tubing (358)", "steel", "3/4", None, None, None, 20.9296,
                  "NFPA 70 Chapter 9 Table 4", 343.8703)  # fmt: skip


@pytest.mark.parametrize(
    ("texts", "bore"),
    [
        (['EMT 3/4"'], 20.9296),
        (["Conduit EMT", "3/4 in"], 20.9296),
        (['Conduit 3/4"'], None),
        (["EMT 3"], None),
        (["EMT"], None),
    ],
)
def test_a_trade_size_gives_the_inside_only_with_a_word_for_the_family(texts: list[str], bore: float | None) -> None:
    section = resolve_section(Evidence(CONDUIT, texts=texts), {}, [EMT]).section
    assert section.bore_mm == bore
    assert section.outside_diameter_mm is None
    assert section.confidence is (Confidence.HIGH if bore is None else Confidence.LOW)


@pytest.mark.parametrize(
    ("diameter_mm", "bore", "outside"),
    [
        (23.4, 20.9296, None),  # what such a tube measures outside
        (19.05, 20.9296, None),  # 3/4 in as a number: what it is called
        (60.3, None, 60.3),  # a 2 in tube: its name is wrong, or the property is, which is believed
    ],
)
def test_a_diameter_that_cannot_be_of_that_trade_size_is_believed_before_the_name(
    diameter_mm: float, bore: float | None, outside: float | None
) -> None:
    held = [Held("Pset_CableCarrierSegmentTypeConduitSegment", "NominalDiameter", diameter_mm)]
    sized = resolve_section(Evidence(CONDUIT, held=held, texts=['EMT 3/4"']), {}, [EMT])
    assert (sized.section.bore_mm, sized.section.outside_diameter_mm) == (bore, outside)
    assert any("its name says emt-3/4" in said.what for said in sized.said) == (bore is None)


@pytest.mark.parametrize(
    ("value", "widths"),
    [("3", [None] * 3), (3.0, [None] * 3), ("92/46/80.6", [92.0, 46.0, 80.6]), ("92; 46,5", [92.0, 46.5]), (1.0, [None]),
     (50.0, [None] * 50)],
)  # fmt: skip
def test_compartments_are_a_number_or_widths(value: float | str, widths: list[float | None]) -> None:
    held = [*both(SET, ("NominalWidth", "NominalHeight"), 225.0, 50.0), Held(SET, "NumberOfCompartments", value)]
    section = resolved({"held": held}, kind=CarrierKind.TRUNKING).section
    assert [lane.width_mm for lane in section.lanes] == widths
    assert [lane.number for lane in section.lanes] == list(range(1, len(widths) + 1))


@pytest.mark.parametrize(
    "value", [0.0, -1.0, 2.5, 51.0, float("inf"), float("nan"), True, "many", "", "0/50", "50/", "2.5", "1e1"]
)
def test_a_number_of_compartments_that_can_t_be_makes_the_inside_unknown_and_is_said(value: Value) -> None:
    held = [*both(SET, ("NominalWidth", "NominalHeight"), 225.0, 50.0), Held(SET, "NumberOfCompartments", value)]
    sized = resolved({"held": held}, kind=CarrierKind.TRUNKING)
    assert (sized.section.width_mm, sized.section.source) == (None, "")
    assert [said.kind for said in sized.said] == [ProblemKind.GAP]


def test_the_project_says_the_compartments_before_the_model_does() -> None:
    held = [*both(SET, ("NominalWidth", "NominalHeight"), 225.0, 50.0), Held(SET, "NumberOfCompartments", 2.0)]
    sized = resolved({"held": held, "spec": TypeSpec(name="T", count=3)}, kind=CarrierKind.TRUNKING)
    assert len(sized.section.lanes) == 3
    assert "compartments: project file" in sized.section.source


def test_nothing_gives_nothing() -> None:
    section = resolved({}).section
    assert (section.width_mm, section.outside_diameter_mm, section.source) == (None, None, "")

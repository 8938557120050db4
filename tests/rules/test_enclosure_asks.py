"""Of which enclosures it is asked whether all conductors of a circuit lie in them."""

import pytest

from checker.model import CarrierKind, Service, State
from checker.rule.plugins import load_plugins
from checker.testing_enclosures import enclosure_of
from rules.segregation.enclosure import is_ferrous

RULE = load_plugins().rules["segregation.enclosure"]
CIRCUIT = {"mark": "C1", "csa_mm2": 2.5, "count": 3, "cores": 1, "loaded_conductors": 2}


def asked(kind: CarrierKind = CarrierKind.CONDUIT, material: str = "steel", **given: object) -> bool:
    return RULE.asks(enclosure_of({"kind": kind.value, "material": material, "circuits": [{**CIRCUIT, **given}]}))


@pytest.mark.parametrize("kind", [CarrierKind.TRUNKING, CarrierKind.CONDUIT])
@pytest.mark.parametrize("material", ["steel", "Galvanised steel", "cast iron", "", "metal", "stainless steel"])
def test_it_is_asked_of_trunking_and_conduit_that_are_or_may_be_of_iron_or_steel(
    kind: CarrierKind, material: str
) -> None:
    assert asked(kind, material)


@pytest.mark.parametrize("material", ["PVC", "uPVC", "aluminium", "Aluminum", "GRP"])
def test_it_isnt_asked_of_other_metals_and_plastics(material: str) -> None:
    assert not asked(material=material)


@pytest.mark.parametrize("kind", [CarrierKind.TRAY, CarrierKind.LADDER, CarrierKind.UNKNOWN])
def test_it_isnt_asked_of_what_doesnt_enclose(kind: CarrierKind) -> None:
    assert not asked(kind)


@pytest.mark.parametrize(
    "given",
    [
        {"cores": 3, "count": 1},
        {"service": Service.DATA.value},
        {"service": Service.FIRE_ALARM.value},
        {"state": State.SPARE.value},
        {"loaded_conductors": 0},
    ],
)
def test_it_isnt_asked_of_multicore_cables_of_direct_current_and_of_what_carries_no_load(
    given: dict[str, object],
) -> None:
    assert asked()
    assert not asked(**given)


@pytest.mark.parametrize(
    ("material", "ferrous"),
    [
        ("Steel", True), ("steel, pre-galvanised", True), ("GALVANIZED", True), ("iron", True),
        ("PVC", False), ("aluminium", False), ("copper", False), ("brass", False),
        ("", None), ("metal", None), ("stainless steel", None), ("PVC-coated steel", None), ("non-ferrous", None),
        ("steel-like plastic", None), ("Stahl", None),
    ],
)  # fmt: skip
def test_a_material_is_ferrous_by_its_name_or_isnt_or_that_isnt_told(material: str, *, ferrous: bool | None) -> None:
    assert is_ferrous(material) is ferrous

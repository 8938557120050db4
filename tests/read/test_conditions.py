"""Whether elements are there already, or will be gone."""

from pathlib import Path
from typing import Any

import pytest

from checker.checking import check_installation
from checker.model import Condition, ProblemKind, State
from checker.result.accounting import count
from checker.rule.plugins import load_plugins
from tests.read.reading import read, said
from tests.small_models import SmallModel

COMMON = "Pset_CableCarrierSegmentTypeCommon"


def two_carriers() -> tuple[SmallModel, Any, Any]:
    model = SmallModel()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    one = model.carrier("ONE", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), profile)
    two = model.carrier("TWO", (4000.0, 0.0, 0.0), (6000.0, 0.0, 0.0), profile)
    return model, one, two


def status(model: SmallModel, *words: str) -> Any:
    values = [model.wrapped("IfcLabel", word) for word in words]
    return model.file.create_entity("IfcPropertyEnumeratedValue", "Status", None, values, None)


@pytest.mark.parametrize(
    ("words", "condition"),
    [(("NEW",), Condition.NEW), (("EXISTING",), Condition.EXISTING), (("TEMPORARY",), Condition.TEMPORARY),
     (("OTHER",), Condition.NOT_SAID), (("UNSET",), Condition.NOT_SAID), (("Phase 2",), Condition.NOT_SAID),
     (("EXISTING", "DEMOLISH"), Condition.NOT_SAID)],  # two at once: neither is chosen
)  # fmt: skip
def test_the_enumerated_status_of_the_common_sets_is_read(
    tmp_path: Path, words: tuple[str, ...], condition: Condition
) -> None:
    model, one, _ = two_carriers()
    model.own_set(one, COMMON, [status(model, *words)])
    carriers = {item.place.tag: item.condition for item in read(tmp_path, model).carriers}
    assert carriers == {"ONE": condition, "TWO": Condition.NOT_SAID}


@pytest.mark.parametrize("text", ["DEMOLISH", "demolished ", "To be removed"])
def test_a_status_as_text_is_read_too_and_what_is_demolished_is_left_out_and_said(tmp_path: Path, text: str) -> None:
    model, one, _ = two_carriers()
    model.own_set(one, COMMON, [model.single("Status", "IfcLabel", text)])
    installation = read(tmp_path, model)
    assert [item.place.tag for item in installation.carriers] == ["TWO"]
    assert [place.tag for place in installation.demolished] == ["ONE"]
    assert len(said(installation, "it is marked as demolished and left out", ProblemKind.INFERENCE)) == 1


def test_the_status_of_a_type_holds_for_its_elements_and_an_element_s_own_before_it(tmp_path: Path) -> None:
    model, one, two = two_carriers()
    kind = model.type_of([one, two], "IfcCableCarrierSegmentType", "T", PredefinedType="CABLETRUNKINGSEGMENT")
    model.own_set(kind, COMMON, [status(model, "EXISTING")])
    model.own_set(two, COMMON, [status(model, "NEW")])
    carriers = {item.place.tag: item.condition for item in read(tmp_path, model).carriers}
    assert carriers == {"ONE": Condition.EXISTING, "TWO": Condition.NEW}


def test_a_status_in_a_set_that_is_not_the_standards_says_nothing_unless_it_is_mapped(tmp_path: Path) -> None:
    model, one, two = two_carriers()
    model.own_set(one, "Bauphase", [model.single("Status", "IfcLabel", "Abbruch")])
    model.own_set(two, COMMON, [model.single("Status", "IfcLabel", "EXISTING")])
    model.own_set(two, "Bauphase", [model.single("Status", "IfcLabel", "Neu")])
    (tmp_path / "bare").mkdir()
    assert len(read(tmp_path / "bare", model).carriers) == 2
    mapping = '[[properties]]\nquantity = "condition"\nset = "bauphase"\nproperty = "status"\n'
    installation = read(tmp_path, model, mapping)
    assert [(item.place.tag, item.condition) for item in installation.carriers] == [("TWO", Condition.NEW)]  # as mapped
    assert [place.tag for place in installation.demolished] == ["ONE"]


def test_fittings_equipment_and_cables_that_will_be_gone_are_left_out(tmp_path: Path) -> None:
    model, _, _ = two_carriers()
    gone = [model.element(name, f"G{number}", (0.0, 0.0, 0.0)) for number, name in
            enumerate(("IfcCableCarrierFitting", "IfcOutlet", "IfcCableSegment"))]  # fmt: skip
    for element in gone:
        model.own_set(element, "Pset_AnyCommon", [status(model, "DEMOLISH")])
    model.group("IfcDistributionCircuit", "1", gone)
    installation = read(tmp_path, model)
    assert not installation.fittings + installation.equipment + installation.model_cables
    assert [(item.members, item.cables) for item in installation.model_circuits] == [((), ())]


def test_demolished_carriers_are_in_no_count_but_their_own_and_existing_cables_take_room(tmp_path: Path) -> None:
    model, _, two = two_carriers()
    profile = model.profile("IfcRectangleHollowProfileDef", 50.0, 50.0, 1.0)
    gone = model.carrier("GONE", (0.0, 900.0, 0.0), (4000.0, 900.0, 0.0), profile)
    model.own_set(gone, COMMON, [status(model, "DEMOLISH")])
    model.own_set(two, COMMON, [status(model, "EXISTING")])
    model.element("IfcElectricDistributionBoard", "DB", (0.0, 100.0, 0.0))
    model.element("IfcOutlet", "S1", (6000.0, 100.0, 0.0))
    schedule = (
        "circuit,from,to,service,diameter_mm,count,state\n"
        "A,DB,S1,power,10,2,existing\n"
        "B,DB,S1,power,10,3,new\n"
        "C,DB,S1,power,10,4,removed\n"
    )
    installation = read(tmp_path, model, schedule=schedule)
    assert [circuit.state for circuit in installation.circuits] == [State.EXISTING, State.NEW, State.REMOVED]
    plugins = load_plugins()
    result = check_installation(installation, plugins.codes["bs-7671"], plugins)
    counts = count(result)
    assert (counts.carriers_read, counts.carriers_demolished) == (2, 1)
    tags = {row.key: row.place.tag for row in result.carriers}
    filled = {tags[row.carrier]: row.cables for row in result.compartments}
    # what is there already and what is new lies in both carriers, the existing one too: 2 + 3; what is removed takes no room
    assert filled == {"ONE": 5, "TWO": 5}

"""Annotations in a model's text: added at its end, replaced when it is annotated again, and nothing else touched."""

import re
from collections import Counter
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.guid
import ifcopenshell.validate
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.annotate.facts import Annotation, Fact
from checker.annotate.instances import MOST_ID
from checker.annotate.step_values import global_id, real, short, string
from checker.annotate.writing import annotated
from checker.errors import InputError
from tests.annotate_texts import BOTH, CARRIERS, ODD, OTHERS_SET, T1, T2, model, said
from tests.small_models import SmallModel


def with_annotations(text: bytes, wanted: tuple[Annotation, ...] = BOTH, *, needs_owner: bool = False) -> bytes:
    return annotated(text, "m.ifc", wanted, needs_owner=needs_owner).text


def opened(text: bytes) -> Any:
    return ifcopenshell.file.from_string(text.decode())


def sets_of(file: Any, tag: str) -> list[dict[str, Any]]:
    """The values of each set of ours on a carrier."""
    (element,) = (item for item in file.by_type("IfcElement") if item.Tag == tag)
    definitions = [rel.RelatingPropertyDefinition for rel in element.IsDefinedBy]
    return [
        {item.Name: item.NominalValue.wrappedValue for item in one.HasProperties}
        for one in definitions
        if one.Name == "Wayroom_Check"
    ]


def errors(path: Path, *, with_rules: bool = True) -> Counter[str]:
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(str(path), logger, express_rules=with_rules)
    return Counter(f"{item.get('message')} {item.get('instance')}" for item in logger.statements)


@pytest.mark.parametrize("name", ODD)
def test_every_byte_before_and_after_what_is_added_stays(name: str) -> None:
    text = ODD[name]
    made = with_annotations(text)
    end = max(
        found.start()
        for found in re.finditer(rb"ENDSEC", text, re.IGNORECASE)
        if b"*/" not in text[found.start() : found.start() + 15]
    )
    assert made[:end] == text[:end]
    assert made.endswith(text[end:])
    added = made[end : len(made) - len(text) + end]
    # of each carrier two properties, a set, and what gives it to the carrier
    assert len(re.findall(rb"(?:^|\n)#\d+=IFC", added)) == 8
    assert added.count(b"'Wayroom_Check'") == 2


@pytest.mark.parametrize("name", ODD)
def test_annotating_again_gives_the_same_bytes(name: str) -> None:
    once = with_annotations(ODD[name])
    assert with_annotations(once) == once


@pytest.mark.parametrize("name", ODD)
def test_other_verdicts_replace_the_earlier_ones(name: str) -> None:
    other = (said(T1, "unknown", 0.75),)
    assert with_annotations(with_annotations(ODD[name]), other) == with_annotations(ODD[name], other)


@pytest.mark.parametrize("name", ODD)
def test_no_carriers_take_the_annotations_out_again(name: str) -> None:
    assert with_annotations(with_annotations(ODD[name]), ()) == ODD[name]


def test_line_ends_are_the_files_own() -> None:
    assert b"\n" not in with_annotations(ODD["other line ends"]).replace(b"\r\n", b"")


def test_a_set_is_found_on_its_carrier() -> None:
    file = opened(with_annotations(ODD["plain"]))
    assert sets_of(file, "T1") == [{"Fill": 0.25, "WorstVerdict": "pass"}]
    assert sets_of(file, "T2") == [{"Fill": 0.5, "WorstVerdict": "fail"}]


def test_a_copy_that_another_program_numbered_anew_is_replaced_too(tmp_path: Path) -> None:
    first = opened(with_annotations(model(*CARRIERS, *OTHERS_SET)))
    other = ifcopenshell.file(schema="IFC4")
    for item in sorted(first, key=lambda one: one.id(), reverse=True):  # in another order, with other numbers
        other.add(item)
    other.write(str(tmp_path / "other.ifc"))
    made = opened(with_annotations((tmp_path / "other.ifc").read_bytes(), (said(T1, "fail", 0.9),)))
    assert sets_of(made, "T1") == [{"Fill": 0.9, "WorstVerdict": "fail"}]
    assert sets_of(made, "T2") == []
    names = sorted(item.Name for item in made.by_type("IfcPropertySet"))
    assert names == ["Site_Notes", "Wayroom_Check"]
    # 2 carriers, 3 of the others' set, and ours of one carrier: 2 properties, set, relationship
    assert len(list(made)) == 9


def test_what_people_wrote_into_other_sets_stays() -> None:
    once = with_annotations(model(*CARRIERS, *OTHERS_SET))
    edited = once.replace(b"IFCTEXT('mine')", b"IFCTEXT('mended on site')")
    others = [line.replace("IFCTEXT('mine')", "IFCTEXT('mended on site')") for line in OTHERS_SET]
    assert with_annotations(edited) == with_annotations(model(*CARRIERS, *others))
    assert with_annotations(edited, ()) == model(*CARRIERS, *others)


def test_what_people_wrote_into_ours_is_replaced() -> None:
    once = with_annotations(model(*CARRIERS))
    assert with_annotations(once.replace(b"IFCLABEL('fail')", b"IFCLABEL('pass')")) == once


def test_a_property_that_another_set_shares_stays() -> None:
    once = with_annotations(model(*CARRIERS))
    shared = re.search(rb"#(\d+)=IFCPROPERTYSINGLEVALUE\('Fill'", once)
    assert shared is not None
    line = b"#90=IFCPROPERTYSET('0000000000000000000090',$,'Mine',$,(#%b));\nENDSEC;\nEND" % shared[1]
    made = opened(with_annotations(once.replace(b"ENDSEC;\nEND", line)))
    (mine,) = (item for item in made.by_type("IfcPropertySet") if item.Name == "Mine")
    assert [item.Name for item in mine.HasProperties] == ["Fill"]
    assert sets_of(made, "T1") == [{"Fill": 0.25, "WorstVerdict": "pass"}]


def test_a_set_of_ours_that_others_use_is_refused_and_they_are_named() -> None:
    once = with_annotations(model(*CARRIERS))
    ours = re.search(rb"#(\d+)=IFCPROPERTYSET", once)
    assert ours is not None
    line = (
        b"#90=IFCCABLECARRIERSEGMENTTYPE('0000000000000000000090',$,'Type',$,$,(#%b),$,$,$,.NOTDEFINED.);\nENDSEC;\nEND"
        % ours[1]
    )
    with pytest.raises(InputError, match="#90"):
        with_annotations(once.replace(b"ENDSEC;\nEND", line))


def test_a_carrier_whose_global_id_another_element_has_is_told_and_left() -> None:
    found = annotated(model(*CARRIERS, f"#3=IFCWALL('{T1}',$,'W',$,$,$,$,'W',$);"), "m.ifc", BOTH, needs_owner=False)
    assert (found.carriers, found.missed) == (1, ("carrier 1",))
    assert sets_of(opened(found.text), "T2") == [{"Fill": 0.5, "WorstVerdict": "fail"}]


def test_a_carrier_that_is_not_there_is_told() -> None:
    found = annotated(model(*CARRIERS), "m.ifc", (said("0000000000000000000009"),), needs_owner=False)
    assert (found.carriers, found.missed, found.text) == (0, ("carrier 9",), model(*CARRIERS))


def test_a_carrier_without_a_global_id_goes_by_its_number() -> None:
    text = model("#7=IFCCABLECARRIERSEGMENT($,$,'T1',$,$,$,$,'T1',.CABLETRUNKINGSEGMENT.);")
    one = Annotation("#7@m.ifc", "", "T1", (Fact("WorstVerdict", "IfcLabel", "fail"),))
    assert b",(#7)," in with_annotations(text, (one,))
    assert annotated(text, "m.ifc", (Annotation("k", "\ud800'", "T8", one.facts),), needs_owner=False).missed == ("T8",)
    assert annotated(text, "m.ifc", (Annotation("#8", "", "T8", one.facts),), needs_owner=False).missed == ("T8",)


def test_numbers_go_on_above_the_highest_and_below_only_where_no_room_is_left() -> None:
    at_9 = with_annotations(model(CARRIERS[0].replace("#1=", "#9=")), (said(),))
    assert [int(n) for n in re.findall(rb"\n#(\d+)=", at_9)] == [9, 10, 11, 12, 13]
    almost = with_annotations(model(CARRIERS[0].replace("#1=", f"#{MOST_ID - 1}="), CARRIERS[1]), (said(),))
    # 2147483647 is free, then 1, 3 and 4 are: 2 is the other carrier's
    assert [int(n) for n in re.findall(rb"\n#(\d+)=", almost)] == [MOST_ID - 1, 2, MOST_ID, 1, 3, 4]
    assert with_annotations(almost, (said(),)) == almost


def test_a_global_id_of_ours_that_somebody_copied_is_not_used_twice() -> None:
    walls: list[str] = []
    for number in (80, 81):  # the one that comes instead may have been copied too
        made = with_annotations(model(*CARRIERS, *walls), (said(),))
        (found,) = re.findall(rb"IFCPROPERTYSET\('([^']{22})'", made)
        walls.append(f"#{number}=IFCWALL('{found.decode()}',$,'W',$,$,$,$,'W',$);")
    ids = re.findall(rb"\('([^']{22})'", with_annotations(model(*CARRIERS, *walls), (said(),)))
    assert len(ids) == len(set(ids)) == 6


def test_a_signed_model_is_refused() -> None:
    with pytest.raises(InputError, match="signed"):
        with_annotations(model(*CARRIERS) + b"SIGNATURE;\nMIIB\nENDSEC;\n")
    assert with_annotations(model(*CARRIERS) + b"/* SIGNATURE; */")


@pytest.mark.parametrize("line", ["#3=IFCLABEL('never closed);", "/* never closed"])
def test_text_that_is_never_closed_is_refused_with_its_line(line: str) -> None:
    with pytest.raises(InputError, match="after line 9 "):  # seven lines of header, two carriers
        with_annotations(model(*CARRIERS, line))


@pytest.mark.filterwarnings(
    "ignore::ResourceWarning", "ignore::pytest.PytestUnraisableExceptionWarning"
)  # the validator's
@pytest.mark.parametrize("case", ["IFC2X3", "IFC2X3 without an owner history", "IFC4", "IFC4X3"])
def test_no_release_finds_a_new_error_in_it(tmp_path: Path, case: str) -> None:
    schema, has_owner = case.split(maxsplit=1)[0], "without" not in case
    small = SmallModel(schema)
    small.storey.CompositionType = "ELEMENT"
    element = small.carrier(
        "T1", (0.0, 0.0, 0.0), (4000.0, 0.0, 0.0), small.profile("IfcRectangleProfileDef", 50.0, 50.0)
    )
    path = small.write(tmp_path / "model.ifc")
    is_old = schema == "IFC2X3"
    if is_old and not has_owner:
        chain = "OWNERHISTORY|APPLICATION|PERSONANDORGANIZATION|PERSON|ORGANIZATION"
        text = re.sub(rf"\n#\d+=IFC(?:{chain})\([^\n]*", "", path.read_text()).replace(
            f",#{small.owner.id() if small.owner else 0},", ",$,"
        )
        path.write_text(text)
    facts = (
        Fact("Fill", "IfcRatioMeasure", 0.0), Fact("FillIsAtLeast", "IfcBoolean", True), Fact("FillCompartment", "IfcInteger", 2),
        Fact("FindingsFail", "IfcIdentifier", ("a", "b")), Fact("WorstReason", "IfcText", "long; it's \\ " * 40),
        Fact("WorstVerdict", "IfcLabel", "fail"), Fact("CodeEdition", "IfcLabel", "x" * 300), Fact("FillRule", "IfcLabel", ""),
        *((Fact("CheckedAt", "IfcDateTime", "2026-11-02T09:00:00Z"),) * (not is_old)),
    )  # fmt: skip
    wanted = (Annotation("k", element.GlobalId, "T1", facts),)
    before = path.read_bytes()
    made = annotated(before, "m.ifc", wanted, needs_owner=is_old, seconds=86_400).text
    (tmp_path / "made.ifc").write_bytes(made)
    if has_owner:  # then it has no error before: the validator takes seconds
        assert errors(tmp_path / "made.ifc") == Counter()
    else:
        assert errors(tmp_path / "made.ifc", with_rules=False) == errors(path, with_rules=False)
    file = opened(made)
    (ours,) = (item for item in file.by_type("IfcPropertySet") if item.Name == "Wayroom_Check")
    assert len(ours.HasProperties) == len(facts) - 1
    if is_old:  # whoever made the model didn't make this
        history = ours.OwnerHistory
        assert (history.OwningApplication.ApplicationIdentifier, history.CreationDate) == ("wayroom-annotate", 86_400)
    else:
        assert ours.OwnerHistory is None
    assert len(file.by_type("IfcOwnerHistory")) == is_old + (is_old and has_owner)
    assert annotated(made, "m.ifc", wanted, needs_owner=is_old, seconds=86_400).text == made
    assert with_annotations(made, (), needs_owner=is_old) == before


def test_an_owner_history_of_ours_that_others_took_over_stays() -> None:
    text = model(*CARRIERS, schema="IFC2X3")
    once = with_annotations(text, needs_owner=True)
    history = re.search(rb"#(\d+)=IFCOWNERHISTORY", once)
    assert history is not None
    taken = once.replace(f"'{T2}',$".encode(), f"'{T2}',#".encode() + history[1])
    again = with_annotations(taken, needs_owner=True)
    for word in (b"OWNERHISTORY", b"APPLICATION", b"PERSON", b"ORGANIZATION", b"PERSONANDORGANIZATION"):
        assert again.count(b"=IFC" + word + b"(") == 1, word
    assert with_annotations(again, needs_owner=True) == again


@given(st.text("aé\n'\\;/*#(\"=1,", max_size=30))
def test_whatever_names_hold_every_byte_stays(name: str) -> None:
    wall = f"#3=IFCWALL('0000000000000000000003',$,{string(name)},{string(name[::-1])},$,$,$,'W',$);"
    text = model(wall, *CARRIERS)
    made = with_annotations(text)
    assert made.startswith(text[: text.rindex(b"ENDSEC")])
    assert sets_of(opened(made), "T2") == [{"Fill": 0.5, "WorstVerdict": "fail"}]
    assert with_annotations(made, ()) == text


@given(st.text(max_size=60))
def test_any_text_is_read_back_as_it_was(text: str) -> None:
    made = with_annotations(model(*CARRIERS), (Annotation("k", T1, "T1", (Fact("Why", "IfcText", f"<{text}>"),)),))
    assert made.isascii()
    shown = text.replace("\0", "\ufffd")  # programs take it for the end of a text
    assert sets_of(opened(made), "T1") == [{"Why": f"<{shown}>"}]


def test_half_a_letter_becomes_the_sign_for_what_is_none() -> None:
    assert string("a\ud800b") == "'a\\X2\\FFFD\\X0\\b'"


@pytest.mark.parametrize(
    ("number", "text"),
    [(0.0, "0.0"), (45.0, "45.0"), (1e-7, "1.E-07"), (1.5e-7, "1.5E-07"), (1e22, "1.E+22"), (-0.25, "-0.25")],
)
def test_numbers_have_a_point(number: float, text: str) -> None:
    assert real(number) == text


@given(st.uuids())
def test_global_ids_are_those_of_ifc(guid: Any) -> None:
    assert ifcopenshell.guid.expand(global_id(str(guid))) == guid.hex


def test_a_label_is_cut_at_what_a_label_holds() -> None:
    assert short("x" * 255) == "x" * 255
    assert short("x" * 256) == "x" * 254 + "…"

"""What people and other programs put into an annotated model, or wrote in odd ways: it stays, or they are told why nothing is annotated."""

import re
from dataclasses import replace

import pytest

from checker.annotate.earlier import CLAIM
from checker.annotate.facts import ALWAYS, NAMES, Annotation, annotations
from checker.annotate.writing import annotated, is_as_written
from checker.errors import InputError
from checker.result.tables import Result
from checker.result.waiver_tables import WaivedBy
from tests.annotate_texts import BOTH, CARRIERS, OTHERS_SET, T1, model, said
from tests.test_annotate import opened, sets_of, with_annotations

PLAIN = model(*CARRIERS)
END = b"ENDSEC;\nEND-"
HISTORY = (
    "#50=IFCPERSON($,'Site',$,$,$,$,$,$);",
    "#51=IFCORGANIZATION($,'Office',$,$,$);",
    "#52=IFCPERSONANDORGANIZATION(#50,#51,$);",
    "#53=IFCAPPLICATION(#51,'1','Modeller','modeller');",
    "#54=IFCOWNERHISTORY(#52,#53,$,.NOCHANGE.,$,$,$,0);",
)


def with_line(text: bytes, line: bytes) -> bytes:
    return text.replace(END, line + b"\n" + END)


def number_of(text: bytes, word: bytes) -> bytes:
    found = re.search(rb"#(\d+)=" + word + rb"\(", text)
    assert found is not None
    return found[1]


def test_a_set_of_our_name_that_a_person_wrote_is_never_taken_out() -> None:
    theirs = [line.replace("Site_Notes", "Wayroom_Check") for line in OTHERS_SET]
    with pytest.raises(InputError, match=r"Wayroom_Check \(#4\) has what wayroom doesn't write: Note"):
        with_annotations(model(*CARRIERS, *theirs))
    like_ours = [
        line.replace("'Note'", "'Code'") for line in theirs
    ]  # a name that we write too, but not all that we write
    with pytest.raises(InputError, match="it has no WorstVerdict"):
        with_annotations(model(*CARRIERS, *like_ours))


@pytest.mark.parametrize("name", ["Reviewed by", "Fill''s limit", "Compartment1", "Ünknown"])
def test_what_a_person_added_to_a_set_of_ours_is_never_taken_out(name: str) -> None:
    once = with_annotations(PLAIN)
    edited = once.replace(b"(#3,#4)", b"(#3,#4,#70)")
    assert edited != once
    with pytest.raises(InputError, match="has what wayroom doesn't write: "):
        with_annotations(with_line(edited, f"#70=IFCPROPERTYSINGLEVALUE('{name}',$,IFCLABEL('AB'),$);".encode()))


def test_a_set_whose_name_only_begins_as_ours_stays() -> None:
    others = [line.replace("Site_Notes", "Wayroom_Check''s notes") for line in OTHERS_SET]
    text = model(*CARRIERS, *others)
    assert with_annotations(with_annotations(text), ()) == text


@pytest.mark.parametrize("instead", [b"$", b"''", b"/* none */ $", b"'a''b'"])
def test_sets_that_lost_their_global_id_are_replaced_and_do_not_pile_up(instead: bytes) -> None:
    resaved = re.sub(rb"(IFCPROPERTYSET\()'[^']*'", rb"\1" + instead, with_annotations(PLAIN))
    made = with_annotations(resaved)
    assert made.count(b"'Wayroom_Check'") == 2
    assert with_annotations(made, ()) == PLAIN


def test_sets_that_a_program_made_one_for_several_carriers_are_replaced() -> None:
    once = with_annotations(PLAIN, (said(T1),))
    assert b"(#1),#5)" in once
    assert with_annotations(once.replace(b"(#1),#5)", b"(#1,#2),#5)"), ()) == PLAIN


def test_an_instance_that_has_the_number_of_one_of_ours_is_never_taken_out() -> None:
    with pytest.raises(InputError, match="two instances have the number #3"):
        with_annotations(
            with_line(with_annotations(PLAIN), b"#3=IFCWALL('0000000000000000000003',$,'W',$,$,$,$,'W',$);")
        )


def test_what_gives_a_set_of_ours_to_a_carrier_stays_where_a_document_hangs_on_it() -> None:
    once = with_annotations(PLAIN)
    rel = number_of(once, b"IFCRELDEFINESBYPROPERTIES")
    line = b"#90=IFCRELASSOCIATESDOCUMENT('0000000000000000000090',$,$,$,(#%b),#91);" % rel
    with pytest.raises(InputError, match="#90"):
        with_annotations(with_line(once, line))


def test_a_carrier_whose_number_another_instance_has_is_told_and_left() -> None:
    text = model(*CARRIERS, "#1=IFCWALL('0000000000000000000003',$,'W',$,$,$,$,'W',$);")
    found = annotated(text, "m.ifc", BOTH, needs_owner=False)
    assert (found.carriers, found.missed) == (1, ("carrier 1",))


def test_of_two_carriers_with_one_global_id_neither_is_annotated_since_it_is_not_known_which_it_is() -> None:
    wanted = tuple(replace(said(T1), key=key, label=key) for key in ("T1 of a.ifc", "T1 of b.ifc"))
    found = annotated(PLAIN, "m.ifc", wanted, needs_owner=False)
    assert (found.carriers, found.missed, found.text) == (0, ("T1 of a.ifc", "T1 of b.ifc"), PLAIN)


def test_an_instance_gets_one_set_though_two_carriers_go_by_its_number() -> None:
    wanted = tuple(replace(said(T1), global_id="", key=key, label=key) for key in ("#1", "#1@a.ifc"))
    found = annotated(PLAIN, "m.ifc", wanted, needs_owner=False)
    assert (found.carriers, found.missed) == (1, ("#1@a.ifc",))
    assert found.text.count(b"'Wayroom_Check'") == 1


@pytest.mark.parametrize("figures", ["4294967296", "36893488147419103232", "9" * 5000])
def test_numbers_beyond_all_that_readers_count_are_no_crash(figures: str) -> None:
    far = f"#{figures}=IFCWALL('0000000000000000000003',#{figures},'W',$,$,$,$,'W',$);"
    text = model(*CARRIERS, far)
    made = with_annotations(text)
    assert with_annotations(made, ()) == text
    assert [int(one) for one in re.findall(rb"\n#(\d+)=IFCPROPERTYSET", made)] == [5, 9]  # after two properties each


@pytest.mark.parametrize(
    ("plain", "odd"),
    [
        (b"\nENDSEC;\nEND-", b"\nENDSEC /* of the data */ ;\nEND-"),
        (b"END-ISO-10303-21;", b"END-ISO-10303-21 /* the end */ ;"),
        (b"DATA;", b"DATA /* all */ ;"),
        (b"#2=", b"ENDSEC;\nDATA /* more */ ('b',('IFC4'));\n#2="),
    ],
)
def test_comments_within_the_marks_of_sections_are_read_over(plain: bytes, odd: bytes) -> None:
    text = PLAIN.replace(plain, odd)
    made = with_annotations(text)
    assert sorted(made.count(b"'%b'" % word) for word in (b"pass", b"fail")) == [1, 1]
    at = made.rindex(b"ENDSEC")
    assert made[:at].endswith(b");\n")
    assert made.index(b"'Wayroom_Check'") < at
    assert with_annotations(made, ()) == text


def test_a_signature_before_the_end_is_seen_and_one_in_a_comment_is_none() -> None:
    with pytest.raises(InputError, match="signed"):
        with_annotations(PLAIN.replace(b"END-ISO", b"SIGNATURE;\nMII/B==\nENDSEC;\nEND-ISO"))
    assert with_annotations(PLAIN + b"/* END-ISO-10303-21; SIGNATURE; */")


def test_an_owner_of_ours_is_named_beside_that_of_the_model() -> None:
    text = model(*CARRIERS, *HISTORY, schema="IFC2X3")
    made = annotated(text, "m.ifc", BOTH, needs_owner=True, seconds=1_793_610_000).text
    owners = {item.Name: item.OwnerHistory for item in opened(made).by_type("IfcPropertySet")}
    assert owners["Wayroom_Check"].OwningUser.ThePerson.FamilyName == "Wayroom"
    assert owners["Wayroom_Check"].CreationDate == 1_793_610_000
    assert with_annotations(made, (), needs_owner=True) == text


def test_sets_replaced_without_their_owner_history_leave_none_behind() -> None:
    """As after a program that drops owner histories from sets, and one that gives all its own."""
    text = model(*CARRIERS, *HISTORY, schema="IFC2X3")
    made = with_annotations(text, needs_owner=True)
    ours = number_of(made[len(text) - 40 :], b"IFCOWNERHISTORY")
    for instead in (b"',$,", b"',#54,"):
        resaved = made.replace(b"',#%b," % ours, instead)
        assert resaved != made
        again = with_annotations(resaved, needs_owner=True)
        assert again.count(b"'wayroom-annotate'") == 1
        assert again.count(b"'Wayroom_Check'") == 2
        assert with_annotations(again, needs_owner=True) == again


def test_a_model_is_known_as_annotated_only_while_nobody_changed_it() -> None:
    made = with_annotations(PLAIN)
    assert is_as_written(made, "m.ifc")
    assert is_as_written(with_annotations(made, (said(T1, "unknown"),)), "m.ifc")
    assert not is_as_written(PLAIN, "m.ifc")
    assert not is_as_written(made.replace(b"'T2',$,$,$,$,'T2'", b"'T2 moved',$,$,$,$,'T2'"), "m.ifc")
    assert not is_as_written(with_line(made, b"#90=IFCWALL('0000000000000000000090',$,'W',$,$,$,$,'W',$);"), "m.ifc")
    assert not is_as_written(re.sub(CLAIM, b"mine'", made, count=1), "m.ifc")


def test_every_name_that_is_written_is_one_that_is_known_again(waived: list[Annotation]) -> None:
    """Else a set with it would be taken for somebody's own."""
    names = {fact.name for item in waived for fact in item.facts}
    assert {name for name in names if not NAMES.fullmatch(name)} == set()
    assert {"Fill", "FillCompartment", "Compartment2FillLimit", "RulesFail", "FindingsWaived", "WaivedBy"} <= names
    assert all(ALWAYS in {fact.name for fact in item.facts} for item in waived)


def test_who_waived_what_until_when_is_said(waived: list[Annotation]) -> None:
    told = {fact.value for item in waived for fact in item.facts if fact.name == "WaivedBy"}
    assert told == {("fill.conduit: A. Reviewer, until 2027-06-30: drawn in already",)}
    (one,) = (item for item in waived if any(fact.name == "WaivedBy" for fact in item.facts))
    values = {fact.name: fact.value for fact in one.facts}
    assert sorted(values["RulesWaived"]) == [
        "fill.conduit",
        "pulling.bends",
    ]  # the sample's own waiver is of the second
    assert len(values["FindingsWaived"]) == 2


@pytest.fixture(scope="module")
def waived(vet_result: Result) -> list[Annotation]:
    """What is said of a sample, with one of its failing conduits waived."""
    result = vet_result
    first = next(one for one in result.findings if one.rule == "fill.conduit" and one.verdict == "fail")
    other = replace(first, verdict="waived", waived_by=(WaivedBy("A. Reviewer", "drawn in already", "2027-06-30"),))
    findings = tuple(replace(one, waived_by=()) if one is not first else other for one in result.findings)
    return annotations(replace(result, findings=findings), "model.ifc", {"fill.conduit"}, has_times=True)


@pytest.mark.parametrize("left", [b"()", b"#1"])
def test_what_is_left_of_carriers_that_were_deleted_goes_too(left: bytes) -> None:
    """A relationship to nothing, or a set alone."""
    once = with_annotations(PLAIN)
    carrier = CARRIERS[1].encode() + b"\n"
    gone = once.replace(carrier, b"").replace(b"(#2),", b"(),")
    if left != b"()":
        gone = re.sub(rb"#\d+=IFCRELDEFINESBYPROPERTIES\([^\n]*\(\),[^\n]*\n", b"", gone)
    made = with_annotations(gone, (said(T1),))
    assert made == with_annotations(PLAIN.replace(carrier, b""), (said(T1),))


def test_a_set_is_read_again_on_its_carrier_after_all_that() -> None:
    resaved = with_annotations(PLAIN).replace(b"\n#", b"\n\n/* saved again */ #")
    assert sets_of(opened(with_annotations(resaved, (said(T1, "fail", 0.9),))), "T1") == [
        {"Fill": 0.9, "WorstVerdict": "fail"}
    ]

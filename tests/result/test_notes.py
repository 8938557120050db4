from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.model.texts import number
from checker.result.archive import created_time, packed, utc, xml_time
from checker.result.facts import run_facts
from checker.result.note_state import (
    NO_SEAL,
    OPEN,
    REVIEW,
    Parted,
    State,
    clean,
    fields_seal,
    seal,
    split_text,
    status_seal,
)
from checker.result.notes import advices, shown, vain
from tests.report.results import guid, small_result

figures = st.text(alphabet="0123456789.% /abc", max_size=12).map(lambda text: " ".join(text.split()))
prose = st.text(max_size=60).filter(lambda text: "wayroom" not in text).map(clean)


@given(prose, st.lists(figures, min_size=1, max_size=4), prose)
def test_what_stands_for_machines_is_read_back(text: str, values: list[str], after: str) -> None:
    state = State({guid(str(k)): value for k, value in enumerate(values)}, "fill.tray", "nec-70", seal("t"), seal(text))

    parted = split_text(Parted(text, None, after.strip()).rejoined(state))

    assert parted.state == state
    assert parted.text.rstrip() == text.rstrip()
    assert parted.after == after.strip()


@given(prose, st.lists(figures, min_size=1, max_size=4))
def test_it_is_read_back_when_a_program_has_folded_all_lines_into_one(text: str, values: list[str]) -> None:
    state = State({guid(str(k)): value for k, value in enumerate(values)}, "fill.tray", "nec-70", seal("t"), seal(text))

    parted = split_text(" ".join(Parted(text, None).rejoined(state).split()))

    assert parted.state == state
    assert seal(parted.text) == seal(text)


def test_ids_alone_have_no_values_and_no_seal() -> None:
    assert split_text(f"Text.\nwayroom: {guid('a').upper()}").state == State({guid("a"): ""}, "", "", NO_SEAL, NO_SEAL)


def test_the_seal_of_a_status_is_of_what_it_says_in_any_case_and_as_what_we_set_it() -> None:
    assert status_seal(OPEN, "Offen") == status_seal(OPEN, "OFFEN")
    assert len({status_seal(OPEN, "Offen"), status_seal(REVIEW, "Offen"), status_seal(OPEN, "Neu"), NO_SEAL}) == 4
    assert status_seal(OPEN, " ") == NO_SEAL


def test_the_seal_of_fields_is_of_each_where_it_stands_and_labels_have_no_order() -> None:
    sealed = fields_seal({"Stage": ["Tender"], "Labels": ["a", "b"]})
    assert sealed == fields_seal({"Labels": ["b", "a"], "Stage": ["Tender"], "AssignedTo": []})
    assert sealed != fields_seal({"Stage": ["Tender"], "Labels": ["a"]})
    assert sealed != fields_seal({"AssignedTo": ["Tender"], "Labels": ["a", "b"]})


def test_a_text_without_ids_has_no_state() -> None:
    assert split_text("wayroom: is a program").state is None


@pytest.mark.parametrize(
    ("value", "limit", "text"),
    [
        (0.523, 0.45, "52.3 % / 45 %"),
        (0.45004, 0.45, "45.0040 % / 45.0000 %"),  # a fail by a hair isn't "45 % / 45 %"
        (0.45, 0.45, "45 % / 45 %"),
        (0.2, None, "20 %"),
        (None, 0.45, ""),
    ],
)
def test_figures_as_people_read_them(value: float | None, limit: float | None, text: str) -> None:
    assert shown(replace(small_result().findings[0], value=value, limit=limit)) == text


def test_figures_in_another_unit_keep_it() -> None:
    assert number(0.25, "m") == "0.25 m"
    assert number(3.0, "") == "3"
    assert (number(13.0, "kg/m"), number(13.707, "kg/m")) == ("13 kg/m", "13.71 kg/m")


def test_the_facts_of_a_run_name_findings_by_their_tags() -> None:
    result = small_result()
    many = replace(result.findings[0], carriers=tuple(row.key for row in result.carriers[:4]), compartment=None)
    facts = run_facts(replace(result, findings=(many, *result.findings[1:])))

    assert facts.findings[many.id].label == "T-001, T-002 and 2 more"
    assert facts.findings[result.findings[3].id].label == "T-003, compartment 2"
    assert facts.models == {"plant room.ifc"}
    assert facts.rules == {"fill.compartment"}


@pytest.mark.parametrize(
    ("text", "time"),
    [
        ("2024-05-01T08:30:00", "2024-05-01T08:30:00Z"),
        ("2024-05-01T08:30:00-05:30", "2024-05-01T14:00:00Z"),
        (" 2024-05-01 ", "2024-05-01T00:00:00Z"),
        ("0900-05-01T00:00:00Z", "0900-05-01T00:00:00Z"),
        ("9999-12-31T23:59:59-01:00", None),
        ("", None),
    ],
)
def test_times_are_utc_and_a_missing_zone_is_utc(text: str, time: str | None) -> None:
    assert xml_time(text) == time
    assert (utc(text) is None) == (time is None)
    assert created_time(text) == (time or "1980-01-01T00:00:00Z")


@pytest.mark.parametrize("created", ["", "1970-01-01T00:00:00Z", "2200-01-01T00:00:00Z", "2024-05-01T08:30:00Z"])
def test_an_archive_of_any_time_is_the_same_twice(created: str) -> None:
    files = [("b/c/d.txt", b"text"), ("a/", b""), ("b/e.png", b"\x89PNG")]

    assert packed(files, created) == packed(files, created)
    assert packed(files, created)[:2] == b"PK"


def test_of_several_pieces_of_advice_it_is_said_for_which_circuits_each_is() -> None:
    row = replace(
        small_result().findings[0], is_of_circuit=True, circuits=("UP-05",), advice="alone it would carry 24 A"
    )
    alike, other = (
        replace(row, circuits=("UP-07",)),
        replace(row, circuits=("UP-06",), advice="alone it would carry 41 A"),
    )
    none = replace(row, circuits=("UP-08",), advice="")
    assert advices([row, alike, none]) == ["alone it would carry 24 A"]
    assert advices([row, other, alike]) == [
        "UP-05, UP-07: alone it would carry 24 A",
        "UP-06: alone it would carry 41 A",
    ]


def test_what_was_tried_in_vain_is_told_once_with_whose_it_is_where_others_have_advice() -> None:
    one, other = small_result().findings[:2]
    circuits = [
        replace(one, id=mark, circuits=(mark,), is_of_circuit=True, advice=advice, tried=tried)
        for mark, advice, tried in (
            ("UP-05", "lay 4 mm²", ""),
            ("UP-10", "", "nothing helped: 3 thicker cables; no other way"),
            ("UP-06", "", "nothing helped: 3 thicker cables; no other way"),
        )
    ]
    assert vain(circuits, {}) == "UP-06, UP-10: nothing helped: 3 thicker cables; no other way"
    assert vain(circuits[:1], {}) == ""
    # where it is of all alike nobody is named
    assert vain(circuits[1:], {}) == "nothing helped: 3 thicker cables; no other way"
    # nor is anything told of what isn't: a length without a word about it is no reason to leave out whose it is
    lengths = [replace(one, tried="not tried: too much else fails"), replace(other, advice="widen it")]
    labels = {one.carriers[0]: "T-001", other.carriers[0]: "T-002"}
    assert vain(lengths, labels) == "T-001: not tried: too much else fails"


def test_of_very_many_different_things_tried_in_vain_the_first_few_are_told() -> None:
    one = small_result().findings[0]
    rows = [replace(one, id=str(k), at=f"W{k}", tried=f"nothing helped: size {k}") for k in range(9)]
    told = vain(rows, {})
    assert told.startswith("W0: nothing helped: size 0; W1: nothing helped: size 1; ")
    assert told.endswith("W3: nothing helped: size 3 and 5 more")

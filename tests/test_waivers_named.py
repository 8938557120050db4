"""A waiver names no more than whoever gave it can have seen."""

import io
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest

from checker.errors import ProjectFileError
from checker.model import Installation
from checker.result.dialect import DIALECTS
from checker.result.tables import FindingRow
from checker.rule.waiver import Waiver
from checker.waivers import Waived, waive
from tests.test_waivers_notes import checked, fills, issue_of, noted, row_of, waiver
from tests.test_waivers_project import PLACE, sources
from tests.waived import CODE, NOW, W, about, fill, plain, two
from tests.waived import checked as alone

IDS = ("1hVQ0wPtr2HhL9xg5hXq7A", "1hVQ0wPtr2HhL9xg5hXq7a")


def called(**places: str) -> tuple[Installation, list[FindingRow]]:
    """Two lengths, both called FT-1, on storeys L1 and L2; their GlobalIds differ by case alone."""
    inst = two()
    lengths = tuple(
        replace(one, place=replace(one.place, tag="FT-1", storey=storey, global_id=global_id))
        for one, storey, global_id in zip(inst.carriers, ("L1", places.get("second", "L2")), IDS, strict=True)
    )
    rows = [replace(fill(alone(plain())), id=key, carriers=(key,), circuits=()) for key in ("T1", "T2")]
    return replace(inst, carriers=lengths), rows


def put(waiver: Waiver, second: str = "L2") -> Waived:
    inst, rows = called(second=second)
    return waive([waiver], rows, inst, CODE, NOW)


def waived_of(found: Waived) -> set[str]:
    return {row.id for row in found.findings if row.verdict == "waived"}


def test_a_name_that_lengths_of_several_storeys_have_waives_none_of_them_and_says_so() -> None:
    found = put(replace(W, carriers=("FT-1",)))
    assert waived_of(found) == set()
    assert [row.rule for row in found.about] == ["waiver.exceeded"]
    assert (
        "names 'FT-1', and on L1 and L2 there is one: say which with storeys, or by GlobalId" in found.waivers[0].reason
    )
    # whether it was meant comes before how far it reaches
    assert "names 'FT-1'" in put(replace(W, carriers=("FT-1",), up_to=0.46)).waivers[0].reason
    # of one storey both are meant
    assert waived_of(put(replace(W, carriers=("FT-1",)), second="L1")) == {"T1", "T2"}


@pytest.mark.parametrize(
    ("carriers", "storeys", "waives"),
    [
        (("FT-1",), ("L2",), {"T2"}),
        (("FT-1",), ("L?",), {"T1", "T2"}),
        (("FT-1",), ("l2",), set()),  # case counts
        (("FT-*",), (), {"T1", "T2"}),  # who writes a wildcard means several
        (("FT-*",), ("L1",), {"T1"}),
        ((IDS[0],), (), {"T1"}),
        ((IDS[1],), (), {"T2"}),
        ((IDS[1], "FT-1"), (), {"T2"}),
        (("1*",), (), set()),  # GlobalIds begin with anything
        (("*q7A",), (), set()),
    ],
)
def test_storeys_and_global_ids_say_which(
    carriers: tuple[str, ...], storeys: tuple[str, ...], waives: set[str]
) -> None:
    assert waived_of(put(replace(W, carriers=carriers, storeys=storeys))) == waives


@pytest.mark.parametrize("what", ["mark", "tag", "name"])
@pytest.mark.parametrize("pattern", ["M-1", "M-?"])
def test_a_length_is_called_by_its_mark_its_tag_and_its_name(what: str, pattern: str) -> None:
    inst, rows = called()
    places = [
        replace(one.place, **{"mark": "", "tag": "", "name": "", what: f"M-{n}"})
        for n, one in enumerate(inst.carriers, 1)
    ]
    lengths = (replace(one, place=place) for one, place in zip(inst.carriers, places, strict=True))
    found = waive([replace(W, carriers=(pattern,))], rows, replace(inst, carriers=tuple(lengths)), CODE, NOW)
    assert waived_of(found) == ({"T1"} if pattern == "M-1" else {"T1", "T2"})


def test_of_a_pair_both_must_be_named_beyond_doubt() -> None:
    """The first by its GlobalId, the second by a name that may be of either."""
    inst, (row, _) = called()
    pair = replace(row, id="pair", carriers=("T1", "T2"))
    by = {
        carriers: waive([replace(W, carriers=carriers)], [pair], inst, CODE, NOW)
        for carriers in ((IDS[0], "FT-1"), IDS)
    }
    assert [waived_of(found) for found in by.values()] == [set(), {"pair"}]


def test_a_storey_is_meant_whatever_blanks_stand_around_its_name() -> None:
    assert waived_of(put(replace(W, carriers=("FT-1",), storeys=("L2",)), second=" L2 ")) == {"T2"}


def test_one_whose_storey_there_is_none_of_says_where_such_are() -> None:
    found = put(replace(W, carriers=("FT-1",), storeys=("L3",)))
    assert "'FT-1' is on L1 and L2" in found.waivers[0].reason
    assert found.waivers[0].names == "fill.compartment at FT-1, storey L3"


def test_waivers_that_differ_by_storey_or_bound_alone_are_told_each() -> None:
    inst, rows = called()
    apart = replace(W, carriers=("FT-1",), storeys=("L3",))
    several = [apart, replace(apart, storeys=("L4",)), replace(apart, up_to=0.5), replace(apart, up_to=0.6)]
    found = waive(several, rows, inst, CODE, NOW)
    assert len({row.id for row in found.about}) == len(several)


def test_without_the_notes_that_hold_an_issue_what_may_have_joined_it_since_is_not_waived() -> None:
    first, grown = checked(row_of(2)), row_of(3)
    issue = issue_of(first, "T1")
    assert issue_of(checked(grown), "T3") == issue  # its GUID tells nothing of what people saw in it
    result = checked(grown, waiver(issue))
    waived = {key for key, verdict in fills(result).items() if verdict == "waived"}
    # only what the GUID is made of was in it for certain: the finding with the first id
    ids = {row.carriers[0]: row.id for row in first.findings if row.rule == "fill.compartment"}
    assert waived == {min(ids, key=ids.__getitem__)}
    assert about(result) == [("waiver.exceeded", "fail")]
    assert "names an issue that no earlier notes hold" in result.waivers[0].reason


def test_an_issue_that_earlier_notes_hold_but_of_which_nothing_is_left_is_told_as_that() -> None:
    first = checked(row_of(2))
    issue, notes = issue_of(first, "T1"), noted(first, None, DIALECTS["2.1"])
    result = checked(plain(13), waiver(issue), previous=notes)  # another T1, which passes, has the id of that finding
    assert "of what it names 1 passes" in result.waivers[0].reason
    only = two()
    only = replace(only, carriers=only.carriers[1:], circuits=only.circuits[1:])
    t1 = checked(plain(14))
    gone = checked(only, waiver(issue_of(t1, "T1")), previous=noted(t1, None, DIALECTS["2.1"]))
    assert fills(gone) == {"T2": "fail"}
    assert "of what that issue holds in the earlier notes nothing is asked any more" in gone.waivers[0].reason
    assert about(gone) == [("waiver.unmatched", "unknown")]


def test_a_topic_of_somebody_who_copied_our_text_holds_nothing_of_ours() -> None:
    """By its author and its random Guid it isn't one that we made."""
    first, theirs = checked(row_of(2)), "0b5b1f9e-1c5e-4d55-8f7e-0123456789ab"
    ours = issue_of(first, "T1")
    copied = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(noted(first, None, DIALECTS["2.1"]))) as notes,
        zipfile.ZipFile(copied, "w") as made,
    ):
        for name in notes.namelist():
            content = notes.read(name).replace(ours.encode(), theirs.encode())
            made.writestr(name.replace(ours, theirs), content.replace(b"Author>wayroom<", b"Author>j.doe<"))
    result = checked(row_of(2), waiver(theirs), previous=copied.getvalue())
    assert set(fills(result).values()) == {"fail"}
    assert about(result) == [("waiver.unmatched", "unknown")]


@pytest.mark.parametrize(
    "until",
    [
        "0",
        "1798675200",
        '"86400"',
        "2027-06-30T00:00:00",
        "2027-06-30T00:00:00+13:00",
        '"2027-W26-3"',
        "true",
        '"30.6.2027"',
    ],
)
def test_only_a_day_is_a_day(tmp_path: Path, until: str) -> None:
    with pytest.raises(ProjectFileError, match=r"waivers.1.until: it must be a day, as 2027-06-30"):
        sources(tmp_path, PLACE.replace("2027-06-30", until))


@pytest.mark.parametrize("until", ["2027-06-30", '"2027-06-30"', "9999-12-31"])
def test_a_day_may_stand_in_quotes_and_be_far_off(tmp_path: Path, until: str) -> None:
    (spec,) = sources(tmp_path, PLACE.replace("2027-06-30", until)).project.waivers
    assert spec.until.isoformat() == until.strip('"')


@pytest.mark.parametrize("who", ["", " ", "-", "\\u200b", "?"])
def test_who_is_somebody(tmp_path: Path, who: str) -> None:
    with pytest.raises(ProjectFileError, match=r"waivers.1.who: it is empty"):
        sources(tmp_path, PLACE.replace("R. Okafor", who))


def test_what_a_terminal_would_obey_is_not_kept(tmp_path: Path) -> None:
    (spec,) = sources(tmp_path, PLACE.replace("one pull only", "\\u001b[2Jone\\n pull \\u202eonly")).project.waivers
    assert spec.waiver.why == "?[2Jone pull ?only"


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ('["T1"]\nup_to = "50 %"', "up_to: it must be a number"),
        ('["T1"]\nup_to = true', "up_to"),
        ('["T1"]\nup_to = -1', "up_to"),
        ('["T1"]\nup_to = nan', "up_to"),
        ('["T1"]\nup_to = inf', "up_to"),
        ('["*-*"]', "would fit everything"),
        ('["T1"]\nstoreys = [""]', "one of carriers, circuits or storeys is empty"),
    ],
)
def test_a_bound_is_a_number_and_a_pattern_has_a_letter(tmp_path: Path, changed: str, words: str) -> None:
    with pytest.raises(ProjectFileError, match=words):
        sources(tmp_path, PLACE.replace('["T1"]', changed))


def test_storeys_and_up_to_are_read(tmp_path: Path) -> None:
    text = PLACE.replace('["T1"]', '["T1"]\nstoreys = [" L2 ", "L1"]\nup_to = 1')
    (spec,) = sources(tmp_path, text).project.waivers
    assert (spec.waiver.storeys, spec.waiver.up_to) == (("L1", "L2"), 1.0)

"""What was not read is not mended: models that share a project, a schedule left out, notes of which programs have lost the header."""

from dataclasses import replace

import pytest
from lxml import etree

from checker.history.identity import finding_id
from checker.result.dialect import V2
from checker.result.guids import stable_guid
from checker.result.tables import Result
from tests.history.people import repacked, run, unpacked
from tests.history.revisions import (
    FAILS,
    MENDED,
    OTHER,
    Revision,
    checked,
    comments,
    of_length,
    of_roof,
    run_of,
    sets_status,
    status,
    topics,
    worked,
)
from tests.report.results import MODEL

#: Files that were saved from one, or copied, have the same IfcProject.
ALIKE = {"files": (MODEL.name, OTHER), "projects": {MODEL.name: MODEL.ifc_project, OTHER: MODEL.ifc_project}}
SCHEDULE = replace(MODEL, role="schedule", name="circuits.csv")


def test_of_two_models_of_one_project_the_one_that_is_left_out_is_missed() -> None:
    """T-001 and T-002 are of the other one, whose circuits may run through T-003 as well."""
    first = run_of(of_roof(of_roof(replace(FAILS, **ALIKE).result(), 1), 2))
    stretch, third = of_length(first, 1), of_length(first, 3)
    less = checked(Revision({3: 0.4, 4: 0.3}), first)

    assert status(less, third) == "Open"
    assert f"as far as was read, but “{OTHER}” was not" in comments(less, third)[0]
    assert comments(less, stretch)[0].count("not re-checked, since its model was not read") == 2
    whole = run_of(of_roof(of_roof(replace(MENDED, **ALIKE).result(), 1), 2), less)
    assert status(whole, third) == "Review"


def test_two_models_of_one_project_are_told_by_a_text_that_has_both() -> None:
    """T-001, of the other model, begins to fail a week after T-003."""
    week = "2024-05-08T08:30:00Z"
    first = run_of(of_roof(replace(FAILS, fills={1: 0.3, 3: 0.6}, **ALIKE).result(), 1))
    third = of_length(first, 3)
    second = run_of(of_roof(replace(FAILS, fills={1: 0.5, 3: 0.6}, created=week, **ALIKE).result(), 1), first)
    less = checked(Revision({3: 0.4}, "2024-05-15T08:30:00Z"), second)

    assert status(less, third) == "Open"
    assert f"as far as was read, but “{OTHER}” was not" in comments(less, third)[0]


@pytest.mark.parametrize("is_dated", [True, False])
def test_a_model_that_is_renamed_at_each_revision_is_one_model(*, is_dated: bool) -> None:
    notes = None
    for number, fills in enumerate(({3: 0.6}, {3: 0.6, 4: 0.5}, {3: 0.4}), start=1):
        name, created = f"rev {number}.ifc", f"2024-05-0{number}T08:30:00Z" if is_dated else ""
        revision = Revision(fills, created, files=(name,), projects={name: MODEL.ifc_project})
        notes = checked(revision, notes)

    assert status(notes, of_length(notes, 3)) == "Review"


def with_schedule(result: Result) -> Result:
    return replace(result, files=(*result.files, SCHEDULE))


def test_what_passes_without_the_schedule_is_not_mended() -> None:
    """No circuit of the schedule lies anywhere then."""
    first = run_of(with_schedule(FAILS.result()))
    third = of_length(first, 3)
    less = checked(MENDED, first)

    assert status(less, third) == "Open"
    assert "passes now (40 % / 45 %), but not everything was read" in comments(less, third)[0]
    assert "as far as was read, but “circuits.csv” was not" in comments(less, third)[0]
    assert status(run_of(with_schedule(MENDED.result()), less), third) == "Review"


def test_a_topic_that_still_fails_without_the_schedule_keeps_what_it_knows_of_it() -> None:
    """T-003 was closed and passes; the stretch, the only open one, fails on, and its text is written anew."""
    first = run_of(with_schedule(FAILS.result()))
    stretch, third = of_length(first, 1), of_length(first, 3)
    closed = repacked(worked(first, {third: [sets_status("Closed")]}, V2))
    fuller = replace(MENDED, fills={1: 0.55, 2: 0.4, 3: 0.4, 4: 0.3})

    less = checked(fuller, closed)

    text = topics(less)[stretch].findtext("Topic/Description")
    assert (
        f"Checked by Wayroom 0.1.0.\nRead before, not now: Schedule: circuits.csv, SHA-256 {SCHEDULE.sha256}." in text
    )
    assert "T-002, compartment 1: passes now" in comments(less, stretch)[0]
    assert "but not everything was read" in comments(less, third)[0]
    whole = run_of(with_schedule(fuller.result()), less)
    assert "Read before" not in topics(whole)[stretch].findtext("Topic/Description")


def test_what_two_runs_of_one_time_read_is_no_reason_to_say_more_the_second_time() -> None:
    """T-003 is new in the run that reads another model of the project, of the same time as the first."""
    first = run_of(of_roof(Revision({1: 0.5}, files=(OTHER,), projects=ALIKE["projects"]).result(), 1))

    checked(Revision({3: 0.6}), first)  # which makes sure that the same once more changes nothing


def test_a_header_of_which_a_program_has_left_nothing_names_no_model() -> None:
    first = checked(FAILS)
    files = unpacked(first)
    for path, content in files.items():
        if path.endswith("/markup.bcf"):
            root = etree.fromstring(content)
            for file in root.findall(V2.files):
                file.attrib.pop("IfcProject")
                file.remove(file.find("Filename"))
            files[path] = etree.tostring(root)

    assert status(checked(MENDED, repacked(files)), of_length(first, 3)) == "Review"


def test_a_rule_s_own_words_with_odd_spaces_and_strokes_are_no_change() -> None:
    result = FAILS.result()
    found = tuple(replace(row, found="a | b\u00a0 {}".format("60 %")) for row in result.findings)
    result = replace(result, findings=found)
    notes = run(result)

    assert run(result, notes) == notes


def of_circuit(mark: str, result: Result) -> Result:
    """A result whose one finding is of a circuit."""
    row = replace(
        result.findings[0],
        id=finding_id("plant-room", "grouping.rating", (), None, mark),
        rule="grouping.rating",
        compartment=None,
        circuits=(mark,),
        value=16.0,
        limit=12.0,
        unit="A",
        is_of_circuit=True,
    )
    return replace(result, findings=(row,), topics=())


def named(mark: str) -> Result:
    """The same with a topic of it."""
    result = of_circuit(mark, Revision({1: 0.5}).result())
    (row,) = result.findings
    made = replace(
        Revision({1: 0.5}).result().topics[0],
        guid=stable_guid(mark),
        title=f"circuit {mark}",
        rule=row.rule,
        members=(row.id,),
        worst=row.id,
        description=f"Too weak.\nCircuits: {mark}.\n\nwayroom: {row.id}",
    )
    return replace(result, topics=(made,))


def test_a_circuit_is_not_called_taken_out_where_no_schedule_was_read() -> None:
    """The model draws another circuit, so that the rule is asked all the same."""
    first = run(with_schedule(named("L1/2")))
    (guid,) = topics(first)
    later = run_of(named("L12"), first)

    assert comments(later, guid)[0].splitlines()[1:] == [
        "circuit L1/2: not re-checked, since no schedule was read",
        "It isn't known to be mended: the status stays as it was.",
    ]
    assert status(later, guid) == "Open"
    (_, said) = comments(run_of(with_schedule(named("L12")), later), guid)
    assert "circuit L1/2: no circuit of that mark is in what was read" in said


@pytest.mark.parametrize("mark", ["L1/2", "DP-1/20,22,24"])
def test_a_circuit_that_is_marked_otherwise_is_not_called_gone_from_the_model(mark: str) -> None:
    first = run(named(mark))
    (guid,) = topics(first)
    later = run_of(named("L12"), first)

    (said,) = comments(later, guid)
    assert f"circuit {mark}: no circuit of that mark is in what was read" in said
    assert "model:" not in said
    assert status(later, guid) == "Open"
    assert len(topics(later)) == 2

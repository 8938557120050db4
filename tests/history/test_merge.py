"""What becomes of notes when the model is checked again after people have worked on them."""

from dataclasses import replace

from lxml import etree

from tests.history.people import (
    PERSON,
    again,
    comment,
    comments,
    edited,
    markup,
    markup_path,
    repacked,
    run,
    set_child,
    status,
    unpacked,
)
from tests.report.results import MODEL, small_result

FIRST = small_result()
FULLER = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))
MENDED = small_result((0.4, 0.4, 0.31, 0.6, 0.12, 0.4))
UNKNOWN = small_result((0.4, None, 0.31, 0.6, 0.12, 0.4))

#: Words that only one topic's text has in it, whatever its figures are.
LINE, DIVIDED = "T-001", "T-003"


def test_the_same_run_again_changes_nothing() -> None:
    notes = run(FIRST)

    assert run(FIRST, notes) == notes


def test_nothing_that_a_person_did_is_lost() -> None:
    def work(root: etree._Element) -> None:
        topic = root.find("Topic")
        topic.find("Priority").text = "Critical"
        topic.find("Labels").text = "Level 1 works"
        topic.find("Title").text = "T-001: my own title"
        for place, (tag, text) in enumerate((("DueDate", "2024-06-01T00:00:00Z"), ("AssignedTo", PERSON))):
            added = etree.Element(tag)
            added.text = text
            topic.insert(topic.index(topic.find("CreationAuthor")) + 1 + place, added)
        document = etree.SubElement(topic, "DocumentReference")
        etree.SubElement(document, "ReferencedDocument").text = "sketch.txt"
        etree.SubElement(topic, "SomethingNew", kind="of a later time").text = "kept"

    notes = edited(edited(run(FIRST), LINE, comment("I will look at it.")), LINE, work)
    files = unpacked(notes)
    folder = markup_path(notes, LINE).rpartition("/")[0]
    files[f"{folder}/sketch.txt"] = b"a sketch"
    files["read me.txt"] = b"of somebody"

    for result in (FIRST, FULLER, MENDED, UNKNOWN):
        after = again(result, repacked(files))
        topic = markup(after, LINE).find("Topic")
        assert topic.findtext("Title") == "T-001: my own title"
        assert topic.findtext("Priority") == "Critical"
        assert [label.text for label in topic.findall("Labels")] == ["Level 1 works", "Trunking"]
        assert topic.findtext("DueDate") == "2024-06-01T00:00:00Z"
        assert topic.findtext("AssignedTo") == PERSON
        assert topic.findtext("DocumentReference/ReferencedDocument") == "sketch.txt"
        assert (topic.findtext("SomethingNew"), topic.find("SomethingNew").get("kind")) == ("kept", "of a later time")
        assert comments(after, LINE, PERSON) == ["I will look at it."]
        assert unpacked(after)[f"{folder}/sketch.txt"] == b"a sketch"
        assert unpacked(after)["read me.txt"] == b"of somebody"


def test_untouched_topics_stay_as_they_are_byte_for_byte() -> None:
    notes = edited(run(FIRST), DIVIDED, comment("Mine."))
    before = unpacked(notes)

    after = unpacked(again(FULLER, notes))

    folder = markup_path(notes, DIVIDED).rpartition("/")[0]
    ours = [path for path in before if path.startswith(folder)]
    assert len(ours) == 3
    assert {path: after[path] for path in ours} == {path: before[path] for path in ours}


def test_another_value_makes_one_comment_and_a_new_description() -> None:
    after = again(FULLER, run(FIRST))

    (said,) = comments(after, LINE)
    assert "T-001, compartment 1: 52.3 % / 45 % → 55 % / 45 %" in said
    assert "T-002" not in said
    topic = markup(after, LINE).find("Topic")
    assert topic.findtext("Title") == "T-001: 55.0% full"  # ours, so it keeps up
    assert "55 % / 45 %" in topic.findtext("Description")
    assert topic.get("TopicStatus") == "Open"


def test_a_description_that_a_person_changed_stays_theirs() -> None:
    first = run(FIRST)
    text = markup(first, LINE).findtext("Topic/Description").replace("Too full.", "Look behind T-001 first.")
    notes = edited(first, LINE, set_child("Description", f"{text}\nAnd call me."))

    after = again(FULLER, notes)

    kept = markup(after, LINE).findtext("Topic/Description")
    assert kept.startswith("Look behind T-001 first.")
    assert kept.endswith("\nAnd call me.")
    assert "55 % / 45 %" in kept  # our own lines keep up, or the next run couldn't tell what is new
    (said,) = comments(after, LINE)
    assert "52.3 % / 45 % → 55 % / 45 %" in said


def test_a_description_without_our_lines_gets_them_not_back() -> None:
    notes = edited(run(FIRST), LINE, set_child("Description", "Only T-001 matters."))

    after = again(FULLER, notes)

    assert markup(after, LINE).findtext("Topic/Description") == "Only T-001 matters."
    (said,) = comments(after, LINE)
    assert "T-001, compartment 1: fails, 55 % / 45 %" in said


def test_line_ends_and_spaces_of_other_programs_do_not_make_a_text_theirs() -> None:
    first = run(FIRST)
    text = " ".join(markup(first, LINE).findtext("Topic/Description").split())

    after = again(FULLER, edited(first, LINE, set_child("Description", text)))

    assert markup(after, LINE).findtext("Topic/Description").startswith("Too full.\n- T-001")
    assert len(comments(after, LINE)) == 1


def test_what_is_unknown_now_is_not_called_mended() -> None:
    after = again(UNKNOWN, run(FIRST))

    (said,) = comments(after, LINE)
    assert "T-001, compartment 1: passes now" in said
    assert "T-002, compartment 1: unknown now: no diameter is known of C2" in said
    assert status(after, LINE) == "Open"


def test_what_is_known_to_pass_later_is_put_up_for_review_then() -> None:
    after = again(MENDED, run(UNKNOWN, run(FIRST)))

    assert status(after, LINE) == "Review"
    assert len(comments(after, LINE)) == 2


def test_what_becomes_unknown_beside_one_that_fails_is_not_forgotten() -> None:
    beside = run(small_result((0.523, None, 0.31, 0.6, 0.12, 0.4)), run(FIRST))
    after = again(small_result((0.523, 0.4, 0.31, 0.6, 0.12, 0.4)), beside)

    assert "unknown now" in comments(after, LINE)[0]
    assert "T-002, compartment 1: passes now" in comments(after, LINE)[1]


def test_what_is_gone_from_the_model_stays_open_and_is_said_to_be_gone() -> None:
    after = again(small_result(without=(1, 2)), run(FIRST))

    (said,) = comments(after, LINE)
    assert said.count("gone from the model") == 2
    assert status(after, LINE) == "Open"


def test_what_was_in_a_model_that_was_not_read_stays_open_and_is_said_to_be_unchecked() -> None:
    other = replace(MODEL, name="roof.ifc", ifc_project="1Zu5Bv0LOHrPC10026FoQQ")
    result = replace(small_result(without=(1, 2)), files=(other,))

    after = again(result, run(FIRST))

    (said,) = comments(after, LINE)
    assert said.count("its model was not read") == 2
    assert status(after, LINE) == "Open"


def test_a_model_file_with_another_name_is_still_the_same_project() -> None:
    result = replace(small_result(without=(1, 2)), files=(replace(MODEL, name="plant room rev B.ifc"),))

    assert "gone from the model" in comments(again(result, run(FIRST)), LINE)[0]


def test_what_no_rule_judged_stays_open_and_is_said_to_be_unchecked() -> None:
    result = replace(FIRST, findings=(), topics=())

    (said,) = comments(again(result, run(FIRST)), LINE)

    assert said.count("fill.compartment judged nothing in this run") == 2


def test_what_passes_by_another_code_is_not_called_mended() -> None:
    fills = (0.4, 0.4, 0.31, 0.6, 0.12, 0.4)

    after = again(small_result(fills, code="iec-60364"), run(FIRST))

    (said,) = comments(after, LINE)
    assert "not re-checked by bs-7671; iec-60364 says pass" in said
    assert status(after, LINE) == "Open"
    (said,) = comments(after, DIVIDED)
    assert "Judged by iec-60364 now, by bs-7671 before." in said


def test_a_value_that_goes_to_and_fro_is_told_every_time() -> None:
    notes = run(FIRST)
    for result in (FULLER, FIRST, FULLER, FIRST, FULLER):
        notes = again(result, notes)

    said = comments(notes, LINE)
    assert len(said) == 5
    guids = [one.get("Guid") for one in markup(notes, LINE).findall("Comment")]
    assert len(set(guids)) == 5

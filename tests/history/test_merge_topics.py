"""What becomes of topics that grow, split, join, or have lost something on their way through other programs."""

from dataclasses import replace

from lxml import etree

from checker.result.tables import Result
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
    unpacked,
)
from tests.report.results import box_mm, carrier, compartment, finding, small_result, topic

FIRST = small_result()
FULLER = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))
LINE = "T-001"


def test_one_more_failing_length_does_not_orphan_a_discussion() -> None:
    notes = edited(run(small_result((0.4, 0.481, 0.31, 0.6, 0.12, 0.4))), "T-002", comment("Mine."))

    after = again(FIRST, notes)

    assert comments(after, LINE, PERSON) == ["Mine."]
    assert "T-001, compartment 1, new here: fails, 52.3 % / 45 %" in comments(after, LINE)[0]


def test_a_topic_that_splits_says_where_the_other_part_went() -> None:
    before = run(FIRST)

    after = again(small_result(together=False), before)

    kept = markup_path(before, LINE)
    assert kept in unpacked(after)
    titles = [
        etree.fromstring(content).findtext("Topic/Title")
        for path, content in unpacked(after).items()
        if path.endswith("markup.bcf")
    ]
    assert sorted(titles) == ["T-001: 52.3% full", "T-002: 48.1% full", "T-003: 60.0% full"]
    said = etree.fromstring(unpacked(after)[kept]).findtext("Comment/Comment")
    assert "now part of the topic “T-00" in said


def test_topics_that_join_leave_a_word_in_the_one_that_is_left_empty() -> None:
    after = again(FIRST, run(small_result(together=False)))

    topics = [etree.fromstring(one) for path, one in unpacked(after).items() if path.endswith("markup.bcf")]
    moved = [root for root in topics if "now part of" in (root.findtext("Comment/Comment") or "")]
    assert len(topics) == 3
    assert len(moved) == 1
    assert moved[0].find("Topic").get("TopicStatus") == "Open"


def test_a_long_list_of_changes_is_cut() -> None:
    def long_run(fill: float) -> Result:
        rows = [carrier(k, box_mm((3000.0 * k, 0.0, 0.0), (3000.0, 0.0, 0.0), 100.0, 50.0)) for k in range(30)]
        parts = [compartment(row, 1, (97.6, 47.6), fill) for row in rows]
        findings = [finding(row, part) for row, part in zip(rows, parts, strict=True)]
        return replace(
            FIRST,
            carriers=tuple(rows),
            compartments=tuple(parts),
            findings=tuple(findings),
            topics=(topic(rows, findings),),
        )

    (said,) = comments(again(long_run(0.6), run(long_run(0.5))), "T-000")

    assert said.count("50 % / 45 % → 60 % / 45 %") == 20
    assert said.endswith("and 10 more")


def test_a_program_that_keeps_comments_but_not_texts_does_not_make_us_repeat_ourselves() -> None:
    first = run(FIRST)
    old_text = markup(first, LINE).findtext("Topic/Description")

    notes = edited(run(FULLER, first), LINE, set_child("Description", old_text))

    assert len(comments(again(FULLER, notes), LINE)) == 1


def test_views_that_a_program_has_renamed_are_not_given_again() -> None:
    first = run(FIRST)
    folder = markup_path(first, LINE).rpartition("/")[0]

    def rename(root: etree._Element) -> None:
        root.find("Viewpoints/Viewpoint").text = "view 1.bcfv"
        root.find("Viewpoints/Snapshot").text = "view 1.png"

    files = unpacked(edited(first, LINE, rename))
    files[f"{folder}/view 1.bcfv"] = files.pop(f"{folder}/viewpoint.bcfv")
    files[f"{folder}/view 1.png"] = files.pop(f"{folder}/snapshot.png")

    after = unpacked(again(FULLER, repacked(files)))

    assert sorted(path for path in after if path.startswith(folder)) == [
        f"{folder}/markup.bcf", f"{folder}/view 1.bcfv", f"{folder}/view 1.png",
    ]  # fmt: skip


def test_a_viewpoint_that_is_there_is_never_touched_and_one_that_is_lost_is_given_again() -> None:
    first = run(FIRST)
    folder = markup_path(first, LINE).rpartition("/")[0]
    files = unpacked(first)
    files[f"{folder}/snapshot.png"] = b"\x89PNG of somebody"
    assert unpacked(again(FULLER, repacked(files)))[f"{folder}/snapshot.png"] == b"\x89PNG of somebody"

    bare = unpacked(edited(first, LINE, lambda root: root.remove(root.find("Viewpoints"))))
    for name in ("viewpoint.bcfv", "snapshot.png"):
        del bare[f"{folder}/{name}"]

    after = again(FIRST, repacked(bare))

    assert markup(after, LINE).findtext("Viewpoints/Viewpoint") == "viewpoint.bcfv"
    assert f"{folder}/viewpoint.bcfv" in unpacked(after)

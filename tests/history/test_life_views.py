"""Viewpoints of a topic that lives on: those that are there stay; what none of them selects, or has moved, gets one more."""

from dataclasses import replace

import pytest
from lxml import etree

from checker.model.geometry import add
from checker.result.camera import fit_camera
from checker.result.dialect import V2, V3, Dialect
from checker.result.tables import Result
from tests.history.people import repacked, unpacked
from tests.history.revisions import Revision, checked, of_length, run_of, topics

TWO = Revision({1: 0.523, 2: 0.481, 3: 0.3})
THREE = replace(TWO, fills={1: 0.523, 2: 0.481, 3: 0.6}, together=(1, 2, 3))


def tags(content: bytes) -> list[str]:
    """The tags of what a viewpoint selects."""
    components = etree.fromstring(content).iterfind("Components/Selection/Component")
    return [one.findtext("AuthoringToolId") for one in components]


def views(data: bytes, dialect: Dialect = V2) -> list[tuple[str, str, bytes, bytes, str]]:
    """Of each viewpoint of the stretch: its Guid, its file's Guid, that file, its picture, its Index."""
    guid = of_length(data, 1)
    files = unpacked(data)
    found = []
    for view in topics(data)[guid].iterfind(dialect.views):
        content = files[f"{guid}/{view.findtext('Viewpoint')}"]
        picture = files[f"{guid}/{view.findtext('Snapshot')}"]
        found.append(
            (view.get("Guid"), etree.fromstring(content).get("Guid"), content, picture, view.findtext("Index"))
        )
    return found


@pytest.mark.parametrize("dialect", [V2, V3])
def test_a_topic_that_grows_gets_a_viewpoint_that_selects_all_of_it(dialect: Dialect) -> None:
    first = checked(TWO, dialect=dialect)
    second = checked(THREE, first, dialect)

    before, (old, new) = views(first, dialect), views(second, dialect)
    assert [old] == before
    assert tags(old[2])[:2] == ["T-001", "T-002"]
    assert tags(new[2])[:3] == ["T-001", "T-002", "T-003"]
    assert new[0] == new[1] != old[0] == old[1]  # the markup and the file name the same one
    assert new[3].startswith(b"\x89PNG")
    assert new[3] != old[3]
    assert (old[4], new[4]) == ("0", "1")
    assert views(checked(TWO, second, dialect), dialect) == [old, new]
    assert views(checked(THREE, checked(TWO, second, dialect), dialect), dialect) == [old, new]


def test_a_program_that_drops_selections_is_given_none_twice() -> None:
    """The stretch shrinks to two lengths and grows again, and the program saves it after each run."""
    notes = checked(TWO)
    for revision in (THREE, replace(THREE, fills=TWO.fills), THREE):
        files = unpacked(checked(revision, notes))
        for path, content in files.items():
            if path.endswith(".bcfv"):
                root = etree.fromstring(content)
                for selection in root.findall("Components/Selection"):
                    selection.getparent().remove(selection)
                files[path] = etree.tostring(root)
        notes = repacked(files)

    assert len(views(notes)) == 2


def test_a_topic_that_shrinks_or_only_changes_keeps_its_one_viewpoint() -> None:
    first = checked(THREE)
    for fills in ({1: 0.523, 2: 0.481, 3: 0.3}, {1: 0.6, 2: 0.6, 3: 0.6}):
        assert views(checked(replace(THREE, fills=fills), first)) == views(first)


def seen_from(content: bytes) -> list[float]:
    """Where a camera stands, in m."""
    point = etree.fromstring(content).find("PerspectiveCamera/CameraViewPoint")
    return [float(axis.text) for axis in point]


def moved(by_m: float) -> Result:
    """The stretch of ``TWO``, further along by so much."""
    result = TWO.result()
    rows = tuple(
        replace(
            row, boxes=tuple(replace(box, corner_mm=add(box.corner_mm, (1000.0 * by_m, 0.0, 0.0))) for box in row.boxes)
        )
        for row in result.carriers
    )
    topic = replace(result.topics[0], camera=fit_camera([box for row in rows[:2] for box in row.boxes]))
    return replace(result, carriers=rows, topics=(topic,))


@pytest.mark.parametrize("dialect", [V2, V3])
def test_a_topic_whose_elements_moved_gets_a_viewpoint_from_where_they_are_now(dialect: Dialect) -> None:
    first = run_of(moved(0.0), None, dialect)
    second = run_of(moved(2.0), first, dialect)
    third = run_of(moved(0.0), second, dialect)
    fourth = run_of(moved(2.0), third, dialect)

    assert [len(views(notes, dialect)) for notes in (first, second, third, fourth)] == [1, 2, 3, 4]
    old, new, *_ = views(fourth, dialect)
    assert [old] == views(first, dialect)
    assert tags(new[2]) == tags(old[2])
    along = [a - b for a, b in zip(seen_from(new[2]), seen_from(old[2]), strict=True)]
    assert along == pytest.approx([2.0, 0.0, 0.0], abs=1e-6)
    assert new[3].startswith(b"\x89PNG")
    assert len({view[0] for view in views(fourth, dialect)}) == 4


@pytest.mark.parametrize("dialect", [V2, V3])
def test_no_viewpoint_gets_the_guid_of_one_that_is_left_of_many(dialect: Dialect) -> None:
    """The stretch goes to and fro, and somebody deletes the first and the third of its five viewpoints."""
    notes = None
    for by_m in (0.0, 2.0, 0.0, 2.0, 0.0):
        notes = run_of(moved(by_m), notes, dialect)
    files = unpacked(notes)
    (path,) = [path for path in files if path.endswith("/markup.bcf")]
    root = etree.fromstring(files[path])
    gone = root.findall(dialect.views)[0:3:2]
    for view in gone:
        view.getparent().remove(view)
    files[path] = etree.tostring(root)
    left = repacked(files)

    (*old, new) = views(run_of(moved(2.0), left, dialect), dialect)

    assert old == views(left, dialect)
    assert len(old) == 3
    assert new[0] not in {view[0] for view in old} | {view.get("Guid") for view in gone}


@pytest.mark.parametrize("kind", ["bcfv", "png", "PNG"])
@pytest.mark.parametrize("why", ["grows", "moves"])
def test_what_somebody_has_named_as_our_next_viewpoint_would_be_stays(kind: str, why: str) -> None:
    first, second = (TWO.result(), THREE.result()) if why == "grows" else (moved(0.0), moved(2.0))
    notes = run_of(first)
    name = f"{of_length(notes, 1)}/{views(run_of(second, notes))[-1][0]}.{kind}"
    theirs = repacked(unpacked(notes) | {name: b"theirs"})

    after = run_of(second, theirs)

    assert unpacked(after)[name] == b"theirs"
    assert len({path.lower() for path in unpacked(after)}) == len(unpacked(after))
    assert len(views(after)) == 2
    assert views(after)[-1][3].startswith(b"\x89PNG")


@pytest.mark.parametrize(("by_m", "expected"), [(0.04, 1), (0.06, 2)])
def test_what_moved_by_a_hair_is_seen_as_well_from_where_it_was_seen(by_m: float, expected: int) -> None:
    """The least move is 0.05 m."""
    assert len(views(run_of(moved(by_m), run_of(moved(0.0))))) == expected


def resaved(notes: bytes, *, digits: int | None = None, guids: bool = False) -> bytes:
    """Notes as a program saves them that rounds numbers, or that gives Guids of its own to viewpoints."""
    files = unpacked(notes)
    for path, content in files.items():
        root = etree.fromstring(content) if path.endswith((".bcfv", "/markup.bcf")) else None
        if root is not None and digits is not None:
            for axis in root.iterfind("PerspectiveCamera/CameraViewPoint/*"):
                axis.text = f"{float(axis.text):.{digits}f}"
        for place, view in enumerate(root.iterfind("Viewpoints") if root is not None and guids else ()):
            view.set("Guid", f"0d9c7c1e-5b0a-4b53-9a57-0e9f3d1c{place:04d}")
        if root is not None:
            files[path] = etree.tostring(root)
    return repacked(files)


@pytest.mark.parametrize("digits", [0, 1, 2])
def test_numbers_that_a_program_rounded_are_no_move(digits: int) -> None:
    """Rounded to whole metres they are off by up to 0.5 m."""
    assert len(views(run_of(moved(0.0), resaved(run_of(moved(0.0)), digits=digits)))) == 1


def test_a_program_that_gives_viewpoints_its_own_guids_is_given_none_twice() -> None:
    notes = run_of(moved(2.0), run_of(moved(0.0)))
    assert len(views(run_of(moved(2.0), resaved(notes, guids=True)))) == 2


def test_the_comment_on_a_change_names_the_viewpoint_that_shows_it() -> None:
    second = checked(THREE, checked(TWO))
    (comment,) = topics(second)[of_length(second, 1)].findall("Comment")

    assert "T-003, compartment 1, new here: fails, 60 % / 45 %" in comment.findtext("Comment")
    assert [one.get("Guid") for one in comment.findall("Viewpoint")] == [views(second)[1][0]]

"""Viewpoints of a topic that lives on: those that are there stay, and what none of them selects gets one more."""

from dataclasses import replace

import pytest
from lxml import etree

from checker.result.dialect import V2, V3, Dialect
from tests.history.people import repacked, unpacked
from tests.history.revisions import Revision, checked, of_length, topics

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

"""What the project file declares of fittings, by their names, tags and types."""

from pathlib import Path

import pytest

from checker.errors import ProjectFileError
from checker.model import Partition
from tests.read.reading import read, said
from tests.small_models import SmallModel

KEPT = '[[fittings]]\nname = "{}"\npartition = "kept"\nreason = "bridged"\n'
OPEN = '[[fittings]]\nname = "{}"\npartition = "open"\nreason = "cut away"\n'


def model() -> SmallModel:
    """One tee with a tag, a name and a type."""
    small = SmallModel()
    tee = small.rooted("IfcCableCarrierFitting", Tag="TE-7", Name="Branch piece", PredefinedType="TEE",
                       ObjectPlacement=small.place((0.0, 0.0, 0.0)))  # fmt: skip
    kind = small.rooted("IfcCableCarrierFittingType", Name="Tee 225x50 bridged", PredefinedType="TEE")
    small.rooted("IfcRelDefinesByType", RelatedObjects=[tee], RelatingType=kind)
    small.contained.append(tee)
    return small


@pytest.mark.parametrize(
    ("pattern", "fits"),
    [("TE-*", True), ("Branch ?iece", True), ("Tee*bridged", True), ("TE", False), ("Branch", False), ("*", True)],
)
def test_a_fitting_is_declared_by_its_name_its_tag_or_its_types_name(
    tmp_path: Path, pattern: str, *, fits: bool
) -> None:
    found = read(tmp_path, model(), KEPT.format(pattern))
    (fitting,) = found.fittings
    assert (fitting.partition, fitting.partition_why) == ((Partition.KEPT, "bridged") if fits else (None, ""))


@pytest.mark.parametrize("entries", [(OPEN, KEPT), (KEPT, OPEN)])
def test_of_entries_that_contradict_each_other_none_is_believed_and_it_is_told(
    tmp_path: Path, entries: tuple[str, str]
) -> None:
    """A tee declared as kept among many, and as open by itself: neither order may make a pass of it."""
    found = read(tmp_path, model(), entries[0].format("TE-*") + entries[1].format("Tee*"))
    assert [(item.partition, item.partition_why) for item in found.fittings] == [(None, "")]
    assert said(found, "say different things of it: none of them is believed")


def test_entries_that_say_the_same_are_believed_with_the_reason_of_the_first(tmp_path: Path) -> None:
    found = read(tmp_path, model(), KEPT.format("TE-*") + KEPT.format("Tee*").replace("bridged", "by drawing 12"))
    assert [(item.partition, item.partition_why) for item in found.fittings] == [(Partition.KEPT, "bridged")]
    assert not said(found, "say different things")


RADIUS = '[[fittings]]\nname = "{}"\nradius_mm = {}\n'


def test_a_radius_is_declared_beside_what_other_entries_say_of_the_partition(tmp_path: Path) -> None:
    found = read(tmp_path, model(), KEPT.format("TE-*") + RADIUS.format("Tee*", 75.0))
    assert [(item.partition, item.radius_mm, item.type_name) for item in found.fittings] == [
        (Partition.KEPT, 75.0, "Tee 225x50 bridged")
    ]


def test_of_two_radii_neither_is_believed(tmp_path: Path) -> None:
    found = read(tmp_path, model(), RADIUS.format("TE-*", 60.0) + RADIUS.format("Tee*", 75.0))
    assert [item.radius_mm for item in found.fittings] == [None]
    assert said(found, "say different things of it")


@pytest.mark.parametrize("entry", ['[[fittings]]\nname = "*"\n', '[[fittings]]\nname = "*"\npartition = "kept"\n'])
def test_an_entry_that_says_nothing_or_gives_no_reason_is_refused(tmp_path: Path, entry: str) -> None:
    with pytest.raises(ProjectFileError, match=r"give partition or radius_mm|give a reason"):
        read(tmp_path, model(), entry)

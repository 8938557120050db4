"""Models that others' programs wrote, annotated: nothing of them changes, and it can be taken out again."""

from pathlib import Path
from typing import Any

import pytest

from checker.annotate.facts import Annotation, Fact
from checker.annotate.writing import annotated
from checker.errors import InputError
from checker.read.ifc_file import open_model

MOST_BYTES, MOST_ELEMENTS = 4_000_000, 50


def instances(path: Path) -> dict[int, str]:
    return {item.id(): str(item) for item in open_model(path).file}


def said(element: Any) -> Annotation:
    return Annotation(
        element.GlobalId, element.GlobalId, str(element.Name), (Fact("WorstVerdict", "IfcLabel", "fail"),)
    )


@pytest.mark.corpus
def test_models_of_other_programs_stay_as_they_are(shared: Path, tmp_path: Path) -> None:
    seen = 0
    for path in sorted(shared.rglob("*.ifc")):
        if path.stat().st_size > MOST_BYTES:
            continue
        try:
            file = open_model(path).file
        except InputError:
            continue  # what can't be checked can't be annotated either
        elements = {item.GlobalId: item for item in file.by_type("IfcElement")[:MOST_ELEMENTS]}
        wanted, is_old, text = [said(item) for item in elements.values()], file.schema == "IFC2X3", path.read_bytes()
        made = annotated(text, str(path), wanted, needs_owner=is_old)
        (tmp_path / "made.ifc").write_bytes(made.text)
        before, after = instances(path), instances(tmp_path / "made.ifc")
        assert before.items() <= after.items(), path.name
        # a property, a set and what gives it to the element, of each; where the release needs one an owner history with four instances
        assert len(after) - len(before) == 3 * made.carriers + 5 * (is_old and made.carriers > 0), path.name
        assert made.carriers + len(made.missed) == len(wanted)
        assert annotated(made.text, str(path), wanted, needs_owner=is_old).text == made.text, path.name
        assert annotated(made.text, str(path), (), needs_owner=is_old).text == text, path.name
        seen += made.carriers
    assert seen

from pathlib import Path

import pytest

from checker.errors import InputError
from checker.read.ifc_file import nearest_schema, open_model
from tests.small_models import two_trunkings

BAD = Path(__file__).parent.parent / "bad_input"


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("empty.ifc", "it is empty"),
        ("blank.ifc", "it is empty"),
        ("words.ifc", "isn't an IFC file"),
        ("cut_off.ifc", "cut off"),
        ("no_schema.ifc", "names no schema"),
        ("other_schema.ifc", "AP214"),
    ],
)
def test_a_file_that_is_no_model_is_told_with_what_to_do(name: str, what: str) -> None:
    with pytest.raises(InputError) as caught:
        open_model(BAD / name)
    assert name in caught.value.where
    assert what in caught.value.what
    assert caught.value.hint


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="can't be read"):
        open_model(tmp_path / "none.ifc")


@pytest.mark.parametrize(
    ("declared", "known"),
    [("IFC2X3", "IFC2X3"), ("ifc4", "IFC4"), ("IFC4X3_RC3", "IFC4X3_ADD2"), ("IFC4X3", "IFC4X3_ADD2"), ("IFC2X2_FINAL", "IFC2X3"),
     ("IFC4X1", "IFC4X3_ADD2"), ("AP214", None), ("", None)],
)  # fmt: skip
def test_another_release_is_read_as_the_nearest(declared: str, known: str | None) -> None:
    assert nearest_schema(declared) == known


@pytest.mark.parametrize("declared", ["IFC4X3", "IFC4X3_RC3"])
def test_a_release_that_the_reader_does_not_know_is_opened_and_said(tmp_path: Path, declared: str) -> None:
    path = two_trunkings(tmp_path / "model.ifc", schema="IFC4X3")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("'IFC4X3_ADD2'", f"'{declared}'"), encoding="utf-8")
    opened = open_model(path)
    assert len(opened.file.by_type("IfcCableCarrierSegment")) == 2
    assert any(declared in problem.what for problem in opened.problems)

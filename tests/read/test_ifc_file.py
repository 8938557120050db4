from pathlib import Path

import pytest

from checker.errors import InputError
from checker.model import ProblemKind
from checker.read.ifc_file import nearest_schema, open_model
from tests.small_models import SmallModel, two_trunkings

END = "ENDSEC;\nEND-ISO-10303-21"


def edited(path: Path, *changes: tuple[str, str], schema: str = "IFC4X3") -> Path:
    """A small model, with what the changes name replaced once."""
    if schema == "IFC2X3":
        model = SmallModel(schema=schema)
        for tag, y in (("T1", 0.0), ("T2", 500.0)):
            model.carrier(tag, (0.0, y, 0.0), (1000.0, y, 0.0), model.profile("IfcRectangleProfileDef", 50.0, 50.0))
        model.write(path)
    else:
        two_trunkings(path, schema=schema)
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")
    return path


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="can't be read"):
        open_model(tmp_path / "none.ifc")


@pytest.mark.parametrize(
    ("declared", "known"),
    [("IFC2X3", "IFC2X3"), ("ifc4", "IFC4"), ("IFC4X3_RC3", "IFC4X3_ADD2"), ("IFC4X3", "IFC4X3_ADD2"), ("IFC2X2_FINAL", "IFC2X3"),
     ("IFC4X1", "IFC4X3_ADD2"), ("AP214", None), ("", None), ("IFC5", None), ("XIFC4", None)],
)  # fmt: skip
def test_another_release_is_read_as_the_nearest(declared: str, known: str | None) -> None:
    assert nearest_schema(declared) == known


@pytest.mark.parametrize(
    ("schema", "declared"),
    [
        *(("IFC4X3", f"IFC4X3{tail}") for tail in ("", "_RC1", "_RC2", "_RC3", "_RC4", "_ADD1", "_TC1")),
        ("IFC4X3", "IFC4X1"),
        ("IFC4X3", "IFC4X2"),
        *(("IFC4", f"IFC4_{tail}") for tail in ("ADD1", "ADD2", "ADD2_TC1")),
        ("IFC2X3", "IFC2X3_TC1"),
        ("IFC2X3", "IFC2X2_FINAL"),
    ],
)
def test_a_release_that_the_reader_does_not_know_is_opened_and_said(tmp_path: Path, schema: str, declared: str) -> None:
    known = "IFC4X3_ADD2" if schema == "IFC4X3" else schema
    opened = open_model(edited(tmp_path / "model.ifc", (f"('{known}')", f"('{declared}')"), schema=schema))
    assert opened.schema == known
    assert len(opened.file.by_type("IfcFlowSegment")) == 2
    assert [(problem.what, problem.kind) for problem in opened.problems] == [
        (f"schema {declared} was read as {known}", ProblemKind.ASSUMPTION)
    ]


@pytest.mark.parametrize("declared", ["' IFC4 '", "'ifc4'", "'Ifc4'"])
def test_blanks_and_case_in_a_schema_assume_nothing(tmp_path: Path, declared: str) -> None:
    opened = open_model(edited(tmp_path / "model.ifc", ("'IFC4'", declared), schema="IFC4"))
    assert (opened.schema, opened.problems) == ("IFC4", ())


@pytest.mark.parametrize("declared", ["'IFC4','IFC2X3'", "'IFC4','SOMETHING'", "'SOMETHING','IFC4'"])
def test_of_several_schemas_the_first_known_is_believed_and_said(tmp_path: Path, declared: str) -> None:
    opened = open_model(edited(tmp_path / "model.ifc", ("'IFC4'", declared), schema="IFC4"))
    assert len(opened.file.by_type("IfcCableCarrierSegment")) == 2
    told = declared.replace("'", "").replace(",", ", ")
    assert [problem.what for problem in opened.problems] == [f"schema {told} was read as IFC4"]


def test_only_the_header_is_rewritten(tmp_path: Path) -> None:
    """A project may be called like a schema."""
    opened = open_model(edited(tmp_path / "model.ifc", ("'IFC4X3_ADD2'", "'IFC4X3'"), ("'Small'", "'IFC4X3'")))
    assert opened.file.by_type("IfcProject")[0].Name == "IFC4X3"


@pytest.mark.parametrize(
    ("name", "encoding", "told"),
    [
        ("Étage «0»", "utf-8", "UTF-8"),
        ("3층 漢字 😀", "utf-8", "UTF-8"),
        ("Kabelträger – Ø25", "cp1252", "Windows-1252"),
        ("ä" * 2_000_003, "utf-8", "UTF-8"),  # over the borders of what is read at a time, letters of two bytes
    ],
)
def test_letters_as_plain_bytes_are_kept_and_said(tmp_path: Path, name: str, encoding: str, told: str) -> None:
    path = edited(tmp_path / "model.ifc", ("'IFC4'", "'IFC4_ADD2'"), ("FILE_NAME('", "FILE_NAME('é"), schema="IFC4")
    text = path.read_text(encoding="utf-8").replace("'Level 0'", f"'x{name}'")
    path.write_bytes(text.encode(encoding))
    opened = open_model(path)
    assert opened.file.by_type("IfcBuildingStorey")[0].Name == f"x{name}"
    assert [(problem.what, problem.kind) for problem in opened.problems] == [
        ("schema IFC4_ADD2 was read as IFC4", ProblemKind.ASSUMPTION),
        (f"letters beyond ASCII were read as {told}", ProblemKind.ASSUMPTION),
    ]


def test_instances_of_a_class_that_the_release_lacks_are_counted(tmp_path: Path) -> None:
    """The parser drops them and names each class once. Three doors here: one in a comment and one in a string are none."""
    doors = "".join(f"#{number}= IfcDoorStyle ('{number:022d}',$,$,$,$,$,$,$,$,$);\n" for number in (901, 902, 903))
    more = (
        f"{doors}/* #904=IFCDOORSTYLE(it's); */\n#905=IFCLABELS('=IFCDOORSTYLE(');\n#906=IFCLOCALPLACEMENT(#901,#5);\n"
    )
    opened = open_model(edited(tmp_path / "model.ifc", ("'IFC4X3_ADD2'", "'IFC4X2'"), (END, more + END)))
    told = [(problem.what, problem.elements, problem.kind) for problem in opened.problems]
    assert told == [
        ("schema IFC4X2 was read as IFC4X3_ADD2", 1, ProblemKind.ASSUMPTION),
        ("3 × IFCDOORSTYLE: the release IFC4X3_ADD2, as which the file is read, has no such class", 3, ProblemKind.GAP),
        ("1 × IFCLABELS: the release IFC4X3_ADD2, as which the file is read, has no such class", 1, ProblemKind.GAP),
        ("1 × Instance reference … used by instance … at attribute index … not found", 1, ProblemKind.GAP),
    ]


def test_many_kinds_of_loss_end_in_a_sum(tmp_path: Path) -> None:
    """25 classes that nobody knows, two instances each: 20 told by name, the other 5 with their 10 instances in one line."""
    more = "".join(f"#{900 + number}=IFCNONE{number % 25:02d}();\n" for number in range(50))
    opened = open_model(edited(tmp_path / "model.ifc", (END, more + END)))
    assert [problem.elements for problem in opened.problems[:20]] == [2] * 20
    assert [problem.what for problem in opened.problems[20:]] == ["5 more kinds of things could not be read, 10 in all"]


def test_an_instance_that_is_overwritten_by_another_of_its_number_is_told(tmp_path: Path) -> None:
    opened = open_model(edited(tmp_path / "model.ifc", (END, "#2=IFCDIRECTION((1.,0.));\n" + END)))
    assert [problem.what for problem in opened.problems] == ["1 × Overwriting instance with name …"]

"""Models as they really come in: packed, with odd beginnings, under the wrong ending, and files that are no models at all."""

import gzip
import io
import re
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from checker import cli
from checker.errors import InputError
from checker.read import packed
from checker.read.ifc_file import OpenModel, open_model, written_at
from tests.small_models import two_trunkings

BAD = Path(__file__).parent.parent / "bad_input"


@pytest.fixture(name="text")
def _text(tmp_path: Path) -> str:
    return two_trunkings(tmp_path / "whole.ifc").read_text(encoding="ascii")


def zipped(*members: tuple[str, str | bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """A zip archive of files by name."""
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", method) as archive:
        for name, content in members:
            archive.writestr(name, content)
    return buffer.getvalue()


def opened(path: Path, content: bytes) -> OpenModel:
    path.write_bytes(content)
    return open_model(path)


def carriers(model: OpenModel) -> int:
    return len(model.file.by_type("IfcCableCarrierSegment"))


@pytest.mark.parametrize(
    ("change", "name"),
    [
        (lambda text: text, "as it is"),
        (lambda text: "\ufeff" + text, "with a byte order mark"),
        (lambda text: "\n\n  \n" + text, "with blank lines before it"),
        (lambda text: text.replace("\n", "\r\n"), "with the line ends of another system"),
        (lambda text: "/* FILE_SCHEMA(('AP214')); it's */" + text, "with a comment before it that names another schema"),
        (lambda text: text.replace("FILE_SCHEMA", "/* FILE_SCHEMA(('IFC2X3')); */FILE_SCHEMA"), "with such a comment in the header"),
        (lambda text: text.replace("FILE_NAME('", "FILE_NAME('O''Brien, FILE_SCHEMA((''AP214''));"), "with such a string in the header"),
        (lambda text: text.replace("FILE_NAME(''", "FILE_NAME($"), "with no name in the header"),
        (lambda text: text.replace("FILE_SCHEMA((", "FILE_SCHEMA\n ( ( "), "with blanks in the header"),
        (lambda text: text.replace("FILE_DESCRIPTION((", "FILE_DESCRIPTION(('" + "x" * 100_000 + "',"), "with a long header"),
    ],
)  # fmt: skip
def test_odd_beginnings_are_read_without_a_word(
    tmp_path: Path, text: str, change: Callable[[str], str], name: str
) -> None:
    model = opened(tmp_path / "model.ifc", change(text).encode())
    assert (carriers(model), model.schema, model.timestamp) == (2, "IFC4", "2026-11-02T09:00:00"), name
    assert model.problems == ()


def test_keywords_in_lower_case_are_read(tmp_path: Path, text: str) -> None:
    def lower(found: re.Match[str]) -> str:
        return found[0] if found[0].startswith(("'", ".")) else found[0].lower()

    model = opened(tmp_path / "model.ifc", re.sub(r"'[^']*'|\.[A-Z_]+\.|[A-Z]+", lower, text).encode())
    assert (carriers(model), model.problems) == (2, ())


@pytest.mark.parametrize(
    ("name", "pack"),
    [
        ("model.ifczip", lambda text: zipped(("model.ifc", text))),
        ("model.ifczip", lambda text: zipped(("to site/Model P01.IFC", text), ("read me.txt", "hello"))),
        ("model.ifczip", lambda text: zipped(("model.ifc", text), ("__MACOSX/._model.ifc", "\0\5\26\7"), ("._model.ifc", "\0\5\26\7"))),
        ("model.ifczip", lambda text: zipped(("model.ifc", text), method=zipfile.ZIP_STORED)),
        ("model.ifczip", lambda text: zipped(("model.ifc", text), method=zipfile.ZIP_LZMA)),
        ("model.ifc", lambda text: zipped(("model.ifc", text))),
        ("model.ifc", lambda text: gzip.compress(text.encode())),
        ("model.ifczip", lambda text: text.encode()),
        ("model.ifcxml", lambda text: text.encode()),
        ("model.ifczip", lambda text: zipped(("model.ifcxml", text))),
    ],
)  # fmt: skip
def test_a_packed_model_is_known_by_its_first_bytes(
    tmp_path: Path, text: str, name: str, pack: Callable[[str], bytes]
) -> None:
    model = opened(tmp_path / name, pack(text))
    assert (carriers(model), model.name, model.problems) == (2, name, ())
    assert written_at(tmp_path / name) == "2026-11-02T09:00:00"


def test_the_sum_is_that_of_the_file_as_it_came(tmp_path: Path, text: str) -> None:
    one = opened(tmp_path / "one.ifczip", zipped(("model.ifc", text)))
    other = opened(tmp_path / "other.ifc", text.encode())
    assert one.sha256 != other.sha256
    assert one.sha256 == packed_sum(tmp_path / "one.ifczip")


def packed_sum(path: Path) -> str:
    import hashlib

    return hashlib.sha256(path.read_bytes()).hexdigest()


def test_what_a_plain_model_gets_holds_for_a_packed_one(tmp_path: Path, text: str) -> None:
    model = opened(tmp_path / "model.ifczip", zipped(("model.ifc", "\ufeff" + text.replace("'IFC4'", "'IFC4X3_RC2'"))))
    assert (carriers(model), model.schema) == (2, "IFC4X3_ADD2")
    assert [problem.what for problem in model.problems] == ["schema IFC4X3_RC2 was read as IFC4X3_ADD2"]


def with_password(text: str) -> bytes:
    """The archive's flags say that its member is encrypted (bit 0, APPNOTE 4.4.4)."""
    data = bytearray(zipped(("model.ifc", text)))
    data[6] |= 1
    data[data.rindex(b"PK\1\2") + 8] |= 1
    return bytes(data)


def with_other_method(text: str) -> bytes:
    """A method that Python doesn't know: 9, enhanced deflating (APPNOTE 4.4.5)."""
    data = bytearray(zipped(("model.ifc", text)))
    struct.pack_into("<H", data, 8, 9)
    struct.pack_into("<H", data, data.rindex(b"PK\1\2") + 10, 9)
    return bytes(data)


def with_wrong_sum(text: str) -> bytes:
    data = bytearray(zipped(("model.ifc", text), method=zipfile.ZIP_STORED))
    data[100] ^= 1
    return bytes(data)


@pytest.mark.parametrize(
    ("pack", "where", "what"),
    [
        (lambda text: zipped(("a.ifc", text), ("b/C.IFC", text), ("d.txt", "")), "bad.ifczip", "2 models in it: a.ifc, b/C.IFC"),
        (lambda _: zipped(("a.txt", "hello"), ("b.pdf", "")), "bad.ifczip", "no model in it; it holds a.txt, b.pdf"),
        (lambda _: zipped(), "bad.ifczip", "no model in it; it is empty"),
        (with_password, "bad.ifczip", "a zip archive with a password"),
        (with_other_method, "bad.ifczip", "damaged zip archive"),
        (with_wrong_sum, "bad.ifczip, model.ifc", "it is damaged: Bad CRC-32"),
        (lambda text: zipped(("a.ifc", text))[:-40], "bad.ifczip", "damaged zip archive"),
        (lambda text: gzip.compress(text.encode())[:-20], "bad.ifczip", "it is damaged: "),
        (lambda text: zipped(("a.ifc", text[:-30])), "bad.ifczip, a.ifc", "it is cut off"),
        (lambda _: zipped(("a.ifc", "")), "bad.ifczip, a.ifc", "it is empty"),
        (lambda text: zipped(("a.ifc", text.replace("FILE_SCHEMA", "FILE_SHAPE"))), "bad.ifczip, a.ifc", "its header names no schema"),
        (lambda text: zipped(("a.ifc", zipped(("a.ifc", text)))), "bad.ifczip, a.ifc", "an archive within an archive"),
        (lambda _: zipped(("a.ifcXML", "<ifcXML/>")), "bad.ifczip, a.ifcXML", "it is XML (ifcXML)"),
        (lambda _: zipped(("a\x1b[31m.ifc", "")), "bad.ifczip, a?[31m.ifc", "it is empty"),
    ],
)  # fmt: skip
def test_an_archive_that_holds_no_readable_model_is_told(
    tmp_path: Path, text: str, pack: Callable[[str], bytes], where: str, what: str
) -> None:
    path = tmp_path / "bad.ifczip"
    path.write_bytes(pack(text))
    with pytest.raises(InputError) as caught:
        open_model(path)
    assert caught.value.where == str(tmp_path / where)
    assert what in caught.value.what
    assert caught.value.hint


def test_what_unpacks_without_end_is_stopped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(packed, "SMALL_BYTES", 1 << 20)
    path = tmp_path / "bomb.ifczip"
    path.write_bytes(zipped(("a.ifc", b" " * (3 << 20))))  # 3 MB of blanks deflate to 3 kB, a thousandth
    assert path.stat().st_size * packed.MOST_TIMES < 3 << 20
    with pytest.raises(InputError, match="more than 200 times its size"):
        open_model(path)


@pytest.mark.parametrize("filling", [b"/*", b"'", b"''", b"a;", b"a-", b"(" * 9, b"/* */", b"'a;"])
def test_a_header_without_end_takes_no_time(tmp_path: Path, filling: bytes) -> None:
    """Quadratic work on a megabyte would take hours, and the run of tests would be stopped."""
    path = tmp_path / "model.ifc"
    path.write_bytes(b"ISO-10303-21;" + filling * (2_000_000 // len(filling)) + b"\nEND-ISO-10303-21;\n")
    with pytest.raises(InputError):
        open_model(path)


@pytest.mark.parametrize(
    ("name", "what"),
    [
        ("empty.ifc", "it is empty"),
        ("blank.ifc", "it is empty"),
        ("zeros.ifc", "it is empty"),
        ("words.ifc", "isn't an IFC file"),
        ("web_page.ifc", "it is a web page"),
        ("markup.ifcxml", "it is XML (ifcXML)"),
        ("json.ifc", "it is JSON"),
        ("utf16.ifc", "it is UTF-16 text"),
        ("seven.ifczip", "an archive of a kind that isn't read"),
        ("cut_off.ifc", "cut off"),
        ("no_schema.ifc", "names no schema"),
        ("open_comment.ifc", "names no schema"),
        ("no_data.ifc", "it has no DATA section"),
        ("other_schema.ifc", "AP214"),
        ("later_schema.ifc", "IFC5"),
    ],
)
def test_the_command_tells_of_a_file_that_is_no_model_and_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, what: str
) -> None:
    with pytest.raises(SystemExit) as ended:
        cli.main(["check", str(BAD / name), "--code", "bs-7671", "--out", str(tmp_path / "out")])
    told = " ".join(capsys.readouterr().err.split())
    assert ended.value.code == 2
    assert name in told
    assert what in told
    assert "Traceback" not in told
    assert not (tmp_path / "out").exists()


def test_every_bad_file_has_its_message() -> None:
    marks = test_the_command_tells_of_a_file_that_is_no_model_and_what_to_do.pytestmark  # type: ignore[attr-defined]
    assert {name for name, _ in marks[0].args[1]} == {path.name for path in BAD.iterdir()}

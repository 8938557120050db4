"""Archives that were made to do harm: nothing is run, followed, written outside or waited for, and people's files stay as they are."""

import bz2
import io
import random
import stat
import struct
import tracemalloc
import zipfile
import zlib
from pathlib import Path

import pytest

from checker.errors import InputError
from checker.history import entries as module
from checker.history.entries import entries
from checker.history.previous import read_previous
from checker.result.archive import content_of
from tests.history.people import repacked, run, unpacked
from tests.report.results import small_result

FIRST = small_result()
THEIRS = b"""<Markup><Topic Guid="c2a3f2d8-1d55-4b6e-9c7a-0a1b2c3d4e5f" TopicType="Clash" TopicStatus="Open"><Title>Door too low</Title>
<CreationDate>2024-01-01T00:00:00Z</CreationDate><CreationAuthor>reviewer@example.org</CreationAuthor></Topic></Markup>"""


def packed_as(*named: tuple[str, bytes], **attributes: int) -> bytes:
    """An archive of entries with exactly these names, twice the same one too."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        for name, content in named:
            info = zipfile.ZipInfo("x")
            info.filename = name
            for key, value in attributes.items():
                setattr(info, key, value)
            with pytest.MonkeyPatch.context() as patch:
                patch.setattr("warnings.warn", lambda *_, **__: None)  # of names that are there twice
                archive.writestr(info, content)
    return target.getvalue()


def told(data: bytes) -> list[tuple[str, str]]:
    return [(problem.where, problem.what) for problem in read_previous(data, "old.bcf").problems]


@pytest.mark.parametrize(
    "name",
    ["../evil.txt", "a/../../evil.txt", "..\\evil.txt", "a\\..\\evil.txt", "/../evil.txt", "..", "x" * 5000, "/", "./"],
)
def test_a_name_that_climbs_or_is_none_is_left_out_and_told(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "inner").mkdir()
    monkeypatch.chdir(tmp_path / "inner")
    data = packed_as((name, b"evil" if not name.endswith("/") else b""), ("kept/markup.bcf", THEIRS))

    after = unpacked(run(FIRST, data))

    assert b"evil" not in after.values()
    assert after["kept/markup.bcf"] == THEIRS
    assert [what for _, what in told(data)] == ["this file isn't kept"]
    assert [path.name for path in tmp_path.rglob("*")] == ["inner"]  # nothing was written anywhere


@pytest.mark.parametrize(
    ("name", "kept"), [("/rooted.txt", "rooted.txt"), ("C:\\notes\\a.txt", "C:/notes/a.txt"), ("./a//b.txt", "a/b.txt")]
)
def test_an_absolute_or_odd_name_is_one_inside_the_archive(name: str, kept: str) -> None:
    data = packed_as((name, b"text"))

    assert unpacked(run(FIRST, data))[kept] == b"text"
    assert told(data) == []


def test_of_two_files_of_one_name_both_are_kept_and_it_is_told() -> None:
    data = packed_as(
        ("t/markup.bcf", b"<Markup/>"),
        ("t\\markup.bcf", THEIRS),
        ("t/photo", b"1"),
        ("t/photo", b"2"),
        ("t/photo", b"3"),
    )

    after = unpacked(run(FIRST, data))

    assert after["t/markup.bcf"] == THEIRS
    assert after["t/markup (2).bcf"] == b"<Markup/>"
    assert {after["t/photo"], after["t/photo (2)"], after["t/photo (3)"]} == {b"1", b"2", b"3"}
    assert after["t/photo"] == b"3"  # the last counts
    assert told(data) == [
        ("old.bcf, t/markup.bcf", "it is there twice"),
        *[("old.bcf, t/photo", "it is there twice")] * 2,
    ]


def test_the_same_file_twice_is_kept_once() -> None:
    data = packed_as(("t/photo", b"1"), ("t/photo", b"1"))

    assert [path for path in unpacked(run(FIRST, data)) if path.startswith("t/")] == ["t/photo"]
    assert told(data) == []


def test_a_link_is_kept_as_a_file_that_says_where_it_led(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("a secret")
    data = packed_as(("t/link", str(secret).encode()), create_system=3, external_attr=(stat.S_IFLNK | 0o777) << 16)

    after = run(FIRST, data)

    assert unpacked(after)["t/link"] == str(secret).encode()
    with zipfile.ZipFile(io.BytesIO(after)) as archive:
        assert all(not stat.S_ISLNK(entry.external_attr >> 16) for entry in archive.infolist())


def test_an_archive_in_the_archive_stays_packed() -> None:
    inner = repacked({"../evil.txt": b"evil", "deep/markup.bcf": THEIRS})

    assert unpacked(run(FIRST, repacked({"t/more.bcf": inner})))["t/more.bcf"] == inner


def test_a_name_in_utf_8_that_does_not_say_so_stays_what_it_was() -> None:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w") as archive:
        archive.writestr("t/Gr__n.pdf", b"plan")
    data = target.getvalue().replace(b"Gr__n", "Grün".encode())  # without the mark that names are UTF-8

    assert unpacked(run(FIRST, data))["t/Grün.pdf"] == b"plan"


def test_too_many_files_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_ENTRIES", 3)

    entries(repacked({str(number): b"" for number in range(3)}), "old.bcf")
    with pytest.raises(InputError, match="more than 3 files"):
        entries(repacked({str(number): b"" for number in range(4)}), "old.bcf")


def lying_bomb(true_size: int, said: int) -> bytes:
    """An entry that says that it is short, and unpacks to far more."""
    packer = zlib.compressobj(9, zlib.DEFLATED, -15)
    chunk = bytes(1 << 20)
    content = b"".join(packer.compress(chunk) for _ in range(true_size >> 20)) + packer.flush()
    head = struct.pack("<HHHHHIIIHH", 20, 0, 8, 0, 33, zlib.crc32(bytes(said)), len(content), said, 4, 0)
    local = b"PK\x03\x04" + head + b"bomb" + content
    central = b"PK\x01\x02" + struct.pack("<H", 20) + head + struct.pack("<HHHII", 0, 0, 0, 0, 0) + b"bomb"
    return local + central + b"PK\x05\x06" + struct.pack("<HHHHIIH", 0, 0, 1, 1, len(central), len(local), 0)


def test_no_more_is_unpacked_than_an_entry_says_that_it_has() -> None:
    bomb = lying_bomb(true_size=128 << 20, said=10)
    tracemalloc.start()
    try:
        files, _ = entries(bomb, "old.bcf")
        unpacked = {path: content_of(content) for path, content in files.items()}
        most = tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()

    assert unpacked == {"bomb": bytes(10)}  # what it said: 10 bytes and their checksum
    assert most < 16 << 20


def test_what_says_that_it_unpacks_to_far_too_much_is_refused_before_it_is() -> None:
    data = bytearray(repacked({f"{number}": b"x" for number in range(600)}))
    at = data.find(b"PK\x01\x02")
    while at >= 0:
        data[at + 24 : at + 28] = struct.pack("<I", 1 << 20)  # 600 MB altogether
        at = data.find(b"PK\x01\x02", at + 4)

    with pytest.raises(InputError, match="more than 512 MB"):
        entries(bytes(data), "old.bcf")


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_way_of_packing_that_no_note_has_is_refused(method: int) -> None:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", method) as archive:
        archive.writestr("zeros" * 1000, bytes(1 << 20))
    assert len(bz2.compress(bytes(1 << 20))) < 100  # as such a bomb is

    with pytest.raises(InputError, match="packed in a way") as caught:
        entries(target.getvalue(), "old.bcf")
    assert "zeros" in caught.value.what
    assert len(caught.value.what) < 200  # its name is cut


def test_an_encrypted_file_is_refused_by_name() -> None:
    data = bytearray(repacked({"t/photo": b"secret"}))
    for mark, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        data[data.find(mark) + offset] |= 1

    with pytest.raises(InputError, match=r"^old\.bcf: t/photo in it is encrypted$") as caught:
        entries(bytes(data), "old.bcf")
    assert "without a password" in caught.value.hint


def test_many_files_of_one_name_take_no_longer_each() -> None:
    """Whether a name is free is asked once for each, not once for each pair."""
    asked = 0

    class Counted(dict[str, bytes]):
        def __contains__(self, key: object) -> bool:
            nonlocal asked
            asked += 1
            return super().__contains__(key)

    times: dict[str, int] = {}
    files = Counted({"t/a.png": b""})
    for number in range(1000):
        files[module._free("t/a.png", files, times)] = b"%d" % number

    assert len(files) == 1001
    assert asked == 1000


@pytest.mark.parametrize("seed", range(40))
def test_any_damage_is_either_refused_by_name_or_read(seed: int) -> None:
    """Bytes changed at random: never anything but an error with a hint, or files."""
    chance = random.Random(seed)  # noqa: S311 - not for secrets
    data = bytearray(run(FIRST))
    for _ in range(chance.choice([1, 3, 30, 300])):
        data[chance.randrange(len(data))] = chance.randrange(256)
    try:
        after = run(FIRST, bytes(data))
    except InputError:
        return
    with zipfile.ZipFile(io.BytesIO(after)) as archive:
        assert archive.testzip() is None

"""Files of notes that other programs wrote, broke, or made to do harm."""

import io
import zipfile
from pathlib import Path

import pytest
import xmlschema
from lxml import etree

from checker.errors import InputError
from checker.history import entries as module
from checker.history.previous import check_version, read_previous
from checker.result.dialect import V2, V3, Dialect
from tests.history.people import comment, comments, edited, markup, markup_path, repacked, run, unpacked
from tests.report.results import small_result

CORPUS = Path(__file__).parents[3] / "shared" / "bcf"
FIRST = small_result()
FULLER = small_result((0.55, 0.481, 0.31, 0.6, 0.12, 0.4))
LINE = "T-001"

FOREIGN = b"""\xef\xbb\xbf<?xml version="1.0" encoding="utf-8"?>
<Markup><Topic Guid="C2A3F2D8-1D55-4B6E-9C7A-0A1B2C3D4E5F"><Title>Door too low</Title>
<CreationDate>2024-01-01T00:00:00Z</CreationDate><CreationAuthor>reviewer@example.org</CreationAuthor></Topic></Markup>"""


def test_topics_of_others_are_copied_byte_for_byte() -> None:
    theirs = {
        "a folder/markup.bcf": FOREIGN,
        "a folder/photo.jpg": b"a photo",
        "broken/markup.bcf": b"<Markup><Topic",
        "no guid/markup.bcf": b"<Markup><Topic/></Markup>",
        "notes.txt": b"text",
    }

    after = unpacked(run(FULLER, repacked(unpacked(run(FIRST)) | theirs)))

    assert {path: after[path] for path in theirs} == theirs


def test_notes_are_added_to_a_file_that_has_none_of_ours() -> None:
    after = run(FIRST, repacked({"a folder/markup.bcf": FOREIGN}))

    files = unpacked(after)
    assert files["a folder/markup.bcf"] == FOREIGN
    assert markup(after, LINE).find("Topic") is not None
    assert {"bcf.version", "project.bcfp", "extensions.xsd"} <= set(files)
    assert run(FIRST, after) == after


def test_a_file_without_any_of_ours_keeps_its_own_where_nothing_fails() -> None:
    passing = small_result((0.1, 0.1, 0.1, 0.1, 0.1, 0.1))

    assert unpacked(run(passing, repacked({"a/markup.bcf": FOREIGN}))) == {"a/markup.bcf": FOREIGN}


def test_folders_need_not_be_named_as_their_topics_and_names_may_have_backslashes() -> None:
    files = unpacked(edited(run(FIRST), LINE, comment("Mine.")))
    folder = markup_path(run(FIRST), LINE).rpartition("/")[0]
    odd = {path.replace(f"{folder}/", "Topic 1\\"): content for path, content in files.items()}
    assert any("\\" in path for path in odd)

    after = run(FULLER, repacked(odd))

    assert markup_path(after, LINE) == "Topic 1/markup.bcf"
    assert comments(after, LINE, "reviewer@example.org") == ["Mine."]
    assert len(comments(after, LINE)) == 1
    assert not any(path.startswith(folder) for path in unpacked(after))


def test_guids_may_have_come_back_in_upper_case() -> None:
    first = run(FIRST)

    def shout(root: etree._Element) -> None:
        topic = root.find("Topic")
        topic.set("Guid", topic.get("Guid").upper())

    after = run(FULLER, edited(first, LINE, shout))

    assert len([path for path in unpacked(after) if path.endswith("markup.bcf")]) == 2
    assert len(comments(after, LINE)) == 1


def test_a_program_that_puts_in_another_author_does_not_orphan_the_topic() -> None:
    def adopt(root: etree._Element) -> None:
        root.find("Topic/CreationAuthor").text = "importer@example.org"

    after = run(FULLER, edited(run(FIRST), LINE, adopt))

    assert len(comments(after, LINE)) == 1


def test_a_topic_finds_a_folder_where_its_own_name_is_taken() -> None:
    folder = markup_path(run(FIRST), LINE).rpartition("/")[0]

    after = run(FIRST, repacked({f"{folder}/markup.bcf": FOREIGN}))

    assert unpacked(after)[f"{folder}/markup.bcf"] == FOREIGN
    assert markup_path(after, LINE) == f"{folder}-2/markup.bcf"


def test_a_second_topic_with_the_same_guid_is_left_alone() -> None:
    files = unpacked(run(FIRST))
    path = markup_path(run(FIRST), LINE)

    after = unpacked(run(FULLER, repacked(files | {"copy/markup.bcf": files[path]})))

    assert after["copy/markup.bcf"] == files[path]
    assert after[path] != files[path]


def test_their_project_and_their_words_stay_and_ours_are_added() -> None:
    words = b"""<?xml version="1.0"?>
    <schema xmlns="http://www.w3.org/2001/XMLSchema"><redefine schemaLocation="markup.xsd">
    <simpleType name="TopicStatus"><restriction base="TopicStatus"><enumeration value="Open"/>
    <enumeration value="Parked"/></restriction></simpleType>
    <simpleType name="TopicType"><restriction base="TopicType"/></simpleType></redefine></schema>"""
    project = b"<ProjectExtension><ExtensionSchema>words.xsd</ExtensionSchema></ProjectExtension>"

    after = unpacked(run(FIRST, repacked({"project.bcfp": project, "words.xsd": words})))

    assert after["project.bcfp"] == project
    assert "extensions.xsd" not in after
    lists = {
        kind.get("name"): [value.get("value") for value in kind.iter("{*}enumeration")]
        for kind in etree.fromstring(after["words.xsd"]).iter("{*}simpleType")
    }
    assert lists == {"TopicStatus": ["Open", "Parked", "Review", "Closed"], "TopicType": []}  # an empty list allows all


def test_a_word_in_a_comment_of_a_list_is_none() -> None:
    listed = b"<TopicStatuses><!--Review--><TopicStatus>Open</TopicStatus></TopicStatuses><Users><!--wayroom--></Users>"
    words = b"<Extensions>" + listed + b"</Extensions>"

    after = etree.fromstring(unpacked(run(FIRST, repacked({"extensions.xml": words}), V3))["extensions.xml"])

    assert [word.text for word in after.iterfind("TopicStatuses/TopicStatus")] == ["Open", "Review", "Closed"]
    assert after.find("Users/User") is None  # none was listed, so nobody has said who may write


@pytest.mark.parametrize("words", [b"not XML", b"<schema/>"])
def test_a_schema_that_cannot_be_extended_stays_as_it_is(words: bytes) -> None:
    assert unpacked(run(FIRST, repacked({"extensions.xsd": words})))["extensions.xsd"] == words


def test_paths_that_climb_are_left_out_and_odd_ones_are_put_right() -> None:
    names = ("../evil.txt", "a/../../evil.txt", "..\\evil.txt", "/rooted.txt", "./here.txt")

    after = unpacked(run(FIRST, repacked(dict.fromkeys(names, b"x"))))

    assert not any("evil" in path or ".." in path for path in after)
    assert after["rooted.txt"] == after["here.txt"] == b"x"


def test_entities_are_not_resolved(tmp_path: Path) -> None:
    secret = tmp_path / "secret.txt"
    secret.write_text("a secret")
    first = run(FIRST)
    files = unpacked(first)
    path = markup_path(first, LINE)
    doctype = f'<!DOCTYPE Markup [<!ENTITY x SYSTEM "{secret.as_uri()}">]><Markup>'
    files[path] = files[path].replace(b"<Markup>", doctype.encode()).replace(b"Too full.", b"Too full. &x;")

    after = unpacked(run(FULLER, repacked(files)))

    assert b"a secret" not in after[path]
    assert b"&x;" in after[path]  # what a person wrote, even so


def test_what_unpacks_to_far_too_much_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "MOST_BYTES", 1 << 20)
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("zeros", bytes((1 << 20) + 1))

    with pytest.raises(InputError, match="more than 1 MB"):
        read_previous(target.getvalue())


def damaged() -> bytes:
    notes = bytearray(run(FIRST))
    place = notes.find(b"\x89PNG")
    notes[place : place + 400] = bytes(400)
    return bytes(notes)


@pytest.mark.parametrize("kind", ["empty", "text", "cut", "damaged"])
def test_what_is_no_whole_zip_is_refused_by_name(kind: str) -> None:
    data = {"empty": b"", "text": b"not a zip", "cut": run(FIRST)[:-100], "damaged": damaged()}[kind]

    with pytest.raises(InputError) as caught:
        read_previous(data, "old.bcf")

    assert caught.value.where == "old.bcf"
    assert "can't be read as a zip archive" in caught.value.what
    assert caught.value.hint


@pytest.mark.parametrize("version", ["2.0", "4", ""])
def test_a_version_that_nobody_knows_is_refused(version: str) -> None:
    content = f'<Version VersionId="{version}"/>'.encode()

    with pytest.raises(InputError, match=r"2\.1 and 3\.0 can be gone on with"):
        read_previous(repacked({"bcf.version": content}))


@pytest.mark.parametrize(("theirs", "ours"), [(V2, V3), (V3, V2)])
def test_the_other_version_is_refused_with_what_to_do(theirs: Dialect, ours: Dialect) -> None:
    for check in (read_previous, check_version):
        with pytest.raises(InputError) as caught:
            check(run(FIRST, dialect=theirs), "old.bcf", ours)

        assert caught.value.what == f"it is BCF {theirs.version}, and these notes are {ours.version}"
        assert caught.value.hint.startswith(f"say --bcf {theirs.version} to go on with it")
        assert "--fresh" in caught.value.hint


@pytest.mark.parametrize("dialect", [V2, V3])
def test_a_file_that_does_not_say_its_version_is_known_by_its_list_of_words(dialect: Dialect) -> None:
    files = unpacked(run(FIRST, dialect=dialect))
    del files["bcf.version"]

    assert read_previous(repacked(files)).dialect is dialect


def test_a_version_that_cannot_be_read_is_refused() -> None:
    with pytest.raises(InputError, match=r"bcf\.version can't be read"):
        read_previous(repacked({"bcf.version": b"2.1"}))


CASES = sorted((CORPUS / "cases" / "2.1").glob("*.bcf"))


@pytest.mark.corpus
@pytest.mark.skipif(not CASES, reason="the official samples' folder, ../shared/bcf, isn't here")
def test_topics_with_our_comments_are_valid_by_the_official_schema() -> None:
    schema = xmlschema.XMLSchema(CORPUS / "xsd" / "2.1" / "markup.xsd")
    worked = edited(run(FIRST), LINE, comment("Mine."))

    for result in (FULLER, small_result((0.4, 0.4, 0.31, 0.6, 0.12, 0.4))):
        content = unpacked(run(result, worked))[markup_path(worked, LINE)]
        schema.validate(io.BytesIO(content))
        assert content.count(b"<Comment>") == 2

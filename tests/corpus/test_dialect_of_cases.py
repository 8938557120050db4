"""What is added to topics of the official sample files: they stay valid, and all else in them stays where it was."""

import copy
import io
import itertools
import zipfile
from pathlib import Path

import pytest
import xmlschema
from lxml import etree

from checker.result.dialect import DIALECTS, V2, Dialect

BCF = Path(__file__).parents[3] / "shared" / "bcf"
CASES = [
    (path, dialect) for dialect in DIALECTS.values() for path in sorted((BCF / "cases" / dialect.version).glob("*.bcf"))
]
GUID = "6f7b8f0e-8a53-4a3e-9f6b-0c3d2b1a4e5f"

pytestmark = [
    pytest.mark.corpus,
    pytest.mark.skipif(not CASES, reason="the official sample files, ../shared/bcf/cases, aren't here"),
]


def parts(dialect: Dialect) -> dict[str, etree._Element]:
    """One element of each kind, by its path."""
    comment = etree.Element("Comment", Guid=GUID)
    for tag, text in (("Date", "2024-05-02T09:00:00Z"), ("Author", "a"), ("Comment", "b")):
        etree.SubElement(comment, tag).text = text
    link, label = (etree.Element(path.rsplit("/", 1)[-1]) for path in (dialect.links, dialect.labels))
    link.text = label.text = "c"
    file = etree.Element("File", {dialect.external: "true"})
    document = etree.Element("DocumentReference", Guid=GUID)
    etree.SubElement(document, "Description").text = "d"
    return {
        dialect.files: file,
        dialect.links: link,
        dialect.labels: label,
        dialect.documents: document,
        dialect.related: etree.Element("RelatedTopic", Guid=GUID),
        dialect.comments: comment,
        dialect.views: etree.Element(dialect.views.rsplit("/", 1)[-1], Guid=GUID),
    }


def markups(case: Path) -> list[bytes]:
    with zipfile.ZipFile(case) as archive:
        return [archive.read(name) for name in archive.namelist() if name.endswith("markup.bcf")]


def without(root: etree._Element, added: list[etree._Element]) -> bytes:
    """A tree as bytes without some elements, without what is left empty, and without space between elements."""
    for element in added:
        element.getparent().remove(element)
    for element in reversed(list(root.iter(etree.Element))):
        if (
            element.getparent() is not None
            and not len(element)
            and not element.attrib
            and not (element.text or "").strip()
        ):
            element.getparent().remove(element)
    for element in root.iter():
        element.tail = (element.tail or "").strip() or None
        element.text = (element.text or "").strip() or None
    return bytes(etree.tostring(root, method="c14n"))


@pytest.mark.parametrize(("case", "dialect"), CASES, ids=lambda value: getattr(value, "stem", "")[:24])
def test_a_valid_topic_stays_valid_in_whatever_order_parts_are_added(case: Path, dialect: Dialect) -> None:
    schema = xmlschema.XMLSchema(BCF / "xsd" / dialect.version / "markup.xsd")
    tried = 0
    bare = [without(etree.fromstring(content), []) for content in markups(case)]  # most have empty lists already
    for content in [*markups(case), *bare]:
        is_valid = schema.is_valid(io.BytesIO(content))
        for kinds in itertools.islice(itertools.permutations(parts(dialect).items()), 0, None, 503):  # 11 of 5,040
            root = etree.fromstring(content)
            before = without(copy.deepcopy(root), [])
            for path, element in kinds:
                dialect.add(root, path, element)
                assert element in root.findall(path)
            if is_valid:
                schema.validate(io.BytesIO(etree.tostring(root)))
                tried += 1
            assert without(root, [element for _, element in kinds]) == before
    assert tried or not all(schema.is_valid(io.BytesIO(content)) for content in markups(case))


@pytest.mark.parametrize("dialect", DIALECTS.values(), ids=DIALECTS)
def test_most_official_topics_are_valid(dialect: Dialect) -> None:
    """Else the test above would try nothing."""
    schema = xmlschema.XMLSchema(BCF / "xsd" / dialect.version / "markup.xsd")
    valid = [schema.is_valid(io.BytesIO(content)) for case, of in CASES if of is dialect for content in markups(case)]

    assert sum(valid) >= (10 if dialect is V2 else 7)

"""What a test looks at in a file of notes."""

import io
import zipfile
from dataclasses import replace

from lxml import etree

from checker.report.bcf import write_bcf
from checker.result.dialect import V2, Dialect
from checker.result.tables import Result


def unpacked(data: bytes) -> dict[str, bytes]:
    """Every entry of an archive, by its name."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def file_of(result: Result, name: str, place: int = 0, dialect: Dialect = V2) -> etree._Element:
    """A file of a topic, as a tree."""
    return etree.fromstring(unpacked(write_bcf(result, dialect))[f"{result.topics[place].guid}/{name}"])


def with_topic(result: Result, **changes: object) -> Result:
    """The result with its first topic changed."""
    return replace(result, topics=(replace(result.topics[0], **changes), *result.topics[1:]))

"""What issue notes cost: to write so many topics, and to merge them with those of an earlier run.

``python -m tests.benchmarks.notes [--topics 1000] [--bcf 2.1] [--repeat 5] [--pictures]`` prints, as medians:

- *written*: a draft and its archive, without pictures, against a bare loop over lxml that builds the same elements from plain data, writes
  them and packs them; the ratio is of pairs that alternate, with the least and the most of them;
- *merged*: into an earlier file in which every topic has another value and a person's comment, with the matching of topics;
- *peak*: the most memory that the process has held by then, with all topics of both files in it: the more often it is repeated, the more
  garbage may lie in it, so ask with ``--repeat 1``;
- with ``--pictures`` what one picture costs, by the first hundred topics, and all pictures are in the files that are merged.

Nothing is asserted: machines differ. Ratios may be compared, seconds only on one machine on one day.
"""

import argparse
import gc
import io
import random
import resource
import statistics
import time
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from typing import IO
from unittest import mock

from lxml import etree

from checker.earlier_notes import spool
from checker.history.merge import merged_files, topic_identity
from checker.history.previous import read_known
from checker.report.bcf import draft, pack
from checker.report.snapshot import Gallery
from checker.result.archive import Content, packed
from checker.result.archive import pack as put
from checker.result.dialect import DIALECTS, Dialect
from checker.result.facts import RunFacts, run_facts
from checker.result.notes import Draft
from checker.result.tables import Result
from tests.history.revisions import Revision, says

#: Stands in for a picture where these aren't measured: as many bytes as most have, which can't be packed any more.
_PICTURE = b"\x89PNG\r\n\x1a\n" + random.Random(7).randbytes(30_000)  # noqa: S311


_TREES = ("markup.bcf", ".bcfv")


@dataclass(slots=True)
class Node:
    """An element as plain data."""

    tag: str
    attributes: dict[str, str]
    text: str | None
    children: "list[Node]"

    @classmethod
    def of(cls, element: etree._Element) -> "Node":
        """The data of an element, without the spaces between its children."""
        children = [cls.of(child) for child in element]
        attributes = {str(key): str(value) for key, value in element.attrib.items()}
        return cls(str(element.tag), attributes, None if children else element.text, children)


def bare(files: list[tuple[str, Node | Content]], created: str) -> bytes:
    """The archive by a bare loop."""
    return packed(((path, _written(one) if isinstance(one, Node) else one) for path, one in files), created)


def _written(node: Node) -> bytes:
    root = etree.Element(node.tag, node.attributes)
    _fill(root, node)
    content: bytes = etree.tostring(root, encoding="UTF-8", xml_declaration=True, pretty_print=True)
    return content


def _fill(element: etree._Element, node: Node) -> None:
    element.text = node.text
    for child in node.children:
        _fill(etree.SubElement(element, child.tag, child.attributes), child)


def building(count: int, fill: float) -> Result:
    """A result with so many topics, each of one length."""
    return Revision(dict.fromkeys(range(1, count + 1), fill), together=()).result()


def without_pictures(result: Result, dialect: Dialect) -> Draft:
    """A draft with the same few bytes for every picture."""
    # a plain function: to call a mock takes as long as to build a viewpoint
    with mock.patch.object(Gallery, "snapshot", lambda _gallery, _topic: _PICTURE):  # noqa: PT008
        return draft(result, dialect)


def timed(what: Callable[[], object]) -> float:
    """Seconds of processor time that something takes, since others may be at work on the same machine."""
    start = time.process_time()
    what()
    return time.process_time() - start


def commented(notes: Draft) -> Draft:
    """Notes in which a person has commented on each."""
    worked = []
    for number, note in enumerate(notes.notes):
        root = etree.fromstring(note.files["markup.bcf"])
        says(f"Comment {number}.", number % 10_000)(root, notes.dialect)
        worked.append(replace(note, files=note.files | {"markup.bcf": etree.tostring(root, encoding="UTF-8")}))
    return replace(notes, notes=tuple(worked))


def writing(result: Result, dialect: Dialect, repeat: int) -> str:
    """What it costs to write notes, against a bare loop."""
    notes = without_pictures(result, dialect)
    files: list[tuple[str, Node | Content]] = [
        (path, Node.of(etree.fromstring(content)) if isinstance(content, bytes) and path.endswith(_TREES) else content)
        for path, content in notes.files()
    ]
    if bare(files, notes.created) != pack(notes):
        raise RuntimeError("the bare loop doesn't write the same")
    pairs = [
        (timed(lambda: pack(without_pictures(result, dialect))), timed(lambda: bare(files, notes.created)))
        for _ in range(repeat)
    ]
    ratios = sorted(ours / theirs for ours, theirs in pairs)
    ours, theirs = (statistics.median(side) for side in zip(*pairs, strict=True))
    told = f"{statistics.median(ratios):.2f} ({ratios[0]:.2f}–{ratios[-1]:.2f})"
    return f"written: {ours:.3f} s, bare loop {theirs:.3f} s, {told}"


def merging(count: int, dialect: Dialect, repeat: int, *, pictures: bool) -> str:
    """What it costs to merge notes with those of an earlier run."""
    drafted = draft if pictures else without_pictures
    with spool() as previous:
        earlier = commented(drafted(building(count, 0.5), dialect))
        put(previous, earlier.files(), earlier.created)
        del earlier
        result = building(count, 0.6)
        groups = [topic.members for topic in result.topics]
        matching = statistics.median(timed(lambda: _matched(previous, groups)) for _ in range(repeat))
        named = zip(result.topics, topic_identity(previous, groups), strict=True)
        result = replace(result, topics=tuple(replace(topic, guid=guid) for topic, guid in named))
        new, facts = drafted(result, dialect), run_facts(result)
        taken = statistics.median(timed(lambda: _merged(previous, new, facts)) for _ in range(repeat))
        size = previous.seek(0, io.SEEK_END)
    return f"merged: {taken:.3f} s, matching before that {matching:.3f} s, {size / 1e6:.1f} MB"


def _matched(previous: IO[bytes], groups: Sequence[Collection[str]]) -> None:
    read_known.cache_clear()  # as the first who asks in a run
    topic_identity(previous, groups)


def _merged(previous: IO[bytes], new: Draft, facts: RunFacts) -> None:
    with spool() as target:
        put(target, merged_files(previous, new, facts).files.items(), new.created)


def picturing(result: Result) -> str:
    """What a picture costs, by the first hundred."""
    gallery, topics = Gallery(result), result.topics[:100]
    return f"a picture: {1000 * timed(lambda: [gallery.snapshot(topic) for topic in topics]) / len(topics):.1f} ms"


def main() -> None:
    """Measures and prints."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--topics", type=int, default=1000)
    asked.add_argument("--bcf", choices=DIALECTS, default="2.1")
    asked.add_argument("--repeat", type=int, default=5)
    asked.add_argument("--pictures", action="store_true")
    given = asked.parse_args()
    dialect = DIALECTS[given.bcf]
    gc.disable()  # as a run does
    print(merging(given.topics, dialect, given.repeat, pictures=given.pictures))  # noqa: T201
    print(f"peak: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")  # noqa: T201
    result = building(given.topics, 0.5)
    print(writing(result, dialect, given.repeat))  # noqa: T201
    if given.pictures:
        print(picturing(result))  # noqa: T201


if __name__ == "__main__":
    main()

"""The GlobalIds in a model's text, without opening it: enough to tell whether two files are revisions of one model."""

import re
from pathlib import Path

GLOBAL_ID = re.compile(rb"=\s*IFC[A-Z0-9]+\s*\(\s*'([0-9A-Za-z_$]{22})'", re.IGNORECASE)
CHUNK_BYTES, OVERLAP_BYTES = 1 << 20, 200
#: So many tell enough.
MOST_IDS = 200_000


def global_ids(path: Path) -> frozenset[bytes]:
    """The GlobalIds of a STEP file, up to a number; none of a packed one."""
    found: set[bytes] = set()
    try:
        with path.open("rb") as stream:
            rest = b""
            while len(found) < MOST_IDS and (chunk := stream.read(CHUNK_BYTES)):
                text = rest + chunk
                found.update(GLOBAL_ID.findall(text))
                rest = text[-OVERLAP_BYTES:]
    except OSError:
        return frozenset()
    return frozenset(found)

"""Stable GUIDs: the same words give the same one in every run and on every machine."""

import json
import uuid
from functools import lru_cache

#: Wayroom's own namespace, drawn at random once. To change it would orphan every note that was ever written.
NAMESPACE = uuid.UUID("a407eaab-586f-47df-9609-5cccc747233d")


def stable_guid(*parts: str | int | list[str] | None) -> str:
    """A version 5 UUID of some words, in lower case.

    They are joined as JSON, so that no word can run into the next one, and case counts.
    """
    return str(uuid.uuid5(NAMESPACE, json.dumps(parts, separators=(",", ":"))))


@lru_cache(maxsize=64)  # a topic's files ask for the same one
def viewpoint_guid(topic: str, what: str) -> str:
    """The Guid of a viewpoint of a topic. ``what`` tells it from the topic's other ones."""
    return stable_guid("viewpoint", topic.lower(), what)

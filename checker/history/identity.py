"""Who is who over revisions: ids that depend on what is judged, never on when or in which order."""

from collections.abc import Collection, Iterable

from checker.result.guids import NAMESPACE, stable_guid, viewpoint_guid

__all__ = ["NAMESPACE", "comment_guid", "finding_id", "is_minted", "topic_guid", "viewpoint_guid"]


def finding_id(
    project_key: str, rule: str, carriers_global_ids: Iterable[str], compartment: int | None, circuit: str = ""
) -> str:
    """The id of a finding: the same as long as rule and subject are.

    Args:
        project_key: The key from the project file, else the GlobalId of the IfcProject.
        rule: Id of the rule.
        carriers_global_ids: GlobalIds of the subject, in any order. They are case-sensitive.
        compartment: Its number; None where the rule asks about whole carriers.
        circuit: Its mark, where the rule asks about a circuit: which segment governs it may change, and it stays the same finding.
    """
    if circuit:
        return stable_guid("finding", project_key, rule, "circuit", circuit)
    return stable_guid("finding", project_key, rule, sorted(carriers_global_ids), compartment)


def topic_guid(finding_ids: Collection[str], attempt: int = 1) -> str:
    """The Guid that a topic is minted with: it depends on the smallest of its finding ids alone.

    Args:
        finding_ids: Ids of its findings, at least one.
        attempt: 2 and more where an older topic, which has grown apart from these findings, holds the one before.
    """
    smallest = min(finding_ids)
    return stable_guid("topic", smallest) if attempt == 1 else stable_guid("topic", smallest, attempt)


def is_minted(guid: str) -> bool:
    """Whether a Guid may be one of ours by its kind; other programs draw theirs at random."""
    return guid[14:15] == "5"


def comment_guid(topic: str, event: str, old: str, new: str) -> str:
    """The Guid of a comment of ours: the same change gives the same one, however often it is merged."""
    return stable_guid("comment", topic.lower(), event, old, new)

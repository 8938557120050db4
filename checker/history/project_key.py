"""Which project it is, where the project file doesn't say: that of the earlier notes, if they are of these models.

Otherwise it is the first model's, and with that one left out, or named second, all findings would be others.
"""

from collections.abc import Collection

from checker.history.previous import read_known
from checker.result.archive import File
from checker.result.note_state import project_seal


def earlier_key(previous: File, default: str, projects: Collection[str], where: str = "previous notes") -> str:
    """The key of the project of earlier notes; ``default`` where they are of no model that is read now.

    Args:
        previous: The earlier notes.
        default: The key that it is without them.
        projects: GlobalIds of the IfcProject of the models that are read.
        where: What messages call the notes.

    Raises:
        InputError: The notes can't be read.
    """
    known = read_known(previous, where)
    ours = [topic for topic in known.topics if topic.is_ours and not topic.projects.isdisjoint(projects)]
    seals = {topic.project_seal for topic in ours}
    named = {known.project_id, *(own for topic in known.topics if topic.is_ours for own in topic.projects)}
    fitting = sorted(key for key in named if key and project_seal(key) in seals)
    return default if not fitting or project_seal(default) in seals else fitting[0]

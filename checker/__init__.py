"""Wayroom: checks cable carriers in IFC models against a code of practice.

``checker.check`` checks models that a program has open; see ``checker.embedded``. All of it is imported when it is first called.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from checker.embedded import Rows
    from checker.result.tables import Result

__version__ = "0.1.0"
__all__ = ["__version__", "check"]


def check(
    model: Any, schedule: "str | Path | Rows | None", code: str | None, *, project: str | Path | None = None
) -> "Result":
    """Checks a model that is open, or several that are one building, as ``wayroom check`` does with files. Nothing is written.

    Args:
        model: An ``ifcopenshell.file``, or several. They are only read.
        schedule: A file; or rows, each a mapping of the schedule's columns to texts or numbers; or None: there is none.
        code: The key of a code of practice; None or empty: the one that the project file names.
        project: A ``wayroom.toml``, or the folder that has it; None: there is none.

    Raises:
        WayroomError: Nothing can be checked. Its ``where``, ``what`` and ``hint`` say why, and what to do.
    """
    from checker.embedded import check_open

    return check_open(model, schedule, code, project=project)

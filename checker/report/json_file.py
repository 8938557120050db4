"""``result.json``: everything, versioned. Its JSON Schema comes from the same classes that it is written from."""

import dataclasses
from collections.abc import Mapping
from typing import Any

from pydantic import BaseModel, ConfigDict, Field
from pydantic_core import to_json

from checker.result.accounting import Counts, count
from checker.result.tables import Result
from checker.rule.loosened import Loosened
from checker.rule.waiver import Waiver

FORMAT = "wayroom-result"
FORMAT_VERSION = 1


class Document(BaseModel):
    """The file. ``outputs`` has the SHA-256 of each file written with it; ``result`` every table; ``exit_status`` the command's.

    ``annotated``: the SHA-256 of each annotated model that was written, by its file's name; it may lie anywhere.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    format: str = Field(description=f"always {FORMAT}")
    format_version: int = Field(description="raised when a reader of the version before would misread it")
    counts: Counts
    exit_status: int
    outputs: dict[str, str]
    annotated: dict[str, str] = Field(default_factory=dict)
    result: Result


# verdicts name what waives them by a word only, since that knows verdicts itself
Document.model_rebuild(_types_namespace={"Loosened": Loosened, "Waiver": Waiver})


def result_json(
    result: Result, exit_status: int, outputs: dict[str, str], annotated: Mapping[str, str] | None = None
) -> bytes:
    """The bytes of ``result.json``.

    Args:
        result: What was found.
        exit_status: Of the command.
        outputs: File name → SHA-256 of the other files.
        annotated: File name → SHA-256 of annotated models.
    """
    document: dict[str, Any] = {
        "format": FORMAT,
        "format_version": FORMAT_VERSION,
        "counts": dataclasses.asdict(count(result)),
        "exit_status": exit_status,
        "outputs": outputs,
        "annotated": dict(annotated or {}),
        "result": result,
    }
    return to_json(document, indent=1) + b"\n"


def result_schema() -> dict[str, Any]:
    """The JSON Schema of ``result.json``."""
    return Document.model_json_schema()

"""What ``wayroom.toml`` says of how the schedule is kept."""

from pydantic import Field

from checker.model import Service, State
from checker.read.mapping import Part


class ScheduleSpec(Part):
    """``[schedule]``: the sheet, and how its columns and words are called there."""

    sheet: str = ""
    columns: dict[str, str] = Field(default_factory=dict)
    services: dict[str, Service] = Field(default_factory=dict)
    states: dict[str, State] = Field(default_factory=dict)

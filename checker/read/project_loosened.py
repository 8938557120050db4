"""What ``wayroom.toml`` says of limits of the code that are waived to looser ones."""

from pydantic import Field

from checker.read.decisions import Day, Said
from checker.read.mapping import Part
from checker.rule.loosened import Loosened


class LoosenedSpec(Part):
    """``[[loosened]]``: a limit of a rule that ``who`` waived to a looser ``value``, and ``why``. ``until`` is its last day."""

    rule: str = Field(min_length=1)
    limit: str = Field(min_length=1)
    value: float
    who: Said
    why: Said
    until: Day

    @property
    def loosened(self) -> Loosened:
        """The same for whoever asks rules."""
        return Loosened(self.rule, self.limit, self.value, self.who, self.why, self.until)

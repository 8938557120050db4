"""How a case is read: which of its keys are asked for, and to how many digits its figures are given.

A key that nothing asks for is misspelt, or of another sort of case, and would show nothing.
"""

from decimal import Decimal
from typing import Any


class Figure(float):
    """A number of a case; it remembers how it is written, since 0.60 says more than 0.6."""

    text = ""


def figure(text: str) -> Figure:
    """A number as it is written."""
    found = Figure(text)
    found.text = text
    return found


def digits_of(value: float) -> int:
    """To how many decimal places a figure is given."""
    text = value.text if isinstance(value, Figure) else ""
    exponent = Decimal(text or str(value)).as_tuple().exponent
    return max(-exponent, 0) if isinstance(exponent, int) else 0


class Keys(dict[str, Any]):
    """The keys of a case; it remembers those that were asked for."""

    def __init__(self, data: dict[str, Any]) -> None:
        super().__init__(data)
        self._asked = {"name"}

    def __getitem__(self, key: str) -> Any:
        self._asked.add(key)
        return super().__getitem__(key)

    def __contains__(self, key: object) -> bool:
        self._asked.add(str(key))
        return super().__contains__(key)

    def get(self, key: str, default: Any = None) -> Any:
        """The value of a key, else what stands in for it."""
        self._asked.add(key)
        return super().get(key, default)

    @property
    def unasked(self) -> list[str]:
        """The keys that nothing asked for, in order."""
        return [key for key in self if key not in self._asked]

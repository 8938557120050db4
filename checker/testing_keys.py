"""How a case is read: which of its keys are asked for, and to how many digits its figures are given.

A key that nothing asks for is misspelt, or of another sort of case, and would show nothing.
"""

from collections.abc import ItemsView, Iterator, ValuesView
from decimal import Decimal
from typing import Any, Self


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


class MissingKeyError(KeyError):
    """A key that a case can't do without isn't there. Its first argument says so in words."""


class Keys(dict[str, Any]):
    """The keys of a case, and of the tables in it; each remembers which of its keys were asked for.

    Args:
        data: The table, as its file has it.
        where: The keys that lead to it, with a full stop after each; empty: it is the case itself.
    """

    def __init__(self, data: dict[str, Any], where: str = "") -> None:
        super().__init__({key: _nested(value, f"{where}{key}.") for key, value in data.items()})
        self._where = where
        self._asked = {"name"} if not where else set()

    @classmethod
    def of(cls, data: dict[str, Any]) -> Self:
        """A case's keys; where they are told apart already, the same."""
        return data if isinstance(data, cls) else cls(data)

    def __getitem__(self, key: str) -> Any:
        self._asked.add(key)
        if not super().__contains__(key):
            raise MissingKeyError(f"it lacks the key '{self._where}{key}'")
        return super().__getitem__(key)

    def __contains__(self, key: object) -> bool:
        self._asked.add(str(key))
        return super().__contains__(key)

    def __iter__(self) -> Iterator[str]:
        # with an __iter__ of its own, **keys goes by __getitem__ rather than past it
        return super().__iter__()

    def get(self, key: str, default: Any = None) -> Any:
        """The value of a key, else what stands in for it."""
        self._asked.add(key)
        return super().get(key, default)

    def items(self) -> ItemsView[str, Any]:  # type: ignore[override]  # a dict's own view
        """All keys with their values: whoever takes them all has asked for each."""
        self._asked.update(self)
        return super().items()

    def values(self) -> ValuesView[Any]:  # type: ignore[override]
        """All values, as ``items`` has them."""
        self._asked.update(self)
        return super().values()

    @property
    def unasked(self) -> list[str]:
        """The keys that nothing asked for, in order; those of tables in it as ``cables.count``."""
        found = []
        for key, value in super().items():
            if key not in self._asked:
                found.append(f"{self._where}{key}")
            else:
                for table in value if isinstance(value, list) else [value]:
                    found += table.unasked if isinstance(table, Keys) else []
        return found


def _nested(value: Any, where: str) -> Any:
    if isinstance(value, dict):
        return Keys(value, where)
    return [_nested(item, where) for item in value] if isinstance(value, list) else value

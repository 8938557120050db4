"""The kernels, compiled where numba is installed, else as they stand: the same source either way, and the same answers bit for bit."""

import hashlib
import importlib
import inspect
import math
import types
import warnings
from collections.abc import Callable
from functools import cache, partial
from typing import Any

from checker.section import (
    kernel_drop,
    kernel_elements,
    kernel_laying,
    kernel_moves,
    kernel_push,
    kernel_relax,
    kernel_search,
    kernel_walls,
)

#: Bodies squared, summed over what was dropped: where loading has become the shorter way.
WORTH_LOADING = 20_000.0
MODULES = (
    kernel_walls,
    kernel_elements,
    kernel_drop,
    kernel_push,
    kernel_relax,
    kernel_moves,
    kernel_search,
    kernel_laying,
)


class _Quietly:
    """A compiled function that keeps the compiler's warnings from users, and needs no place to keep what it compiled."""

    def __init__(self, jitted: Any, again: Callable[[], Any]) -> None:
        self._jitted = jitted
        self._again = again
        self._ready = False

    def __call__(self, *args: Any) -> Any:
        if self._ready:
            return self._jitted(*args)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                answer = self._jitted(*args)
            except OSError:  # the place to keep it is full, or gone: nothing was changed yet
                self._jitted = self._again()
                answer = self._jitted(*args)
        self._ready = True
        return answer


class Kernels:
    """Functions of the kernel modules by name, and the rows of numbers that they take."""

    def __init__(
        self, functions: dict[str, Callable[..., Any]], floats: Callable[[int], Any], whole: Callable[[int], Any]
    ):
        self._functions = functions
        self.floats = floats
        self.whole = whole

    def __getattr__(self, name: str) -> Callable[..., Any]:
        return self._functions[name]

    def of(self, values: list[float]) -> Any:
        """A row of floats with these values."""
        row = self.floats(len(values))
        for i, value in enumerate(values):
            row[i] = value
        return row

    def of_whole(self, values: list[int]) -> Any:
        """A row of whole numbers with these values."""
        row = self.whole(len(values))
        for i, value in enumerate(values):
            row[i] = value
        return row


def _own_functions() -> dict[str, types.FunctionType]:
    return {
        name: function
        for module in MODULES
        for name, function in vars(module).items()
        if isinstance(function, types.FunctionType) and function.__module__ == module.__name__
    }


@cache
def plain() -> Kernels:
    """As they stand."""
    return Kernels(dict(_own_functions()), lambda size: [0.0] * size, lambda size: [0] * size)


@cache
def kernels() -> Kernels:
    """Compiled, if the compiler can be had."""
    try:
        import numpy as np

        numba = importlib.import_module("numba")
        kept = _jitted(numba, keep=True)
    except (ImportError, OSError):
        return plain()
    functions: dict[str, Callable[..., Any]] = {
        name: _Quietly(kept[name], partial(_uncached, numba, name)) for name in kept
    }
    return Kernels(functions, np.zeros, lambda size: np.zeros(size, np.int64))


def _uncached(numba: Any, name: str) -> Any:
    return _jitted(numba, keep=False)[name]


def _jitted(numba: Any, *, keep: bool) -> dict[str, Any]:
    """All functions, to be compiled when they're first called; kept for later processes if there is a place for that."""
    digest = hashlib.sha256("".join(inspect.getsource(module) for module in MODULES).encode()).hexdigest()[:12]
    scope: dict[str, Any] = {"__name__": __name__}
    for module in MODULES:
        scope.update(
            {name: value for name, value in vars(module).items() if isinstance(value, (int, float)) or value is math}
        )
    functions = {}
    for name, function in _own_functions().items():
        copy = types.FunctionType(function.__code__, scope, name)
        copy.__qualname__ = f"{name}_{digest}"  # what is kept is found by this name: a change anywhere makes it new
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            try:
                functions[name] = numba.njit(copy, cache=keep)
            except RuntimeError:  # there is no place to keep it
                functions[name] = numba.njit(copy)
        scope[name] = functions[name]
    return functions


_plain_work = 0.0


def kernels_if_ready(bodies: int) -> Kernels:
    """Compiled if they're loaded or worth loading by now; for short work, as dropping. The answers are the same."""
    global _plain_work  # noqa: PLW0603 - what it changes is when it's had, not what
    _plain_work += bodies * bodies
    return kernels() if kernels.cache_info().currsize or _plain_work > WORTH_LOADING else plain()

"""What is wrong with the file of a code, in sentences for its author: one an error, with rule, limit and what to do."""

import difflib
from collections.abc import Iterable, Mapping
from typing import Any, get_args

from pydantic import BaseModel, ValidationError

from checker.model.texts import quoted
from checker.rule.limits import Limit
from checker.rule.table import Table
from checker.rule.verdict import Basis

#: Of a wrong cell of a limit or of the head, what it should be.
SHOULD_BE = {
    "value": "a number, written without quotes",
    "code_value": "a number, written without quotes",
    "basis": f"one of: {', '.join(basis.value for basis in Basis if basis is not Basis.PROJECT)}",
    "source": "text: publication and clause",
    "confidence": "text: high or medium",
    "key": "small letters, digits and hyphens",
    "rules": 'a table, as [rules."family.name".limit]',
    "sizes": "a table, as [sizes.thickest_wall_mm]",
}
#: What the head of a file may have besides, which is read before the rest is.
EXTENDS, WITHOUT = "extends", "without"
#: Of what should be a limit or table, and isn't.
WRONG: dict[type | None, str] = {Limit: "isn't a limit", Table: "isn't a table of figures"}
#: What an author gives of a limit.
PARTS = ("value", "basis", "source", "confidence")


def near(word: str, known: Iterable[str]) -> str:
    """The nearest of some words, as the end of a sentence; empty where none is near."""
    found = difflib.get_close_matches(word.lower(), list(known), 1, 0.6)
    return f"; did you mean {found[0]}?" if found else ""


def in_sentences(error: ValidationError, model: type[BaseModel], at: str) -> list[str]:
    """Each of what pydantic found wrong, as "rules fill.tray: space_factor has no source; …".

    Args:
        error: What it raised.
        model: What the table should have been.
        at: What the table is called, as "fill.tray"; empty: the head of the file.
    """
    return [_sentence(one, model, at) for one in error.errors(include_url=False)]


def _sentence(one: Mapping[str, Any], model: type[BaseModel], at: str) -> str:
    path = tuple(str(part) for part in one["loc"])
    if not path:
        return f"{at}: {_said(one)}" if at else _said(one)
    inner, owner = _innermost(model, path)
    *before, name = path
    place = " ".join(filter(None, (at, *before)))
    whose = place or "the code"
    if one["type"] == "missing":
        return f"{whose} has no {name}; {_how(inner, place, name)}"
    if one["type"] == "extra_forbidden":
        fields = [*((EXTENDS, WITHOUT) if not place else ()), *(PARTS if inner is Limit else inner.model_fields)]
        known = f"it can have: {', '.join(fields)}" if fields else "it has no figures at all"
        return f"{whose} has {name}, which isn't known; {known}{near(name, fields)}"
    if one["type"] == "value_error":
        return f"{place} {name}: {_said(one)}".strip()
    given = one["input"]
    if isinstance(given, str) and not given.strip():
        return f"{place} {name} is empty; {_how(inner, place, name)}".strip()
    shown = f" = {quoted(given) if isinstance(given, str) else given}" if isinstance(given, str | int | float) else ""
    wrong = WRONG.get(owner, "can't be that")
    return f"{place} {name}{shown} {wrong}; {_how(inner, place, name)}".strip()


def _innermost(model: type[BaseModel], path: tuple[str, ...]) -> tuple[type[BaseModel], type | None]:
    """The model in which the last name of a path is a field, and what that field holds of ``Limit`` and ``Table``."""
    for name in path[:-1]:
        info = model.model_fields.get(name)
        for sort in () if info is None else (info.annotation, *get_args(info.annotation)):
            if isinstance(sort, type) and issubclass(sort, BaseModel):
                model = sort
    return model, _holds(model, path[-1])


def _holds(model: type[BaseModel], name: str) -> type | None:
    info = model.model_fields.get(name)
    sorts = () if info is None else (info.annotation, *get_args(info.annotation))
    return next((sort for sort in (Limit, Table) if sort in sorts), None)


def _how(model: type[BaseModel], place: str, name: str) -> str:
    """How a field is written."""
    holds = _holds(model, name)
    if holds is Limit:
        of = place if place == "sizes" else f'rules."{place}"'
        return f"write [{of}.{name}] with {', '.join(PARTS)}"
    if holds is Table:
        return f'write {name} = {{ table = "name.csv" }}'
    return f"it should be {SHOULD_BE.get('rules' if place == 'rules' else name, 'text')}"


def _said(one: Mapping[str, Any]) -> str:
    return str(one["msg"]).removeprefix("Value error, ")

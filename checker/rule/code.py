"""What a code is: one edition of a standard or of published guidance, as data."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from checker.errors import PluginError
from checker.model import CarrierKind
from checker.rule.code_file import MEND, SIZES, CodeFile, extended, parents_first
from checker.rule.limits import Limit, Limits, most_of
from checker.rule.loosened import Loosened
from checker.rule.refused import in_sentences, near
from checker.rule.rule import Rule, Tells
from checker.rule.table import Table
from checker.rule.verdict import Basis

M = TypeVar("M", bound=BaseModel)


class Sizes(BaseModel):
    """How a code of practice turns nominal sizes of carriers into inside ones, where the model doesn't say."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    trunking_walls: Table | None = None
    conduit_bores: Table | None = None
    open_depths: Table | None = None
    thickest_wall_mm: Limit
    thickest_conduit_wall_mm: Limit


class CodeHead(BaseModel):
    """The file of a code, with its rules' limits still as they stand there, and all that it takes from the code that it extends."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    key: str = Field(pattern=r"^[a-z0-9-]+$")
    title: str = Field(pattern=r"\S")
    edition: str = Field(pattern=r"\S")
    note: str
    sizes: Sizes
    rules: dict[str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Code:
    """A code, read: which rules run and with which limits.

    ``base``: the code that it extends. ``loosened``: what the project waives of its limits, by rule and limit.
    """

    key: str
    title: str
    edition: str
    note: str
    sizes: Sizes
    limits: Mapping[str, Limits]
    distribution: str
    sha256: str
    base: "Code | None" = None
    loosened: tuple[Loosened, ...] = ()

    @property
    def full_title(self) -> str:
        """Title and edition, and of which codes it is an extension, with the rules of each that it doesn't ask."""
        told = f"{self.title} ({self.edition})"
        if self.base is None:
            return told
        left = ", ".join(rule for rule in self.base.limits if rule not in self.limits)
        return f"{told}, extending {self.base.full_title}{left and f' without {left}'}"

    @property
    def chain(self) -> "list[Code]":
        """Itself, the code that it extends, the one that extends, and so on."""
        return [self, *(self.base.chain if self.base else [])]


def _with_tables(node: Any, tables: Mapping[str, Table], at: str) -> Any:
    """Puts tables where the file names them: ``{table = "name.csv"}``."""
    if isinstance(node, dict):
        if set(node) == {"table"}:
            if not isinstance(node["table"], str) or node["table"] not in tables:
                what = f"it names the table {node['table']}, which no installed distribution ships"
                raise PluginError(at, what, "add the table to the distribution, or install the one that has it")
            return tables[node["table"]]
        return {key: _with_tables(value, tables, at) for key, value in node.items()}
    return node


def read_codes(
    files: Mapping[str, CodeFile], rules: Mapping[str, Rule], tables: Mapping[str, Table]
) -> dict[str, Code]:
    """Reads codes, each after the one that it extends; they come in the order of the files.

    Args:
        files: All there are, by key.
        rules: The rules there are, by id.
        tables: The tables there are, by file name.

    Raises:
        PluginError: One isn't a code, names a rule, limit or table that doesn't exist, or extends what it can't.
    """
    whole: dict[str, CodeFile] = {}
    read: dict[str, Code] = {}
    for key in files:
        for file in parents_first(files, key):
            if file.key not in read:
                base = file.extends
                whole[file.key] = extended(file, whole[base]) if base else file
                read[file.key] = _read_code(whole[file.key], read[base] if base else None, rules, tables)
    return {key: read[key] for key in files}


def _read_code(file: CodeFile, base: Code | None, rules: Mapping[str, Rule], tables: Mapping[str, Table]) -> Code:
    """A code of a file that is whole: with what it takes from the code that it extends."""
    wrong: list[str] = []
    head = _validated(CodeHead, _with_tables(dict(file.data), tables, file.at), "", wrong)
    rules_wanted = {} if head is None else head.rules
    for rule_id in rules_wanted:
        if rule_id not in rules:
            hint = f"see: wayroom list rules{near(rule_id, rules)}"
            raise PluginError(file.at, f"it asks for the rule {rule_id}, which isn't there", hint)
    limits = {}
    for rule_id, figures in rules_wanted.items():
        found = _validated(rules[rule_id].limits, figures, rule_id, wrong)
        if found is not None:
            limits[rule_id] = found
            _check_figures(found, rule_id, file.at)
    if head is None or wrong:
        raise PluginError(file.at, ". ".join(wrong), MEND)
    _check_figures(head.sizes, SIZES, file.at)
    _check_fills(limits, rules, file.at)
    return Code(head.key, head.title, head.edition, head.note, head.sizes, limits, file.distribution, file.sha256, base)


def _validated(model: type[M], data: Any, at: str, wrong: list[str]) -> M | None:
    """A table of the file as what it should be; None where it isn't, with why in ``wrong``."""
    try:
        return model.model_validate(data)
    except ValidationError as error:
        wrong.extend(in_sentences(error, model, at))
        return None


def _check_figures(of: Limits | Sizes, where: str, at: str) -> None:
    """Refuses figures that no code has: all would pass by them, or nothing, or they are a project's own."""
    for name, value in of:
        if not isinstance(value, Limit):
            continue
        most = most_of(type(of), name) if isinstance(of, Limits) else math.inf
        if not math.isfinite(value.value) or value.value < 0.0:
            wrong = "isn't a number from 0 up"
        elif value.value > most:
            wrong = f"is more than {most:g}; a share is written as {value.value / 100:g}"
        elif value.basis is Basis.PROJECT:
            wrong = "is said to be a project's own, which no code has"
        else:
            continue
        raise PluginError(at, f"{where} {name} = {value.value:g} {wrong}", MEND)


def _check_fills(limits: Iterable[str], rules: Mapping[str, Rule], at: str) -> None:
    """Refuses two rules that tell how full the same kind of carrier is."""
    for kind in CarrierKind:
        fills = [
            key for key in limits if rules[key].tells is Tells.FILL and rules[key].kinds and rules[key].speaks_of(kind)
        ]
        if len(fills) > 1:
            what = f"{' and '.join(fills)} both speak of {kind}: one fill rule a kind tells how full it is"
            hint = 'declare only one of them with tells=Tells.FILL, or leave one out: without = ["…"]'
            raise PluginError(at, what, hint)


@dataclass(frozen=True, slots=True)
class Difference:
    """What a code asks otherwise than the one that it extends: of a rule, one figure, or the whole of it (``name`` is empty).

    ``before`` and ``after``: a limit or table; None: there is none. Of a whole rule: its limits.
    """

    rule: str
    name: str
    before: object
    after: object


def differences(code: Code) -> list[Difference]:
    """What a code asks otherwise than the one that it extends, in the order of the rules; nothing where it extends none."""
    if code.base is None:
        return []
    before, found = code.base.limits, []
    for rule in dict.fromkeys((*before, *code.limits)):
        old, new = before.get(rule), code.limits.get(rule)
        if old is None or new is None:
            found.append(Difference(rule, "", old, new))
            continue
        for name in type(new).model_fields:
            pair = getattr(old, name), getattr(new, name)
            if pair[0] != pair[1]:
                found.append(Difference(rule, name, *pair))
    for name in type(code.sizes).model_fields:
        pair = getattr(code.base.sizes, name), getattr(code.sizes, name)
        if pair[0] != pair[1]:
            found.append(Difference("", name, *pair))
    return found

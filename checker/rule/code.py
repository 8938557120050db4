"""What a code is: one edition of a standard or of published guidance, as data."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from checker.errors import PluginError
from checker.model import CarrierKind
from checker.rule.limits import Limit, Limits
from checker.rule.rule import Rule, Tells
from checker.rule.table import Table


class Sizes(BaseModel):
    """How a code of practice turns nominal sizes of carriers into inside ones, where the model doesn't say."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    trunking_walls: Table | None = None
    conduit_bores: Table | None = None
    open_depths: Table | None = None
    thickest_wall_mm: Limit
    thickest_conduit_wall_mm: Limit


class CodeHead(BaseModel):
    """The file of a code, with its rules' limits still as they stand there."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    key: str = Field(pattern=r"^[a-z0-9-]+$")
    title: str
    edition: str
    note: str
    sizes: Sizes
    rules: dict[str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Code:
    """A code, read: which rules run and with which limits."""

    key: str
    title: str
    edition: str
    note: str
    sizes: Sizes
    limits: Mapping[str, Limits]
    distribution: str
    sha256: str


def _with_tables(node: Any, tables: Mapping[str, Table]) -> Any:
    """Puts tables where the file names them: ``{table = "name.csv"}``."""
    if isinstance(node, dict):
        if set(node) == {"table"}:
            if node["table"] not in tables:
                raise PluginError(
                    f"table {node['table']}", "a code names it, and no installed distribution ships it", "add it"
                )
            return tables[node["table"]]
        return {key: _with_tables(value, tables) for key, value in node.items()}
    return node


def read_code(
    text: str, rules: Mapping[str, Rule], tables: Mapping[str, Table], *, where: str, distribution: str, sha256: str
) -> Code:
    """Reads the file of a code.

    Args:
        text: TOML.
        rules: The rules there are, by id.
        tables: The tables there are, by file name.
        where: The file's name, for messages.
        distribution: Who ships it.
        sha256: Of the file.

    Raises:
        PluginError: It isn't a code, or names a rule or limit that doesn't exist.
    """
    at = f"code {where} (from {distribution})"
    try:
        head = CodeHead.model_validate(_with_tables(tomllib.loads(text), tables))
        limits = {}
        for rule_id, figures in head.rules.items():
            if rule_id not in rules:
                raise PluginError(at, f"it asks for the rule {rule_id}, which isn't there", "see: wayroom list rules")
            limits[rule_id] = rules[rule_id].limits.model_validate(figures)
    except (tomllib.TOMLDecodeError, ValidationError) as error:
        raise PluginError(at, str(error), "mend the code's file in that distribution") from error
    for kind in CarrierKind:
        fills = [
            key for key in limits if rules[key].tells is Tells.FILL and rules[key].kinds and rules[key].speaks_of(kind)
        ]
        if len(fills) > 1:
            what = f"{' and '.join(fills)} both speak of {kind}: one fill rule a kind tells how full it is"
            raise PluginError(at, what, "declare only one of them with tells=Tells.FILL")
    return Code(head.key, head.title, head.edition, head.note, head.sizes, limits, distribution, sha256)

"""Writes the page, whole or not at all, and over nothing but an earlier one."""

from collections.abc import Sequence
from pathlib import Path

from checker.calculator.data import unknown_rules
from checker.calculator.page import GENERATOR, calculator_html
from checker.draw_file import is_folder, write_whole
from checker.errors import InputError, OutputError
from checker.rule.plugins import Plugins, code_of

OPTION = "--page"
#: The head of a page is no longer than this.
HEAD = 4096
#: By these a browser knows it.
ENDINGS = (".html", ".htm")


def write_page(path: Path, code: str, plugins: Plugins, others: Sequence[str] = ()) -> str:
    """Writes the page of a code, or of all that it can have, and says so in a line or two.

    Args:
        path: Where to.
        code: The key of a code; empty: all whose rules of fill the page has.
        plugins: What is installed.
        others: Options that were given besides, which the page has no use for.

    Raises:
        InputError: Other options are given, the name isn't one of a page, or the code has a rule of fill that the page doesn't have.
        OutputError: It can't be written there.
    """
    if others:
        hint = "leave them out: what is asked is chosen in the page"
        raise InputError(OPTION, f"it goes with --code alone, and there is {', '.join(others)}", hint)
    codes, told = [code_of(plugins, code)] if code else list(plugins.codes.values()), []
    if not code:
        strange = {key: rules for key, found in plugins.codes.items() if (rules := unknown_rules(found, plugins))}
        codes = [found for found in codes if found.key not in strange]
        told = [f"Left out: {key}, since the page doesn't have {', '.join(rules)}." for key, rules in strange.items()]
    if not codes:
        raise InputError(OPTION, "the page has the rules of fill of none of the codes", "ask without --page")
    _check(path)
    content = calculator_html(codes, plugins)
    try:
        write_whole(path, content)
    except OSError as error:
        raise OutputError(str(path), f"it can't be written: {error.strerror}", "check permissions and room") from error
    return "\n".join([f"{path}: {', '.join(found.key for found in codes)}; {round(len(content) / 1000)} kB.", *told])


def _check(path: Path) -> None:
    """Refuses a place where something else stands."""
    if is_folder(path):
        raise OutputError(str(path), "it is a folder", "name a file, as calculator.html")
    if path.suffix.lower() not in ENDINGS:
        raise InputError(
            OPTION, f"{path.name!r} ends in none of {', '.join(ENDINGS)}", "name a file, as calculator.html"
        )
    if not is_folder(path.absolute().parent):
        raise OutputError(str(path), "there is no such folder", "make it, or name another place")
    try:
        with path.open("rb") as stream:
            head = stream.read(HEAD)
    except FileNotFoundError:
        return
    except OSError as error:
        raise OutputError(str(path), f"what is there can't be read: {error.strerror}", "name another file") from error
    if f'content="{GENERATOR}"'.encode() not in head:
        raise OutputError(str(path), "a file of that name stands there, and it is no page of ours", "name another file")

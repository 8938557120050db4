"""Markup that can't be broken out of: text is escaped on its way into an element, and only elements are taken as they are."""

import re
from collections.abc import Iterable
from functools import lru_cache
from html import escape

#: Elements without an end tag, as far as they are used here.
_VOID = frozenset({"meta", "link", "input", "wbr"})

#: What isn't seen, or makes what is seen read otherwise: controls, marks of direction, invisible spaces, halves of surrogates.
_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\xad\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ud800-\udfff\ufeff\ufff9-\ufffb\ufffe\uffff"
    "\U000e0000-\U000e0fff]"
)
#: Scripts that run from right to left.
_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\U00010800-\U00010fff\U0001e800-\U0001efff]")


#: Marks and tags up to this many characters stay on one line.
_SHORT = 12


class Html(str):
    """Markup, to be written as it is. Made by the functions of this module only."""

    __slots__ = ()


def drawing(svg: str) -> Html:
    """A drawing of ours as it stands in a page: without the declaration that only a file of its own has.

    Args:
        svg: As ``checker.section.svg`` writes it, which makes all texts in it safe.
    """
    return Html(svg.partition("?>")[2].strip())


def safe(text: str) -> Html:
    """A text of the data as markup shows it. What isn't seen is shown by its number, such as ``[U+202E]``.

    Markup comes back unchanged.
    """
    if isinstance(text, Html):
        return text
    return _escaped(text)


@lru_cache(maxsize=4096)  # the same words come over and over in long tables
def _escaped(text: str) -> Html:
    return Html(escape(_UNSEEN.sub(lambda found: f"[U+{ord(found[0]):04X}]", text)))


def name(text: str) -> Html:
    """A text of the data amid others: a short one isn't broken over lines, one from right to left doesn't reorder its neighbours."""
    shown = safe(text)
    if len(text) <= _SHORT and text:
        return Html(f"<bdi>{shown}</bdi>")
    return Html(f'<bdi class="long">{shown}</bdi>') if _RIGHT_TO_LEFT.search(shown) else shown


def join(parts: Iterable[str], separator: str = "") -> Html:
    """Parts one after another, each escaped unless it is markup."""
    return Html(safe(separator).join(safe(part) for part in parts))


def dotted(text: str) -> Html:
    """A name with dots, which may be broken over lines behind them."""
    first, *others = text.split(".")
    return join([name(first), *(part for other in others for part in (".", tag("wbr"), name(other)))])


def names(texts: Iterable[str], separator: str = ", ") -> Html:
    """Names in a row."""
    return join((name(text) for text in texts), separator)


def tag(element: str, *children: str, **attributes: str | int | bool | None) -> Html:
    """An element.

    Args:
        element: Its name.
        children: Texts, which are escaped, and markup, which isn't.
        attributes: An underscore stands for a hyphen, and one at the end for nothing (``class_``). None and False leave one
            out; True is an attribute without a value.
    """
    written = [element]
    for key, value in attributes.items():
        if value is None or value is False:
            continue
        attribute = key.rstrip("_").replace("_", "-")
        written.append(attribute if value is True else f'{attribute}="{safe(str(value))}"')
    start = f"<{' '.join(written)}>"
    return Html(start if element in _VOID else f"{start}{join(children)}</{element}>")

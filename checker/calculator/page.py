"""The page as bytes: one file, which asks for nothing from anywhere and allows nothing but itself."""

import base64
import hashlib
import json
from collections.abc import Sequence
from html import escape
from importlib.resources import files
from string import Template

from checker import __version__
from checker.calculator.data import calculator_data
from checker.rule.code import Code
from checker.rule.plugins import Plugins

#: In the order in which each needs what stands before it.
SCRIPTS = (
    "numbers.js", "data.js", "fill.js", "conduit.js", "trays.js", "judge.js", "proofs.js", "fit.js", "state.js", "picker.js", "told.js",
    "rows.js", "page.js",
)  # fmt: skip
#: By this a page of ours is known again.
GENERATOR = "wayroom fit --page"


def calculator_html(codes: Sequence[Code], plugins: Plugins) -> bytes:
    """The page, in UTF-8. The same codes and catalogues give the same bytes.

    Args:
        codes: Those among which one can choose there.
        plugins: Where the rules, cables and carriers are.

    Raises:
        InputError: A code has a rule of fill that the page doesn't have.
    """
    data = json.dumps(calculator_data(codes, plugins), ensure_ascii=False, separators=(",", ":"))
    style, script = _own_file("page.css"), "".join(map(_own_file, SCRIPTS))
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    page = Template(_own_file("page.html")).substitute(
        generator=GENERATOR,
        policy=policy,
        style=style,
        script=script,
        data=data.replace("<", "\\u003c"),
        codes="".join(
            f"<li><strong>{escape(code.key)}</strong>: {escape(code.full_title)}. {_short(code.sha256)}</li>"
            for code in codes
        ),
        version=escape(__version__),
        digest=hashlib.sha256(data.encode()).hexdigest(),
    )
    return page.encode()


def _short(sha256: str) -> str:
    return f'<span class="muted">SHA-256 of its file: <code>{escape(sha256)}</code></span>' if sha256 else ""


def _own_file(file: str) -> str:
    """A file beside this module. Line ends are plain, since that is how browsers count them for the digest."""
    return files("checker.calculator").joinpath(file).read_text(encoding="utf-8").replace("\r\n", "\n")


def _digest(content: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}"

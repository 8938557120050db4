"""``report.html``: one page for people. It holds all it needs, asks for nothing from anywhere, and allows nothing but itself."""

import base64
import hashlib
from importlib.resources import files

from checker.report.html_breaks import breaks
from checker.report.html_circuits import circuits
from checker.report.html_joins import joins
from checker.report.html_lengths import all_compartments, failing_lengths
from checker.report.html_markup import Html, join, name, tag
from checker.report.html_places import Places
from checker.report.html_plan import plans
from checker.report.html_questions import questions
from checker.report.html_sections import (
    as_of,
    cautions,
    contents,
    provenance,
    short_cautions,
    summary,
    to_do,
)
from checker.report.html_take_off import take_off
from checker.report.html_unknown import problems, unknown
from checker.report.html_waived import waived
from checker.result.provenance import document_words
from checker.result.tables import Result

#: What bars over their limit are filled with. Sized 0 rather than hidden: a pattern in what isn't drawn isn't drawn either.
_HATCH = Html(
    '<svg width="0" height="0" class="defs" aria-hidden="true"><defs><pattern id="hatch" width="5" height="5" '
    'patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect class="hatch-ground" width="5" height="5"></rect>'
    '<rect class="hatch-line" width="2.5" height="5"></rect></pattern></defs></svg>'
)


def report_html(result: Result) -> bytes:
    """The page of a result, in UTF-8. The same result gives the same bytes."""
    places = Places(result.carriers)
    sections = (
        ("todo", "What needs doing first", to_do(result, places)),
        ("questions", "What to answer first", questions(result)),
        ("failing", "Failing lengths", join([failing_lengths(result, places), waived(result, places)])),
        ("plans", "Plans", plans(result, places)),
        ("compartments", "All compartments", all_compartments(result, places)),
        ("circuits", "Circuits", circuits(result, places)),
        ("take-off", "Cable take-off", take_off(result, places)),
        ("unknown", "Unknown, and why", unknown(result, places)),
        ("problems", "Problems", problems(result)),
        ("joins", "How lengths join", joins(result)),
        ("breaks", "Open ends and breaks", breaks(result, places)),
        ("provenance", "Provenance", provenance(result)),
        ("cautions", "Cautions", cautions(result)),
    )
    title = result.project_name or result.project_key
    body = tag(
        "body",
        tag("a", "Skip to the content", href="#main", class_="skip"),
        _HATCH,
        tag(
            "header",
            tag("h1", name(title)),
            tag(
                "p", "Cable carriers checked against ", tag("strong", name(result.code)), ": ", name(result.code_title)
            ),
            tag(
                "p",
                "As of ",
                as_of(result.created, result.files, document_words(result.revision, result.status)),
                class_="muted",
            ),
            summary(result),
            short_cautions(result),
        ),
        contents(sections),
        tag("main", *(_section(*section) for section in sections), id="main", tabindex=-1),
        tag("footer", tag("p", f"Made by Wayroom {result.version}.")),
    )
    page = tag("html", page_head(f"{title}, checked against {result.code}"), "\n", body, lang="en")
    return f"<!DOCTYPE html>\n{page}\n".encode()


def _section(key: str, title: str, content: Html) -> Html:
    return join([tag("section", tag("h2", title), content, id=key), "\n"])


def page_head(title: str) -> Html:
    """The head of a page: its policy, which lets in nothing but our own style and script, and these."""
    style, script = (_own_file(file) for file in ("page.css", "page.js"))
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    return tag(
        "head",
        tag("meta", charset="utf-8"),
        tag("meta", http_equiv="Content-Security-Policy", content=policy),
        tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
        tag("meta", name="color-scheme", content="light dark"),
        tag("meta", name="referrer", content="no-referrer"),
        tag("title", title),
        tag("link", rel="icon", href="data:,"),
        tag("style", Html(style)),
        tag("script", Html(script)),
    )


def _own_file(file: str) -> str:
    """A file beside this module. Line ends are plain, since that is how browsers count them for the digest."""
    return files("checker.report").joinpath(file).read_text(encoding="utf-8").replace("\r\n", "\n")


def _digest(content: str) -> str:
    return f"sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}"

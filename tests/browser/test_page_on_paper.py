import shutil
import subprocess
from dataclasses import replace

import pytest

from tests.browser.opened import Opened
from tests.report.html_pages import circuit, large_result, mapped, rating
from tests.report.results import small_result

pytestmark = pytest.mark.browser

KEPT = frozenset({"verdict", "worst_verdict", "unit", "created", "state"})


def test_paper_is_wide_enough_for_every_table(opened: Opened) -> None:
    opened.look(1032, media="print")  # A4 across less margins: (297 − 24) mm × 96 / 25.4
    result = replace(small_result(), circuits=(circuit("C1"),), ratings=(rating(),))
    opened.open(mapped(result, lambda text: text + "M" * 30, KEPT))

    assert opened.run("return document.documentElement.scrollWidth") <= 1032
    shown = "return [...document.querySelectorAll('button, input, select, nav')].filter((one) => one.offsetHeight > 0).length"
    assert opened.run(shown) == 0
    assert opened.run("return document.querySelectorAll('.controls').length") == 4  # they are there, but not on paper


def test_on_paper_every_row_found_is_there_under_a_header_on_each_sheet(opened: Opened) -> None:
    pdftotext = shutil.which("pdftotext")
    if pdftotext is None:
        pytest.skip("pdftotext isn't installed (Debian: poppler-utils)")
    opened.open(large_result(450))
    path = opened.folder / "report.pdf"

    path.write_bytes(opened.printed())

    text = subprocess.run([pdftotext, "-layout", path, "-"], capture_output=True, check=True, text=True).stdout  # noqa: S603 - ours
    sheets = [sheet for sheet in text.split("\f") if "of the area" in sheet]
    assert len(sheets) > 10
    assert all("Fill against limit" in sheet for sheet in sheets)
    missing = [number for number in range(1, 451) if f"T-{number:03}/1" not in text]
    assert missing == []
    assert "450 of 450 rows shown." in text
    assert "Show all" not in text
    # back on the screen it is as it was
    assert opened.count("compartments") == "200 of 450 rows shown."

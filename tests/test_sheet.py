"""The worked sheet: the same figures in both formats, none of them where they are to be worked out, the same bytes each time."""

import re
import shutil
import subprocess
import sys
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import pytest

from checker.fit import Answer, Question, answer
from checker.fit_files import sheet_bytes
from checker.rule.plugins import load_plugins
from checker.sheet import Sheet, sheet_of
from checker.sheet.blanks import plain, worked
from checker.sheet.content import as_plain_text
from checker.sheet.html import html
from tests.test_cli import wayroom

PLUGINS = load_plugins()
TRUNKING = (
    "--code",
    "bs-7671",
    "--carrier",
    "trunking-steel-75x50",
    "--cable",
    "h07v-r-16=12",
    "--cable",
    "6242y-2.5=3",
)
#: The figures of that, as worked out below, with a spare of 25 %: 1.25 · 0.2207 = 0.2758.
WORKED_OUT = {"573.4", "63.1", "189.2", "762.6", "3455.8", "1555.1", "0.2207", "22.1", "27.6", "0.2758"}
needs_pdf = pytest.mark.skipif(
    shutil.which("pdftotext") is None, reason="no pdftotext (poppler-utils) to read PDF files with"
)


class Text(HTMLParser):
    """The text of a page, its headings, and its boxes."""

    def __init__(self) -> None:
        super().__init__()
        self.parts: list[str] = []
        self.tags: list[str] = []
        self.blanks = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.blanks += ("class", "blank") in attrs

    def handle_data(self, data: str) -> None:
        if not self.tags or self.tags[-1] != "style":
            self.parts.append(data)


def read(page: bytes) -> tuple[str, Text]:
    text = Text()
    text.feed(page.decode())
    return " ".join(" ".join(text.parts).split()), text


def asked(code: str = "bs-7671", **question: object) -> tuple[Answer, Sheet]:
    found = answer(Question(PLUGINS.codes[code], **question), PLUGINS)  # type: ignore[arg-type]
    return found, sheet_of(found, PLUGINS.codes[code])


def of_pdf(data: bytes, tmp_path: Path) -> str:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(data)
    program = shutil.which("pdftotext") or "pdftotext"
    done = subprocess.run([program, "-layout", str(path), "-"], capture_output=True, check=True, text=True)  # noqa: S603
    return " ".join(done.stdout.split())


def figures(text: str) -> set[str]:
    return set(re.findall(r"[0-9]+(?:\.[0-9]+)?", text))


def test_by_area_each_step_stands_with_its_figures() -> None:
    """12 · π/4 · 7.8² = 573.4; π/4 · 6.2² + (11.5 − 6.2) · 6.2 = 30.19 + 32.86 = 63.05, thrice 189.2; 762.6 of 72.6 · 47.6 = 3455.8."""
    _, sheet = asked(carrier="trunking-steel-75x50", cables=("h07v-r-16=12", "6242y-2.5=3"))
    told = as_plain_text(sheet)
    for words in (
        "12 × π/4 · 7.8² = 573.4 mm²",
        "3 × (π/4 · 6.2² + (11.5 − 6.2) · 6.2) = 189.2 mm²",
        "The sum 762.6 mm²",
        "The inside (75 − 2 · 1.2) · (50 − 2 · 1.2) = 3455.8 mm²",
        "Allowed 45 % of 3455.8 = 1555.1 mm²",
        "Fill 762.6 / 3455.8 = 0.2207",
        "45 % (guidance)",
        "Within the limit (pass)",
        "licensed practice",
        "Not current rating",
    ):
        assert words in told, words


def test_the_room_that_is_left_is_told_as_in_text_and_that_none_is() -> None:
    """1036.8 of 47.784 each: 21.7. Of twelve 573.4 are taken, of 21 1003.5, which leaves 33.3."""
    _, sheet = asked(inside="48x48", cables=("h07v-r-16=12",))
    assert sheet.notes == ("Room left by bs-7671 for: 9 more h07v-r-16.",)
    _, full = asked(inside="48x48", cables=("h07v-r-16=21",))
    assert full.notes == ("No room left for another cable of these kinds.",)


def test_factors_are_shown_as_factors() -> None:
    """4 of term 30 and none of area: 120 of 196 is 0.6122."""
    _, sheet = asked(carrier="conduit-steel-20", cables=("h07v-u-2.5=4",), length_m=5.0, bends=2.0)
    told = as_plain_text(sheet)
    assert "By factors" in sheet.method
    assert "4 × term 30 = 120" in told
    assert "Used 120 / 196 = 0.6122" in told
    assert "mm²" not in " ".join(plain(row.adds) for row in sheet.rows)


def test_by_number_the_areas_are_the_printed_ones() -> None:
    """6 · 13.6129 = 81.7 of 557.4 mm²: 0.1465; 40 % is 223.0."""
    _, sheet = asked("nfpa-70", carrier="emt-1", cables=("thhn-10=6",), length_m=5.0)
    told = as_plain_text(sheet)
    assert "6 × 13.61 mm² = 81.7 mm²" in told
    assert "557.4 mm² (printed by the code), of which 40 % is 223.0 mm²" in told
    assert "Fill 81.7 / 557.4 = 0.1465" in told


def test_what_is_to_be_worked_out_stands_on_no_page_with_blanks() -> None:
    found, sheet = asked(carrier="trunking-steel-75x50", cables=("h07v-r-16=12", "6242y-2.5=3"), spare="25%")
    page, text = read(sheet_bytes(found, PLUGINS.codes["bs-7671"], ".html", blanks=True))
    assert not figures(page) & WORKED_OUT
    assert "pass" not in page
    assert "more h07v-r-16" not in page
    # two of the rows, the sum, the inside, two that are allowed, three of the fill, two of the spare
    assert text.blanks == 11
    assert {"12", "7.8", "11.5", "6.2", "45", "75", "50", "1.2"} <= figures(page)
    full_page, full_text = read(sheet_bytes(found, PLUGINS.codes["bs-7671"], ".html"))
    assert {"573.4", "189.2", "762.6", "3455.8", "1555.1", "0.2207"} <= figures(full_page)
    assert full_text.blanks == 0
    assert sheet.verdict == "Within the limit (pass)"


@needs_pdf
def test_nor_does_it_in_a_pdf_with_blanks(tmp_path: Path) -> None:
    pytest.importorskip("reportlab")
    found, _ = asked(carrier="trunking-steel-75x50", cables=("h07v-r-16=12", "6242y-2.5=3"), spare="25%")
    told = of_pdf(sheet_bytes(found, PLUGINS.codes["bs-7671"], ".pdf", blanks=True), tmp_path)
    assert not figures(told) & WORKED_OUT
    assert "pass" not in told


@needs_pdf
@pytest.mark.parametrize(
    ("code", "question"),
    [
        ("bs-7671", {"carrier": "trunking-steel-75x50", "cables": ("h07v-r-16=12", "6242y-2.5=3"), "spare": "25%"}),
        ("bs-7671", {"carrier": "conduit-steel-20", "cables": ("h07v-u-2.5=4",), "length_m": 5.0, "bends": 2.0}),
        ("nfpa-70", {"carrier": "emt-1", "cables": ("thhn-10=6", "thhn-8=2"), "length_m": 5.0}),
        ("iec-60364", {"inside": "96x46", "cables": ("10.9-12.4mm=4",)}),
        ("nfpa-70", {"carrier": "ladder-nema-12x4", "cables": ("12mm=30",)}),
    ],
)
def test_both_formats_have_the_same_figures(code: str, question: dict[str, object], tmp_path: Path) -> None:
    pytest.importorskip("reportlab")
    found, sheet = asked(code, **question)
    wanted = figures(as_plain_text(sheet))
    page, _ = read(sheet_bytes(found, PLUGINS.codes[code], ".html"))
    told = of_pdf(sheet_bytes(found, PLUGINS.codes[code], ".pdf"), tmp_path)
    assert wanted <= figures(page)
    assert wanted <= figures(told)
    for words in ("licensed practice come first", "Not current rating", "Covers fill"):
        assert words in page
        assert words in told


@pytest.mark.parametrize("ending", [".html", ".pdf"])
def test_the_same_question_gives_the_same_bytes(ending: str) -> None:
    if ending == ".pdf":
        pytest.importorskip("reportlab")
    code = PLUGINS.codes["bs-7671"]
    made = [
        sheet_bytes(asked(carrier="trunking-steel-50x50", cables=("h07v-r-16=12",))[0], code, ending) for _ in range(2)
    ]
    assert made[0] == made[1]


@needs_pdf
@pytest.mark.parametrize("blanks", [False, True])
def test_twelve_kinds_have_room_on_one_page_and_forty_go_on(blanks: bool, tmp_path: Path) -> None:  # noqa: FBT001
    pytest.importorskip("reportlab")
    code = PLUGINS.codes["bs-7671"]
    keys = [key for key, item in PLUGINS.cables.items() if item.diameter_mm and item.diameter_mm < 20]
    for number, most in ((12, 1), (40, 3)):
        cables = tuple(f"{key}=2" for key in keys[:number])
        found, _ = asked(carrier="trunking-steel-150x100", cables=cables)
        data = sheet_bytes(found, code, ".pdf", blanks=blanks)
        assert 1 <= len(re.findall(rb"/Type /Page\b", data)) <= most
        told = of_pdf(data, tmp_path)
        assert all(key in told for key in keys[:number])


@pytest.mark.browser
@pytest.mark.parametrize("blanks", [False, True])
def test_the_page_prints_on_one_sheet_of_paper(blanks: bool, tmp_path: Path) -> None:  # noqa: FBT001
    program = shutil.which("chromium")
    if program is None:
        pytest.skip("no chromium to print a page with")
    keys = [key for key, item in PLUGINS.cables.items() if item.diameter_mm and item.diameter_mm < 20]
    found, _ = asked(carrier="trunking-steel-150x100", cables=tuple(f"{key}=2" for key in keys[:12]))
    page, printed = tmp_path / "sheet.html", tmp_path / "printed.pdf"
    page.write_bytes(sheet_bytes(found, PLUGINS.codes["bs-7671"], ".html", blanks=blanks))
    subprocess.run(  # noqa: S603
        [
            program, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={tmp_path / 'profile'}",
            "--no-pdf-header-footer", f"--print-to-pdf={printed}", page.as_uri(),
        ],
        capture_output=True, check=True, timeout=120,
    )  # fmt: skip
    assert len(re.findall(rb"/Type /Page\b", printed.read_bytes())) == 1


def test_the_page_is_in_order_for_who_reads_by_ear() -> None:
    found, _ = asked(carrier="trunking-steel-75x50", cables=("h07v-r-16=12",))
    page = sheet_bytes(found, PLUGINS.codes["bs-7671"], ".html").decode()
    _, text = read(page.encode())
    assert text.tags.count("h1") == 1
    assert text.tags.count("main") == 1
    assert '<html lang="en">' in page
    assert page.count('scope="col"') == 5
    assert page.count('scope="row"') >= 6
    assert 'role="img"' in page
    assert "It holds 12 × h07v-r-16." in page
    assert "http://" not in page.replace("http://www.w3.org/2000/svg", "")
    assert "<script" not in page


def test_text_that_looks_like_markup_stays_text() -> None:
    _, sheet = asked(carrier="trunking-steel-75x50", cables=("h07v-r-16=12",))
    assert "<b>" not in html(replace(sheet, reason="<b>bold</b>"))


def test_what_is_there_already_is_told_to_be_missing_in_the_drawing() -> None:
    found, _ = asked(inside="96x46", cables=("11.3mm=2",), occupied="30%")
    page = sheet_bytes(found, PLUGINS.codes["bs-7671"], ".html").decode()
    assert "To scale, without what is there already." in page


def test_sizes_of_conductors_in_a_rules_own_words_are_given() -> None:
    """The rule says "smaller than 4/0 AWG"; 6 · π/4 · 23.4² = 2580.3."""
    found, sheet = asked("nfpa-70", carrier="ladder-nema-12x4", cables=("bs5467-4x16=6",))
    page, _ = read(sheet_bytes(found, PLUGINS.codes["nfpa-70"], ".html", blanks=True))
    assert "smaller than 4/0 AWG:" in page
    assert "2580.3" not in page
    assert "2580.3" in as_plain_text(sheet)


def test_figures_that_are_given_stay_on_the_left_only() -> None:
    line = worked("2 × π/4 · 2² = 2.0 mm², 2", {"2", "4"})
    assert [piece.text for piece in line if piece.is_worked] == ["2.0", "2"]


def test_the_command_writes_sheet_and_drawing(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    sheet, drawing = tmp_path / "sheet.html", tmp_path / "section.svg"
    status, out, _ = wayroom(capsys, "fit", *TRUNKING, "--sheet", sheet, "--draw", drawing)
    assert status == 0
    assert "PASS under bs-7671" in out
    assert "Fill" in sheet.read_text(encoding="utf-8")
    assert drawing.read_text(encoding="utf-8").startswith("<?xml")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["section.svg", "sheet.html"]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--sheet", "sheet.docx"), "ends in none of .html, .pdf"),
        (("--draw", "section.jpg"), "ends in none of .svg, .png"),
        (("--blanks",), "there is no sheet to leave blanks on"),
        (("--sheet", "nowhere/at/all.html"), "there is no such folder"),
        (("--sheet", "sheet.html", "--blanks", "--most", "cat6-u-utp"), "is the answer itself"),
    ],
)
def test_files_that_cant_be_written_are_told_first(
    capsys: pytest.CaptureFixture[str],
    arguments: tuple[str, ...],
    words: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    status, out, err = wayroom(capsys, "fit", *TRUNKING, *arguments)
    assert (status, out) == (2, "")
    assert words in err
    assert not list(tmp_path.iterdir())


def test_without_what_writes_pdf_it_is_said_how_to_install_it(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "reportlab", None)
    status, _, err = wayroom(capsys, "fit", *TRUNKING, "--sheet", tmp_path / "sheet.pdf")
    assert status == 2
    assert "pip install '.[pdf]'" in err  # nothing of that name is published
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("blanks", [False, True])
def test_a_drawing_that_shows_fewer_than_lie_there_says_so(*, blanks: bool) -> None:
    # eight of 11.3 lie side by side in 96, and at most nine such rows on each other: 8 + 8 · 9.79 = 89.6 mm
    code = PLUGINS.codes["bs-7671"]
    found = answer(Question(code, inside="96x96", cables=("11.3mm=200",), geometry=True), PLUGINS)
    page = sheet_bytes(found, code, ".html", blanks=blanks).decode()
    shown = re.search(r"Only ([0-9]+) of 200 cables are drawn", page)
    assert shown is not None
    assert 64 <= int(shown[1]) <= 91  # 9216 / 100.3 = 91.9


def test_where_nothing_is_drawn_since_they_are_too_many_no_place_is_said_to_lack() -> None:
    code = PLUGINS.codes["bs-7671"]
    found = answer(Question(code, inside="96x96", cables=("2mm=401",), geometry=True), PLUGINS)
    page = sheet_bytes(found, code, ".html").decode()
    assert "Of 401 cables nothing is drawn: more than 400" in page
    assert "No place was found" not in page


def test_a_sheet_that_cant_be_written_whole_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    for option, name in (("--sheet", "a.html"), ("--draw", "a.svg")):
        status, _, err = wayroom(capsys, "fit", *TRUNKING, option, tmp_path / name)
        assert (status, list(tmp_path.iterdir())) == (2, [])
        assert "No space left on device" in err


def test_of_a_range_the_sheet_has_the_end_that_decides_and_says_so() -> None:
    """Six of 13 mm are 796.4 mm² of 2304, 34.6 %, of 12 mm 678.6; the largest decide what passes. 1.25 · 0.3457 = 0.4321."""
    _, sheet = asked(inside="48x48", cables=("12-13mm=6",), spare="25%")
    told = as_plain_text(sheet)
    for words in (
        "6 × π/4 · 13² = 796.4 mm²",
        "Fill 796.4 / 2304.0 = 0.3457",
        "With the spare 1.25 · 0.3457 = 0.4321",
        "With the smallest cables: fill 678.6 / 2304.0 = 0.2945.",
        "The arithmetic is with the largest cables, which decides.",
    ):
        assert words in told
    # eight: 904.8 within 1036.8, 1061.9 over; then neither decides
    told = as_plain_text(asked(inside="48x48", cables=("12-13mm=8",))[1])
    assert "Fill, at least 904.8 / 2304.0 = 0.3927" in told
    assert "With the largest cables: fill 1061.9 / 2304.0 = 0.4609." in told
    assert "The arithmetic is with the smallest cables; with the largest cables the answer may be another one." in told


def test_the_share_that_is_allowed_is_of_the_inside_that_is_shown() -> None:
    """A tray of 100 mm with sides of 0 to 3 mm and 20 mm deep: 94 · 20 = 1880 mm² at the least, of which 40 % is 752."""
    _, sheet = asked(carrier="tray-medium-100x25", cables=("12mm=2",), space_factor="40%")
    told = as_plain_text(sheet)
    inside, allowed = (
        re.search(r"The inside (?:.* = )?([0-9.]+) mm²", told),
        re.search(r"Allowed 40 % of ([0-9.]+)", told),
    )
    assert inside is not None
    assert allowed is not None
    assert inside[1] == allowed[1]

"""A real browser for the tests of the page."""

import os
import shutil
from collections.abc import Iterator

import pytest

from tests.browser.opened import Opened

CHROMIUM = ("chromium", "chromium-browser")


@pytest.fixture(scope="session")
def _browser() -> Iterator[object]:
    webdriver = pytest.importorskip("selenium.webdriver", reason="selenium isn't installed")
    binary = next(filter(None, map(shutil.which, CHROMIUM)), None)
    driver = shutil.which("chromedriver")
    if binary is None or driver is None:
        pytest.skip("no chromium with its driver is installed (Debian: chromium, chromium-driver)")
    options = webdriver.ChromeOptions()
    options.binary_location = binary
    for argument in ("--headless=new", "--disable-dev-shm-usage", "--disable-gpu", "--force-color-profile=srgb"):
        options.add_argument(argument)
    if os.geteuid() == 0:
        options.add_argument("--no-sandbox")  # chromium's sandbox refuses root, which is who runs in containers
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    started = webdriver.Chrome(options=options, service=webdriver.ChromeService(driver))
    started.set_script_timeout(60)
    yield started
    started.quit()


@pytest.fixture
def opened(_browser: object, tmp_path: object) -> Iterator[Opened]:
    """A browser in which pages are opened, back to its usual self after each test."""
    page = Opened(_browser, tmp_path)
    page.look(1280)
    yield page
    page.as_before()

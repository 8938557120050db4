"""A page in a browser, and what people do with it."""

import base64
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from checker.report.html import report_html
from checker.result.tables import Result

A4_INCHES = {"paperWidth": 8.27, "paperHeight": 11.69}


class Opened:
    """Wraps the driver. Tables are named by the beginning of their ids."""

    def __init__(self, driver: Any, folder: Any) -> None:
        self.driver, self.folder = driver, Path(folder)

    def open(self, result: Result) -> None:
        path = self.folder / "report.html"
        path.write_bytes(report_html(result))
        self.driver.get_log("browser")  # empties what earlier pages said
        self.driver.get(path.as_uri())

    def look(self, width: int, **emulated: Any) -> None:
        """Sets the width of the window, in CSS pixels, and what else is emulated of media."""
        metrics = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": False}
        self.command("Emulation.setDeviceMetricsOverride", **metrics)
        self.command("Emulation.setEmulatedMedia", **emulated)

    def as_before(self) -> None:
        self.command("Emulation.setScriptExecutionDisabled", value=False)
        self.command("Emulation.clearDeviceMetricsOverride")
        self.command("Emulation.setEmulatedMedia")

    def command(self, name: str, **arguments: Any) -> Any:
        return self.driver.execute_cdp_cmd(name, arguments)

    def run(self, script: str, *arguments: Any) -> Any:
        return self.driver.execute_script(script, *arguments)

    def one(self, selector: str) -> Any:
        return self.driver.find_element("css selector", selector)

    def keys(self, *keys: str) -> None:
        """Types into whatever has the focus."""
        self.driver.switch_to.active_element.send_keys(*keys)

    def marks(self, table: str) -> list[str]:
        """What heads each row that is laid out, in order."""
        script = "return [...document.querySelectorAll(`#${arguments[0]}-table tbody th b`)].map((b) => b.textContent)"
        return list(self.run(script, table))

    def header(self, table: str, title: str) -> Any:
        """The button in the head of a column."""
        path = f"//table[@id='{table}-table']/thead//th[normalize-space(.)={title!r}]/button"
        return self.driver.find_element("xpath", path)

    def choose(self, table: str, label: str, word: str) -> None:
        from selenium.webdriver.support.ui import Select

        path = f"//div[@class='live'][.//table[@id='{table}-table']]//label[starts-with(., '{label} ')]/select"
        Select(self.driver.find_element("xpath", path)).select_by_visible_text(word)

    def count(self, table: str) -> str:
        """What is said of how many rows are shown."""
        path = f"//div[@class='live'][.//table[@id='{table}-table']]/p[@role='status']"
        return str(self.driver.find_element("xpath", path).text)

    def part(self, table: str, selector: str) -> Any:
        """An element of a table's controls."""
        box = self.driver.find_element("xpath", f"//div[@class='live'][.//table[@id='{table}-table']]")
        return box.find_element("css selector", selector)

    def until(self, said: Callable[[], bool], seconds: float = 10.0) -> float:
        """Waits until something holds; fails where it doesn't come to. Returns how long it took, in s."""
        begin = time.monotonic()
        while not said():
            assert time.monotonic() - begin < seconds, "it never came to be"
            time.sleep(0.01)
        return time.monotonic() - begin

    def printed(self) -> bytes:
        """The page on paper, as PDF."""
        made = self.command("Page.printToPDF", preferCSSPageSize=True, printBackground=False, **A4_INCHES)
        return base64.b64decode(made["data"])

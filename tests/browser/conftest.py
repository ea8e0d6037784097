"""A real browser for the page, a pack for the page to show, and what a reader of the page does."""

from __future__ import annotations

import importlib
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parents[2]
INSTALL = (
    "These tests need Chromium and its driver. Debian, Ubuntu: apt-get install chromium chromium-driver. "
    "Elsewhere put chromium and chromedriver on the PATH."
)
# quiet: a browser that looks for updates at every start is slow behind a closed network
FLAGS = (
    "--headless=new", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--hide-scrollbars",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
)  # fmt: skip


def _missing() -> bool:
    return not (shutil.which("chromium") and shutil.which("chromedriver"))


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Without a browser these tests are left out and counted as left out; where CI is set they fail instead."""
    here = [item for item in items if Path(__file__).parent in item.path.parents]
    for item in here:
        item.add_marker("browser")
    if here and _missing() and not os.environ.get("CI"):
        config.hook.pytest_deselected(items=here)
        items[:] = [item for item in items if item not in here]


@dataclass
class Reader:
    """A browser and the words for what one does in it."""

    driver: Any

    def open(self, page: Path, *, width: int = 1280, height: int = 900, dark: bool = False, calm: bool = False) -> None:
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
        features = [
            {"name": "prefers-color-scheme", "value": "dark" if dark else "light"},
            {"name": "prefers-reduced-motion", "value": "reduce" if calm else "no-preference"},
        ]
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
        self.driver.get(page.as_uri())

    def one(self, selector: str) -> Any:
        return self.driver.find_element("css selector", selector)

    def all(self, selector: str) -> list[Any]:
        return list(self.driver.find_elements("css selector", selector))

    def run(self, script: str, *arguments: Any) -> Any:
        return self.driver.execute_script(script, *arguments)

    def keys(self, *keys: str) -> None:
        """Type into whatever has the focus."""
        self.driver.switch_to.active_element.send_keys(*keys)

    def until(self, script: str, seconds: float = 5) -> Any:
        """Return the script's value as soon as it is true."""
        from selenium.webdriver.support.ui import WebDriverWait

        return WebDriverWait(self.driver, seconds, 0.05).until(lambda _: self.run(f"return {script}"))

    def actions(self) -> Any:
        from selenium.webdriver.common.action_chains import ActionChains

        return ActionChains(self.driver, duration=0)

    def place(self, flat: str, side: str = "front") -> dict[str, Any]:
        """Return the sheet element of a flat and where its middle lies in the window, scrolled into view."""
        point: dict[str, Any] = self.run(
            """
            const page = JSON.parse(document.getElementById('data').textContent);
            const row = page.flats.find((f) => f[0] === arguments[0] && !f[9]);
            const [stack, width, height, mirror] = page.sheets[row[7]];
            let [x, y, w, h] = page.stacks[stack].places[row[8]];
            [x, y] = [x + w / 2, y + h / 2];
            if (arguments[1] === 'back') mirror === 'x' ? x = width - x : y = height - y;
            const paper = document.querySelector(`#sheet-${row[7]} [data-side=${arguments[1]}]`);
            paper.scrollIntoView({ block: 'center', behavior: 'instant' });
            const box = paper.getBoundingClientRect();
            const [across, down] = [x / width * box.width, y / height * box.height];
            return { paper, stack, place: row[8], sheet: row[7],
                     x: Math.round(box.left + across), y: Math.round(box.top + down) };
            """,
            flat,
            side,
        )
        return point

    def point_at(self, flat: str, side: str = "front", *, click: bool = False) -> dict[str, Any]:
        at = self.place(flat, side)
        action = self.actions().w3c_actions
        action.pointer_action.move_to_location(at["x"], at["y"])
        if click:
            action.pointer_action.click()
        action.perform()
        return at

    def complaints(self) -> list[str]:
        """Return what the browser has to say since it was last asked: errors and warnings."""
        return [entry["message"] for entry in self.driver.get_log("browser")]

    def requests(self) -> list[str]:
        """Return every address asked for since it was last asked."""
        events = [json.loads(entry["message"])["message"] for entry in self.driver.get_log("performance")]
        return [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]

    def violations(self) -> list[str]:
        """Return what axe-core finds against WCAG 2.2 AA and its own best practices, one line each."""
        self.run((Path(__file__).parent / "axe" / "axe.min.js").read_text(encoding="utf-8"))
        found = self.driver.execute_async_script(
            "const done = arguments[0]; axe.run(document, { resultTypes: ['violations'] })"
            ".then((r) => done(r.violations), (e) => done([{ id: String(e), nodes: [] }]));"
        )
        return [f"{v['id']}: {[n['html'][:160] for n in v['nodes'][:3]]}" for v in found]


@pytest.fixture(scope="session")
def driver() -> Iterator[Any]:
    if _missing():
        raise RuntimeError(INSTALL)
    from selenium import webdriver
    from selenium.webdriver.chrome.options import Options
    from selenium.webdriver.chrome.service import Service

    options = Options()
    options.binary_location = str(shutil.which("chromium"))
    for flag in FLAGS:
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    started = webdriver.Chrome(options=options, service=Service(str(shutil.which("chromedriver"))))
    started.set_script_timeout(30)
    yield started
    started.quit()


@pytest.fixture
def reader(driver: Any) -> Reader:
    reader = Reader(driver)
    reader.complaints()
    reader.requests()
    return reader


@dataclass(frozen=True)
class Shown:
    """A family's folder with a pack in it, and the pack's page; what it was made from, to make other pages of it."""

    home: Path
    pack: Path
    plan: Any
    family: Any

    @property
    def page(self) -> Path:
        return self.pack / "preview.html"

    @property
    def manifest(self) -> dict[str, Any]:
        return dict(json.loads((self.pack / "manifest.json").read_bytes()))

    def pieces(self, kind: str) -> list[dict[str, Any]]:
        return [row for row in self.manifest["pieces"] if row["kind"] == kind and row["role"] == "piece"]


@pytest.fixture(scope="session")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    """A week's pack in a folder with a blank and an accent in its name."""
    build = importlib.import_module("kitbuilder.build")
    request = importlib.import_module("kitbuilder.request").Request
    problems = importlib.import_module("kitbuilder.diagnostics").ProblemLog
    home = tmp_path_factory.mktemp("shown") / "Familie Möwe"
    shutil.copytree(ROOT / "units", home / "units")
    asked = request(home, 3, None)
    family = build.read_family(asked, problems())
    plan = build.plan_pack(family, asked)
    written = build.make_pack(family, plan, home / "out", replace_old=False)
    write_page(family, plan, written.folder / "preview.html")
    return Shown(home, written.folder, plan, family)


def write_page(family: Any, plan: Any, target: Path) -> None:
    preview = importlib.import_module("kitbuilder.export.preview")
    guide = importlib.import_module("kitbuilder.export.guide_html")
    prepare = importlib.import_module("kitbuilder.prep.prepare").prepare
    fonts = importlib.import_module("kitbuilder.artwork.fonts").font_file
    html = guide.guide_html(prepare(plan, family.home.press), plan, fonts)
    preview.write_preview(plan, family.home.press, target, guide_html=html, warnings=("The card is thick.",))


@pytest.fixture(scope="session")
def kitbuilder() -> Callable[[list[str], Path], str]:
    """Return a function: the words behind `kitbuilder`, run for real in a folder, to what it said."""

    def run(words: list[str], folder: Path) -> str:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"}
        done = subprocess.run(
            [sys.executable, "-m", "kitbuilder", *words],
            cwd=folder,
            env=environment,
            capture_output=True,
            text=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    return run

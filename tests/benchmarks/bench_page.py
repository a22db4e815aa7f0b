"""How soon the page shows what was changed on it, and whether it stays quick and small.

Run with `python -m tests.benchmarks.bench_page [gable] [largest] [burst] [thousand] [first]`. A
browser presses keys in a field of `cutlayers open`; its own timeline says when the key was pressed
and when both views and the findings were painted after it. What the server needs of that is beside
it. Memory is the server's resident size, and the size of the page's live objects after collecting.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright

from cutlayers import build, foldable, job_template, styles, usual_sheet
from tests.browser.chromium import CHROMIUM
from tests.browser.served import ROOT, Served

RUNS = 40
BURST = 60
CHANGES = 1000
FIRSTS = 7

WATCH = """
window.pressed = 0;
window.painted = [];
addEventListener("keydown", (event) => (window.pressed = event.timeStamp), true);
new PerformanceObserver((list) => {
  for (const each of list.getEntries())
    window.painted.push([each.startTime + each.duration - window.pressed, each.duration]);
}).observe({ entryTypes: ["measure"] });
"""
"""The page tells its timeline "change" when what was changed has been painted."""

SERVER = """
performance.getEntriesByType("resource").filter((each) => each.name.endsWith("/change"))
  .map((each) => each.responseEnd - each.requestStart)
"""

LIBRARIES = """
import asyncio, click, jinja2, numpy, platformdirs, shapely
import starlette.applications, starlette.responses, starlette.routing, uvicorn, watchfiles
"""
"""What the command loads of others, and cannot do without, before it shows a box."""


def largest() -> str:
    """The style whose example has most flat pieces to be folded."""
    panels = {}
    for style in styles():
        sizes = {name: each for name, (_, each) in style.table.items() if each is not None}
        panels[style.name] = len(foldable(build(style.name, **sizes, caliper=0.3)).panels)
    return max(panels, key=panels.__getitem__)


@contextmanager
def opened(browser: Browser, style: str) -> Iterator[tuple[Page, Served, float]]:
    """The page of a new job of a style, with its length field focused; and the seconds from the
    start of the command until its box was painted."""
    with tempfile.TemporaryDirectory() as folder:
        found = next(each for each in styles() if each.name == style)
        text = job_template(found, "mm", usual_sheet("mm"), "drag-blade-340")
        (Path(folder) / "job.toml").write_text(text)
        page = browser.new_page(viewport={"width": 1400, "height": 1000}, bypass_csp=True)
        page.add_init_script(WATCH)
        begin = time.perf_counter()
        served = Served(Path(folder), "job.toml")
        page.goto(served.address, wait_until="commit")
        page.wait_for_function("document.querySelector('#verdict')?.textContent")
        page.evaluate("new Promise((painted) => requestAnimationFrame(() => setTimeout(painted)))")
        wall = time.perf_counter() - begin
        page.get_by_label("Length", exact=True).focus()
        yield page, served, wall
        page.close()
        served.stop()


def press(page: Page, key: str) -> None:
    """Press a key, and wait until what it changed is painted."""
    before = page.evaluate("window.painted.length")
    page.keyboard.press(key)
    page.wait_for_function(f"window.painted.length > {before}")


def repaint(browser: Browser, style: str, limit: float) -> None:
    """A key press at a time, after each of which everything comes to rest."""
    with opened(browser, style) as (page, _, _):
        for run in range(RUNS + 1):
            press(page, "ArrowUp" if run % 2 else "ArrowDown")
            page.wait_for_load_state("networkidle")
        times = sorted(each for each, _ in page.evaluate("window.painted")[1:])
        server = statistics.median(page.evaluate(SERVER)[1:])
    print(
        f"{style}, key press to both views and findings painted: median "
        f"{statistics.median(times):.0f} ms, 19 of 20 within {times[int(0.95 * len(times))]:.0f} "
        f"ms, at most {limit:.0f} wanted; of that the server {server:.0f} ms"
    )


def burst(browser: Browser, style: str) -> None:
    """Many key presses in no time: the last is shown soon, and not one after the other."""
    with opened(browser, style) as (page, _, _):
        press(page, "ArrowUp")
        field = page.get_by_label("Length", exact=True)
        first = float(field.input_value())
        for _ in range(BURST):
            page.keyboard.press("ArrowUp")
        pressed = page.evaluate("window.pressed")
        page.wait_for_function(
            "wanted => Number(document.activeElement.value) === wanted", arg=first + BURST / 2
        )
        late = page.evaluate("performance.now()") - pressed
        count = len(page.evaluate("window.painted")) - 1
    print(
        f"{style}, {BURST} key presses at once: the last is shown {late:.0f} ms after it, in "
        f"{count} answers"
    )


def thousand(browser: Browser, style: str) -> None:
    """Memory after one change in ten, and after all."""
    with opened(browser, style) as (page, served, _):
        session = page.context.new_cdp_session(page)
        session.send("Performance.enable")

        def sizes() -> tuple[float, float]:
            session.send("HeapProfiler.collectGarbage")
            told = session.send("Performance.getMetrics")["metrics"]
            heap = next(each["value"] for each in told if each["name"] == "JSHeapUsedSize")
            status = Path(f"/proc/{served.process.pid}/status").read_text()
            resident = next(line for line in status.splitlines() if line.startswith("VmRSS"))
            return int(resident.split()[1]) / 1024, heap / 2**20

        for run in range(CHANGES + 1):
            press(page, "ArrowUp" if run % 100 < 50 else "ArrowDown")
            if run in (CHANGES // 10, CHANGES // 2, CHANGES):
                server, heap = sizes()
                print(f"{style}, after {run} changes: server {server:.0f} MB, page {heap:.1f} MB")


def first(browser: Browser, style: str) -> None:
    """From the start of the command to its first box on the screen, the browser being there."""

    def shown() -> tuple[float, float]:
        with opened(browser, style) as (_, served, wall):
            worked = Path(f"/proc/{served.process.pid}/stat").read_text().rpartition(")")[2].split()
            return wall, (int(worked[11]) + int(worked[12])) / os.sysconf("SC_CLK_TCK")

    def floor() -> tuple[float, float]:
        begin, before = time.perf_counter(), os.times()
        subprocess.run([sys.executable, "-c", LIBRARIES], check=True, cwd=ROOT)
        after = os.times()
        worked = after.children_user + after.children_system
        return time.perf_counter() - begin, worked - before.children_user - before.children_system

    shown()
    pairs = [(shown(), floor()) for _ in range(FIRSTS)]
    for number, what in enumerate(("", ", processor time of the server")):
        ours, theirs = (
            statistics.median(each[number] for each in all_) for all_ in zip(*pairs, strict=True)
        )
        print(
            f"{style}, first box on the screen / importing what it needs{what}: {ours:.2f} s / "
            f"{theirs:.2f} s = {ours / theirs:.2f}, at most 2 wanted"
        )


def main(wanted: list[str]) -> None:
    """Print a line for each case, or for those that are named."""
    cases: dict[str, Callable[[Browser], Any]] = {
        "gable": lambda browser: repaint(browser, "gable-carton", 100),
        "largest": lambda browser: repaint(browser, largest(), 250),
        "burst": lambda browser: burst(browser, "gable-carton"),
        "thousand": lambda browser: thousand(browser, "gable-carton"),
        "first": lambda browser: first(browser, "gable-carton"),
    }
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        for name, case in cases.items():
            if not wanted or name in wanted:
                case(browser)
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])

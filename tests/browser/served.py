"""`cutlayers open`, started for tests."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Page, expect

ROOT = Path(__file__).parents[2]


def _hear_interrupts() -> None:
    signal.signal(signal.SIGINT, signal.SIG_DFL)


class Served:
    """A running `cutlayers open` in a folder."""

    def __init__(self, folder: Path, *words: str) -> None:
        self.folder = folder
        self.process = subprocess.Popen(
            [sys.executable, "-m", "cutlayers", "open", "--no-browser", *words],
            cwd=folder,
            env={"PYTHONPATH": str(ROOT), "PATH": "", "HOME": str(folder / "home")},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            # Tests that run in the background are deaf to Ctrl-C, and so would be what they start.
            preexec_fn=None if os.name == "nt" else _hear_interrupts,
        )
        assert self.process.stdout is not None
        found = re.search(r"http://127\.0\.0\.1:\d+/[\w-]{32}/\S*", self.process.stdout.readline())
        assert found is not None
        self.address = found[0]

    def stop(self) -> int:
        """Ctrl-C; the exit code."""
        self.process.send_signal(signal.SIGINT)
        return self.process.wait(30)


def job(served: Served, name: str, sample: str = "bath-bombs", **changes: str) -> str:
    """A sample in the folder, texts in it changed; the address of its page."""
    text = (ROOT / "samples" / f"{sample}.toml").read_text()
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    (served.folder / f"{name}.toml").write_text(text)
    return f"{served.address}jobs/{name}.toml/"


def ready(page: Page, address: str) -> None:
    page.goto(address)
    expect(page.locator("#verdict")).not_to_be_empty()

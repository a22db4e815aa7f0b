"""A browser for tests: Chromium without a window and without a network."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
    "--force-device-scale-factor=1",
    # Every host is nowhere, so whatever a page wants to fetch fails and is told on the console.
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--enable-logging=stderr",
    "--v=0",
)

PX_PER_MM = 96 / 25.4
"""CSS Values and Units Level 3, section 6.2: an inch is 96 px."""


def run(scratch: Path, page: Path, *flags: str) -> subprocess.CompletedProcess[str]:
    """Open a page and do what the flags say; `scratch` gets the browser's own files."""
    assert CHROMIUM is not None
    return subprocess.run(
        [CHROMIUM, *FLAGS, f"--user-data-dir={scratch / 'profile'}", *flags, page.as_uri()],
        capture_output=True,
        text=True,
        timeout=120,
        check=True,
    )


def console(result: subprocess.CompletedProcess[str]) -> list[str]:
    """What the page wrote on the console, blocked fetches and policy violations included."""
    return [line for line in result.stderr.splitlines() if ":CONSOLE" in line]


def print_pdf(scratch: Path, page: Path, pdf: Path) -> subprocess.CompletedProcess[str]:
    """Print a page on the paper that it asks for."""
    return run(scratch, page, "--no-pdf-header-footer", f"--print-to-pdf={pdf}")


def measure(scratch: Path, page: Path, script: str, width_mm: float) -> Any:
    """Run a script in a copy of a page as wide as paper, print styles on, and return what it
    returns. The page's own policy, which would keep the script out, is left out of the copy."""
    text = page.read_text(encoding="utf-8")
    text = text.replace('<meta http-equiv="Content-Security-Policy"', "<meta name=policy")
    text = text.replace("@media print", "@media all")
    probe = (
        "<script>document.title='measuring';"
        f"const found=(()=>{{{script}}})();"
        "const told=document.createElement('pre');told.id='told';"
        "told.textContent=JSON.stringify(found);document.documentElement.append(told);</script>"
    )
    copy = scratch / "probe.html"
    copy.write_text(text.replace("</body>", f"{probe}</body>"), encoding="utf-8")
    size = f"--window-size={round(width_mm * PX_PER_MM)},1400"
    dom = run(scratch, copy, size, "--dump-dom").stdout
    start = dom.index('<pre id="told">') + len('<pre id="told">')
    raw = dom[start : dom.index("</pre>", start)]
    for entity, sign in (("&lt;", "<"), ("&gt;", ">"), ("&nbsp;", "\u00a0"), ("&amp;", "&")):
        raw = raw.replace(entity, sign)
    return json.loads(raw)

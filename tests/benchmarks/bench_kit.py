"""Kits of a hundred and of a thousand rows: sheets a second, peak memory, resuming, processes.

Run with `python -m tests.benchmarks.bench_kit [ROWS]`. Peak memory is the largest resident set of
the making process (getrusage, RUSAGE_CHILDREN), so each kit runs in a process of its own.
"""

from __future__ import annotations

import hashlib
import os
import signal
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]

JOB = """
title = "Guests"
profile = "drag-blade-340"
kit.file = "guests.csv"
[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "12x12 in"
[[piece]]
name = "tray"
style = "tray"
stock = "ivory"
size = { length = "{length}", width = 50, height = 20 }
[[piece.lettering]]
panel = "base"
text = "{name}"
"""


def write_kit(folder: Path, rows: int) -> Path:
    lines = [f"Guest {n},{(60, 70, 80)[n % 3]}" for n in range(1, rows + 1)]
    (folder / "guests.csv").write_text("\n".join(["name,length", *lines]) + "\n")
    (folder / "job.toml").write_text(JOB)
    return folder / "job.toml"


def command(job: Path, out: Path, processes: int) -> list[str]:
    return [
        sys.executable,
        "-m",
        "cutlayers",
        "make",
        str(job),
        "-o",
        str(out),
        "--processes",
        str(processes),
    ]


def peak_of(words: list[str]) -> tuple[float, int]:
    """Seconds, and peak resident set in KiB, of one command."""
    script = (
        "import resource, subprocess, sys, time\n"
        "begin = time.monotonic()\n"
        "subprocess.run(sys.argv[1:], check=True, stdout=subprocess.DEVNULL)\n"
        "peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss\n"
        "print(time.monotonic() - begin, peak)\n"
    )
    told = subprocess.run(
        [sys.executable, "-c", script, *words],
        check=True,
        capture_output=True,
        text=True,
        cwd=ROOT,
    ).stdout.split()
    return float(told[0]), int(told[1])


def sum_of(folder: Path) -> str:
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            total.update(str(path.relative_to(folder)).encode())
            total.update(path.read_bytes())
    return total.hexdigest()[:16]


def main() -> None:
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    with tempfile.TemporaryDirectory() as place:
        base = Path(place)
        for folder in ("small", "large"):
            (base / folder).mkdir()
        small, large = write_kit(base / "small", rows // 10), write_kit(base / "large", rows)
        _, peak_small = peak_of(command(small, base / "out-small", 1))
        seconds, peak_large = peak_of(command(large, base / "out-1", 1))
        sheets = len(list((base / "out-1").glob("*.svg")))
        print(
            f"{rows} rows, {sheets} sheets, 1 process: {seconds:.0f} s, "
            f"{sheets / seconds:.2f} sheets/s, load {os.getloadavg()[0]:.1f}"
        )
        print(
            f"peak memory: {peak_small / 1024:.0f} MiB for {rows // 10} rows, "
            f"{peak_large / 1024:.0f} MiB for {rows}: × {peak_large / peak_small:.3f}"
        )
        begin = time.monotonic()
        killed = subprocess.Popen(
            command(large, base / "out-2", 2),
            cwd=ROOT,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        while len(list((base / "out-2" / ".kit").glob("sheet-*.json"))) < sheets // 3:
            time.sleep(0.1)
        os.killpg(killed.pid, signal.SIGKILL)
        killed.wait()
        made = len(list((base / "out-2" / ".kit").glob("sheet-*.json")))
        subprocess.run(
            command(large, base / "out-2", 2), cwd=ROOT, check=True, stdout=subprocess.DEVNULL
        )
        seconds = time.monotonic() - begin
        print(
            f"2 processes, killed after {made} sheets and gone on with: {seconds:.0f} s in all, "
            f"{sheets / seconds:.2f} sheets/s, load {os.getloadavg()[0]:.1f}"
        )
        sums = sum_of(base / "out-1"), sum_of(base / "out-2")
        print(
            f"1 process in one go {sums[0]}, 2 processes in two goes {sums[1]}: "
            f"{'the same bytes' if sums[0] == sums[1] else 'DIFFERENT'}"
        )


if __name__ == "__main__":
    main()

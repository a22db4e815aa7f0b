"""How long whole commands take, as ratios to the least that they could take.

Run with `python -m tests.benchmarks.bench_start [make] [check] [help]`. Each figure is the median
of runs taken in turn with its base line, so that a busy machine slows both alike. Modules are read
as an installed package has them: compiled once, in a run before that is not counted, also where
the environment keeps Python from storing what it compiled.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from cutlayers.cli import COMMANDS

ROOT = Path(__file__).parents[2]
RUNS = 15

EMPTY_DXF = """
import click, ezdxf, fontTools, io, jinja2, lxml.etree, numpy, platformdirs
import resvg_py, shapely
document = ezdxf.new("R2000")
document.write(io.StringIO())
"""

CASES = {
    "make gable-carton sample / import the same libraries and write an empty DXF": (
        ["-m", "cutlayers", "make", "samples/bath-bombs.toml", "-o", "{out}"],
        ["-c", EMPTY_DXF],
    ),
    "check gable-carton sample / import the same libraries and write an empty DXF": (
        ["-m", "cutlayers", "check", "samples/bath-bombs.toml"],
        ["-c", EMPTY_DXF],
    ),
    "--help / import click": (["-m", "cutlayers", "--help"], ["-c", "import click"]),
    **{
        f"{command} --help / import click": (
            ["-m", "cutlayers", command, "--help"],
            ["-c", "import click"],
        )
        for command in COMMANDS
    },
}


def seconds(words: list[str], compiled: str) -> float:
    """Wall time of one Python process that keeps its compiled modules in the folder given."""
    kept = {**os.environ, "PYTHONPYCACHEPREFIX": compiled}
    kept.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as out:
        begin = time.perf_counter()
        subprocess.run(
            [sys.executable, *(word.replace("{out}", out) for word in words)],
            check=True,
            capture_output=True,
            cwd=ROOT,
            env=kept,
        )
        return time.perf_counter() - begin


def main(wanted: list[str]) -> None:
    """Print a line for each case, or for those whose title holds a word wanted."""
    with tempfile.TemporaryDirectory() as compiled:
        for title, (ours, base) in CASES.items():
            if wanted and not any(word in title.split(" / ")[0] for word in wanted):
                continue
            pairs = [(seconds(ours, compiled), seconds(base, compiled)) for _ in range(RUNS + 1)]
            mine, theirs = (statistics.median(times) for times in zip(*pairs[1:], strict=True))
            print(f"{title}: {mine:.3f} s / {theirs:.3f} s = {mine / theirs:.2f}")


if __name__ == "__main__":
    main(sys.argv[1:])

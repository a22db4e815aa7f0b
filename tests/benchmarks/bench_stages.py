"""Where the time of `make` goes, stage by stage.

Run from the project's folder:

    python -m tests.benchmarks.bench_stages                # the gable carton's sample
    python -m tests.benchmarks.bench_stages JOB.toml ...   # other jobs

Each job is made once in a process of its own under Python's profiler. The time spent inside a
function counts for the stage whose module holds it; what libraries and the language itself take
counts for the stages that call them, in parts as the profiler saw the calls. Modules are loaded
under a clock of their own. A profiler slows small functions more than large ones, so the shares
are a guide where to look, and the last line is the time of the same work without it.
"""

from __future__ import annotations

import cProfile
import os
import pstats
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[2]
SAMPLES = ("samples/bath-bombs.toml",)

STAGES = (
    ("imports", ("<frozen importlib", "importlib/")),
    ("ordering", ("toolpaths/tour", "toolpaths/exchange", "toolpaths/first_way", "toolpaths/few")),
    ("ordering", ("toolpaths/order", "toolpaths/nearby", "toolpaths/stops", "toolpaths/plan")),
    ("planning", ("cutlayers/toolpaths/",)),
    ("reading", ("cutlayers/job/", "cutlayers/profile/", "cutlayers/reading/", "cutlayers/cli/")),
    ("reading", ("site-packages/tomlkit", "tomllib")),
    ("folding", ("net/folding", "net/assembly", "net/faces", "net/stacking", "net/space")),
    ("building", ("cutlayers/construction/", "cutlayers/net/")),
    ("building", ("cutlayers/box/", "cutlayers/box.py")),
    ("checks", ("cutlayers/checks/", "cutlayers/fitting/")),
    ("laying", ("cutlayers/sheets/",)),
    ("lettering", ("cutlayers/lettering/",)),
    ("art", ("cutlayers/artwork/", "making/printing", "formats/print", "formats/pdf")),
    ("drawing", ("formats/drawing", "formats/dxf", "formats/svg", "making/layers")),
    ("drawing", ("site-packages/ezdxf",)),
    ("pictures", ("cutlayers/pictures/", "site-packages/resvg")),
    ("guide", ("cutlayers/guide/",)),
    ("report", ("cutlayers/report/", "cutlayers/telling/")),
    ("writing", ("cutlayers/writing/",)),
)
"""Stages and parts of the paths of their modules; of several that fit, the first counts. Parts
that match nothing cost nothing, so that a module may move without breaking the table."""

Function = tuple[str, int, str]


def stage_of(file: str) -> str | None:
    """The stage that a module belongs to; None for the language, libraries and shared geometry."""
    path = file.replace(os.sep, "/")
    return next((stage for stage, parts in STAGES if any(part in path for part in parts)), None)


def shares(stats: dict[Function, tuple[int, int, float, float, dict[Function, tuple[float, ...]]]]
           ) -> dict[str, float]:  # fmt: skip
    """Seconds of each stage: own time of its functions, and that of nobody's functions shared
    out to those who called them."""
    found: dict[str, float] = {}

    def give(function: Function, seconds: float, depth: int) -> None:
        stage = stage_of(function[0])
        callers = stats[function][4] if function in stats else {}
        total = sum(call[3] for call in callers.values())
        if stage is not None or depth == 0 or not total or seconds < 1e-6:
            found[stage or "the rest"] = found.get(stage or "the rest", 0.0) + seconds
            return
        for caller, call in callers.items():
            give(caller, seconds * call[3] / total, depth - 1)

    for function, (_, _, own, _, _) in stats.items():
        give(function, own, 8)
    return found


def profile(job: str) -> None:
    """Make a job in this process, and print the table."""
    profiler = cProfile.Profile()
    profiler.enable()
    from cutlayers.cli import main as command

    with tempfile.TemporaryDirectory() as out:
        command(["make", job, "-o", out], standalone_mode=False)
    profiler.disable()
    found = shares(pstats.Stats(profiler).stats)  # type: ignore[attr-defined]
    whole = sum(found.values())
    for stage, seconds in sorted(found.items(), key=lambda item: -item[1]):
        print(f"    {stage:10} {seconds / whole:6.1%} {seconds * 1000:8.0f} ms")


def main() -> None:
    """Print a table for each job."""
    if sys.argv[1:2] == ["--one"]:
        profile(sys.argv[2])
        return
    for job in sys.argv[1:] or SAMPLES:
        print(f"make {job}, under the profiler")
        found = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.bench_stages", "--one", job],
            check=True,
            capture_output=True,
            text=True,
            cwd=ROOT,
        )
        print("\n".join(line for line in found.stdout.splitlines() if line.startswith("    ")))
        with tempfile.TemporaryDirectory() as out:
            began = time.perf_counter()
            subprocess.run(
                [sys.executable, "-m", "cutlayers", "make", job, "-o", out],
                check=True,
                capture_output=True,
                cwd=ROOT,
            )
            print(f"  without the profiler, start of Python included: "
                  f"{time.perf_counter() - began:.2f} s")  # fmt: skip


if __name__ == "__main__":
    main()

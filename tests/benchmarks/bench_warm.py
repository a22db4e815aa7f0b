"""How long a process that has begun takes from a job's text to what a person looks at.

Run with `python -m tests.benchmarks.bench_warm`. Each run changes the sizes a little, so that
nothing is at hand from the run before. Processor time, the median of many runs with the least
beside it; and the same as a ratio to folding the nets alone, which tells one machine from another.
"""

from __future__ import annotations

import gc
import re
import statistics
import time
import tomllib
from pathlib import Path

from cutlayers.__main__ import COLLECT_AFTER
from cutlayers.checks.job import check_boxes
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from
from cutlayers.net.folding import fold
from cutlayers.pictures.folded import draw_views, finished_view, views_scene
from cutlayers.pictures.gallery import blanks_scene

SAMPLES = Path(__file__).parents[2] / "samples"
RUNS = 25
STEP = 0.01
"""mm by which each run's boxes differ from the last one's."""


def seen(job: Job) -> None:
    """The findings, each box flat, and each box finished."""
    check_boxes(job)
    for order in job.orders:
        blanks_scene(order.name, order.box)
        views_scene(order.name, draw_views([finished_view(order.box)]))


def main() -> None:
    """Print a line for each sample."""
    gc.set_threshold(COLLECT_AFTER)  # as every command has it
    for name in ("bath-bombs", "one-of-each"):
        file = SAMPLES / f"{name}.toml"
        text = file.read_text(encoding="utf-8")
        times, folding = [], []
        for run in range(RUNS + 1):
            grown = re.sub(
                r"\b(length|width|height|diameter) = (\d+)(?=[, ])",
                lambda at: f"{at[1]} = {int(at[2]) + STEP * (run + 1):g}",  # noqa: B023
                text,
            )
            begin = time.process_time()
            job = job_from(tomllib.loads(grown), str(file), name)
            seen(job)
            times.append(time.process_time() - begin)
            begin = time.process_time()
            for order in job.orders:
                for net in order.box.nets:
                    fold(net)
            folding.append(time.process_time() - begin)
        median, least = statistics.median(times[1:]) * 1000, min(times[1:]) * 1000
        ratio = median / (statistics.median(folding[1:]) * 1000)
        print(
            f"{name}: text to findings, flat and folded pictures {median:.1f} ms, "
            f"least {least:.1f} ms; {ratio:.0f} times folding"
        )


if __name__ == "__main__":
    main()

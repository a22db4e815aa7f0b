"""How long folding, its checks, the size search and the pictures take, in this process.

Run with `python -m tests.benchmarks.bench_fold`. Each figure is processor time, the median of
many runs with the least beside it, so that other programs count as little as can be. Importing is
timed apart, since a command pays it once.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from functools import partial

RUNS = 30


def timed(work: Callable[[], object], runs: int = RUNS) -> tuple[float, float]:
    """Median and least processor time of some work in ms."""
    work()
    times = []
    for _ in range(runs):
        begin = time.process_time()
        work()
        times.append((time.process_time() - begin) * 1000)
    return statistics.median(times), min(times)


def main() -> None:
    """Print the table."""
    begin = time.process_time()
    from cutlayers.box import Box
    from cutlayers.checks import check_box
    from cutlayers.construction.card import Card
    from cutlayers.construction.styles import style_named
    from cutlayers.fitting import item
    from cutlayers.fitting.search import box_for_item
    from cutlayers.net.folding import fold
    from cutlayers.pictures.folded import draw_usual, views_scene
    from tests.net.standing import standing

    print(f"imports {(time.process_time() - begin) * 1000:.0f} ms, once")
    card, ball = Card(0.3), item("sphere", {"diameter": 58}, 2)
    gable = style_named("gable-carton")
    dims = gable.dimensions(punch=4)
    nets = gable.build(dims, card)
    rows: list[tuple[str, Callable[[], object], int]] = [
        ("build a two-net gable carton", lambda: gable.build(dims, card), RUNS),
        ("fold both nets", lambda: [fold(net) for net in nets], RUNS),
        ("fold, and sort the faces into planes", lambda: standing(nets), RUNS),
        (
            "fold, and all findings with a packed ball",
            lambda: check_box(Box.of(nets, Card(0.3)), item=ball),
            RUNS,
        ),
        ("the usual four views", lambda: views_scene("x", draw_usual(Box.of(nets, Card(0.3)))), 10),
    ]
    for name in ("gable-carton", "tray", "tuck-carton"):
        style = style_named(name)
        rows.append(
            (
                f"smallest {name} for a ball",
                partial(box_for_item, style, {}, card, ball),
                10,
            )
        )
    for name, work, runs in rows:
        median, least = timed(work, runs)
        print(f"{name:<44} {median:7.1f} ms   least {least:7.1f} ms")


if __name__ == "__main__":
    main()

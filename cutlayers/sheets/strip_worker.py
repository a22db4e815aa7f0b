"""The strip-packing heuristic in a process of its own, so that it can be stopped at any moment.

The heuristic is that of Gardeyn, Vanden Berghe & Wauters, "An open-source heuristic to reboot 2D
nesting research", arXiv 2509.13329 (2025), by way of the package spyrrow. With one thread and a
seed its layouts come in the same order whatever the speed of the computer, so the first that will
do is always the same one.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from typing import TYPE_CHECKING, Any

from cutlayers.frozen import frozen

if TYPE_CHECKING:
    from multiprocessing.connection import Connection

POLL_S = 0.02

Placements = list[tuple[float, float, float, float]]
"""Item number, angle in degrees and translation of each piece, in the strip's coordinates."""


@frozen
class Question:
    """What the worker is asked: items into a strip `height` mm high, no longer than `goal` mm."""

    items: list[dict[str, Any]]
    height: float
    goal: float
    seconds: int
    seed: int


def answer(question: Question, asker: Connection) -> None:
    """Send the length and the pieces of each layout that is short enough, as they are found.

    The process ends with 1 where the heuristic breaks down, and what that prints is lost.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the asking process decides when to stop
    os.dup2(os.open(os.devnull, os.O_WRONLY), 2)
    import spyrrow

    items = [
        spyrrow.Item(
            str(number),
            [(x, y) for x, y in item["shape"]],
            item["count"],
            None if item["angles_deg"] is None else list(item["angles_deg"]),
        )
        for number, item in enumerate(question.items)
    ]
    instance = spyrrow.StripPackingInstance("sheet", question.height, items)
    config = spyrrow.StripPackingConfig(
        total_computation_time=None,
        exploration_time=max(1, question.seconds),
        compression_time=1,
        num_workers=1,
        seed=question.seed,
    )
    queue = spyrrow.ProgressQueue()
    broken: list[BaseException] = []

    def solve() -> None:
        try:
            instance.solve(config, queue)
        except BaseException as error:  # a panic of the heuristic is no Exception
            broken.append(error)

    solving = threading.Thread(target=solve, daemon=True)
    solving.start()
    feasible = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas)
    running = True
    while running:
        running = solving.is_alive()
        solving.join(POLL_S)
        for kind, solution in queue.drain():
            if kind in feasible and solution.width <= question.goal:
                placed: Placements = [
                    (int(item.id), item.rotation, *item.translation)
                    for item in solution.placed_items
                ]
                asker.send((solution.width, placed))
    if broken:
        sys.exit(1)

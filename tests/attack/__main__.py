"""Run the attack from a command line: see the package's own words."""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import resource
import sys
import time
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict
from multiprocessing.connection import Connection
from pathlib import Path

from tests.attack.doors import DOORS
from tests.attack.watch import Outcome, attempt, the_case

LONGEST = 10.0
"""Seconds of a processor that a case may take, with the processes that it starts and ends."""

LONGEST_WAIT = 300.0
"""Seconds by the clock; a busy computer gives a case only a part of the time."""

MOST_MEMORY = 1_000_000_000
"""Bytes that a case may take beyond what the process has with its libraries loaded."""

FRESH_AFTER = 400
"""Cases after which a process is replaced, so that memory is not counted up over cases."""


def main() -> int:
    """Run, print a line for each fault and a table at the end; 1 where there was a fault."""
    options = argparse.ArgumentParser(prog="python -m tests.attack")
    options.add_argument("--minutes", type=float, default=None)
    options.add_argument("--cases", type=int, default=None, help="for each door")
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--door", choices=sorted(DOORS), action="append")
    options.add_argument(
        "--only", type=int, help="this case alone; its files stay in ./attack-case"
    )
    options.add_argument("--processes", type=int, default=2)
    chosen = options.parse_args()
    doors = chosen.door or list(DOORS)
    if chosen.only is not None:
        (door,) = doors
        print(the_case(door, chosen.seed, chosen.only))
        outcome = attempt(door, chosen.seed, chosen.only, Path("attack-case").resolve())
        print(json.dumps(asdict(outcome), indent=2))
        return outcome.fault is not None
    end = None if chosen.minutes is None else time.monotonic() + 60 * chosen.minutes
    counts, faults = run(doors, chosen.seed, chosen.cases, end, chosen.processes)
    for door in doors:
        row = {key: counts[door, key] for key in ("0", "1", "2", "fault")}
        print(f"{door:14} {sum(row.values()):7} cases, exits " + str(row))
    print(f"{sum(counts.values())} cases with seed {chosen.seed}, {len(faults)} faults")
    return bool(faults)


def run(
    doors: list[str], seed: int, cases: int | None, end: float | None, processes: int
) -> tuple[Counter[tuple[str, str]], list[Outcome]]:
    """Every door in turn, until so many cases of each are done or the time is over."""
    counts: Counter[tuple[str, str]] = Counter()
    faults: list[Outcome] = []
    todo = _todo(doors, cases, end)
    crew = [_Worker(seed) for _ in range(processes)]
    while True:
        for index, worker in enumerate(crew):
            outcome = worker.outcome()
            if outcome is not None:
                _count(outcome, counts, faults)
            if not worker.alive:
                crew[index] = worker = _Worker(seed)
            if worker.idle and (case := next(todo, None)) is not None:
                worker.give(*case)
        if all(worker.idle for worker in crew):
            break
        multiprocessing.connection.wait([worker.pipe for worker in crew], timeout=0.5)
    for worker in crew:
        worker.dismiss()
    return counts, faults


def _todo(doors: list[str], cases: int | None, end: float | None) -> Iterator[tuple[str, int]]:
    number = 0
    while (cases is None or number < cases) and (end is None or time.monotonic() < end):
        for door in doors:
            yield door, number
        number += 1


def _count(outcome: Outcome, counts: Counter[tuple[str, str]], faults: list[Outcome]) -> None:
    counts[outcome.door, "fault" if outcome.fault else str(outcome.exit)] += 1
    if outcome.fault:
        faults.append(outcome)
        print(f"{outcome.door} {outcome.number}: {outcome.fault}\n{outcome.detail}", flush=True)


class _Worker:
    """A process that runs one case at a time, watched from here."""

    def __init__(self, seed: int) -> None:
        context = multiprocessing.get_context("fork")
        self.pipe, theirs = context.Pipe()
        # No daemon: a case may start processes of its own. Each is dismissed in the end.
        self._process = context.Process(target=_serve, args=(theirs, seed))
        self._process.start()
        theirs.close()
        self._case: tuple[str, int] | None = None
        self._since = self._busy_before = 0.0
        self._done = 0

    @property
    def idle(self) -> bool:
        return self._case is None

    @property
    def alive(self) -> bool:
        return self._process.is_alive() and self._done < FRESH_AFTER

    def give(self, door: str, number: int) -> None:
        self._case, self._since = (door, number), time.monotonic()
        self._busy_before = self._busy()
        self.pipe.send((door, number))

    def outcome(self) -> Outcome | None:
        """How the case at hand ended, None while it runs."""
        if self._case is None:
            return None
        door, number = self._case
        try:
            if self.pipe.poll():
                found: Outcome | None = self.pipe.recv()
            elif not self._process.is_alive():
                raise EOFError
            elif (
                self._busy() - self._busy_before > LONGEST
                or time.monotonic() - self._since > LONGEST_WAIT
            ):
                self.dismiss()
                found = Outcome(door, number, None, f"took more than {LONGEST:g} s")
            else:
                return None
        except (EOFError, ConnectionResetError):
            self.dismiss()
            found = Outcome(door, number, None, f"the process died ({self._process.exitcode})")
        self._case = None
        self._done += 1
        if self._done >= FRESH_AFTER:
            self.dismiss()
        return found

    def _busy(self) -> float:
        """Seconds of a processor taken so far; 0 where the system does not tell."""
        try:
            fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:
            return 0.0
        return sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")

    def dismiss(self) -> None:
        self._process.kill()
        self._process.join()


def _serve(pipe: Connection, seed: int) -> None:
    import cutlayers.making.make  # noqa: F401  (its libraries count for every case alike)

    sys.setrecursionlimit(1000)
    while True:
        door, number = pipe.recv()
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024
        outcome = attempt(door, seed, number)
        grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 - before
        if outcome.fault is None and grown > MOST_MEMORY:
            outcome = Outcome(door, number, outcome.exit, f"took {grown / 1e6:.0f} MB")
        pipe.send(outcome)


if __name__ == "__main__":
    raise SystemExit(main())

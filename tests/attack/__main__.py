"""Run the attack from a command line: see the package's own words."""

from __future__ import annotations

import argparse
import json
import multiprocessing
import multiprocessing.connection
import os
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from cutlayers.cli.ending import INTERRUPTED
from tests.attack.doors import DOORS, SHARES
from tests.attack.watch import LONGEST, Outcome, attempt, the_case

MOST_BUSY = 4 * LONGEST
"""Seconds of a processor after which nobody waits for the end of a case: `watch` judges a case that
ends by how fast the processor is, which one that never ends does not tell."""

LONGEST_WAIT = 60.0
"""Seconds by the clock, less those in which the computer had no processor for the case."""

FRESH_AFTER = 500
"""Cases after which a process is replaced, so that no memory of one lies in the way of the next."""

MANY = 20
"""Cases handed to a process at a time."""

NOTED_S = 20.0
"""Seconds after which the table so far is kept anew."""

WARMED = ("job", "fold", "svg", "font", "scan", "table", "trial", "record", "command")
"""Doors behind which the libraries are loaded before the first process is made."""


def main() -> int:
    """Run, print a line for each fault and a table at the end; 1 where there was a fault."""
    options = argparse.ArgumentParser(prog="python -m tests.attack")
    options.add_argument("--minutes", type=float, default=None)
    options.add_argument("--cases", type=int, default=None, help="of all doors together")
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
    # Also where a shell started it in the background, with Ctrl-C for others.
    for stop in (signal.SIGINT, signal.SIGTERM):
        signal.signal(stop, signal.default_int_handler)
    began = time.monotonic()
    end = None if chosen.minutes is None else began + 60 * chosen.minutes
    notes = Path(tempfile.gettempdir()) / f"attack-{chosen.seed}.txt"
    print(f"the table so far is kept in {notes}; Ctrl-C ends the attack with it", flush=True)
    tallies, stopped = run(doors, chosen.seed, chosen.cases, end, chosen.processes, notes)
    faults = sum(tally.faults for tally in tallies.values())
    print(f"\n{_table(tallies)}")
    cases = sum(tally.cases for tally in tallies.values())
    took = time.monotonic() - began
    print(
        f"seed {chosen.seed}: {cases} cases in {took / 60:.1f} minutes, "
        f"{cases / took:.0f} a second; {faults} faults" + ("; stopped" if stopped else "")
    )
    return INTERRUPTED if stopped else int(bool(faults))


def _table(tallies: Mapping[str, Tally]) -> str:
    head = f"{'door':13}{'cases':>7}{'exit 0':>8}{'1':>6}{'2':>7}{'faults':>8}  slowest, largest"
    return "\n".join([head, *(f"{door:13}{tally}" for door, tally in tallies.items())])


@dataclass
class Tally:
    """What came of the cases of one door."""

    exits: Counter[int | None] = field(default_factory=Counter)
    faults: int = 0
    seconds: float = 0.0
    slowest: Outcome | None = None
    largest: Outcome | None = None

    @property
    def cases(self) -> int:
        return sum(self.exits.values())

    def add(self, outcome: Outcome) -> None:
        """Count one."""
        self.exits[outcome.exit] += 1
        self.seconds += outcome.seconds
        self.faults += outcome.fault is not None
        if self.slowest is None or outcome.seconds > self.slowest.seconds:
            self.slowest = outcome
        if self.largest is None or outcome.memory > self.largest.memory:
            self.largest = outcome

    def __str__(self) -> str:
        counts = f"{self.cases:7}{self.exits[0]:8}{self.exits[1]:6}{self.exits[2]:7}{self.faults:8}"
        if self.slowest is None or self.largest is None:
            return counts
        return (
            f"{counts}  {self.slowest.seconds:.1f} s (case {self.slowest.number}), "
            f"{self.largest.memory / 1e6:.0f} MB (case {self.largest.number}); "
            f"{1000 * self.seconds / self.cases:.0f} ms each"
        )


def run(
    doors: list[str],
    seed: int,
    cases: int | None,
    end: float | None,
    processes: int,
    notes: Path,
) -> tuple[dict[str, Tally], bool]:
    """Every door by its share, until so many cases are done, the time is over, or somebody stops
    it (then True is given too). Faults and the table so far are kept in `notes`."""
    tallies = {door: Tally() for door in doors}
    todo = _todo(doors, cases, end)
    _warm()
    crew = [_Worker(seed) for _ in range(processes)]
    noted, stopped = time.monotonic(), False
    faults: list[str] = []

    def note() -> None:
        notes.write_text("\n".join([*faults, _table(tallies), ""]))

    try:
        while True:
            for index, worker in enumerate(crew):
                for outcome in worker.outcomes():
                    tallies[outcome.door].add(outcome)
                    if outcome.fault:
                        told = f"{outcome.door} {outcome.number}: {outcome.fault}\n{outcome.detail}"
                        faults.append(told)
                        print(told, flush=True)
                if not worker.alive:
                    left = worker.waiting
                    worker.dismiss()
                    crew[index] = worker = _Worker(seed)
                    worker.give(left)
                if worker.idle:
                    worker.give([case for _, case in zip(range(MANY), todo, strict=False)])
            if all(worker.idle for worker in crew):
                break
            if time.monotonic() - noted > NOTED_S:
                noted = time.monotonic()
                note()
            multiprocessing.connection.wait([worker.pipe for worker in crew], timeout=0.5)
    except KeyboardInterrupt:
        stopped = True
    for worker in crew:
        worker.dismiss()
    note()
    return tallies, stopped


def _todo(doors: list[str], cases: int | None, end: float | None) -> Iterator[tuple[str, int]]:
    """Doors and numbers, each door as often as its share of all says."""
    shares = {name: SHARES[door] for name, door in DOORS.items() if name in doors}
    whole = sum(shares.values())
    given = dict.fromkeys(doors, 0)
    total = 0
    while (cases is None or total < cases) and (end is None or time.monotonic() < end):
        total += 1
        door = max(doors, key=lambda name: shares[name] * total / whole - given[name])
        yield door, given[door]
        given[door] += 1


def _warm() -> None:
    """Load what the cases need, so that each process has it from its birth."""
    for door in WARMED:
        for number in range(8):
            attempt(door, 0, number)


class _Worker:
    """A process that runs one case at a time, watched from here."""

    def __init__(self, seed: int) -> None:
        context = multiprocessing.get_context("fork")
        self.pipe, theirs = context.Pipe()
        # No daemon: a case may start processes of its own. Each is dismissed in the end.
        self._process = context.Process(target=_serve, args=(theirs, seed))
        self._process.start()
        theirs.close()
        self.waiting: list[tuple[str, int]] = []
        self._since = self._busy_before = 0.0
        self._done = 0

    @property
    def idle(self) -> bool:
        return not self.waiting

    @property
    def alive(self) -> bool:
        return self._process.is_alive() and self._done < FRESH_AFTER

    def give(self, cases: list[tuple[str, int]]) -> None:
        self.waiting = cases
        self._begin()
        if cases:
            self.pipe.send(cases)

    def outcomes(self) -> Iterator[Outcome]:
        """How the cases ended that have since this was last asked."""
        while self.waiting:
            door, number = self.waiting[0]
            try:
                if self.pipe.poll():
                    found: Outcome = self.pipe.recv()
                elif not self._process.is_alive():
                    raise EOFError
                elif (
                    self._busy() - self._busy_before > MOST_BUSY
                    or time.monotonic() - self._queued() - self._since > LONGEST_WAIT
                ):
                    self.dismiss()
                    found = Outcome(door, number, None, f"took more than {MOST_BUSY:g} s")
                else:
                    return
            except (EOFError, ConnectionResetError):
                self.dismiss()
                found = Outcome(door, number, None, f"the process died ({self._process.exitcode})")
            self.waiting = self.waiting[1:]
            self._done += 1
            self._begin()
            yield found
            if not self._process.is_alive():
                return

    def _begin(self) -> None:
        self._since, self._busy_before = time.monotonic() - self._queued(), self._busy()

    def _busy(self) -> float:
        """Seconds of a processor taken so far; 0 where the system does not tell."""
        try:
            fields = Path(f"/proc/{self._process.pid}/stat").read_text().rpartition(")")[2].split()
        except OSError:
            return 0.0
        return sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")

    def _queued(self) -> float:
        """Seconds spent waiting for a processor so far; 0 where the system does not tell."""
        try:
            fields = Path(f"/proc/{self._process.pid}/schedstat").read_text().split()
        except OSError:
            return 0.0
        return int(fields[1]) / 1e9

    def dismiss(self) -> None:
        self._process.kill()
        self._process.join()


def _serve(pipe: Connection, seed: int) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # who waits decides when to stop
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    # A picture is painted in a process of its own, as ever, but one that need not load its
    # libraries each time.
    real = multiprocessing.get_context

    def context(method: str | None = None) -> Any:
        return real("forkserver" if method == "spawn" else method)

    multiprocessing.get_context = context
    multiprocessing.set_forkserver_preload(["tests.attack.__main__", "cutlayers.artwork.pictures"])
    sys.setrecursionlimit(1000)
    while True:
        for door, number in pipe.recv():
            pipe.send(attempt(door, seed, number))


if __name__ == "__main__":
    raise SystemExit(main())

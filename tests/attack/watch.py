"""One case run in this process, watched: what must hold of every case, whatever it holds.

The caller runs this in a process of its own, which it ends where a case takes too long.
"""

from __future__ import annotations

import math
import os
import random
import resource
import shutil
import signal
import socket
import sys
import tempfile
import time
import tomllib
import traceback
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from functools import cache
from multiprocessing import forkserver
from pathlib import Path
from statistics import fmean
from typing import Any
from unittest.mock import patch

import shapely
from click.testing import CliRunner

from cutlayers.cli import main
from cutlayers.kits.writing import STAGE
from cutlayers.writing.changing import AFTER, CHANGE, COMING, LOCK, STATE, WRITTEN
from tests.attack import answers
from tests.attack.cases import Case
from tests.attack.doors import DOORS

ALLOWED_EXITS = (0, 1, 2)
"""Done, the job does not work, bad input. 70, an error of ours, must never be reached."""

FOREIGN = ("/etc/passwd", "/etc/shadow")
"""Files of the system that hostile input asks for."""

LONGEST = 10.0
"""Seconds of a processor that a case may take, with the processes that it starts and ends; of one
that does a spell of work in `SPELL_S` seconds. One that is shared with others takes longer."""

SPELL_S = 0.008

SPELL_EVERY = 0.5
"""Seconds of a processor after which a spell is measured while a case runs: the pace of one that is
shared changes from one second to the next."""

MOST_MEMORY = 1_000_000_000
"""Bytes that a case may take beyond what the process has with its libraries loaded, and that a
process started by it may take in all."""


@dataclass(frozen=True)
class Outcome:
    """How a case ended: `fault` is what did not hold, None where all did."""

    door: str
    number: int
    exit: int | None
    fault: str | None
    detail: str = ""
    seconds: float = 0.0
    memory: int = 0


def the_case(door: str, seed: int, number: int) -> Case:
    """The case of that number."""
    return DOORS[door](random.Random(f"{seed} {door} {number}"))


def attempt(door: str, seed: int, number: int, keep: Path | None = None) -> Outcome:
    """Run the case of that number in an empty folder and judge it."""
    return watched(the_case(door, seed, number), door, number, keep)


def watched(case: Case, door: str = "past", number: int = 0, keep: Path | None = None) -> Outcome:
    """Run one case in an empty folder and judge it."""
    folder = keep or Path(tempfile.mkdtemp(prefix="attack-"))
    folder.mkdir(parents=True, exist_ok=True)
    try:
        for name, content in case.files.items():
            with suppress(FileExistsError):  # kept from the last time
                (folder / name).parent.mkdir(parents=True)
            (folder / name).write_bytes(content)
        for name in case.pipes:
            os.mkfifo(folder / name)
        _of_others()  # what other tests started counts for no case
        memory, seconds = _peak(), sum(os.times()[:4])
        with _spells() as spells:
            outcome = _judged(door, number, case, folder)
        taken = sum(os.times()[:4]) - seconds
        grown = max(_peak(started=memory) - memory, _of_others())
    finally:
        if keep is None:
            shutil.rmtree(folder, ignore_errors=True)
    if outcome.fault is None and taken > LONGEST * _slowness(spells):
        outcome = replace(outcome, fault=f"took {taken:.1f} s")
    if outcome.fault is None and grown > MOST_MEMORY:
        outcome = replace(outcome, fault=f"took {grown / 1e6:.0f} MB")
    return replace(outcome, seconds=taken, memory=grown)


@contextmanager
def _spells() -> Iterator[list[float]]:
    """Seconds that spells of work took which were done now and then in the block."""
    spells: list[float] = []

    def measure(*_: object) -> None:
        begin = time.process_time()
        _spell()
        spells.append(time.process_time() - begin)

    before = signal.signal(signal.SIGPROF, measure)
    signal.setitimer(signal.ITIMER_PROF, SPELL_EVERY, SPELL_EVERY)
    try:
        yield spells
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)


def _spell() -> None:
    """Work as commands do it: areas laid over each other, and many small values made and sorted.
    Plain sums would feel nothing of a memory that is shared."""
    for _ in range(5):
        shapely.intersection(_star(0.0), _star(3.3), grid_size=1e-4)
        dict(sorted((math.cos(number) * number, str(number)) for number in range(2000)))


@cache
def _star(x: float) -> shapely.Polygon:
    turns = [(2 * math.pi * tip / 200, 50 + 5 * (tip % 2)) for tip in range(200)]
    return shapely.Polygon([(x + r * math.cos(turn), r * math.sin(turn)) for turn, r in turns])


def _slowness(spells: Sequence[float]) -> float:
    """How many times longer than it should a processor took; 1 for a quick one."""
    return max(1.0, fmean(spells) / SPELL_S) if spells else 1.0


def _judged(door: str, number: int, case: Case, folder: Path) -> Outcome:
    # A command line can hold no zero byte: the system ends each word there.
    words = [word.replace("{folder}", str(folder)).partition("\0")[0] for word in case.words]
    before = _files(folder)
    home = folder / "home"
    environment = {
        name: str(home) for name in ("HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME")
    }
    here = Path.cwd()
    os.chdir(folder)
    try:
        with _no_network(), _no_foreign_files() as opened, patch.dict(os.environ, environment):
            if case.asked:
                exit_code, fault, detail = answers.judged(case, folder)
            else:
                runner = CliRunner(charset=case.console)
                result = runner.invoke(main, words, input=_typed(case))
                exit_code = result.exit_code
    finally:
        os.chdir(here)

    def ended(fault: str | None, detail: str = "") -> Outcome:
        return Outcome(door, number, exit_code, fault, detail)

    # What the command line, a job's key `file` or a request names, its user wants read.
    named = "\n".join([*words, *_files_named(case), *(str(each.body) for each in case.asked)])
    foreign = [name for name in opened if name not in named]
    if foreign:
        return ended("a foreign file was read", str(foreign))
    if case.asked:
        return ended(fault, detail)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        trace = "".join(traceback.format_exception(result.exception)[-6:])
        return ended(type(result.exception).__name__, trace)
    text = result.stdout_bytes.decode(case.console, "replace") + result.stderr_bytes.decode(
        case.console, "replace"
    )
    if result.exit_code not in ALLOWED_EXITS:
        return ended(f"exit code {result.exit_code}", text[-1500:])
    if "Traceback (most recent call last)" in text:
        return ended("a traceback was printed", text[-1500:])
    after = _files(folder)
    lost = [str(name) for name in _users(case) if after.get(name) != before[name]]
    if lost:
        return ended("a user's file was changed", str(lost))
    if result.exit_code == 2:
        changed = {
            str(name)
            for name in before.keys() | after.keys()
            if before.get(name) != after.get(name)
            and "home" not in name.parts
            and not _is_tidied(name, before, after)
        }
        if changed:
            return ended("files were changed on exit 2", str(sorted(changed)))
        if not text.strip():
            return ended("nothing was said on exit 2")
    return ended(None)


def _is_tidied(name: Path, before: Mapping[Path, bytes], after: Mapping[Path, bytes]) -> bool:
    """What alone a refused command may do in the hidden folder of ours, which it settles before it
    can know whether it may write: take away what a run that was killed left there, finish the
    change that such a run had put down, and keep the sheets of a kit that are complete."""
    if name.parent.name == STATE:
        if name.name in (LOCK, CHANGE, COMING, AFTER):
            return name not in after
        return name.name == WRITTEN and name.with_name(CHANGE) in before
    return name.parent.name == STAGE and name.parents[1].name == STATE


def _users(case: Case) -> list[Path]:
    """Files that the command must leave as they are, whatever comes of it."""
    ours = set(case.ours)
    if "--overwrite" in case.words:
        ours |= {word.removeprefix("{folder}/") for word in case.words}
    return [Path(name) for name in case.files if name not in ours and STATE not in Path(name).parts]


def _typed(case: Case) -> bytes | None:
    return None if case.typed is None else case.typed.encode(case.console, "replace")


def _files(folder: Path) -> dict[Path, bytes]:
    return {
        path.relative_to(folder): path.read_bytes()
        for path in folder.rglob("*")
        if path.is_file() and not path.is_symlink()
    }


def _peak(started: int | None = None) -> int:
    """Bytes of memory: most so far since this was last asked without `started`."""
    try:
        if started is None:
            Path("/proc/self/clear_refs").write_text("5")
        status = Path("/proc/self/status").read_text()
        return int(status.partition("VmHWM:")[2].split()[0]) * 1024
    except (OSError, IndexError):  # a system that counts over the whole life alone
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


_SEEN = 0


def _of_others() -> int:
    """Bytes of the largest process that was started and ended, where it is a new largest."""
    global _SEEN
    largest = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss * 1024
    before, _SEEN = _SEEN, max(_SEEN, largest)
    return largest if largest > before else 0


@contextmanager
def _no_network() -> Iterator[None]:
    """Deny every connection but the attack's own, by which it starts processes quickly."""
    real = socket.socket.connect

    def refused(one: socket.socket, address: Any) -> None:
        if address != forkserver._forkserver._forkserver_address:  # type: ignore[attr-defined]
            raise AssertionError("a network connection was tried")
        real(one, address)

    socket.socket.connect = refused  # type: ignore[method-assign,assignment]
    try:
        yield
    finally:
        socket.socket.connect = real  # type: ignore[method-assign]


_OPENED: list[str] = []
_WATCHING = False


def _audit(event: str, arguments: tuple[Any, ...]) -> None:
    if _WATCHING and event == "open" and str(arguments[0]) in FOREIGN:
        _OPENED.append(str(arguments[0]))


sys.addaudithook(_audit)


FILES = ("file", "drawing", "profile")
"""Keys of a job by which its owner names a file."""


def _files_named(case: Case) -> Iterator[str]:
    """What a case's tables name as a file to read."""
    for content in case.files.values():
        with suppress(ValueError, RecursionError):
            yield from _under_file(tomllib.loads(content.decode()))


def _under_file(value: object) -> Iterator[str]:
    if isinstance(value, dict):
        yield from (each for key, each in value.items() if key in FILES and isinstance(each, str))
        value = list(value.values())
    if isinstance(value, list):
        for each in value:
            yield from _under_file(each)


@contextmanager
def _no_foreign_files() -> Iterator[list[str]]:
    global _WATCHING
    _OPENED.clear()
    _WATCHING = True
    try:
        yield _OPENED
    finally:
        _WATCHING = False

"""The sheets of a kit made one after the other, across processes, so that nothing is done twice.

In the kit's folder a hidden folder keeps the plan and, for each sheet that is complete, the sums of
its files. After an interruption the same kit goes on from there: a sheet counts as made when all
its files are there and unchanged. The hidden folder goes when the manifest is written.
"""

from __future__ import annotations

import hashlib
import json
import multiprocessing
import shutil
import signal
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from cutlayers import __version__
from cutlayers.formats.files import write_files
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import Job, PrintChoice
from cutlayers.kits.checking import Kit, job_for
from cutlayers.kits.planning import KitLay, KitSheet
from cutlayers.kits.rows import Row
from cutlayers.making.make import side_files, sides_of
from cutlayers.making.printing import print_files, sheet_ink
from cutlayers.profile.machine import Machine
from cutlayers.sheets.model import Piece, Placed, Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import empty_base
from cutlayers.telling.facts import finding_data, finding_from
from cutlayers.telling.findings import Finding

UNFINISHED = ".kit"
"""The hidden folder of a kit that is not complete."""

AHEAD = 2
"""Sheets handed to each process beforehand."""

Progress = Callable[[int], None]


@dataclass(frozen=True, slots=True)
class MadePiece:
    """Where one piece of a row lies: its place among the sheet's pieces, counted from 1, the lower
    left corner of its box in mm, and its turn."""

    row: int
    piece: str
    position: int
    x: float
    y: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class MadeSheet:
    """What is told of a sheet that was made. `files` are names with their sums (SHA-256)."""

    number: int
    stock: str
    used_share: float
    minutes: float
    pieces: tuple[MadePiece, ...]
    files: Mapping[str, str]
    findings: tuple[Finding, ...]


def digest_of(kit: Kit, machine: Machine) -> str:
    """A sum over all that decides the files of a kit: job, rows, machine and this package.

    A font that the job names counts by its path alone.
    """
    cells = [dict(row.cells) for row in kit.rows.rows]
    text = json.dumps((__version__, kit.table, cells), ensure_ascii=False, default=str)
    return hashlib.sha256((text + repr(machine)).encode()).hexdigest()


def planned(folder: Path, digest: str, plan: Callable[[], Iterator[KitSheet]]) -> list[KitSheet]:
    """The plan of an unfinished kit of the same digest, or else a new one, which is kept.

    A new plan forgets the sheets of an unfinished kit of other contents.
    """
    state = folder / UNFINISHED
    try:
        kept = json.loads((state / "plan.json").read_text(encoding="utf-8"))
        if kept["digest"] == digest:
            _sweep(folder)
            return [
                KitSheet(number, stock, tuple(KitLay(*lay) for lay in lays))
                for number, stock, lays in kept["sheets"]
            ]
    except (OSError, ValueError, KeyError, TypeError):
        pass
    shutil.rmtree(state, ignore_errors=True)
    sheets = list(plan())
    content = {
        "digest": digest,
        "sheets": [
            [
                sheet.number,
                sheet.stock,
                [[lay.row, lay.number, lay.angle_deg, lay.x, lay.y] for lay in sheet.lays],
            ]
            for sheet in sheets
        ],
    }
    write_files(state, {"plan.json": json.dumps(content).encode()})
    return sheets


def _sweep(folder: Path) -> None:
    """Take away what a killed run left half written."""
    for place in (folder, folder / UNFINISHED):
        for scratch in place.glob(".unfinished-*"):
            shutil.rmtree(scratch, ignore_errors=True)


def make_sheets(
    kit: Kit,
    machine: Machine,
    sheets: Sequence[KitSheet],
    folder: Path,
    digest: str,
    processes: int,
    progress: Progress = lambda _: None,
) -> Iterator[MadeSheet]:
    """Make the sheets that are not there yet and tell of all of them, in order.

    `progress` is told 1 for each. With one process all is done in this one.
    """
    tasks = (
        SheetTask(
            kit.job_file,
            kit.table,
            {lay.row: kit.rows.rows[lay.row] for lay in sheet.lays},
            machine,
            sheet,
            len(sheets),
            folder,
            digest,
        )
        for sheet in sheets
    )
    if processes <= 1:
        for task in tasks:
            yield make_sheet(task)
            progress(1)
        return
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(processes, context, initializer=_leave_interrupts)
    try:
        waiting: deque[Future[MadeSheet]] = deque()
        for task in tasks:
            waiting.append(pool.submit(make_sheet, task))
            if len(waiting) == AHEAD * processes:
                yield waiting.popleft().result()
                progress(1)
        for future in waiting:
            yield future.result()
            progress(1)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _leave_interrupts() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process decides when to stop


@dataclass(frozen=True, slots=True)
class SheetTask:
    """All that a process needs to make one sheet. `rows` are those that lie on it."""

    job_file: Path
    table: Mapping[str, Any]
    rows: Mapping[int, Row]
    machine: Machine
    plan: KitSheet
    total: int
    folder: Path
    digest: str

    @property
    def name(self) -> str:
        """The stem of the sheet's files: its number with as many digits as the last one has."""
        return f"sheet-{self.plan.number:0{len(str(self.total))}}"


def make_sheet(task: SheetTask) -> MadeSheet:
    """Write the files of one sheet, or leave them where they are there already."""
    kept = _kept(task)
    if kept is not None:
        return kept
    plan = task.plan
    sheet, pieces, printing = _sheet(task)
    named = task.table.get("title")
    title = named if isinstance(named, str) else task.job_file.stem
    heading = f"{title}, sheet {plan.number} of {task.total}: {plan.stock}"
    sides, findings = sides_of(task.name, heading, sheet, task.machine)
    files: dict[str, bytes] = {}
    for side in sides:
        files |= side_files(side, task.machine)
    ink, about_art = sheet_ink(sheet, task.machine, printing)
    findings.extend(about_art)
    if ink is not None:
        files |= print_files(task.name, title, sheet, ink, task.machine)
    made = MadeSheet(
        number=plan.number,
        stock=plan.stock,
        used_share=sides[0].row.used_share,
        minutes=round(sum(side.row.minutes for side in sides), 3),
        pieces=pieces,
        files={file: hashlib.sha256(content).hexdigest() for file, content in files.items()},
        findings=tuple(findings),
    )
    write_files(task.folder, files)
    values = {**asdict(made), "findings": [finding_data(each) for each in made.findings]}
    note = json.dumps({"digest": task.digest, "made": values}, ensure_ascii=False)
    write_files(task.folder / UNFINISHED, {f"{task.name}.json": note.encode()})
    return made


def _sheet(task: SheetTask) -> tuple[Sheet, tuple[MadePiece, ...], PrintChoice]:
    jobs: dict[int, tuple[Job, tuple[Piece, ...]]] = {}
    placed: list[Placed] = []
    told: list[MadePiece] = []
    for position, lay in enumerate(task.plan.lays, start=1):
        if lay.row not in jobs:
            job = job_for(task.job_file, task.table, task.rows[lay.row])
            jobs[lay.row] = job, pieces_of(job)
        piece = jobs[lay.row][1][lay.number]
        place = Transform.translation(lay.x, lay.y) @ Transform.rotation(lay.angle_deg)
        placed.append(Placed(piece, place))
        left, bottom, _, _ = piece.net.transformed(place).bounds
        corner = round(left, 3) + 0.0, round(bottom, 3) + 0.0
        told.append(MadePiece(lay.row, piece.name, position, *corner, lay.angle_deg))
    job = next(iter(jobs.values()))[0]
    base = empty_base(job.stocks[task.plan.stock], task.machine, job.sheets)
    sheet = Sheet(base.stock, task.plan.number, base.width, base.height, tuple(placed), base.marks)
    return sheet, tuple(told), job.printing


def _kept(task: SheetTask) -> MadeSheet | None:
    """What was told of a sheet made earlier, if all its files are there and unchanged."""
    try:
        note = json.loads((task.folder / UNFINISHED / f"{task.name}.json").read_text("utf-8"))
        if note["digest"] != task.digest:
            return None
        made = note["made"]
        for file, known in made["files"].items():
            if hashlib.sha256((task.folder / file).read_bytes()).hexdigest() != known:
                return None
        made["findings"] = tuple(finding_from(finding) for finding in made["findings"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    made["pieces"] = tuple(MadePiece(**piece) for piece in made["pieces"])
    return MadeSheet(**made)


def finish(folder: Path) -> None:
    """Take away the hidden folder of a kit that is complete."""
    shutil.rmtree(folder / UNFINISHED, ignore_errors=True)

"""The sheets of a kit made one after the other, across processes, so that nothing is done twice:
what was kept of an interrupted run (`keeping`) is not made again."""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from pathlib import Path
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import Job
from cutlayers.job.reading import title_of
from cutlayers.kits.checking import Kit, job_for
from cutlayers.kits.keeping import keep_files, kept
from cutlayers.kits.notes import note_of
from cutlayers.kits.planning import KitSheet
from cutlayers.kits.rows import Row
from cutlayers.making.files import side_files
from cutlayers.making.printing import print_files, printed_sheet, sheet_ink
from cutlayers.making.sides import PlannedSide, draw_side, lay_sides, plan_side
from cutlayers.profile.machine import Machine
from cutlayers.reading.apart import leave_interrupts
from cutlayers.report.report import SheetRow, sheet_row
from cutlayers.sheets.base import empty_base
from cutlayers.sheets.model import Piece, Placed, Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.telling.findings import Finding
from cutlayers.writing.manifest import sum_at, sum_of

AHEAD = 2
"""Sheets handed to each process beforehand."""

Progress = Callable[[int], None]


@frozen
class MadePiece:
    """Where one piece of a row lies: its place among the sheet's pieces, counted from 1, the lower
    left corner of its box in mm, and its turn."""

    row: int
    piece: str
    position: int
    x: float
    y: float
    turn_deg: float


@frozen
class MadeSheet:
    """What is told of a sheet that was made, its sides in working order. `operations` are all that
    its pieces ask for; `files` are names with their sums (SHA-256)."""

    number: int
    stock: str
    sides: tuple[SheetRow, ...]
    operations: tuple[Operation, ...]
    pieces: tuple[MadePiece, ...]
    files: Mapping[str, str]
    findings: tuple[Finding, ...]

    @property
    def used_share(self) -> float:
        """What the pieces take of the sheet, 0 to 1."""
        return max(side.used_share for side in self.sides)

    @property
    def minutes(self) -> float:
        """How long the machine works on it."""
        return round(sum(side.minutes or 0.0 for side in self.sides), 3)


@frozen
class _Note:
    """What is kept of a sheet that is complete; `key` stands for all that decided its files."""

    key: str
    made: MadeSheet


def make_sheets(
    kit: Kit,
    machine: Machine,
    sheets: Sequence[KitSheet],
    stage: Path,
    digest: str,
    processes: int,
    progress: Progress = lambda _: None,
    tell: Callable[[str], None] = lambda _: None,
) -> Iterator[MadeSheet]:
    """Make the sheets that are not there yet and tell of all of them, in order.

    `progress` is told 1 for each, `tell` a sentence for each that was kept but is damaged. With
    one process all is done in this one. Raises OutputError.
    """
    for made, remark in _made(kit, machine, sheets, stage, digest, processes):
        if remark:
            tell(remark)
        progress(1)
        yield made


def _made(
    kit: Kit,
    machine: Machine,
    sheets: Sequence[KitSheet],
    stage: Path,
    digest: str,
    processes: int,
) -> Iterator[tuple[MadeSheet, str]]:
    tasks = (
        SheetTask(
            kit.job_file,
            kit.table,
            {laid.row: kit.rows.rows[laid.row] for laid in sheet.pieces},
            machine,
            sheet,
            len(sheets),
            stage,
            digest,
        )
        for sheet in sheets
    )
    if processes <= 1:
        yield from map(make_sheet, tasks)
        return
    context = multiprocessing.get_context("spawn")
    pool = ProcessPoolExecutor(processes, context, initializer=leave_interrupts)
    try:
        waiting: deque[Future[tuple[MadeSheet, str]]] = deque()
        for task in tasks:
            waiting.append(pool.submit(make_sheet, task))
            if len(waiting) == AHEAD * processes:
                yield waiting.popleft().result()
        for future in waiting:
            yield future.result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


@frozen
class SheetTask:
    """All that a process needs to make one sheet. `rows` are those that lie on it."""

    job_file: Path
    table: Mapping[str, Any]
    rows: Mapping[int, Row]
    machine: Machine
    plan: KitSheet
    total: int
    stage: Path
    digest: str

    @property
    def name(self) -> str:
        """The stem of the sheet's files: its number with as many digits as the last one has."""
        return f"sheet-{self.plan.number:0{len(str(self.total))}}"

    @property
    def note(self) -> Path:
        """Where it is kept that the sheet is complete."""
        return self.stage / f".{self.name}.json"

    @property
    def key(self) -> str:
        """A sum over all that decides the sheet's files."""
        return sum_of(repr((self.digest, self.total, self.plan)).encode())


def make_sheet(task: SheetTask) -> tuple[MadeSheet, str]:
    """Write the files of one sheet, or leave them where they are there already.

    The sentence says so where something was there but damaged; otherwise it is empty. Raises
    OutputError.
    """
    there = task.note.exists()
    note = kept(task.note, _Note)
    if note is not None and note.key == task.key and _unchanged(task.stage, note.made.files):
        return note.made, ""
    plan = task.plan
    sheet, pieces, job = _sheet(task)
    named = task.table.get("title")
    title = named if isinstance(named, str) else title_of(task.job_file)
    heading = f"{title}, sheet {plan.number} of {task.total}: {plan.stock}"
    coupon = job.sheets.coupon
    laid = lay_sides(task.name, heading, sheet, task.machine, coupon=coupon, unit=job.unit)
    planned = [plan_side(side) for side in laid]
    sides = [draw_side(side, numbered=True) for side in planned]
    findings = [finding for side in laid for finding in side.worked.findings]
    files: dict[str, bytes] = {}
    for side in sides:
        files |= side_files(side, task.machine)
    ink, about_art = sheet_ink(sheet, task.machine, job.printing)
    findings.extend(about_art)
    if ink is not None:
        files |= print_files(printed_sheet(task.name, title, sheet, ink, task.machine))
    asked = {stroke.operation for stroke in sheet.strokes}
    made = MadeSheet(
        number=plan.number,
        stock=plan.stock,
        sides=tuple(map(_told, planned)),
        operations=tuple(operation for operation in Operation if operation in asked),
        pieces=pieces,
        files={file: sum_of(content) for file, content in files.items()},
        findings=tuple(findings),
    )
    # The note comes last, so it never tells of files that are not whole.
    keep_files(task.stage, files)
    keep_files(task.stage, {task.note.name: note_of(_Note(task.key, made))})
    return made, f"{task.name}: what was kept of it is damaged; it was made anew" if there else ""


def _told(side: PlannedSide) -> SheetRow:
    """A side as it is told, its layers left out."""
    laid, load = side.laid, side.load
    return sheet_row(laid.name, laid.sheet, side.plan, (), load.tool_changes, load.minutes)


def _sheet(task: SheetTask) -> tuple[Sheet, tuple[MadePiece, ...], Job]:
    jobs: dict[int, tuple[Job, tuple[Piece, ...]]] = {}
    placed: list[Placed] = []
    made: list[MadePiece] = []
    for position, laid in enumerate(task.plan.pieces, start=1):
        if laid.row not in jobs:
            row = task.rows[laid.row]
            job = job_for(task.job_file, task.table, row, task.machine.take_up)
            jobs[laid.row] = job, pieces_of(job)
        piece = jobs[laid.row][1][laid.number]
        place = Transform.translation(laid.x, laid.y) @ Transform.rotation(laid.angle_deg)
        placed.append(Placed(piece, place))
        left, bottom, _, _ = piece.net.transformed(place).bounds
        corner = round(left, 3) + 0.0, round(bottom, 3) + 0.0
        made.append(MadePiece(laid.row, piece.name, position, *corner, laid.angle_deg))
    job = next(iter(jobs.values()))[0]
    base = empty_base(job.stocks[task.plan.stock], task.machine, job.sheets)
    marks = base.marks_beside(placed)
    sheet = Sheet(base.stock, task.plan.number, base.width, base.height, tuple(placed), marks)
    return sheet, tuple(made), job


def _unchanged(stage: Path, files: Mapping[str, str]) -> bool:
    return all(sum_at(stage / name) == known for name, known in files.items())

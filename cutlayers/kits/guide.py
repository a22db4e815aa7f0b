"""The guide of a kit: the page of a job of its kinds of box, and a list to tick for each sheet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

import shapely

from cutlayers.geometry.transforms import Transform
from cutlayers.guide.build import build_guide
from cutlayers.guide.model import Guide, KitGuide, KitSheetGuide, LaidPiece
from cutlayers.guide.ruler import usual_ruler
from cutlayers.kits.checking import Kit
from cutlayers.kits.kinds import BoxKind, job_of_kinds
from cutlayers.kits.making import MadeSheet
from cutlayers.kits.manifest import KitReport
from cutlayers.kits.planning import KitSheet, Ring, Sorter
from cutlayers.kits.rows import Row, columns_used, table_for
from cutlayers.making.files import units_in_files
from cutlayers.making.printing import PRINT
from cutlayers.making.sides import BACK, COUPON
from cutlayers.pictures.scene import Chain, Item, Label, Pen, Scene, Shape
from cutlayers.profile.machine import Machine
from cutlayers.report.report import Report
from cutlayers.telling.colours import PAGE_INK, PAGE_QUIET, PAGE_TINT, PAGE_WHITE

PLAN = 36.0
"""mm; the longer side of a sheet in its plan."""

SIMPLER = 0.1
"""mm on paper by which an outline in a plan may stray, for fewer points."""

EDGE = 0.2
"""mm; width of the line round a sheet, which is kept free round it."""

NUMBER_CAP = 1.8
"""mm; height of the numbers in a plan."""


def kit_guide(
    kit: Kit,
    machine: Machine,
    sorter: Sorter,
    kinds: Sequence[BoxKind],
    sheets: Sequence[KitSheet],
    made: Sequence[MadeSheet],
    report: KitReport,
) -> Guide:
    """Everything that the page of a kit says."""
    job = job_of_kinds(kit, kinds, machine.take_up)
    told = Report(
        title=report.title,
        unit=kit.unit,
        machine=machine.title,
        units_in_files=units_in_files(machine),
        sheets=tuple(side for sheet in made for side in sheet.sides),
        setup_sheets=report.setup_sheets,
        stocks=report.stocks,
        findings=report.findings,
    )
    guide = build_guide(job, usual_ruler(kit.unit), machine=machine, report=told)
    merged = tuple(
        (order.name, kind.sizes)
        for order, kind in zip(job.orders, kinds, strict=True)
        if kind.sizes > 1
    )
    names = [side.file for sheet in made for side in sheet.sides]
    columns = _columns(kit)
    return replace(
        guide,
        kit=KitGuide(
            rows=len(kit.rows.rows),
            columns=columns,
            sheets=_sheets(kit, columns, sorter, sheets, made),
            merged=merged,
            printed=any(f"{PRINT}." in file for sheet in made for file in sheet.files),
            backs=any(name.endswith(BACK) for name in names),
            coupon=any(name.endswith(COUPON) for name in names),
        ),
    )


def _columns(kit: Kit) -> tuple[str, ...]:
    """The columns that tell rows apart: those that the job names."""
    used = columns_used(kit.table)
    return tuple(column for column in kit.rows.columns if column in used)


def _sheets(
    kit: Kit,
    columns: Sequence[str],
    sorter: Sorter,
    sheets: Sequence[KitSheet],
    made: Sequence[MadeSheet],
) -> tuple[KitSheetGuide, ...]:
    on: dict[int, set[int]] = defaultdict(set)
    for sheet in made:
        for piece in sheet.pieces:
            on[piece.row].add(sheet.number)
    names = {number: _names_as_written(kit.rows.rows[number], kit.table) for number in on}
    guides = []
    for plan, sheet in zip(sheets, made, strict=True):
        pieces = []
        for piece in sheet.pieces:
            row = kit.rows.rows[piece.row]
            cells = ", ".join(row.cells[column] or "–" for column in columns)
            others = tuple(sorted(on[piece.row] - {sheet.number}))
            name = _as_written(piece.piece, names[piece.row])
            pieces.append(LaidPiece(piece.position, cells, name, others))
        guides.append(
            KitSheetGuide(
                sheet.number,
                sheet.stock,
                tuple(side.file for side in sheet.sides),
                sheet.minutes,
                tuple(pieces),
                _plan(sorter.size(sheet.stock), sorter.rings(plan)),
            )
        )
    return tuple(guides)


def _names_as_written(row: Row, table: Mapping[str, Any]) -> dict[str, str]:
    """What the boxes of a row are called → how the job has it, where each row has another name."""
    filled = table_for(table, row)["piece"]
    return {
        after["name"]: before["name"]
        for before, after in zip(table["piece"], filled, strict=True)
        if "name" in after
    }


def _as_written(name: str, names: Mapping[str, str]) -> str:
    """The name of a piece, that of its box as it stands in the job."""
    for own, written in names.items():
        if name == own or name.startswith(f"{own}: "):
            return f"{written}{name[len(own) :]}"
    return name


def _plan(size: tuple[float, float], rings: Sequence[Ring]) -> Scene:
    """A sheet as it lies, its pieces numbered as in the list."""
    scale = PLAN / max(size)
    width, height = size[0] * scale, size[1] * scale
    flip = Transform(xx=scale, yy=-scale, dx=EDGE, dy=EDGE + height)
    corners = ((0.0, 0.0), (size[0], 0.0), size, (0.0, size[1]))
    card = Chain(tuple(map(flip.apply, corners)), True)
    items: list[Item] = [Shape((card,), PAGE_WHITE, Pen(PAGE_QUIET, EDGE))]
    labels = []
    for number, ring in enumerate(rings, start=1):
        outline = shapely.LinearRing([flip.apply(point) for point in ring.points])
        points = shapely.get_coordinates(outline.simplify(SIMPLER))[:-1]
        chain = Chain(tuple((float(x), float(y)) for x, y in points), True)
        items.append(Shape((chain,), PAGE_TINT, Pen(PAGE_INK, 0.15)))
        x, y = flip.apply(ring.inside)
        at = (x, y + NUMBER_CAP / 2)
        labels.append(Label((str(number),), at, NUMBER_CAP, PAGE_INK, "middle", True, typed=True))
    return Scene("", width + 2 * EDGE, height + 2 * EDGE, (*items, *labels))

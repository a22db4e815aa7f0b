"""One side of one sheet, from stage to stage: worked out, in order, drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation, Stroke
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.making.layers import machine_drawing, picture_drawing
from cutlayers.profile.machine import Machine
from cutlayers.profile.materials import material_for, tuned
from cutlayers.report.report import LayerRow, SheetRow, layer_rows, sheet_row
from cutlayers.sheets.coupon import coupon as coupon_strokes
from cutlayers.sheets.coupon import coupon_box, no_room, place_for_coupon
from cutlayers.sheets.model import Sheet
from cutlayers.telling.budget import ENDLESS, Budget
from cutlayers.telling.lengths import Unit
from cutlayers.toolpaths import (
    Ground,
    LoadTable,
    Move,
    Plan,
    Worked,
    load_table,
    moves,
    ordered,
    out_of_reach,
    reach,
    settings_for,
    tool_changes,
    turned_over,
    with_approaches,
    work_out,
    work_out_back,
)

if TYPE_CHECKING:
    from cutlayers.pictures.scene import Scene

COUPON, BACK = "-coupon", "-back"
"""What the names of files end in that come before those of the front."""


@frozen
class LaidSide:
    """One side of a sheet worked out, in no order yet.

    `name` is the stem of its files, `title` what is written on its picture. `machine` has the
    tools of the sheet's `material`, which is None where the profile has none for it. `marks` are
    the register marks as they lie on this side.
    """

    name: str
    title: str
    sheet: Sheet
    machine: Machine
    material: str | None
    marks: tuple[Path, ...]
    worked: Worked
    unit: Unit = "mm"
    """In which its picture tells lengths."""
    turned_over: Transform = Transform()
    """From how pieces lie on the front of the sheet to how they lie on this side."""


@frozen
class PlannedSide:
    """One side of a sheet with its lines in working order, and what that asks of the machine."""

    laid: LaidSide
    plan: Plan
    load: LoadTable


@frozen
class DrawnSide:
    """One side of a sheet: its drawing for the machine, and the picture for people. `name` is the
    stem of its files."""

    name: str
    drawing: Drawing
    picture: Scene


def lay_sides(
    name: str,
    title: str,
    sheet: Sheet,
    machine: Machine,
    *,
    coupon: bool = False,
    unit: Unit = "mm",
) -> tuple[LaidSide, ...]:
    """Work out the sides of a sheet, in the order in which they are worked: a back comes first,
    then the coupon, which is of the front.

    `name` is the stem of the front's files, `title` what is written on its picture, where lengths
    are told in `unit`. Raises NetError where pieces overlap, JobError for a material that the
    profile has not.
    """
    material = material_for(machine, sheet.stock).material
    machine = tuned(machine, material)
    card = material.name if material else None
    strokes = sheet.strokes
    marks = tuple(path for mark in sheet.marks for path in mark.paths)
    ground = _ground(sheet, machine)
    worked = work_out(strokes, machine)
    sides: list[LaidSide] = []
    if coupon:
        at = place_for_coupon(strokes, ground.reach, ground.taken)
        if at is None:
            worked = replace(worked, findings=(*worked.findings, no_room(sheet.number)))
        else:
            first, ground = _coupon(at, strokes, ground, machine)
            heading = f"{title}, coupon, cut first"
            bare = replace(sheet, placed=())
            sides.append(
                LaidSide(f"{name}{COUPON}", heading, bare, machine, card, marks, first, unit)
            )
    front = _straightened(worked, strokes, ground, machine)
    front = _held_to_reach(front, sheet, machine)
    sides.append(LaidSide(name, title, sheet, machine, card, marks, front, unit))
    back = work_out_back(strokes, machine, sheet.width, sheet.height)
    if back is not None:
        turn = machine.operations[Operation.SCORE].scoring.turn
        mirror = turned_over(turn, sheet.width, sheet.height)
        mirrored = tuple(path.transformed(mirror) for path in marks)
        back = _held_to_reach(back, sheet, machine)
        heading = f"{title}, back, worked first"
        sides.insert(
            0,
            LaidSide(f"{name}{BACK}", heading, sheet, machine, card, mirrored, back, unit, mirror),
        )
    return tuple(sides)


def _ground(sheet: Sheet, machine: Machine) -> Ground:
    taken = tuple(mark.keep_out for mark in sheet.marks)
    return Ground(reach(machine, sheet.width, sheet.height), taken)


def _coupon(
    at: Point, strokes: Sequence[Stroke], ground: Ground, machine: Machine
) -> tuple[Worked, Ground]:
    """A coupon worked out, and the ground that it leaves to the sheet. It has no bridges, so that
    it comes out where the cut goes through; what is found of it is nobody's box, so it is left out.
    """
    lines = coupon_strokes(at)
    cut = replace(machine.operations[Operation.CUT], bridges=None)
    free = replace(machine, operations={**machine.operations, Operation.CUT: cut})
    first = _straightened(work_out(lines, free), [*strokes, *lines], ground, free)
    hooks = [layer.hook.bounds for layer in first.layers if layer.hook is not None]
    left = replace(ground, taken=(*ground.taken, coupon_box(at), *hooks))
    return replace(first, findings=()), left


def _straightened(
    worked: Worked, strokes: Sequence[Stroke], ground: Ground, machine: Machine
) -> Worked:
    """A front with what sets trailing blades straight before they cut."""
    return with_approaches(worked, strokes, ground, any_order=machine.files.order == "any")


def _held_to_reach(worked: Worked, sheet: Sheet, machine: Machine) -> Worked:
    """A side with what of it the machine does not get to."""
    found = out_of_reach(worked, machine, sheet.width, sheet.height)
    return replace(worked, findings=(*worked.findings, *found))


def laid_row(side: LaidSide) -> SheetRow:
    """What is known of a side before its lines are in order: no lengths of ways, no minutes."""
    layers = [each for each in side.worked.layers if each.lines]
    rows = []
    for layer in layers:
        how = side.machine.operations[layer.operation]
        rows.append(
            LayerRow(
                layer=how.layer,
                title=layer.operation.value,
                tool=layer.tool.name,
                settings=dict(settings_for(layer.operation, side.machine, side.material)),
                passes=how.passes,
                lines=sum(len(line.pieces) or 1 for line in layer.lines),
                length=None,
                travel_length=None,
                minutes=None,
                colour=how.colour,
            )
        )
    if side.marks:
        register = side.machine.register
        lines, colour = len(side.marks), register.colour
        rows.append(
            LayerRow(register.layer, "register marks", "", {}, 1, lines, None, None, None, colour)
        )
    changes = tool_changes(layer.tool.name for layer in layers)
    return sheet_row(side.name, side.sheet, side.worked, tuple(rows), changes)


def plan_side(side: LaidSide, budget: Budget = ENDLESS) -> PlannedSide:
    """Put the lines of a side into working order. Raises Cancelled where the budget says so."""
    plan = ordered(side.worked, budget)
    return PlannedSide(side, plan, load_table(plan, side.machine, side.material))


def moves_of(side: PlannedSide) -> tuple[Move, ...]:
    """Where each tool is at every moment of a side's work, the minutes of its load through."""
    return moves(side.plan, side.laid.machine.tool_change_s)


def draw_side(side: PlannedSide, *, numbered: bool = False) -> DrawnSide:
    """Draw a side, for the machine and for people; there pieces are `numbered` in their order where
    a list tells of each."""
    from cutlayers.pictures.sheet import sheet_scene

    drawing = _drawing(side)
    picture = picture_drawing(drawing, side.plan, side.laid.machine)
    over = side.laid.turned_over
    seen = [replace(each, place=over @ each.place) for each in side.laid.sheet.placed]
    if numbered:
        seen = [
            replace(each, piece=replace(each.piece, name=f"{number}. {each.piece.name}"))
            for number, each in enumerate(seen, start=1)
        ]
    return DrawnSide(side.laid.name, drawing, sheet_scene(picture, side.laid.unit, seen))


def planned_row(side: PlannedSide) -> SheetRow:
    """What is to be told of a side, lengths of ways and minutes too."""
    laid, load = side.laid, side.load
    rows = layer_rows(_drawing(side), load)
    return sheet_row(laid.name, laid.sheet, side.plan, rows, load.tool_changes, load.minutes)


def _drawing(side: PlannedSide) -> Drawing:
    laid = side.laid
    return machine_drawing(laid.title, laid.sheet, side.plan, laid.marks, laid.machine)

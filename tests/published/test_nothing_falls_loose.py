"""Pieces that bridges hold in their sheet, seen from outside: what is swept away of the sheet, what
is left, and whether each piece is still one with the edge of the sheet.

The lines are read from the written DXF; a trailing tip is simulated. Areas are laid by shapely.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest
import shapely

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.strokes import Operation, Part
from cutlayers.job.order import SheetRules
from cutlayers.making.files import machine_files
from cutlayers.making.layers import machine_drawing
from cutlayers.making.sides import lay_sides, plan_side
from cutlayers.net import Net
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.operations import Bridges, Method
from cutlayers.profile.output import FilesPlan, RegisterPlan
from cutlayers.profile.reading import read_profile
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.sheets.model import Sheet
from cutlayers.sheets.placing import place_pieces
from tests.published.test_blade_from_any_rest import axes, cut_by
from tests.sheets.judge import pieces, rectangle_net, stock
from tests.toolpaths.shapes import polygon

SIDE = 700.0

HAIR = 0.002
"""mm on either side of a line that has no width, so that it parts the card."""

BRIDGES = Bridges(width=1.0, count=3)

CUTTERS = {
    "blade": Tool("blade", ToolType.DRAG_BLADE, offset=0.25, overcut=0.3),
    "beam": Tool("blade", ToolType.LASER, kerf=0.2),
    "hair": Tool("blade", ToolType.LASER),
}


def cutter(tool: Tool, bridges: Bridges = BRIDGES) -> Machine:
    """The shipped profile with another tool to cut with, bridges, and a bed for one large sheet."""
    usual = read_profile("desktop-a4")
    operations = dict(usual.operations)
    operations[Operation.CUT] = replace(operations[Operation.CUT], bridges=bridges)
    for each in (Operation.PERFORATE, Operation.SCORE, Operation.DRAW):
        operations[each] = replace(operations[each], method=Method.BY_HAND, tool=None)
    return replace(
        usual,
        bed=Bed(SIDE, SIDE, 5.0),
        tools={"blade": tool},
        operations=operations,
        files=FilesPlan(("dxf",)),
        register=RegisterPlan(shape="none"),
    )


def laid(nets: Sequence[Net], machine: Machine, gap: float, count: int) -> Sheet:
    """So many of each net on one sheet, as near to each other as the gap says."""
    rules = SheetRules(gap=gap)
    (sheet,) = place_pieces(pieces(nets, stock(SIDE, SIDE), count), machine, rules).sheets
    return sheet


def loose(sheet: Sheet, machine: Machine) -> list[str]:
    """Names of the pieces that are parted from the edge of the sheet by what the file has cut."""
    (side,) = map(plan_side, lay_sides("sheet-1", "sheet", sheet, machine))
    drawing = machine_drawing("sheet", sheet, side.plan, (), machine)
    (file,) = machine_files("sheet-1", drawing, machine).values()
    tool = machine.tools["blade"]
    lines = axes(file, "cut")
    if tool.type is ToolType.DRAG_BLADE:
        cuts, _ = cut_by(lines, tool.offset, math.pi)
    else:
        cuts = [shapely.LineString(each) for each in lines]
    swept = shapely.union_all([each.buffer(tool.kerf / 2 + HAIR) for each in cuts])
    left = shapely.get_parts(shapely.box(0, 0, sheet.width, sheet.height).difference(swept))
    edge = shapely.LinearRing([(0, 0), (SIDE, 0), (SIDE, SIDE), (0, SIDE)])
    held = [part for part in left if part.intersects(edge)]
    fallen = []
    for placed in sheet.placed:
        (outline,) = (each for each in placed.strokes if each.part is Part.OUTLINE)
        card = polygon(outline.path)
        if not any(part.intersection(card).area > card.area / 2 for part in held):
            fallen.append(placed.piece.name)
    return fallen


def card(name: str = "card") -> Net:
    return rectangle_net(40, 30, name)


@pytest.mark.parametrize(
    ("tool", "gap"),
    [*((tool, gap) for tool in CUTTERS.values() for gap in (0.0, 0.3)), (CUTTERS["beam"], 0.15)],
)
def test_cards_beside_each_other_hang_in_the_sheet(tool: Tool, gap: float) -> None:
    """Twenty-five cards: nine of them and more touch nothing but others where there is no gap, or
    one that is narrower than the kerf."""
    machine = cutter(tool)

    assert loose(laid([card()], machine, gap, 25), machine) == []


@pytest.mark.parametrize("count", [1, 2, 3, 4])
@pytest.mark.parametrize("cards", [2, 3, 6, 9])
def test_few_bridges_hold_too(cards: int, count: int) -> None:
    """With one bridge a card no card may hang on another that hangs on it alone."""
    machine = cutter(CUTTERS["beam"], Bridges(width=0.5, count=count))

    assert loose(laid([card()], machine, 0.0, cards), machine) == []


def test_the_judge_tells_what_falls() -> None:
    """Without bridges every card falls."""
    machine = cutter(CUTTERS["hair"])
    operations = dict(machine.operations)
    operations[Operation.CUT] = replace(operations[Operation.CUT], bridges=None)
    free = replace(machine, operations=operations)

    assert loose(laid([card()], free, 0.0, 4), free) == ["card"] * 4


STYLES = sorted(style.name for style in styles())


@pytest.mark.parametrize(
    ("name", "tool", "gap"),
    [
        (name, list(CUTTERS.values())[number % 3], (0.0, 0.0, 0.0, 0.15, 2.0)[number % 5])
        for number, name in enumerate(STYLES)
    ],
)
def test_every_style_hangs_in_the_sheet(name: str, tool: Tool, gap: float) -> None:
    """Two boxes of each style as it comes, edge to edge or nearly so."""
    style, machine = style_named(name), cutter(tool)
    nets = style.build(style.dimensions(), Card(0.3))

    assert loose(laid(nets, machine, gap, 2), machine) == []

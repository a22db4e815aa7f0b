"""Everything that is written lies where the machine's tools get to: read from the files alone."""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import replace

import ezdxf
import pytest
import svgelements
from ezdxf import bbox

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named, styles
from cutlayers.geometry.transforms import Transform
from cutlayers.making.files import machine_files
from cutlayers.making.layers import machine_drawing
from cutlayers.making.sides import lay_sides, plan_side
from cutlayers.net import Net
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.output import FilesPlan, RegisterPlan, SvgSettings
from cutlayers.profile.reading import read_profile
from cutlayers.profile.tools import Tool, ToolType
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.findings import Finding, Severity
from tests.sheets.judge import pieces, rectangle_net, stock

SIDE = 700.0
"""mm; a sheet that any style fits on as it comes, and that lies in a corner of it."""

ROUNDING = 1e-3
"""mm; the SVG reader makes a millimetre 3.77953 pixels, which is 0.0004 mm over a whole sheet."""

STAYS = Transform()

NAMES = sorted(style.name for style in styles())


def cutter(tool: Tool, margin: float, order: str = "kept") -> Machine:
    """The shipped profile with another tool to cut with, and another bed; without marks."""
    usual = read_profile("desktop-a4")
    return replace(
        usual,
        bed=Bed(SIDE, SIDE, margin),
        tools={**usual.tools, "blade": tool},
        files=FilesPlan(("dxf", "svg"), order=order),  # type: ignore[arg-type]
        register=RegisterPlan(shape="none"),
        svg=SvgSettings(),
    )


def blade(offset: float) -> Tool:
    """A trailing blade that runs on past its start."""
    return Tool("blade", ToolType.DRAG_BLADE, offset=offset, overcut=1.0)


def beam(kerf: float) -> Tool:
    """A laser."""
    return Tool("blade", ToolType.LASER, kerf=kerf, overcut=1.0)


def written(
    nets: Sequence[Net], machine: Machine, moved: Transform = STAYS
) -> tuple[dict[str, bytes], list[Finding]]:
    """The machine's files of nets on one sheet, and what was found while they were made; the
    sheet's pieces are moved before, as where a print lies elsewhere."""
    (sheet,) = place_pieces(pieces(nets, stock(SIDE, SIDE)), machine).sheets
    there = tuple(replace(each, place=moved @ each.place) for each in sheet.placed)
    sheet = replace(sheet, placed=there)
    files: dict[str, bytes] = {}
    found: list[Finding] = []
    for side in map(plan_side, lay_sides("sheet-1", "sheet", sheet, machine)):
        laid = side.laid
        drawing = machine_drawing(laid.title, laid.sheet, side.plan, laid.marks, laid.machine)
        files |= machine_files(laid.name, drawing, machine)
        found += laid.worked.findings
    return files, found


def extents(files: dict[str, bytes]) -> list[tuple[float, float, float, float]]:
    """Left, bottom, right, top of all lines of each file, by two readers that are not ours."""
    boxes = []
    for name, content in files.items():
        if name.endswith(".dxf"):
            document = ezdxf.read(io.StringIO(content.decode()))
            box = bbox.extents(document.modelspace())
            boxes.append((box.extmin.x, box.extmin.y, box.extmax.x, box.extmax.y))
        else:
            drawing = svgelements.SVG.parse(io.BytesIO(content), ppi=96)
            shapes = [each for each in drawing.elements() if isinstance(each, svgelements.Path)]
            per_mm = 96 / 25.4
            left, top, right, bottom = (
                each / per_mm for each in svgelements.Group.union_bbox(shapes)
            )
            boxes.append((left, SIDE - bottom, right, SIDE - top))
    return boxes


def outside(files: dict[str, bytes], margin: float) -> float:
    """mm by which the outermost line lies beyond the margin; below 0 within it."""
    return max(
        beyond
        for left, bottom, right, top in extents(files)
        for beyond in (
            margin - left,
            margin - bottom,
            right - (SIDE - margin),
            top - (SIDE - margin),
        )
    )


def codes(found: list[Finding]) -> list[str]:
    return [each.code for each in found]


CUTTERS = ((blade(0.9), 0.0), (blade(0.25), 5.0), (beam(0.4), 0.0))


@pytest.mark.parametrize(
    ("name", "tool", "margin"),
    [(name, *CUTTERS[number % len(CUTTERS)]) for number, name in enumerate(NAMES)],
)
def test_every_style_lies_within_reach(name: str, tool: Tool, margin: float) -> None:
    """The axis of each tool keeps the margin of the bed, swings and overcuts included."""
    style = style_named(name)
    files, found = written(style.build(style.dimensions(), Card(0.3)), cutter(tool, margin))

    assert outside(files, margin) <= ROUNDING
    assert "out-of-reach" not in codes(found)


@pytest.mark.parametrize("order", ["kept", "any"])
@pytest.mark.parametrize(("tool", "beside"), [(blade(0.9), 0.9), (beam(0.4), 0.2)])
def test_a_card_as_large_as_there_is_room_for(tool: Tool, beside: float, order: str) -> None:
    """All four sides at once: of 700 mm, 5 mm of margin and what the tool needs at each side."""
    side = SIDE - 2 * (5.0 + beside)
    machine = cutter(tool, 5.0, order)

    files, found = written([rectangle_net(side, side)], machine)

    assert -0.01 <= outside(files, 5.0) <= ROUNDING
    assert "out-of-reach" not in codes(found)
    with pytest.raises(PlacementError, match=r"0\.1 mm too wide"):
        written([rectangle_net(side + 0.1, side)], machine)


@pytest.mark.parametrize("order", ["kept", "any"])
def test_ways_in_lie_within_reach(order: str) -> None:
    """A driver that takes lines in any order comes down at the start of a way in, the blade
    pointing anywhere: its axis lies a blade's offset about that start."""
    files, _ = written([rectangle_net(40, 30)] * 6, cutter(blade(0.9), 0.0, order))

    assert outside(files, 0.0) <= ROUNDING


@pytest.mark.parametrize("shift", [-2.5, 2.5])
def test_files_that_are_moved_back_stay_within_reach(shift: float) -> None:
    """A shift between print and work moves the lines in the files the other way."""
    machine = cutter(blade(0.25), 5.0)
    machine = replace(machine, register=replace(machine.register, shift_x=shift, shift_y=shift))
    side = SIDE - 2 * (5.0 + 0.25) - 2.5

    files, found = written([rectangle_net(side, side)], machine)

    assert -0.01 <= outside(files, 5.0) <= ROUNDING
    assert "out-of-reach" not in codes(found)


@pytest.mark.parametrize(
    ("dx", "dy"), [(-6.0, 0.0), (0.0, -6.0), (6.0, 0.0), (0.0, 6.0), (-0.001, 0.0)]
)
def test_a_print_that_lies_elsewhere_is_told(dx: float, dy: float) -> None:
    """Pieces carried 6 mm towards an edge: so much nearer to it than the 5 mm that are reached."""
    side = SIDE - 2 * (5.0 + 0.25)
    there = Transform.translation(dx, dy)

    files, found = written([rectangle_net(side, side)], cutter(blade(0.25), 5.0), there)

    (told,) = (each for each in found if each.code == "out-of-reach")
    beyond = max(abs(dx), abs(dy))
    assert told.severity is Severity.ERROR
    assert told.measured[0].value == pytest.approx(5.0 - beyond, abs=1e-6)
    assert told.allowed is not None and told.allowed.least[0].value == 5.0
    assert outside(files, 5.0) == pytest.approx(beyond, abs=1e-3)

"""An empty sheet of a stock as it lies on the bed: its marks, and the room between them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import Bounds
from cutlayers.job.order import SheetRules
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.materials import material_for, tuned
from cutlayers.sheets.laying import Room
from cutlayers.sheets.model import Piece, Placed, RegisterMark
from cutlayers.sheets.register import fourth_marks, register_marks
from cutlayers.telling.errors import PlacementError
from cutlayers.telling.refusals import Refusal
from cutlayers.toolpaths.reach import beside_pieces, reach

Laid = TypeVar("Laid")

CARD_CHORD = 0.1
"""mm that a chord may stray from its arc where card is looked for."""


@frozen
class Base:
    """An empty sheet of a stock as it lies on the bed.

    `marks` are those of every sheet, which no piece may touch; one of the `spare` ones joins them
    on a sheet whose pieces keep `clear` of it.
    """

    stock: Stock
    width: float
    height: float
    marks: tuple[RegisterMark, ...]
    room: Room
    spare: tuple[RegisterMark, ...] = ()
    clear: float = 0.0

    @property
    def turned(self) -> bool:
        """Whether the sheet lies turned by a quarter from how the stock gives its size."""
        return (self.width, self.height) != self.stock.sheet

    def marks_beside(self, placed: Sequence[Placed]) -> tuple[RegisterMark, ...]:
        """The marks of a sheet with these pieces on it."""
        boxes = [_box(each) for each in placed]
        for mark in self.spare:
            left, bottom, right, top = mark.keep_out
            wide = self.clear
            square = (left - wide, bottom - wide, right + wide, top + wide)
            near = [each for each, box in zip(placed, boxes, strict=True) if _overlap(square, box)]
            if not any(_reaches_into(square, each) for each in near):
                return (*self.marks, mark)
        return self.marks


def _box(placed: Placed) -> Bounds:
    left, bottom, right, top = placed.piece.bounds
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Path.polygon(corners).transformed(placed.place).bounds


def _overlap(one: Bounds, other: Bounds) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _reaches_into(square: Bounds, placed: Placed) -> bool:
    """Whether a piece's card lies in a square of the sheet."""
    import shapely

    panels = [panel.outline.transformed(placed.place) for panel in placed.piece.net.panels]
    near = [path for path in panels if _overlap(square, path.bounds)]
    card = [shapely.Polygon(path.points(CARD_CHORD)) for path in near]
    return bool(shapely.intersects(card, shapely.box(*square)).any())


def print_border(pieces: Iterable[Piece], machine: Machine) -> float:
    """The edge of the sheet in mm that printed pieces keep free where there is room: what the
    printer leaves white, and the bleed. 0 where nothing is printed."""
    printed = any(piece.art for piece in pieces)
    return machine.printing.margin + machine.printing.bleed if printed else 0.0


def within_border(
    pieces: Sequence[Piece], machine: Machine, rules: SheetRules, lay: Callable[[SheetRules], Laid]
) -> Laid:
    """What `lay` makes of pieces of one stock by rules whose border is the `print_border`; by those
    that are given where that leaves too little room. Raises PlacementError as `lay` does."""
    border = print_border(pieces, machine)
    try:
        return lay(replace(rules, border=max(rules.border, border)))
    except PlacementError:
        if border <= rules.border:
            raise
    # What is printed may have to reach into the printer's border: the ink says where.
    return lay(rules)


def empty_base(stock: Stock, machine: Machine, rules: SheetRules) -> Base:
    """An empty sheet of a stock on a machine's bed, with room for the tools beside the pieces.

    Raises PlacementError where it does not fit, JobError for a material that the profile has not.
    """
    width, height = sheet_on_bed(stock, machine.bed)
    marks = register_marks(width, height, machine.register)
    tools = tuned(machine, material_for(machine, stock).material)
    beside, border = beside_pieces(tools), rules.border
    left, bottom, right, top = reach(machine, width, height)
    area = (
        max(left + beside, border),
        max(bottom + beside, border),
        min(right - beside, width - border),
        min(top - beside, height - border),
    )
    if area[2] <= area[0] or area[3] <= area[1]:
        raise PlacementError(
            Refusal(
                ("stock", stock.name, "sheet"),
                "is {} × {}, of which a border of {} leaves nothing",
                "value",
                found=[width, height],
                advice="use a larger sheet or a smaller border",
                lengths=to_tenths(width, height, max(area[:2])),
            )
        )
    room = Room(area, tuple(mark.keep_out for mark in marks), rules.gap)
    spare = tuple(
        mark
        for mark in fourth_marks(width, height, machine.register)
        if not any(_overlap(mark.keep_out, other.keep_out) for other in marks)
    )
    return Base(stock, width, height, marks, room, spare, machine.printing.bleed)


def to_tenths(*millimetres: float) -> tuple[float, ...]:
    """Lengths as they are told of sheets and blanks, to 0.1 mm."""
    return tuple(round(each, 1) for each in millimetres)


def sheet_on_bed(stock: Stock, bed: Bed) -> tuple[float, float]:
    """Width and height of a sheet as it lies on the bed, turned if only that fits.

    Raises PlacementError when it fits neither way, with the size it must be trimmed to.
    """
    width, height = stock.sheet
    for wide, high in ((width, height), (height, width)):
        if wide <= bed.width and high <= bed.height:
            return wide, high
    raise PlacementError(
        Refusal(
            ("stock", stock.name, "sheet"),
            "is {} × {}, which does not fit the bed of {} × {}",
            "value",
            found=[width, height],
            advice="trim it and give the new size",
            lengths=to_tenths(width, height, bed.width, bed.height),
        )
    )

"""A picture of a sheet for people: what lies where, and which line means what.

Nothing in it is meant for a machine. Text is drawn as single strokes, so that the picture looks
alike on every computer, whichever fonts it has.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.formats.svg import number, onto_page
from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.single_stroke import drawable, text_width
from cutlayers.pictures.piece_names import piece_names
from cutlayers.pictures.scene import Anchor, Item, Label, Pen, Scene, Shape
from cutlayers.telling.colours import EDGE, GROUND, INK, QUIET_INK, SHADES, WHITE
from cutlayers.telling.lengths import MM_PER, Unit, format_inches

if TYPE_CHECKING:
    from cutlayers.sheets.model import Placed

SHADOW = tuple(zip((1.1, 0.8, 0.5, 0.25), SHADES, strict=True))
"""Spread in steps, and shade: opaque, because see-through shapes treble the time to paint."""

TITLE_CAP, AMOUNT_CAP = 1.25, 0.95
LEGEND_ROW = 5.6
SWATCH, SWATCH_ROOM = 5.0, 6.4
"""Cap heights, the pitch of the legend's rows, and its sample lines, in steps of the layout."""

SCALE_SHARE = 0.3
"""The scale bar is no longer than this share of the sheet's width."""


@frozen
class _Layout:
    """Where things stand, in mm with y up. `step` is the module all furniture is made of."""

    step: float
    width: float
    height: float
    heading: Point
    """Top left of the title."""
    sheet: Point
    """Bottom left of the card."""
    legend: Point
    """Top left of the legend."""
    scale: Point
    """Bottom left of the scale bar."""

    @property
    def flip(self) -> Transform:
        """From here onto the scene, whose y runs down."""
        return onto_page(self.height)


def sheet_scene(drawing: Drawing, unit: Unit = "mm", pieces: Sequence[Placed] = ()) -> Scene:
    """The sheet with its layers, a legend and a scale bar, lengths told in `unit`, and the names
    of the `pieces` on it.

    Layers differ by colour and by dash. The picture's width and height are in mm at the sheet's
    own scale. Titles in letters the lettering lacks lose their accents or show '?' in the
    drawn text; the scene's `title` keeps them.
    """
    layout = _lay_out(drawing, unit)
    items = (
        *_heading(drawing, layout, unit),
        *_sheet(drawing, layout),
        *_names(pieces, layout),
        *_legend(drawing.layers, layout, unit),
        *_scale_bar(drawing.width, layout, unit),
    )
    return Scene(drawing.title, layout.width, layout.height, items, ground=GROUND)


def _lay_out(drawing: Drawing, unit: Unit) -> _Layout:
    # Text must stay legible where the whole picture is shrunk to the width of a web page.
    step = max(drawing.width / 64.0, drawing.height / 90.0)
    margin, gap, head = 4.0 * step, 3.5 * step, 7.0 * step
    column = max(
        18.0 * step,
        SCALE_SHARE * drawing.width,
        *(_legend_width(layer, step, unit) for layer in drawing.layers),
    )
    scale_bar = 4.0 * step
    body = max(drawing.height, len(drawing.layers) * LEGEND_ROW * step + scale_bar)
    side = margin + drawing.width + gap
    return _Layout(
        step=step,
        width=side + column + margin,
        height=margin + body + head + margin,
        heading=(margin, margin + body + head),
        sheet=(margin, margin + body - drawing.height),
        legend=(side, margin + body),
        scale=(side, margin),
    )


def _heading(drawing: Drawing, layout: _Layout, unit: Unit) -> list[Item]:
    """The title, shrunk where it is longer than the picture, and the sheet's size."""
    title, step = drawable(drawing.title), layout.step
    x, top = layout.heading
    room = layout.width - 2.0 * x
    cap = 1.9 * step
    cap *= min(1.0, room / max(text_width(title, cap), room))
    base = top - 1.9 * step
    size = f"Sheet {_side(drawing.width, unit)} \u00d7 {_side(drawing.height, unit)} {unit}"
    return [
        _text(title, cap, (x, base), INK, layout),
        _text(size, 1.15 * step, (x, base - 2.7 * step), QUIET_INK, layout),
    ]


def _side(millimetres: float, unit: Unit) -> str:
    return format_inches(millimetres) if unit == "in" else number(millimetres, 1)


def _sheet(drawing: Drawing, layout: _Layout) -> list[Item]:
    """The card with a soft shadow, and on it every layer."""
    x, y = layout.sheet
    card = Path.rectangle(drawing.width, drawing.height, layout.sheet)
    marks: list[Item] = [
        _area((_grown(drawing, layout, spread * layout.step),), shade, layout)
        for spread, shade in SHADOW
    ]
    marks += [
        _area((card,), WHITE, layout),
        _line((card,), Pen(EDGE, 0.08 * layout.step), layout),
    ]
    place = layout.flip @ Transform.translation(x, y)
    for layer in drawing.layers:
        pen = Pen(layer.colour, 0.17 * layout.step, layer.dash)
        marks.append(Shape(layer.paths, None, pen, place, name=layer.name))
    return marks


def _grown(drawing: Drawing, layout: _Layout, by: float) -> Path:
    """The card's shape grown on all sides and sunk a little, as a shadow falls."""
    x, y = layout.sheet[0] - by, layout.sheet[1] - by - 0.25 * layout.step
    right, top = x + drawing.width + 2.0 * by, y + drawing.height + 2.0 * by
    return rounded(((x, y), (right, y), (right, top), (x, top)), (by,) * 4)


def _names(pieces: Sequence[Placed], layout: _Layout) -> Iterator[Label]:
    onto = layout.flip @ Transform.translation(*layout.sheet)
    for name in piece_names(pieces, layout.step):
        at = onto.apply(name.start)
        yield Label(name.lines, at, name.cap, QUIET_INK, "middle", turned=name.turned)


def _legend(layers: Iterable[Layer], layout: _Layout, unit: Unit) -> list[Item]:
    """For each layer its line, its title, and how much of it there is."""
    step = layout.step
    x, y = layout.legend
    marks: list[Item] = []
    for layer in layers:
        amount = _amount(layer, unit)
        base = y - 1.25 * step
        middle = base + 0.6 * step
        swatch = Path.line((x, middle), (x + SWATCH * step, middle))
        text = x + SWATCH_ROOM * step
        marks += [
            _line((swatch,), Pen(layer.colour, 0.3 * step, layer.dash), layout),
            _text(layer.title, TITLE_CAP * step, (text, base), INK, layout),
            _text(amount, AMOUNT_CAP * step, (text, base - 2.1 * step), QUIET_INK, layout),
        ]
        y -= LEGEND_ROW * step
    return marks


def _legend_width(layer: Layer, step: float, unit: Unit) -> float:
    title = text_width(drawable(layer.title), TITLE_CAP * step)
    return SWATCH_ROOM * step + max(title, text_width(_amount(layer, unit), AMOUNT_CAP * step))


def _amount(layer: Layer, unit: Unit) -> str:
    """How many lines there are on a layer and how long they are together."""
    if not layer.paths:
        return "no lines on this sheet"
    count = len(layer.paths)
    length = math.fsum(path.length for path in layer.paths) / MM_PER[unit]
    return f"{count} line{'' if count == 1 else 's'}, {length:.{1 if unit == 'in' else 0}f} {unit}"


def _scale_bar(sheet_width: float, layout: _Layout, unit: Unit) -> list[Item]:
    """A bar of a round length, dark and light: in five fields of mm, in four of inches, which
    rulers halve."""
    step = layout.step
    x, y = layout.scale
    told = _round_length(SCALE_SHARE * sheet_width / MM_PER[unit], unit)
    length, fields = told * MM_PER[unit], 4 if unit == "in" else 5
    field, height, base = length / fields, 0.6 * step, y + 1.4 * step
    dark = tuple(Path.rectangle(field, height, (x + i * field, y)) for i in range(0, fields, 2))
    bar = Path.rectangle(length, height, (x, y))
    return [
        _area((bar,), WHITE, layout),
        _area(dark, INK, layout),
        _line((bar,), Pen(INK, 0.09 * step), layout),
        _text("0", AMOUNT_CAP * step, (x, base), QUIET_INK, layout),
        _text(
            f"{_scale(told, unit)} {unit}",
            AMOUNT_CAP * step,
            (x + length, base),
            QUIET_INK,
            layout,
            "end",
        ),
    ]


def _scale(told: float, unit: Unit) -> str:
    return format_inches(told * MM_PER["in"]) if unit == "in" else number(told)


def _round_length(longest: float, unit: Unit) -> float:
    """The longest of 1, 2, 5, 10, 20, 50 … that is no longer than `longest`; of inches, the
    longest of 1/4, 1/2, 1, 2, 4 …"""
    if unit == "in":
        return 2.0 ** math.floor(math.log2(longest))
    decade = 10.0 ** math.floor(math.log10(longest))
    return max(part * decade for part in (1.0, 2.0, 5.0) if part * decade <= longest)


def _area(paths: tuple[Path, ...], colour: str, layout: _Layout) -> Shape:
    return Shape(paths, colour, onto=layout.flip)


def _line(paths: tuple[Path, ...], pen: Pen, layout: _Layout, name: str = "") -> Shape:
    return Shape(paths, None, pen, layout.flip, name=name)


def _text(
    text: str, cap: float, at: Point, colour: str, layout: _Layout, anchor: Anchor = "start"
) -> Label:
    return Label((text,), layout.flip.apply(at), cap, colour, anchor)

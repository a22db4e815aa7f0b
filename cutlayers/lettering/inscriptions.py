"""Lettering on a panel: sized to fit it, clear of its holes, upright in the finished box.

The text is held in a box round its lines, turned with it. The box must lie within the panel less a
margin on all sides, also round holes and slits. Where no height is asked for, the largest that fits
is taken.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path as FilePath
from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.glyphs import TYPEFACE, Typeface
from cutlayers.lettering.room import Align, aligned, largest, places, room, turned
from cutlayers.lettering.single_stroke import letter, unsupported
from cutlayers.net import Feature, Net, Panel, Work
from cutlayers.reading.declared import Key, Length, Text, Word, a_file
from cutlayers.reading.values import read_text
from cutlayers.telling.errors import LetteringError, StyleError
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal, verbatim
from cutlayers.telling.written import shown

Made = Literal["draw", "cut"]
Turn = Literal["upright", 0, 90, 180, 270]

WayUp = Callable[[Net, Panel], Point]
"""The flat direction that points up on the finished box, or away from the viewer on a panel that
lies level, as a unit vector."""

LEAST_HEIGHT = 1.5
"""mm of a capital; a pen of ordinary width blots smaller letters."""

ROUNDED = 9
"""Decimals of a degree to which the way up is rounded, so that quarter turns are such."""


def _read_line(value: object) -> str:
    """A text; in a kit, a row may leave it empty."""
    return "" if value == "" else read_text(value)


@frozen
class Inscription:
    """A line of text on a panel; lengths are mm. Only letters from a font can be cut.

    Example:

        [[piece.lettering]]
        panel = "front"
        text = "Ida"
        height = 5
        face = "script"
        as = "draw"
        align = "left"
        turn = "upright"
        margin = 4

        [[piece.lettering]]
        panel = "base"
        text = "OB"
        file = "letters.ttf"
        as = "cut"
        bridge = 1.5
    """

    text: Annotated[
        str,
        Text("what to write; in a kit, {COLUMN} stands for a row's own text", _read_line),
    ]
    panel: Annotated[
        str, Text("a panel of the net; NET.PANEL where two nets have one of that name")
    ]
    height: Annotated[
        float | None, Length(0.5, 500.0, "of a capital; as large as fits if not given")
    ] = None
    face: Annotated[Typeface, Word("letters drawn stroke by stroke")] = TYPEFACE
    file: Annotated[
        FilePath | None,
        a_file("a TTF or OTF font to take instead of a face, from where the job is"),
    ] = None
    made: Annotated[
        Made, Key("as"), Word("draw the letters, or cut them out (only from a font)")
    ] = "draw"
    align: Annotated[Align, Word("where on the panel, along the text")] = "middle"
    turn: Annotated[
        Turn,
        Word(
            "upright in the finished box, or degrees to the left on the flat panel",
            ("upright", 0, 90, 180, 270),
        ),
    ] = "upright"
    margin: Annotated[float, Length(0.0, 100.0, "kept free along the panel's edges")] = 3.0
    bridge: Annotated[
        float, Length(0.2, 20.0, "width of the bridges that hold the insides of cut letters")
    ] = 1.0


def inscribed(nets: Sequence[Net], inscription: Inscription, way_up: WayUp) -> tuple[Net, ...]:
    """The nets with the text on its panel; a text of spaces changes nothing.

    `way_up` is asked where the text is to stand upright.

    Raises StyleError, whose field is that of the inscription, for a panel that is not there, for
    letters that the face or font lacks, and where there is no room.
    """
    index, panel = _find(nets, inscription.panel)
    if not inscription.text.strip():
        return tuple(nets)
    draw = _letters(inscription)
    turn_deg = _turn_deg(nets[index], panel, inscription, way_up)
    paths = _fitted(draw, panel, inscription, turn_deg)
    work = Work.WINDOW if inscription.made == "cut" else Work.GUIDE
    name = f"lettering {inscription.text}"
    features = [Feature(work, path, name, traced=True, turn_deg=turn_deg) for path in paths]
    changed = nets[index].work(panel.name, *features)
    return tuple(changed if i == index else net for i, net in enumerate(nets))


def _turn_deg(net: Net, panel: Panel, inscription: Inscription, way_up: WayUp) -> float:
    """How far the text is turned to the left on the flat net, 0 ≤ angle < 360."""
    if inscription.turn != "upright":
        return inscription.turn
    x, y = way_up(net, panel)
    return round(math.degrees(math.atan2(-x, y)), ROUNDED) % 360.0


def _find(nets: Sequence[Net], name: str) -> tuple[int, Panel]:
    found = [
        (index, panel)
        for index, net in enumerate(nets)
        for panel in net.panels
        if name in (panel.name, f"{net.name}.{panel.name}")
    ]
    if len(found) == 1:
        return found[0]
    full = [f"{net.name}.{panel.name}" for net in nets for panel in net.panels]
    if found:
        both = tuple(f"{nets[index].name}.{panel.name}" for index, panel in found)
        reason = f"is {shown(name)}, which is on more than one net"
        raise StyleError("panel", Refusal((), reason, "value", found=name, allowed=both))
    known = full if len(nets) > 1 else [panel.name for panel in nets[0].panels]
    refused = Refusal(fault="value", found=name, allowed=tuple(known), nearest=nearest(name, known))
    raise StyleError("panel", refused)


def _letters(inscription: Inscription) -> Callable[[float], tuple[Path, ...]]:
    """The function that draws the text for a height of capitals, its start at the origin."""
    text, file = inscription.text, inscription.file
    if file is None:
        if inscription.made == "cut":
            reason = 'is "cut", but letters of one stroke cannot be cut out'
            advice = "name a font as file"
            raise StyleError("as", Refusal((), reason, "value", found="cut", advice=advice))
        if missing := unsupported(text, inscription.face):
            face = f"face {shown(inscription.face)}"
            raise _lacking(text, missing, face, _other_font(text, "a font"))
        return lambda height: letter(text, height, face=inscription.face)
    from cutlayers.lettering.filled_letters import cut_letters, drawn_letters
    from cutlayers.lettering.outlines import read_font

    try:
        font = read_font(file)
    except LetteringError as error:
        inside = replace(error.refusals[0], file="")
        raise StyleError("file", Refusal(found=file.name, inside=inside)) from None
    if missing := font.missing(text):
        raise _lacking(text, missing, f"font {font.name}", _other_font(text, "another font"))
    if inscription.made == "draw":
        return lambda height: drawn_letters(text, height, font)
    return lambda height: cut_letters(text, height, font, inscription.bridge)


def _other_font(text: str, other: str) -> str:
    """What to do about letters that are lacking."""
    from cutlayers.lettering.installed import font_with

    installed = font_with("".join(text.split()))
    has_all = "" if installed is None else f"; {installed} has all of them"
    return f"spell it otherwise or name {other} as file{has_all}"


def _lacking(text: str, missing: str, letters: str, advice: str) -> StyleError:
    reason = f"is {shown(text)}, but the {letters} lacks {', '.join(missing)}"
    return StyleError("text", Refusal((), reason, "value", found=text, advice=advice))


def _fitted(
    draw: Callable[[float], tuple[Path, ...]],
    panel: Panel,
    inscription: Inscription,
    turn_deg: float,
) -> tuple[Path, ...]:
    # Room is looked for in the panel turned back by quarter turns and what is left over.
    quarter = round(turn_deg / 90.0) * 90.0
    turn, askew = Transform.rotation(quarter), Transform.rotation(turn_deg - quarter)
    sample = [path.transformed(turn) for path in _measured(draw, inscription)]
    box = union_bounds(path.bounds for path in sample)
    wide, high = (box[2] - box[0]) / _SAMPLE, (box[3] - box[1]) / _SAMPLE
    level = panel if turn_deg == quarter else turned(panel, askew.inverse())
    free = room(level, inscription.margin)
    height = inscription.height or largest(free, wide, high)
    centres = places(free, wide * height, high * height)
    if height < LEAST_HEIGHT or not len(centres):
        raise _no_room(inscription, panel, (wide, high), largest(free, wide, high))
    x, y = aligned(centres, level.outline.bounds, inscription.align, quarter)
    try:
        paths = [path.transformed(turn) for path in draw(height)]
    except LetteringError as error:
        refused = Refusal(found=inscription.text, inside=error.refusals[0])
        raise StyleError("text", refused) from None
    left, bottom, right, top = union_bounds(path.bounds for path in paths)
    move = Transform.translation(x - (left + right) / 2, y - (bottom + top) / 2)
    if turn_deg != quarter:
        move = askew @ move
    return tuple(path.transformed(move) for path in paths)


_SAMPLE = 20.0
"""mm; a height at which the proportions of a text are measured."""


def _measured(
    draw: Callable[[float], tuple[Path, ...]], inscription: Inscription
) -> tuple[Path, ...]:
    text = inscription.text
    try:
        paths = draw(_SAMPLE)
    except LetteringError as error:
        raise StyleError("text", Refusal(found=text, inside=error.refusals[0])) from None
    if not paths:
        raise StyleError(
            "text", Refusal((), f"is {shown(text)}, of which nothing is seen", "value")
        )
    return paths


def _no_room(
    inscription: Inscription, panel: Panel, sides: tuple[float, float], highest: float
) -> StyleError:
    """The refusal of a text whose sides, a mm of its height, fit on a panel up to that height."""
    height = inscription.height or LEAST_HEIGHT
    wide, high = (round(side * height, 1) for side in sides)
    start = "is {}" if inscription.height else f"is {verbatim(shown(inscription.text))}"
    reason = (
        f"{start}; {{}} high the text is {{}} × {{}}, too large for panel "
        f"{verbatim(shown(panel.name))} with a margin of {{}}; "
    )
    lengths: tuple[float, ...] = (height, wide, high, inscription.margin)
    if highest >= LEAST_HEIGHT:
        reason += "it fits up to {} high"
        # What is told has to fit, so it is never rounded up.
        lengths += (math.floor(highest * 10) / 10,)
    else:
        reason += "no legible size fits"
    if inscription.height:
        return StyleError("height", reason, lengths=(height, *lengths))
    return StyleError("text", reason, lengths=lengths)

"""How a machine's files are written and its sheets marked and printed: plain values, checked.

Lengths are mm, angles degrees.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.reading.declared import (
    Day,
    Flag,
    Length,
    Number,
    Several,
    Whole,
    Word,
    a_colour,
    a_layer,
)
from cutlayers.telling.colours import BLACK

TESTED_ON = Day("day of the last trial, 2026-03-01")
DXF_COLOUR = Whole(1, 255, "DXF colour number of the layer")
CURVES = Word("write curves as arcs or as short lines")
TOLERANCE = Length(0.001, 0.5, "how far a line may stray from the arc it stands for")
BLEED = Length(0, 20, "how far ink runs past cut edges")
DPI = Whole(72, 1200, "dots per inch of the PNG to print")


@frozen
class RegisterPlan:
    """Register marks: their shape, overall size, distance from the sheet's edge to the mark's
    centre, and the free space to keep round each. Without a `count` there are three, and a fourth
    wherever a sheet's pieces leave room for it.

    Example:

        [register]
        shape = "target"
        size = 7
        from_edge = 12
        keep_out = 3
        count = 4
        layer = "MARKS"
        colour = "#000000"
        dxf_colour = 7
        shift_x = 0.2
        shift_y = -0.1
        tested_on = 2026-03-01
    """

    shape: Annotated[
        Literal["target", "dot", "corner", "none"],
        Word("a cross in a circle, a dot, a corner tick, or no marks"),
    ] = "target"
    size: Annotated[float, Length(2, 50, "overall size of a mark")] = 8.0
    from_edge: Annotated[float, Length(1, 200, "from the sheet's edge to the mark's middle")] = 12.0
    keep_out: Annotated[float, Length(0, 50, "free space to keep around each mark")] = 2.0
    count: Annotated[
        int | None,
        Whole(3, 4, "how many marks; without it three, and a fourth where there is room"),
    ] = None
    layer: Annotated[str, a_layer("name of the layer")] = "register"
    colour: Annotated[str, a_colour("colour of the layer, #RRGGBB")] = BLACK
    dxf_colour: Annotated[int, DXF_COLOUR] = 7
    shift_x: Annotated[
        float, Length(-10, 10, "how far work lands right of its place beside the marks")
    ] = 0.0
    shift_y: Annotated[
        float, Length(-10, 10, "the same, upwards; files are moved back by both")
    ] = 0.0
    tested_on: Annotated[date | None, TESTED_ON] = None


@frozen
class PrintSettings:
    """How sheets with art are printed, to be cut along their marks afterwards.

    `rule_across` and `rule_up` are what the printed check rule of 100 mm measures; print files
    are corrected by them, cut files never.

    Example:

        [print]
        margin = 4
        bleed = 2
        safe_margin = 3
        dpi = 200
        rule_across = 99.7
        rule_up = 100.1
    """

    margin: Annotated[float, Length(0, 50, "border that the printer leaves white")] = 5.0
    bleed: Annotated[float, BLEED] = 3.0
    safe_margin: Annotated[
        float, Length(0, 50, "how far lettering and pictures keep from a panel's edges")
    ] = 3.0
    dpi: Annotated[int, DPI] = 300
    rule_across: Annotated[
        float, Length(95, 105, "what the printed 100 mm rule across the sheet measures")
    ] = 100.0
    rule_up: Annotated[
        float, Length(95, 105, "what the printed 100 mm rule up the sheet measures")
    ] = 100.0


@frozen
class DxfSettings:
    """How DXF files are written.

    Example:

        [dxf]
        version = "R2004"
        curves = "lines"
        tolerance = 0.05
    """

    version: Annotated[
        Literal["R12", "R2000", "R2004"],
        Word("R12 where nothing newer opens; R2004 for true colours"),
    ] = "R2000"
    curves: Annotated[Literal["arcs", "lines"], CURVES] = "arcs"
    tolerance: Annotated[float, TOLERANCE] = 0.02


@frozen
class SvgSettings:
    """How SVG files are written: in mm, or in pixels of 1/72, 1/90 or 1/96 inch.

    Example:

        [svg]
        units = "px"
        pixels_per_inch = 72
        curves = "lines"
        tolerance = 0.05
    """

    units: Annotated[
        Literal["mm", "px"], Word("mm, or pixels where your program ignores units")
    ] = "mm"
    pixels_per_inch: Annotated[Literal[72, 90, 96], Word("what px means to your program")] = 96
    curves: Annotated[Literal["arcs", "lines"], CURVES] = "arcs"
    tolerance: Annotated[float, TOLERANCE] = 0.02


@frozen
class FilesPlan:
    """Which files a sheet becomes.

    Example:

        [files]
        formats = ["dxf", "svg", "fold"]
        split = "operations"
        order = "any"
    """

    formats: Annotated[
        tuple[Annotated[Literal["dxf", "svg", "fold"], Word()], ...],
        Several(
            "which formats to write; fold, the box folded up, is for other programs", needed=True
        ),
    ] = ("dxf", "svg")
    split: Annotated[
        Literal["layers", "operations", "tools"],
        Word("one file with all layers, or one for each operation, or one for each tool"),
    ] = "layers"
    order: Annotated[
        Literal["kept", "any"],
        Word("whether your machine keeps the order of a file's lines, or takes them in any"),
    ] = "kept"


@frozen
class Correction:
    """How far a machine's own movement is from true, found by the trial `squareness`.

    Told to go (x, y), it goes to (x_scale·x + y_scale·sin(skew)·y, y_scale·cos(skew)·y): its y
    axis leans to the right by the skew. Later files undo this where `apply` is set.

    Example:

        [correction]
        apply = true
        x_scale = 1.002
        y_scale = 0.999
        skew_deg = 0.1
        tested_on = 2026-03-01
    """

    apply: Annotated[bool, Flag("undo it in the files that are written")] = False
    x_scale: Annotated[float, Number(0.9, 1.1, "", "way gone over way told, across")] = 1.0
    y_scale: Annotated[float, Number(0.9, 1.1, "", "way gone over way told, up the sheet")] = 1.0
    skew_deg: Annotated[
        float, Number(-5, 5, "degrees", "how far the way up leans to the right")
    ] = 0.0
    tested_on: Annotated[date | None, TESTED_ON] = None

"""The machine profile's tables as pydantic models; their descriptions are the documentation.

Only what one value can say is checked here: types, limits, known keys. How tools and operations
go together is `profile.py`'s.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal, get_args

from pydantic import ConfigDict, Field

from cutlayers.job.stock import HAZARDS
from cutlayers.profile.machine import (
    TOOL_CHANGE_S,
    Bridges,
    Correction,
    DxfSettings,
    FilesPlan,
    Method,
    Perforation,
    PrintSettings,
    RegisterPlan,
    Scoring,
    SvgSettings,
    Tool,
    ToolType,
)
from cutlayers.reading import values
from cutlayers.reading.table_model import Reads, Table, day, flag, length, number, text, whole, word

Curves = Literal["arcs", "lines"]
Format = Literal["dxf", "svg"]

_TOOL = Tool("", ToolType.PEN)  # the defaults of every field, in one place
_TYPES = [str(kind) for kind in ToolType]
_TOOL_TYPE = Reads(
    lambda value, _unit: ToolType(str(values.read_choice(value, _TYPES))), {"enum": _TYPES}
)
_METHODS = [str(method) for method in Method if method is not Method.TOOL]
_METHOD = Reads(
    lambda value, _unit: Method(str(values.read_choice(value, _METHODS))), {"enum": _METHODS}
)
_LAYER = text("^[A-Za-z][A-Za-z0-9_-]{0,30}$", values.read_layer)
_COLOUR = text("^#[0-9A-Fa-f]{6}$", values.read_colour)
_SETTING = Reads(lambda value, _unit: values.read_setting(value), {"type": ["number", "string"]})

Chord = Annotated[
    float,
    length(0.001, 0.5),
    Field(description="how far a line may stray from the arc it stands for"),
]
Bends = Annotated[
    Curves, word(get_args(Curves)), Field(description="write curves as arcs or as short lines")
]
Tested = Annotated[date | None, day(), Field(description="day of the last trial, 2026-03-01")]
Note = Annotated[str | None, text(), Field(description="a line for yourself")]
DxfColour = Annotated[
    int | None, whole(1, 255), Field(description="DXF colour number of the layer")
]


class BedTable(Table):
    """What the machine can reach."""

    width: Annotated[float, length(30, 5000), Field(description="widest sheet or mat that goes in")]
    height: Annotated[
        float, length(30, 5000), Field(description="longest sheet or mat that goes in")
    ]
    margin: Annotated[
        float, length(0, 500), Field(description="border of the sheet that no tool reaches")
    ] = 0.0


class ToolTable(Table):
    """One tool, or one way of using it, under a name of your own."""

    type: Annotated[ToolType, _TOOL_TYPE, Field(description="what kind of tool it is")]
    kerf: Annotated[
        float | None,
        length(0, 2),
        Field(description="full width that is cut away; laser (required) and wheel"),
    ] = None
    offset: Annotated[
        float | None,
        length(0, 2),
        Field(description="how far the blade's tip trails its axis; drag-blade (required)"),
    ] = None
    overcut: Annotated[
        float,
        length(0, 10),
        Field(description="how far a closed cut runs past its start; drag-blade, laser, wheel"),
    ] = _TOOL.overcut
    corner_angle_deg: Annotated[
        float,
        number(1, 179, "degrees"),
        Field(description="turns sharper than this get a swivel; drag-blade"),
    ] = _TOOL.corner_angle_deg
    swivel: Annotated[
        Literal["path", "machine"],
        word(("path", "machine")),
        Field(description="who swings the blade at corners: our path or the machine; drag-blade"),
    ] = _TOOL.swivel
    rest_angle_deg: Annotated[
        float,
        number(-360, 360, "degrees"),
        Field(
            description="where the blade points before its first cut: 0 right, 90 up; drag-blade"
        ),
    ] = _TOOL.rest_angle_deg
    sharpest_deg: Annotated[
        float,
        number(0, 90, "degrees"),
        Field(description="sharpest point of card that the blade does not tear; drag-blade"),
    ] = _TOOL.sharpest_deg
    finest: Annotated[
        float,
        length(0, 10),
        Field(
            description="narrowest gap or strip it makes, 0: its kerf or offset; "
            "drag-blade, laser, wheel"
        ),
    ] = _TOOL.finest
    speed_mm_s: Annotated[
        float, number(0.1, 5000, "mm/s"), Field(description="speed while working")
    ] = _TOOL.speed_mm_s
    idle_speed_mm_s: Annotated[
        float, number(0.1, 5000, "mm/s"), Field(description="speed while lifted or off")
    ] = _TOOL.idle_speed_mm_s
    acceleration_mm_s2: Annotated[
        float, number(1, 100_000, "mm/s²"), Field(description="how quickly it gains speed")
    ] = _TOOL.acceleration_mm_s2
    lift_s: Annotated[
        float, number(0, 10, "s"), Field(description="time for one lift and one lowering")
    ] = _TOOL.lift_s
    line_width: Annotated[
        float, length(0, 5), Field(description="width of its line, 0 where not known; pen")
    ] = _TOOL.line_width
    smallest_letters: Annotated[
        float,
        length(0, 50),
        Field(description="capitals at least this high can be read, 0 where not known; pen"),
    ] = _TOOL.smallest_letters
    holder: Annotated[
        str | None, text(), Field(description="where it sits in the machine, such as left")
    ] = None
    tested_on: Tested = None
    note: Note = None


class PerforationTable(Table):
    """A row of short cuts."""

    cut: Annotated[float, length(0.2, 50), Field(description="length of each cut")] = (
        Perforation().cut
    )
    tie: Annotated[float, length(0.1, 50), Field(description="card left between two cuts")] = (
        Perforation().tie
    )
    minimum_tie: Annotated[
        float, length(0.05, 50), Field(description="least tie that holds, when a row is fitted")
    ] = Perforation().minimum_tie


class ScoringTable(Table):
    """How scores end, and from which side they are worked."""

    pull_back: Annotated[
        float, length(0, 20), Field(description="left unscored where a score meets a cut")
    ] = Scoring().pull_back
    tick: Annotated[
        float, length(0.5, 50), Field(description='length of the ticks, with as = "ticks"')
    ] = Scoring().tick
    valleys: Annotated[
        Literal["front", "back"],
        word(("front", "back")),
        Field(description="the side from which folds towards you are scored"),
    ] = Scoring().valleys
    turn: Annotated[
        Literal["left-right", "top-bottom"],
        word(("left-right", "top-bottom")),
        Field(description="how you turn the sheet over for the back"),
    ] = Scoring().turn


class BridgesTable(Table):
    """Places where outlines stay uncut, so that pieces keep still."""

    width: Annotated[float, length(0.1, 20), Field(description="card that holds")] = Bridges().width
    count: Annotated[int | None, whole(1, 200), Field(description="how many on each outline")] = (
        None
    )
    spacing: Annotated[
        float | None, length(5, 5000), Field(description="farthest from one to the next")
    ] = None


class OperationTable(Table):
    """How one operation is done: by a tool or as something else."""

    tool: Annotated[
        str | None, text(), Field(description="the NAME of one of the [tools.NAME] tables")
    ] = None
    as_: Annotated[
        Method | None,
        _METHOD,
        Field(alias="as", description="done without a tool of its own; not for cut"),
    ] = None
    passes: Annotated[
        int, whole(1, 20), Field(description="how often the tool goes over each line")
    ] = 1
    layer: Annotated[
        str | None, _LAYER, Field(description="name of the layer; the operation's by default")
    ] = None
    colour: Annotated[str | None, _COLOUR, Field(description="colour of the layer, #RRGGBB")] = None
    dxf_colour: DxfColour = None
    perforation: Annotated[
        PerforationTable | None,
        Field(description="cuts and ties, where the operation perforates"),
    ] = None
    scoring: Annotated[
        ScoringTable | None, Field(description="ends and sides of scores; only for score")
    ] = None
    bridges: Annotated[
        BridgesTable | None,
        Field(description="what holds pieces without a sticky mat; only for cut"),
    ] = None


class OperationsTable(Table):
    """The work, in the order in which it is done."""

    draw: Annotated[
        OperationTable | None,
        Field(description="pen or laser; by default your only pen, or by hand without one"),
    ] = None
    score: Annotated[
        OperationTable | None,
        Field(description="stylus, wheel or laser; by default your only stylus, or by hand"),
    ] = None
    perforate: Annotated[
        OperationTable | None,
        Field(description="drag-blade, wheel or laser; by default the tool of cut"),
    ] = None
    cut: Annotated[
        OperationTable, Field(description="drag-blade, wheel or laser; its tool must be named")
    ]


class MaterialUseTable(Table):
    """What you found to work for one operation; further keys are settings of your own.

    A free name that is nearly one of these keys is taken for a slip (`profile_checks.py`).
    """

    model_config = ConfigDict(extra="allow", frozen=True)
    __pydantic_extra__: dict[str, Annotated[float | str, _SETTING]]

    tool: Annotated[
        str | None, text(), Field(description="another of the [tools.NAME] tables, for this card")
    ] = None
    passes: Annotated[
        int | None, whole(1, 20), Field(description="how often the tool goes over each line")
    ] = None
    kerf: Annotated[
        float | None,
        length(0, 2),
        Field(description="full width that is cut away from this card; laser and wheel, cut only"),
    ] = None
    perforation: Annotated[
        PerforationTable | None,
        Field(description="cuts and ties for this card; perforate, and score by perforation"),
    ] = None
    tested_on: Tested = None
    note: Note = None


Use = Annotated[
    MaterialUseTable | None,
    Field(description="settings of your own by name, and the keys below"),
]


class MaterialTable(Table):
    """What you found to work for one card, for each operation."""

    grammage: Annotated[
        float | None,
        number(10.0, 2000.0, "g/m²"),
        Field(description="weight, by which a stock without settings finds the nearest card"),
    ] = None
    contains: Annotated[
        tuple[Annotated[str, word(HAZARDS)], ...],
        Field(description="what a laser must not meet, as for a job's stock"),
    ] = ()
    note: Note = None
    draw: Use = None
    score: Use = None
    perforate: Use = None
    cut: Use = None


class RegisterTable(Table):
    """Marks that tell where the sheet lies."""

    shape: Annotated[
        Literal["target", "dot", "corner", "none"],
        word(("target", "dot", "corner", "none")),
        Field(description="a cross in a circle, a dot, a corner tick, or no marks"),
    ] = RegisterPlan().shape
    size: Annotated[float, length(2, 50), Field(description="overall size of a mark")] = (
        RegisterPlan().size
    )
    inset: Annotated[
        float, length(1, 200), Field(description="from the sheet's edge to the mark's middle")
    ] = RegisterPlan().inset
    keep_out: Annotated[
        float, length(0, 50), Field(description="free space to keep around each mark")
    ] = RegisterPlan().keep_out
    count: Annotated[int, whole(3, 4), Field(description="how many marks")] = RegisterPlan().count
    layer: Annotated[str, _LAYER, Field(description="name of the layer")] = RegisterPlan().layer
    colour: Annotated[str, _COLOUR, Field(description="colour of the layer, #RRGGBB")] = (
        RegisterPlan().colour
    )
    dxf_colour: Annotated[
        int, whole(1, 255), Field(description="DXF colour number of the layer")
    ] = RegisterPlan().dxf_colour
    shift_x: Annotated[
        float,
        length(-10, 10),
        Field(description="how far work lands right of its place beside the marks"),
    ] = 0.0
    shift_y: Annotated[
        float, length(-10, 10), Field(description="the same, upwards; files are moved back by both")
    ] = 0.0
    tested_on: Tested = None


class PrintTable(Table):
    """The printer, for sheets that are printed first and cut along their marks."""

    margin: Annotated[
        float, length(0, 50), Field(description="border that the printer leaves white")
    ] = PrintSettings().margin
    bleed: Annotated[float, length(0, 20), Field(description="how far ink runs past cut edges")] = (
        PrintSettings().bleed
    )
    safe_margin: Annotated[
        float,
        length(0, 50),
        Field(description="how far lettering and pictures keep from a panel's edges"),
    ] = PrintSettings().safe_margin
    dpi: Annotated[int, whole(72, 1200), Field(description="dots per inch of the PNG to print")] = (
        PrintSettings().dpi
    )
    rule_across: Annotated[
        float,
        length(95, 105),
        Field(description="what the printed 100 mm rule across the sheet measures"),
    ] = PrintSettings().rule_across
    rule_up: Annotated[
        float,
        length(95, 105),
        Field(description="what the printed 100 mm rule up the sheet measures"),
    ] = PrintSettings().rule_up


class DxfTable(Table):
    """How DXF files are written."""

    version: Annotated[
        Literal["R12", "R2000", "R2004"],
        word(("R12", "R2000", "R2004")),
        Field(description="R12 where nothing newer opens; R2004 for true colours"),
    ] = DxfSettings().version
    curves: Bends = DxfSettings().curves
    tolerance: Chord = DxfSettings().tolerance


class SvgTable(Table):
    """How SVG files are written."""

    units: Annotated[
        Literal["mm", "px"],
        word(("mm", "px")),
        Field(description="mm, or pixels where your program ignores units"),
    ] = SvgSettings().units
    pixels_per_inch: Annotated[
        Literal[72, 90, 96], word((72, 90, 96)), Field(description="what px means to your program")
    ] = SvgSettings().pixels_per_inch
    curves: Bends = SvgSettings().curves
    tolerance: Chord = SvgSettings().tolerance


class FilesTable(Table):
    """Which files a sheet becomes."""

    formats: Annotated[
        tuple[Annotated[Format, word(get_args(Format))], ...],
        Field(description="which formats to write", min_length=1),
    ] = FilesPlan().formats
    split: Annotated[
        Literal["layers", "operations"],
        word(("layers", "operations")),
        Field(description="one file with a layer for each operation, or a file for each"),
    ] = FilesPlan().split


class CorrectionTable(Table):
    """How far the machine's own movement is from true, found by the trial `squareness`."""

    apply: Annotated[bool, flag(), Field(description="undo it in the files that are written")] = (
        Correction().apply
    )
    x_scale: Annotated[
        float, number(0.9, 1.1, ""), Field(description="way gone over way told, across")
    ] = Correction().x_scale
    y_scale: Annotated[
        float, number(0.9, 1.1, ""), Field(description="way gone over way told, up the sheet")
    ] = Correction().y_scale
    skew_deg: Annotated[
        float, number(-5, 5, "degrees"), Field(description="how far the way up leans to the right")
    ] = Correction().skew_deg
    tested_on: Tested = None


class TrialTable(Table):
    """A trial that was recorded; kept for you to look back, and read by nothing else."""

    kind: Annotated[str, text(), Field(description="which trial")]
    tested_on: Annotated[date, day(), Field(description="when")]
    material: Annotated[str | None, text(), Field(description="on which card")] = None
    readings: Annotated[
        tuple[Annotated[str, text()], ...], Field(description="what was read, name=value")
    ] = ()
    results: Annotated[
        tuple[Annotated[str, text()], ...], Field(description="what came of it")
    ] = ()


class ProfileTable(Table):
    """A whole profile."""

    title: Annotated[str, text(), Field(description="what you call the machine")]
    bed: Annotated[BedTable, Field(description="what the machine can reach")]
    tools: Annotated[
        dict[Annotated[str, text()], ToolTable],
        Field(description="a table [tools.NAME] for each tool", min_length=1),
    ]
    operations: Annotated[OperationsTable, Field(description="how each operation is done")]
    tool_change_s: Annotated[
        float, number(0, 3600, "s"), Field(description="time to put in another tool")
    ] = TOOL_CHANGE_S
    materials: Annotated[
        dict[Annotated[str, text()], MaterialTable],
        Field(description="your settings for each card", default_factory=dict),
    ]
    register_: Annotated[
        RegisterTable, Field(alias="register", description="marks that tell where the sheet lies")
    ] = RegisterTable()
    print_: Annotated[
        PrintTable, Field(alias="print", description="the printer, for sheets with art")
    ] = PrintTable()
    dxf: Annotated[DxfTable, Field(description="how DXF files are written")] = DxfTable()
    svg: Annotated[SvgTable, Field(description="how SVG files are written")] = SvgTable()
    files: Annotated[FilesTable, Field(description="which files a sheet becomes")] = FilesTable()
    correction: Annotated[
        CorrectionTable, Field(description="how far the machine's movement is from true")
    ] = CorrectionTable()
    trials: Annotated[
        tuple[TrialTable, ...], Field(description="the trials recorded so far, [[trials]]")
    ] = ()

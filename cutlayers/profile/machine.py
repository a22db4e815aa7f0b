"""A cutting machine as the rest of the package sees it: plain values, already checked.

Each field says what the file may have for it; `reading.py` reads it.
Speeds are mm/s, times s, angles degrees, everything else mm unless the name says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import HAZARDS
from cutlayers.profile.notation import COLOURS
from cutlayers.profile.output import (
    TESTED_ON,
    Correction,
    DxfSettings,
    FilesPlan,
    PrintSettings,
    RegisterPlan,
    SvgSettings,
)
from cutlayers.reading.declared import (
    Inner,
    Key,
    Length,
    Named,
    Number,
    OwnName,
    Rest,
    Several,
    Special,
    Spread,
    Text,
    Whole,
    Word,
)
from cutlayers.reading.values import read_setting
from cutlayers.telling.colours import DXF_COLOURS

NOTE = Text("a line for yourself")
PASSES = Whole(1, 20, "how often the tool goes over each line")
SETTING = Special("", lambda value, _unit: read_setting(value), {"type": ["number", "string"]})


class ToolType(StrEnum):
    """What kind of tool sits in the holder; it decides how strokes become toolpaths."""

    DRAG_BLADE = "drag-blade"
    LASER = "laser"
    WHEEL = "wheel"
    PEN = "pen"
    STYLUS = "stylus"


class Method(StrEnum):
    """How an operation is carried out."""

    TOOL = "tool"
    PERFORATE = "perforate"
    """By short cuts in a row, with the tool of the perforate operation."""
    DRAW = "draw"
    """By a drawn line, to be worked by hand along it."""
    TICKS = "ticks"
    """By short drawn lines at its ends, to lay a ruler to; for scores worked by hand."""
    BY_HAND = "by hand"
    """Not by the machine: left out of its files, shown in the picture and the report."""


@frozen
class Tool:
    """One tool, or one way of using it. `swivel` is who swings a trailing blade round corners:
    our path, or the machine's own firmware. `sharpest_deg` is empirical, ask a scrap.

    Example:

        [tools.blade]
        type = "drag-blade"
        offset = 0.25
        overcut = 0.5
        corner_angle_deg = 20
        swivel = "path"
        rest_angle_deg = 0
        finest = 0.4
        sharpest_deg = 12
        speed_mm_s = 40
        travel_speed_mm_s = 150
        acceleration_mm_s2 = 400
        lift_s = 0.2
        holder = "2"
        tested_on = 2026-03-01
        note = "changed in spring"

        [tools.pen]
        type = "pen"
        line_width = 0.4
        smallest_letters = 2

        [tools.beam]
        type = "laser"
        kerf = 0.15
    """

    name: Annotated[str, OwnName()]
    type: Annotated[ToolType, Word("what kind of tool it is")]
    kerf: Annotated[
        float, Length(0, 2, "full width that is cut away; laser (required) and wheel")
    ] = 0.0
    offset: Annotated[
        float,
        Length(0, 2, "how far the blade's tip trails its axis; drag-blade (required)"),
    ] = 0.0
    overcut: Annotated[
        float,
        Length(0, 10, "how far a closed cut runs past its start; drag-blade, laser, wheel"),
    ] = 0.0
    corner_angle_deg: Annotated[
        float,
        Number(1, 179, "degrees", "turns sharper than this get a swivel; drag-blade"),
    ] = 25.0
    swivel: Annotated[
        Literal["path", "machine"],
        Word("who swings the blade at corners: our path or the machine; drag-blade"),
    ] = "path"
    rest_angle_deg: Annotated[
        float,
        Number(
            -360,
            360,
            "degrees",
            "where the blade points before its first cut: 0 right, 90 up; drag-blade",
        ),
    ] = 0.0
    finest: Annotated[
        float,
        Length(
            0,
            10,
            "narrowest gap or strip it makes, 0: its kerf or offset; drag-blade, laser, wheel",
        ),
    ] = 0.0
    sharpest_deg: Annotated[
        float,
        Number(0, 90, "degrees", "sharpest point of card that the blade does not tear; drag-blade"),
    ] = 10.0
    speed_mm_s: Annotated[float, Number(0.1, 5000, "mm/s", "speed while working")] = 50.0
    travel_speed_mm_s: Annotated[float, Number(0.1, 5000, "mm/s", "speed while lifted or off")] = (
        200.0
    )
    acceleration_mm_s2: Annotated[
        float, Number(1, 100_000, "mm/s²", "how quickly it gains speed")
    ] = 500.0
    lift_s: Annotated[float, Number(0, 10, "s", "time for one lift and one lowering")] = 0.15
    line_width: Annotated[float, Length(0, 5, "width of its line, 0 where not known; pen")] = 0.0
    smallest_letters: Annotated[
        float,
        Length(0, 50, "capitals at least this high can be read, 0 where not known; pen"),
    ] = 0.0
    holder: Annotated[str | None, Text("where it sits, in your machine's own word")] = None
    tested_on: Annotated[date | None, TESTED_ON] = None
    note: Annotated[str | None, NOTE] = None

    @property
    def trails(self) -> bool:
        """Whether its path must be worked out for a tip that trails behind its axis."""
        return self.type is ToolType.DRAG_BLADE and self.swivel == "path" and self.offset > 0


@frozen
class Perforation:
    """A row of cuts parted by ties.

    Example:

        [operations.perforate.perforation]
        cut = 2
        tie = 1
        minimum_tie = 0.6
    """

    cut: Annotated[float, Length(0.2, 50, "length of each cut")] = 3.0
    tie: Annotated[float, Length(0.1, 50, "card left between two cuts")] = 1.0
    minimum_tie: Annotated[
        float, Length(0.05, 50, "least tie that holds, when a row is fitted")
    ] = 0.5


@frozen
class Scoring:
    """How scores end, and from which side they are worked.

    Common practice for `pull_back` is 0.5–1 mm; a score that reaches a free edge starts a tear.
    Ticks are for scores that are worked by hand. For the back the sheet is turned over about its
    vertical ("left-right") or horizontal ("top-bottom") middle line.

    Example:

        [operations.score.scoring]
        pull_back = 1
        tick = 4
        valleys = "front"
        turn = "left-right"
    """

    pull_back: Annotated[float, Length(0, 20, "left unscored where a score meets a cut")] = 0.5
    tick: Annotated[float, Length(0.5, 50, 'length of the ticks, with as = "ticks"')] = 3.0
    valleys: Annotated[
        Literal["front", "back"], Word("the side from which folds towards you are scored")
    ] = "front"
    turn: Annotated[
        Literal["left-right", "top-bottom"], Word("how you turn the sheet over for the back")
    ] = "left-right"


@frozen
class Bridges:
    """Places where an outline stays uncut, so that pieces keep still without a sticky mat.

    `count` bridges stand on each outline, or as many as keep them at most `spacing` mm apart;
    the larger number of the two counts, and 0 asks for none.

    Example:

        [operations.cut.bridges]
        width = 0.6
        count = 2
        spacing = 80
    """

    width: Annotated[float, Length(0.1, 20, "card that holds")] = 0.5
    count: Annotated[int, Whole(1, 200, "how many on each outline")] = 0
    spacing: Annotated[float, Length(5, 5000, "farthest from one to the next")] = 0.0


@frozen
class OperationPlan:
    """How one operation is done and shown. `tool` is None unless `method` is TOOL.

    `perforation` is for lines worked by short cuts, `scoring` for scores, `bridges` for cuts
    (None: pieces are cut free).
    """

    operation: Operation
    method: Method
    tool: str | None
    passes: int
    layer: str
    colour: str
    """#RRGGBB"""
    dxf_colour: int
    """DXF colour index 1…255"""
    perforation: Perforation = Perforation()
    scoring: Scoring = Scoring()
    bridges: Bridges | None = None


LOOKS: Mapping[Operation, tuple[str, int]] = {
    operation: (colour, DXF_COLOURS[colour]) for operation, colour in COLOURS.items()
}
"""Colour and DXF colour of each operation where the profile names none."""


@frozen
class Bed:
    """What the machine can reach.

    Example:

        [bed]
        width = 340
        height = 450
        margin = 5
    """

    width: Annotated[float, Length(30, 5000, "widest sheet or mat that goes in")]
    height: Annotated[float, Length(30, 5000, "longest sheet or mat that goes in")]
    margin: Annotated[float, Length(0, 500, "border of the sheet that no tool reaches")] = 0.0


TOOL_CHANGE_S = 20.0
"""Seconds for a change of tools where the profile says nothing: a guess at a handy user's."""


@frozen
class MaterialUse:
    """What one operation needs on one material: None where the operation's own holds.

    `settings` are the user's numbers and texts under names of their own, printed as they are.

    Example:

        [materials.kraft-270.cut]
        force_g = 220
        tool = "blade"
        passes = 2
        tested_on = 2026-03-01
        note = "a new blade"

        [materials.kraft-270.perforate]
        perforation = { cut = 1.5, tie = 0.8 }

        [materials.ivory.cut]
        tool = "beam"
        kerf = 0.12
    """

    tool: Annotated[str | None, Text("another of the [tools.NAME] tables, for this card")] = None
    passes: Annotated[int | None, PASSES] = None
    kerf: Annotated[
        float | None,
        Length(0, 2, "full width that is cut away from this card; laser and wheel, cut only"),
    ] = None
    perforation: Annotated[
        Perforation | None,
        Inner("cuts and ties for this card; perforate, and score by perforation"),
    ] = None
    tested_on: Annotated[date | None, TESTED_ON] = None
    note: Annotated[str | None, NOTE] = None
    settings: Annotated[Mapping[str, float | str], Rest(SETTING)] = field(default_factory=dict)


SMALLEST_TAKE_UP, LARGEST_TAKE_UP = -0.5, 1.0
"""Of the caliper. A crease that is cut half through from the inside opens about its outer face and
takes all; one that is cut from the outside takes nothing; and card that is bent round a radius r
instead of folded stands r + c − π/4 · (r + c/2) outside of the middle of its bend, more than c
from r = 1.8 c on."""


@frozen
class Folding:
    """How a material folds.

    Example:

        [materials.kraft-270.fold]
        take_up = 0.4
        tested_on = 2026-03-01
        note = "scored twice"
    """

    take_up: Annotated[
        float,
        Number(
            SMALLEST_TAKE_UP,
            LARGEST_TAKE_UP,
            "of its caliper",
            "how much of its thickness a crease takes, from the inside; half where not measured",
        ),
    ]
    tested_on: Annotated[date | None, TESTED_ON] = None
    note: Annotated[str | None, NOTE] = None


@frozen
class Material:
    """A card that settings were found for.

    Example:

        [materials.kraft-270]
        grammage = 270
        contains = ["unknown coating"]
        note = "from the stall by the bridge"
        score = { force_g = 180 }
        cut = { force_g = 220 }
        draw = { force_g = 80 }
        perforate = { force_g = 200 }
        fold = { take_up = 0.4 }

        [materials.ivory]
        grammage = 250
    """

    name: Annotated[str, OwnName()]
    grammage: Annotated[
        float | None,
        Number(
            10.0,
            2000.0,
            "g/m²",
            "weight, by which a stock without settings finds the nearest card",
        ),
    ] = None
    contains: Annotated[
        tuple[str, ...],
        Several("what a laser must not meet, as for a job's stock", item=Word("", HAZARDS)),
    ] = ()
    note: Annotated[str | None, NOTE] = None
    fold: Annotated[Folding | None, Inner("how it folds, as the trial fold finds it")] = None
    uses: Annotated[
        Mapping[Operation, MaterialUse],
        Spread("settings of your own by name, and the keys below"),
    ] = field(default_factory=dict)


@frozen
class Machine:
    """A whole profile. Guaranteed: `operations` has a plan for each Operation, and every plan's
    tool is one of `tools`.

    What the file says of the operations becomes plans in `reading.py`.
    """

    name: str
    title: Annotated[str, Text("what you call the machine")]
    bed: Annotated[Bed, Inner("what the machine can reach")]
    tools: Annotated[
        Mapping[str, Tool],
        Named(
            "a table [tools.NAME] for each tool",
            each="one tool, or one way of using it, under a name of your own",
            needed=True,
        ),
    ]
    operations: Mapping[Operation, OperationPlan]
    register: Annotated[RegisterPlan, Inner("marks that tell where the sheet lies")] = field(
        default_factory=RegisterPlan
    )
    printing: Annotated[PrintSettings, Key("print"), Inner("the printer, for sheets with art")] = (
        field(default_factory=PrintSettings)
    )
    dxf: Annotated[DxfSettings, Inner("how DXF files are written")] = field(
        default_factory=DxfSettings
    )
    svg: Annotated[SvgSettings, Inner("how SVG files are written")] = field(
        default_factory=SvgSettings
    )
    files: Annotated[FilesPlan, Inner("which files a sheet becomes")] = field(
        default_factory=FilesPlan
    )
    tool_change_s: Annotated[float, Number(0, 3600, "s", "time to put in another tool")] = (
        TOOL_CHANGE_S
    )
    correction: Annotated[Correction, Inner("how far the machine's movement is from true")] = field(
        default_factory=Correction
    )
    materials: Annotated[
        Mapping[str, Material],
        Named(
            "your settings for each card",
            each="what you found to work for one card, for each operation",
        ),
    ] = field(default_factory=dict)

    @property
    def take_up(self) -> dict[str, float]:
        """How much of its caliper a crease takes, by material, where that was measured."""
        return {
            name: material.fold.take_up
            for name, material in self.materials.items()
            if material.fold is not None
        }

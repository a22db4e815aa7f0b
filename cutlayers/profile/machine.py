"""A cutting machine as the rest of the package sees it: plain values, already checked.

`profile.py` reads these from the user's file. Speeds are mm/s, times s, angles degrees,
everything else mm unless the name says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Literal

from cutlayers.geometry.strokes import Operation


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


@dataclass(frozen=True, slots=True)
class Tool:
    """One tool. `kerf` is the full width it removes; `offset` how far a trailing blade's tip
    runs behind the holder's axis; `overcut` how far a closed cut runs past its start;
    `line_width` and `smallest_letters` (cap height) what a pen draws, 0 where not known.
    `holder` is where it sits in the machine."""

    name: str
    type: ToolType
    kerf: float = 0.0
    offset: float = 0.0
    overcut: float = 0.0
    corner_angle_deg: float = 25.0
    swivel: Literal["path", "machine"] = "path"
    """Who swings a trailing blade round corners: our path, or the machine's own firmware."""
    rest_angle_deg: float = 0.0
    """The way a trailing blade points before its first cut, 0 to the right, 90 up the sheet."""
    finest: float = 0.0
    """Narrowest hole, gap or strip of card that comes out clean; 0 takes the kerf, or the offset
    of a blade."""
    sharpest_deg: float = 10.0
    """Sharpest point of card that a blade does not tear; empirical, ask a scrap."""
    speed_mm_s: float = 50.0
    idle_speed_mm_s: float = 200.0
    acceleration_mm_s2: float = 500.0
    lift_s: float = 0.15
    line_width: float = 0.0
    smallest_letters: float = 0.0
    holder: str | None = None
    tested_on: date | None = None
    note: str | None = None


@dataclass(frozen=True, slots=True)
class Perforation:
    """A row of cuts parted by ties; `minimum_tie` is the least that holds."""

    cut: float = 3.0
    tie: float = 1.0
    minimum_tie: float = 0.5


@dataclass(frozen=True, slots=True)
class Scoring:
    """How scores end, and from which side they are worked.

    `pull_back` is what is left unscored at a free edge (common practice: 0.5–1 mm; a score that
    reaches the edge starts a tear). `tick` is the length of a tick at each end, for scores that
    are worked by hand. `valleys` is the side from which valley folds are worked; for the back
    the sheet is turned over about its vertical ("left-right") or horizontal ("top-bottom")
    middle line.
    """

    pull_back: float = 0.5
    tick: float = 3.0
    valleys: Literal["front", "back"] = "front"
    turn: Literal["left-right", "top-bottom"] = "left-right"


@dataclass(frozen=True, slots=True)
class Bridges:
    """Places where an outline stays uncut, so that pieces keep still without a sticky mat.

    `width` is the card that holds. `count` bridges stand on each outline, or as many as keep
    them at most `spacing` mm apart; the larger number of the two counts.
    """

    width: float = 0.5
    count: int = 0
    spacing: float = 0.0


@dataclass(frozen=True, slots=True)
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
    Operation.DRAW: ("#D55E00", 32),
    Operation.SCORE: ("#009E73", 122),
    Operation.PERFORATE: ("#CC79A7", 241),
    Operation.CUT: ("#0072B2", 142),
}
"""Colour and DXF colour of each operation where the profile names none.

The colours of the Okabe–Ito palette (Okabe and Ito, "Color Universal Design", 2008) that reach
a contrast of 3:1 on white, as WCAG 2.2 criterion 1.4.11 asks of lines; black is left to the
register marks. The DXF colour is the nearest of that format's palette.
"""


@dataclass(frozen=True, slots=True)
class Bed:
    """What the machine can reach: `margin` is the border of the sheet it cannot."""

    width: float
    height: float
    margin: float = 0.0


@dataclass(frozen=True, slots=True)
class RegisterPlan:
    """Register marks: their shape, overall size, distance from the sheet's edge to the mark's
    centre, and the free space to keep round each."""

    shape: Literal["target", "dot", "corner", "none"] = "target"
    size: float = 8.0
    inset: float = 12.0
    keep_out: float = 2.0
    count: int = 3
    layer: str = "register"
    colour: str = "#000000"
    dxf_colour: int = 7
    shift_x: float = 0.0
    shift_y: float = 0.0
    """How far work lands right of and above its place beside the marks; files are moved back."""
    tested_on: date | None = None


@dataclass(frozen=True, slots=True)
class PrintSettings:
    """How sheets with art are printed, to be cut along their marks afterwards.

    `margin` is the border that the printer leaves white, `bleed` how far ink runs past cut edges,
    `safe_margin` how far lettering and pictures keep from a panel's edges. `rule_across` and
    `rule_up` are what the printed check rule of 100 mm measures; print files are corrected by
    them, cut files never.
    """

    margin: float = 5.0
    bleed: float = 3.0
    safe_margin: float = 3.0
    dpi: int = 300
    rule_across: float = 100.0
    rule_up: float = 100.0


@dataclass(frozen=True, slots=True)
class DxfSettings:
    """How DXF files are written. `tolerance` is the chord error of arcs turned into lines."""

    version: Literal["R12", "R2000", "R2004"] = "R2000"
    curves: Literal["arcs", "lines"] = "arcs"
    tolerance: float = 0.02


@dataclass(frozen=True, slots=True)
class SvgSettings:
    """How SVG files are written: in mm, or in pixels of 1/72, 1/90 or 1/96 inch."""

    units: Literal["mm", "px"] = "mm"
    pixels_per_inch: Literal[72, 90, 96] = 96
    curves: Literal["arcs", "lines"] = "arcs"
    tolerance: float = 0.02


@dataclass(frozen=True, slots=True)
class FilesPlan:
    """Which files a sheet becomes: one with layers, or one for each operation."""

    formats: tuple[Literal["dxf", "svg"], ...] = ("dxf", "svg")
    split: Literal["layers", "operations"] = "layers"


TOOL_CHANGE_S = 20.0
"""Seconds for a change of tools where the profile says nothing: a guess at a handy user's."""


@dataclass(frozen=True, slots=True)
class Correction:
    """How far a machine's own movement is from true.

    Told to go (x, y), it goes to (x_scale·x + y_scale·sin(skew)·y, y_scale·cos(skew)·y): its y
    axis leans to the right by the skew. Later files undo this where `apply` is set.
    """

    apply: bool = False
    x_scale: float = 1.0
    y_scale: float = 1.0
    skew_deg: float = 0.0
    tested_on: date | None = None


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """What one operation needs on one material: None where the operation's own holds.

    `settings` are the user's numbers and texts under names of their own, printed as they are.
    """

    tool: str | None = None
    passes: int | None = None
    kerf: float | None = None
    perforation: Perforation | None = None
    tested_on: date | None = None
    note: str | None = None
    settings: Mapping[str, float | str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Material:
    """A card that settings were found for; `grammage` in g/m², `contains` as for a stock."""

    name: str
    grammage: float | None = None
    contains: tuple[str, ...] = ()
    note: str | None = None
    uses: Mapping[Operation, MaterialUse] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Machine:
    """A whole profile. Guaranteed: `operations` has a plan for each Operation, and every plan's
    tool is one of `tools`."""

    name: str
    title: str
    bed: Bed
    tools: Mapping[str, Tool]
    operations: Mapping[Operation, OperationPlan]
    register: RegisterPlan = RegisterPlan()
    printing: PrintSettings = PrintSettings()
    dxf: DxfSettings = DxfSettings()
    svg: SvgSettings = SvgSettings()
    files: FilesPlan = FilesPlan()
    tool_change_s: float = TOOL_CHANGE_S
    """What it takes to stop the machine and put in another tool."""
    correction: Correction = Correction()
    materials: Mapping[str, Material] = field(default_factory=dict)

"""A cutting machine as the rest of the package sees it: plain values, already checked.

Each field says what the file may have for it; `reading.py` reads it.
Speeds are mm/s, times s, angles degrees, everything else mm unless the name says otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from typing import Annotated

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.profile.card_settings import Material
from cutlayers.profile.operations import OperationPlan
from cutlayers.profile.output import (
    Correction,
    DxfSettings,
    FilesPlan,
    PrintSettings,
    RegisterPlan,
    SvgSettings,
)
from cutlayers.profile.tools import Tool
from cutlayers.reading.declared import (
    Inner,
    Key,
    Length,
    Named,
    Number,
    Text,
)


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

"""The tools of a machine: what sits in the holder, and what each is like.

Speeds are mm/s, times s, everything else mm unless the name says otherwise.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from cutlayers.frozen import frozen
from cutlayers.profile.output import (
    TESTED_ON,
)
from cutlayers.reading.declared import (
    Length,
    Number,
    OwnName,
    Text,
    Word,
)

NOTE = Text("a line for yourself")


class ToolType(StrEnum):
    """What kind of tool sits in the holder; it decides how strokes become toolpaths."""

    DRAG_BLADE = "drag-blade"
    LASER = "laser"
    WHEEL = "wheel"
    PEN = "pen"
    STYLUS = "stylus"


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

"""What was found to work for a card: settings of each operation, and how it folds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import date
from typing import Annotated

from cutlayers.frozen import frozen
from cutlayers.geometry.strokes import Operation
from cutlayers.job.stock import HAZARDS
from cutlayers.profile.operations import PASSES, Perforation
from cutlayers.profile.output import (
    TESTED_ON,
)
from cutlayers.profile.tools import NOTE
from cutlayers.reading.declared import (
    Inner,
    Length,
    Number,
    OwnName,
    Rest,
    Several,
    Special,
    Spread,
    Text,
    Word,
)
from cutlayers.reading.values import read_setting

SETTING = Special("", lambda value, _unit: read_setting(value), {"type": ["number", "string"]})


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

"""Parts of the job file as pydantic models: how sheets are filled, and lettering.

What leaves are the plain values of `order.py` and `inscriptions.py`; their defaults are those here.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, get_args

from pydantic import Field

from cutlayers.job.limits import Limits
from cutlayers.job.order import Mode, Rotation, SheetRules
from cutlayers.lettering.inscriptions import Align, Inscription, Made
from cutlayers.lettering.single_stroke import FACES, Face
from cutlayers.reading.table_model import Table, length_in_units, text, whole, word
from cutlayers.reading.values import read_text

_RULES = SheetRules()
_LIMITS = Limits()
_PLAIN = Inscription("", "")
_TURNS = (0, 90, 180, 270)

ROTATION = word(get_args(Rotation))
ROTATION_HELP = "turns allowed on the sheet: none, half turns, quarter turns, or free: any angle"


class SheetsTable(Table):
    """How sheets are to be filled, [sheets]."""

    gap: Annotated[
        float, length_in_units(0.0, 100.0), Field(description="card left between pieces")
    ] = _RULES.gap
    border: Annotated[
        float,
        length_in_units(0.0, 100.0),
        Field(description="edge of the sheet kept free, such as what a printer cannot print on"),
    ] = _RULES.border
    mode: Annotated[
        Mode,
        word(get_args(Mode)),
        Field(description="quick, or thorough: search for sheets that hold more"),
    ] = _RULES.mode
    seconds: Annotated[
        int, whole(1, 36_000), Field(description="that a thorough search takes, for each stock")
    ] = _RULES.seconds
    seed: Annotated[
        int, whole(0, 1_000_000), Field(description="another number searches in another order")
    ] = _RULES.seed
    rotation: Annotated[Rotation, ROTATION, Field(description=ROTATION_HELP)] = _RULES.rotation

    def rules(self) -> SheetRules:
        """The plain values."""
        return SheetRules(**self.model_dump())


class LimitsTable(Table):
    """From which measure on the checks speak up, [limits]."""

    layers: Annotated[
        int, whole(1, 20), Field(description="most layers of card that a punch goes through")
    ] = _LIMITS.layers
    lid_tight: Annotated[
        float,
        length_in_units(0.0, 10.0),
        Field(description="least room between lid and base on each side"),
    ] = _LIMITS.lid_tight
    lid_loose: Annotated[
        float,
        length_in_units(0.0, 20.0),
        Field(description="most room between lid and base on each side"),
    ] = _LIMITS.lid_loose
    tab_depth: Annotated[
        float, length_in_units(1.0, 60.0), Field(description="least depth of a glued strip")
    ] = _LIMITS.tab_depth

    def limits(self) -> Limits:
        """The plain values."""
        return Limits(**self.model_dump())


class LetteringTable(Table):
    """A line of text on a panel, [[piece.lettering]]."""

    text: Annotated[
        str,
        text(read=lambda value: value if value == "" else read_text(value)),
        Field(description="what to write; in a kit, {COLUMN} stands for a row's own text"),
    ]
    panel: Annotated[
        str,
        text(),
        Field(description="a panel of the net; NET.PANEL where two nets have one of that name"),
    ]
    height: Annotated[
        float | None,
        length_in_units(0.5, 500.0),
        Field(description="of a capital; as large as fits if not given"),
    ] = None
    face: Annotated[
        Face, word(tuple(FACES)), Field(description="letters drawn stroke by stroke")
    ] = _PLAIN.face
    file: Annotated[
        str | None,
        text(),
        Field(description="a TTF or OTF font to take instead of a face, from where the job is"),
    ] = None
    made: Annotated[
        Made,
        word(get_args(Made)),
        Field(alias="as", description="draw the letters, or cut them out (only from a font)"),
    ] = _PLAIN.made
    align: Annotated[
        Align, word(get_args(Align)), Field(description="where on the panel, along the text")
    ] = _PLAIN.align
    turn: Annotated[
        int, word(_TURNS), Field(description="degrees to the left on the flat panel")
    ] = _PLAIN.turn_deg
    margin: Annotated[
        float, length_in_units(0.0, 100.0), Field(description="kept free along the panel's edges")
    ] = _PLAIN.margin
    bridge: Annotated[
        float,
        length_in_units(0.2, 20.0),
        Field(description="width of the bridges that hold the insides of cut letters"),
    ] = _PLAIN.bridge

    def inscription(self, folder: Path) -> Inscription:
        """The plain values; a font's path is meant from `folder`."""
        return Inscription(
            **self.model_dump(exclude={"file", "turn"}),
            file=None if self.file is None else folder / Path(self.file).expanduser(),
            turn_deg=self.turn,
        )

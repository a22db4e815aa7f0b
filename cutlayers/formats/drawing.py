"""What a writer gets: a sheet and its layers, nothing else.

Guarantee: y points up, the sheet's lower left corner is the origin, lengths are mm, layers stand
in working order and their names differ, even where upper and lower case count as one.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

from cutlayers.frozen import frozen
from cutlayers.geometry.paths import Path
from cutlayers.telling.errors import OutputError
from cutlayers.telling.refusals import Refusal, Span

LAYER_NAME = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,30}")
"""What every format takes: in R12 31 letters, digits, _ and -; in XML a letter first."""

RESERVED_NAMES = frozenset({"defpoints"})
"""DXF programs do not plot this layer."""


LAG = 1.0 + 2.0 * math.pi / 3.0
"""How much farther a trailing tip strays than the chords that its axis is led along.

On a chord of its swing the axis is pressed inwards by up to the chord's sagitta s, and the tip
with it. The blade then lags behind: over a turn by δ it falls back by δ³/12, of which a swing by an
angle T has T/δ, with s = offset · δ²/8; the tip is then off by 2/3 · T · s, and T is at most half a
turn.
Source: the tractrix, tan(θ/2) = tan(θ₀/2) · exp(−way/offset), to the third order in δ.
"""


@frozen
class Layer:
    """Paths worked alike. `name` is a plain identifier for files, `title` is for people.

    `colour` is #RRGGBB, `dxf_colour` an index 1…255, `dash` the on/off lengths in mm that tell
    the layer apart in pictures (empty: solid); cut files always carry solid lines. `tool` is the
    name of the tool that works it, empty for register marks; `trailed` says that the paths lead a
    tip that trails behind them.

    Raises OutputError for a name or a colour that a file could not carry.
    """

    name: str
    title: str
    colour: str
    dxf_colour: int
    paths: tuple[Path, ...]
    dash: tuple[float, ...] = ()
    tool: str = ""
    trailed: bool = False

    def chord(self, tolerance: float) -> float:
        """mm by which chords may stray from the layer's arcs where what is worked may stray by
        `tolerance`."""
        return tolerance / LAG if self.trailed else tolerance

    def __post_init__(self) -> None:
        if not LAYER_NAME.fullmatch(self.name) or self.name.lower() in RESERVED_NAMES:
            raise OutputError(
                Refusal(
                    reason=f"layer name {self.name!r} does not suit every file format",
                    fault="value",
                    found=self.name,
                    allowed="a letter and then up to 30 letters, digits, '-' or '_', such as 'cut' "
                    "(not 'defpoints')",
                )
            )
        if not re.fullmatch(r"#[0-9A-Fa-f]{6}", self.colour):
            raise OutputError(
                Refusal(
                    (self.name, "colour"),
                    fault="value",
                    found=self.colour,
                    allowed='like "#0072B2"',
                )
            )
        if not 1 <= self.dxf_colour <= 255:
            raise OutputError(
                Refusal(
                    (self.name, "dxf_colour"),
                    fault="value",
                    found=self.dxf_colour,
                    allowed=Span(1, 255, whole=True),
                )
            )


@frozen
class Drawing:
    """One sheet to be written.

    Raises OutputError where two layers share a name; DXF ignores the case of letters.
    """

    title: str
    width: float
    height: float
    layers: tuple[Layer, ...]

    def __post_init__(self) -> None:
        seen: dict[str, str] = {}
        for layer in self.layers:
            if other := seen.get(layer.name.lower()):
                clash = f"layers {other!r} and {layer.name!r} of {self.title!r}"
                raise OutputError(
                    Refusal(reason=f"{clash} need different names", fault="value", found=layer.name)
                )
            seen[layer.name.lower()] = layer.name


def straightened(drawing: Drawing, tolerance: float) -> Drawing:
    """The drawing with its arcs turned into chords, so that what is worked strays by at most
    `tolerance` mm."""
    return replace(
        drawing,
        layers=tuple(
            replace(
                layer,
                paths=tuple(path.flattened(layer.chord(tolerance)) for path in layer.paths),
            )
            for layer in drawing.layers
        ),
    )

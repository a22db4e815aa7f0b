"""What a writer gets: a sheet and its layers, nothing else.

Guarantee: y points up, the sheet's lower left corner is the origin, lengths are mm, layers stand
in working order and their names differ.
"""

from __future__ import annotations

from dataclasses import dataclass

from cutlayers.paths import Path


@dataclass(frozen=True, slots=True)
class Layer:
    """Paths worked alike. `name` is a plain identifier for files, `title` is for people.

    `colour` is #RRGGBB, `dxf_colour` an index 1…255, `dash` the on/off lengths in mm that tell
    the layer apart in pictures (empty: solid); cut files always carry solid lines.
    """

    name: str
    title: str
    colour: str
    dxf_colour: int
    paths: tuple[Path, ...]
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sheet to be written."""

    title: str
    width: float
    height: float
    layers: tuple[Layer, ...]

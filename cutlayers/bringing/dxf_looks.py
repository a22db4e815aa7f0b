"""What a DXF file says of how its lines look: layers, colours, dashes and widths.

What is "by layer" is the layer's, and what is "by block" that of the place where the block stands;
layer 0 in a block is the layer of that place too. Source: DXF Reference, "Common group codes for
entities", LAYER and LTYPE tables.
"""

from __future__ import annotations

from typing import Any

from cutlayers.bringing.lines import Hints
from cutlayers.frozen import frozen

BY_BLOCK, BY_LAYER = 0, 256
"""Colour numbers, group 62."""

NEVER_PLOTTED = "defpoints"

DASHED_NAMES = ("dash", "hidden", "phantom", "center", "centre", "border", "divide", "dot")
"""In names of line types that a file uses and does not define; common practice, no source."""

PERIOD: tuple[float, ...] = (1.0, 1.0)
DOTTED: tuple[float, ...] = (2.0, 0.5, 0.5, 0.5)


@frozen
class Place:
    """What a block's lines have from where the block stands; lines outside of blocks have `OUT`."""

    layer: str = ""
    colour: int = 7
    rgb: str = ""
    dash: tuple[float, ...] = ()
    width: float | None = None
    blocks: tuple[str, ...] = ()


OUT = Place()


class Looks:
    """Looks up layers and line types of a document, each once."""

    def __init__(self, document: Any) -> None:
        self._document = document
        self._layers: dict[str, Any] = {}
        self._dashes: dict[str, tuple[float, ...]] = {}
        self._hints: dict[Hints, Hints] = {}
        scale = document.header.get("$LTSCALE", 1.0)
        self._dash_scale = scale if 0 < scale < 1e6 else 1.0

    def layer_of(self, entity: Any, place: Place) -> str:
        """Its name; that of the block's place for layer 0 in a block."""
        name = str(entity.dxf.get("layer", "0"))
        return place.layer if name == "0" and place.blocks else name

    def is_hidden(self, entity: Any, place: Place) -> bool:
        """Whether nobody sees it: it is said to be invisible, or its layer is off, frozen or only
        for the points of dimensions."""
        if entity.dxf.get("invisible", 0):
            return True
        name = self.layer_of(entity, place)
        layer = self._layer(name)
        return name.lower() == NEVER_PLOTTED or (
            layer is not None and bool(layer.is_off() or layer.is_frozen())
        )

    def is_frozen(self, entity: Any, place: Place) -> bool:
        """Whether the layer is frozen, which hides what is in a block too."""
        layer = self._layer(self.layer_of(entity, place))
        return layer is not None and bool(layer.is_frozen())

    def hints(self, entity: Any, place: Place) -> Hints:
        """All of it for one entity."""
        inside = self.inside(entity, place)
        hints = Hints(
            layer=inside.layer,
            colour=inside.rgb or _colour(inside.colour),
            dash=inside.dash,
            width=inside.width,
            group=place.blocks,
        )
        return self._hints.setdefault(hints, hints)

    def inside(self, entity: Any, place: Place, block: str = "") -> Place:
        """What lines in a block have from an INSERT, or an entity for itself."""
        dxf = entity.dxf
        name = self.layer_of(entity, place)
        layer = self._layer(name)
        colour, rgb = int(dxf.get("color", BY_LAYER)), _rgb(entity)
        if not rgb and colour == BY_BLOCK:
            colour, rgb = place.colour, place.rgb
        elif not rgb and colour == BY_LAYER and layer is not None:
            colour, rgb = abs(int(layer.dxf.get("color", 7))), _rgb(layer)
        elif colour == BY_LAYER:
            colour = 7
        blocks = (*place.blocks, block) if block else place.blocks
        return Place(name, colour, rgb, self._dash(dxf, layer, place), _width(dxf, layer, place),
                     blocks)  # fmt: skip

    def _layer(self, name: str) -> Any:
        if name not in self._layers:
            table = self._document.layers
            self._layers[name] = table.get(name) if table.has_entry(name) else None
        return self._layers[name]

    def _dash(self, dxf: Any, layer: Any, place: Place) -> tuple[float, ...]:
        kind = str(dxf.get("linetype", "BYLAYER"))
        if kind.upper() == "BYBLOCK":
            return place.dash
        if kind.upper() == "BYLAYER":
            kind = "CONTINUOUS" if layer is None else str(layer.dxf.get("linetype", "CONTINUOUS"))
        scale = self._dash_scale * float(dxf.get("ltscale", 1.0))
        return tuple(round(part * scale, 9) for part in self._pattern(kind))

    def _pattern(self, kind: str) -> tuple[float, ...]:
        if kind not in self._dashes:
            table = self._document.linetypes
            found: tuple[float, ...] = ()
            if table.has_entry(kind):
                found = tuple(abs(part) for part in table.get(kind).simplified_line_pattern())
            name = kind.lower()
            if not found and any(word in name for word in DASHED_NAMES):
                found = DOTTED if "dot" in name or "cent" in name else PERIOD
            self._dashes[kind] = found
        return self._dashes[kind]


def _width(dxf: Any, layer: Any, place: Place) -> float | None:
    """mm; the file has hundredths, -1 by layer, -2 by block, -3 as is usual."""
    weight = int(dxf.get("lineweight", -1))
    if weight == -1 and layer is not None:
        weight = int(layer.dxf.get("lineweight", -3))
    if weight == -2:
        return place.width
    return weight / 100.0 if weight >= 0 else None


def _rgb(entity: Any) -> str:
    rgb = entity.rgb
    return "" if rgb is None else "#{:02X}{:02X}{:02X}".format(*rgb)


def _colour(number: int) -> str:
    """Of the colour numbers; 7 is black on paper. Source: DXF Reference, colour index."""
    from ezdxf.colors import aci2rgb

    if number in (0, 7) or not 0 < number < BY_LAYER:
        return "#000000"
    return "#{:02X}{:02X}{:02X}".format(*aci2rgb(number))

"""What a job file says of art and facing pieces; `art.py` makes plain values of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

from cutlayers.artwork.model import DEFAULT_BORDER, At, PatternKind, PictureFit
from cutlayers.frozen import frozen
from cutlayers.lettering.single_stroke import unsupported
from cutlayers.net import Role
from cutlayers.reading import values
from cutlayers.reading.declared import (
    Length,
    Number,
    Several,
    Special,
    Text,
    Word,
    a_colour,
    a_file,
)
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.colours import BLACK
from cutlayers.telling.written import shown

ALL = "all"
ROLES = (*(role.value for role in Role), ALL)
DEFAULT_REPEAT = 10.0
DEFAULT_INK = BLACK


def _read_words(value: object, what: str) -> tuple[str, ...]:
    items = [value] if isinstance(value, str) else value
    if not isinstance(items, list) or not items:
        raise ValueRefused(found=value, allowed=f"{what}, or a list of them")
    return tuple(values.read_text(item) for item in items)


def _read_roles(value: object) -> tuple[str, ...]:
    return tuple(str(values.read_choice(word, ROLES)) for word in _read_words(value, "a role"))


def _read_lines(value: object) -> tuple[str, ...]:
    lines = _read_words(value, "a text")
    for line in lines:
        if missing := unsupported(line):
            raise ValueRefused(
                f"has {', '.join(map(shown, missing))}, for which there is no single-stroke letter"
            )
        if not line.strip():
            raise ValueRefused("has an empty line")
    return lines


def _one_or_more(item: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [item, {"type": "array", "items": item, "minItems": 1}]}


def _names(help: str) -> Special:
    return Special(
        help, lambda value, _unit: _read_words(value, "a name"), _one_or_more({"type": "string"})
    )


def _roles(help: str) -> Special:
    return Special(
        help, lambda value, _unit: _read_roles(value), _one_or_more({"enum": list(ROLES)})
    )


def _lines(help: str) -> Special:
    return Special(help, lambda value, _unit: _read_lines(value), _one_or_more({"type": "string"}))


@frozen(kw_only=True, slots=False)
class WrittenSource:
    """What is printed: a picture from a file, a colour, a pattern or lettering, one of them; None
    where the job says nothing.

    Example:

        [[piece.facing.art]]
        pattern = "stripes"
        ink = "#D55E00"
        ground = "#FFFFFF"
        repeat = 12
        rotation = 90

        [[piece.facing.art]]
        lettering = "Oat"
        height = 4
        at = "top"

        [[piece.facing.art]]
        file = "sprig.png"
        fit = "tile"
        repeat = 15

        [[piece.facing.art]]
        colour = "#FFFFFF"
    """

    file: Annotated[
        Path | None,
        a_file("a picture: a PNG, JPEG, WebP, TIFF, GIF, BMP or SVG file, from where the job is"),
    ] = None
    colour: Annotated[str | None, a_colour("one colour all over, #RRGGBB")] = None
    pattern: Annotated[
        PatternKind | None, Word("a repeating pattern: stripes, dots, checks or stars")
    ] = None
    lettering: Annotated[tuple[str, ...] | None, _lines("a line of text, or a list of lines")] = (
        None
    )
    fit: Annotated[
        PictureFit | None,
        Word("a picture: whole inside (contain, the default), filling, or in rows"),
    ] = None
    repeat: Annotated[
        float | None,
        Length(2, 500, "width of a tile; from one figure of a pattern to the next, 10 mm"),
    ] = None
    height: Annotated[
        float | None, Length(1, 300, "height of the capitals; as large as fits if not given")
    ] = None
    ink: Annotated[str | None, a_colour("colour of a pattern or of lettering, #RRGGBB")] = None
    ground: Annotated[
        str | None, a_colour("colour between a pattern's figures; none: the card")
    ] = None
    rotation: Annotated[
        float | None,
        Number(-360, 360, "degrees", "turned to the left as seen on the finished box, degrees"),
    ] = None
    at: Annotated[At | None, Word("where lettering or a contained picture stands")] = None


@frozen(kw_only=True, slots=False)
class WrittenPanels:
    """Which panels, by name, by role, or both; "all" leaves out the glue tabs, which need bare
    card, unless they are asked for by name or role."""

    panels: Annotated[
        tuple[str, ...], _names("names of panels, as 'cutlayers styles STYLE' has them")
    ] = ()
    roles: Annotated[
        tuple[str, ...], _roles('roles of panels, such as "wall", or "all" but glue tabs')
    ] = ()
    net: Annotated[str | None, Text('of this net alone, such as "lid"')] = None


@frozen(kw_only=True, slots=False)
class WrittenArt(WrittenSource, WrittenPanels):
    """Art on panels, [[piece.art]]; later ones are printed over earlier ones.

    Example:

        [[piece.art]]
        roles = "wall"
        pattern = "dots"
        ink = "#0072B2"
        ground = "#FFFFFF"
        repeat = 8
        rotation = 45

        [[piece.art]]
        panels = ["front", "back"]
        lettering = ["Oat", "soap"]
        height = 5
        ink = "#000000"
        at = "bottom"

        [[piece.art]]
        panels = "base"
        net = "tray"
        file = "sprig.png"
        fit = "contain"

        [[piece.art]]
        panels = "left"
        colour = "#F0E442"
    """


@frozen(kw_only=True, slots=False)
class WrittenFacing(WrittenPanels):
    """A decorative piece to be glued on each of some panels, [[piece.facing]].

    Example:

        [[piece.facing]]
        panels = ["left", "right"]
        roles = "wall"
        net = "tray"
        stock = "kraft"
        border = 2
    """

    stock: Annotated[str, Text("the NAME of one of the [stock.NAME] tables")]
    border: Annotated[
        float, Length(0, 50, "of the panel left to be seen all round; 1/16 in by default")
    ] = DEFAULT_BORDER
    art: Annotated[
        tuple[WrittenSource, ...], Several("what is printed on it, [[piece.facing.art]]")
    ] = ()

"""The job file's tables for art, facing pieces and printing."""

from __future__ import annotations

from typing import Annotated, Any, get_args

from pydantic import Field

from cutlayers.artwork.model import DEFAULT_BORDER, At, Fit, PatternKind
from cutlayers.lettering.single_stroke import unsupported
from cutlayers.net import Role
from cutlayers.reading import values
from cutlayers.reading.table_model import Reads, Table, length_in_units, number, text, whole, word
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

ALL = "all"
ROLES = (*(role.value for role in Role), ALL)
DEFAULT_REPEAT = 10.0
DEFAULT_INK = "#000000"

_COLOUR = text("^#[0-9A-Fa-f]{6}$", values.read_colour)


def _read_words(value: object, what: str) -> tuple[str, ...]:
    items = [value] if isinstance(value, str) else value
    if not isinstance(items, list) or not items:
        raise ValueRefused(f"is {shown(value)}; allowed is {what}, or a list of them")
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


_WORDS = Reads(lambda v, _unit: _read_words(v, "a name"), _one_or_more({"type": "string"}))
_ROLES = Reads(lambda v, _unit: _read_roles(v), _one_or_more({"enum": list(ROLES)}))
_LINES = Reads(lambda v, _unit: _read_lines(v), _one_or_more({"type": "string"}))


class SourceTable(Table):
    """What is printed: an image, a colour, a pattern or lettering, one of them."""

    image: Annotated[
        str | None, text(), Field(description="a PNG, JPEG or SVG file, seen from the job's folder")
    ] = None
    colour: Annotated[str | None, _COLOUR, Field(description="one colour all over, #RRGGBB")] = None
    pattern: Annotated[
        PatternKind | None,
        word(get_args(PatternKind)),
        Field(description="a repeating pattern: stripes, dots, checks or stars"),
    ] = None
    lettering: Annotated[
        tuple[str, ...] | None, _LINES, Field(description="a line of text, or a list of lines")
    ] = None
    fit: Annotated[
        Fit | None,
        word(get_args(Fit)),
        Field(description="an image: whole inside (contain, the default), filling, or in rows"),
    ] = None
    repeat: Annotated[
        float | None,
        length_in_units(2, 500),
        Field(description="width of a tile; from one figure of a pattern to the next, 10 mm"),
    ] = None
    height: Annotated[
        float | None,
        length_in_units(1, 300),
        Field(description="height of the capitals; as large as fits if not given"),
    ] = None
    ink: Annotated[
        str | None, _COLOUR, Field(description="colour of a pattern or of lettering, #RRGGBB")
    ] = None
    ground: Annotated[
        str | None, _COLOUR, Field(description="colour between a pattern's figures; none: the card")
    ] = None
    rotation: Annotated[
        float,
        number(-360, 360, "degrees"),
        Field(description="turned to the left as seen on the finished box, degrees"),
    ] = 0.0
    at: Annotated[
        At, word(get_args(At)), Field(description="where lettering or a contained image stands")
    ] = "middle"


class PanelsTable(Table):
    """Which panels, by name, by role, or both."""

    panels: Annotated[
        tuple[str, ...],
        _WORDS,
        Field(description="names of panels, as 'cutlayers styles STYLE' has them"),
    ] = ()
    roles: Annotated[
        tuple[str, ...], _ROLES, Field(description='roles of panels, such as "wall", or "all"')
    ] = ()
    net: Annotated[str | None, text(), Field(description='of this net alone, such as "lid"')] = None


class ArtTable(SourceTable, PanelsTable):
    """Art on panels, [[piece.art]]; later ones are printed over earlier ones."""


class FacingTable(PanelsTable):
    """A decorative piece to be glued on each of some panels, [[piece.facing]]."""

    stock: Annotated[str, text(), Field(description="the NAME of one of the [stock.NAME] tables")]
    border: Annotated[
        float,
        length_in_units(0, 50),
        Field(description="of the panel left to be seen all round; 1/16 in by default"),
    ] = DEFAULT_BORDER
    art: Annotated[
        list[SourceTable],
        Field(description="what is printed on it, [[piece.facing.art]]", default_factory=list),
    ]


class JobPrintTable(Table):
    """Printing, where this job wants it otherwise than the profile."""

    bleed: Annotated[
        float | None, length_in_units(0, 20), Field(description="how far ink runs past cut edges")
    ] = None
    safe_margin: Annotated[
        float | None,
        length_in_units(0, 50),
        Field(description="how far lettering and pictures keep from a panel's edges"),
    ] = None
    dpi: Annotated[
        int | None, whole(72, 1200), Field(description="dots per inch of the PNG to print")
    ] = None

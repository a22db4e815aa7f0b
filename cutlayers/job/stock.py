"""Card and paper: sheet sizes, thickness, weight and grain."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Literal

from cutlayers.construction.card import SHARE, Card, Measure, usual_relief
from cutlayers.frozen import frozen
from cutlayers.job.caliper import CALIPER, LARGEST_CALIPER
from cutlayers.reading.declared import (
    Length,
    Number,
    OwnName,
    Several,
    Special,
    Text,
    Word,
    a_colour,
)
from cutlayers.reading.values import ValueRefused, read_length
from cutlayers.telling.lengths import Unit, parse_length
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Span
from cutlayers.telling.refusing import allowed_words, found_clause
from cutlayers.telling.written import shown

SHEETS_MM: dict[str, tuple[float, float]] = {
    "A3": (297.0, 420.0),
    "A4": (210.0, 297.0),
    "A5": (148.0, 210.0),
    "A6": (105.0, 148.0),
    "letter": (8.5 * 25.4, 11 * 25.4),
    "legal": (8.5 * 25.4, 14 * 25.4),
    "tabloid": (11 * 25.4, 17 * 25.4),
}
"""Width and height, upright. Sources: ISO 216:2007 (A series); ASME Y14.1 sizes A and B for
letter and tabloid; legal is a trade size."""

USUAL_SHEETS: dict[Unit, str] = {"mm": "A4", "in": "letter"}
"""What card is sold as where people count so. Common practice, no source."""

SMALLEST_SHEET, LARGEST_SHEET = 20.0, 2000.0
"""mm; limits of a sheet's side: less cannot be held, more does not exist in the trade."""

RELIEF = Length(
    0.0,
    LARGEST_CALIPER,
    "how far creases stop short of inner corners of cuts, and the radius of holes where lines end "
    "in a point; the caliper by default, 0 below 0.5 mm",
)

HAZARDS = ("pvc", "vinyl", "chlorine", "unknown coating")
"""What a laser must not meet. Chlorinated plastics give off hydrogen chloride, which is toxic and
eats metal; an unknown coating may be one. Source: common rule of university laser workshops."""

Grain = Literal["long", "short", "unknown"]

_NAMED = re.compile(r"(?P<name>[a-z0-9]+)(?:\s+(?P<turn>portrait|landscape))?", re.IGNORECASE)
_TWO_LENGTHS = re.compile(
    r"(?P<width>[\d.][^x×]*?)\s*[x×]\s*(?P<height>[\d.][^x×]*)", re.IGNORECASE
)
_UNIT_NAMES: Mapping[Unit, str] = {"mm": "millimetres", "cm": "centimetres", "in": "inches"}
_BARE = re.compile(r"\d{1,3}(\.\d{1,9})?")
_UNIT_AT_END = re.compile(r"(?P<unit>[a-z\"\u2033]+)$", re.IGNORECASE)


def read_sheet(value: object, unit: Unit = "mm") -> tuple[float, float]:
    """Width and height of a sheet in mm, from a name, a text or a list of two lengths.

    `"A4"` is upright, `"A4 landscape"` turned. `"12x12 in"`, `"300 x 400 mm"` and `[12, 12]`
    are width first and keep that way up; a bare number counts in `unit`, and a unit at the end
    of the text goes for both.

    Raises ValueRefused for anything else, and beyond SMALLEST_SHEET and LARGEST_SHEET.

    >>> read_sheet("A4 landscape")
    (297.0, 210.0)
    """
    if isinstance(value, str):
        return _sheet_from_text(value.strip(), unit)
    if isinstance(value, (list, tuple)) and len(value) == 2:
        return _sides(value[0], value[1], unit)
    raise _refused(value, unit)


def _sheet_from_text(text: str, unit: Unit) -> tuple[float, float]:
    known = {name.lower(): size for name, size in SHEETS_MM.items()}
    named = _NAMED.fullmatch(text)
    if named and named["name"].lower() in known:
        width, height = known[named["name"].lower()]
        turned = (named["turn"] or "").lower() == "landscape"
        return (height, width) if turned else (width, height)
    pair = _TWO_LENGTHS.fullmatch(text)
    if pair is None:
        raise _refused(text, unit)
    width_text, height_text = pair["width"], pair["height"]
    width_unit, height_unit = _UNIT_AT_END.search(width_text), _UNIT_AT_END.search(height_text)
    if width_unit and not height_unit:
        raise ValueRefused(f"is {shown(text)}; write the unit at the end, for both lengths")
    if height_unit and not width_unit:
        width_text += height_unit["unit"]
    return _sides(width_text, height_text, unit)


def _sides(width: object, height: object, unit: Unit) -> tuple[float, float]:
    sides = []
    for side, value in (("width", width), ("height", height)):
        try:
            sides.append(read_length(value, unit, SMALLEST_SHEET, LARGEST_SHEET))
        except ValueRefused as error:
            refused = error.refusal
            raise ValueRefused(
                f"has a {side} that {found_clause(refused)}",
                found=refused.found,
                allowed=refused.allowed,
                unit=unit,
                advice=_without_its_unit(width, height, unit),
            ) from None
    return sides[0], sides[1]


def _without_its_unit(width: object, height: object, unit: Unit) -> str:
    """What to write for bare numbers that are a sheet in the unit that they do not count in."""
    other: Unit = "mm" if unit == "in" else "in"
    sides = [str(side).strip() for side in (width, height)]
    if not all(_BARE.fullmatch(side) for side in sides):
        return ""
    lengths = [parse_length(side, other) for side in sides]
    if not all(SMALLEST_SHEET <= length <= LARGEST_SHEET for length in lengths):
        return ""
    return f'bare numbers are {_UNIT_NAMES[unit]} here, so write "{"x".join(sides)} {other}"'


def _refused(value: object, unit: Unit) -> ValueRefused:
    comma = isinstance(value, (list, tuple)) and len(value) in (3, 4)
    names = ", ".join(SHEETS_MM)
    sides = allowed_words(Span(SMALLEST_SHEET, LARGEST_SHEET, "mm"), unit)
    word = value.split()[0] if isinstance(value, str) and value.split() else ""
    near = nearest(word, SHEETS_MM) if word else None
    allowed = (
        f'{names} (with "landscape" to turn it), a text such as "12x12 in" or a list '
        f"[width, height], each side {sides}"
    )
    advice = "decimals have a point, not a comma" if comma else ""
    return ValueRefused(found=value, allowed=allowed, nearest=near, advice=advice)


SHEET = Special(
    f"{', '.join(SHEETS_MM)}, a text such as '12x12 in', or [width, height] "
    f"(each side {SMALLEST_SHEET:g} mm to {LARGEST_SHEET:g} mm)",
    read_sheet,
    {
        "anyOf": [
            {"type": "string", "examples": [*SHEETS_MM, "A4 landscape", "12x12 in"]},
            {
                "type": "array",
                "items": {"type": ["number", "string"]},
                "minItems": 2,
                "maxItems": 2,
            },
        ]
    },
)


@frozen
class Stock:
    """One kind of card in fixed sheets.

    `grain` is the way the fibres run: along the long or the short side of the sheet, which on a
    square sheet are its height and its width.

    Example:

        [stock.kraft]
        caliper = 0.32
        sheet = "A3"
        grammage = 270
        grain = "long"
        material = "kraft-270"
        contains = ["unknown coating"]
        price = 0.4
        relief = 0.3
        colour = "#C9A26B"
        inside_colour = "#F4EAD8"
    """

    name: Annotated[str, OwnName()]
    caliper: Annotated[float, CALIPER]
    sheet: Annotated[tuple[float, float], SHEET]
    grammage: Annotated[float | None, Number(10.0, 2000.0, "g/m²", "weight in g/m², if known")] = (
        None
    )
    grain: Annotated[Grain, Word("the side of the sheet that the fibres run along")] = "unknown"
    material: Annotated[
        str | None, Text("the profile's material for it; its own name by default")
    ] = None
    contains: Annotated[
        tuple[str, ...],
        Several(
            "what a laser must not meet; such stock is refused for one", item=Word("", HAZARDS)
        ),
    ] = ()
    price: Annotated[
        float | None,
        Number(0.0, 1e6, "for a sheet", "of one sheet, in your own currency, if known"),
    ] = None
    relief: Annotated[float | None, RELIEF] = None
    colour: Annotated[str | None, a_colour("of its outside, as pictures of boxes show it")] = None
    inside_colour: Annotated[
        str | None, a_colour("of the side that lies inside of a box, where it differs")
    ] = None

    share: float = SHARE
    """How much of its caliper a crease takes: no key of the file, but measured on the machine."""

    def card(self, measure: Measure) -> Card:
        """The card as a style must know it, for sizes in that measure."""
        relief = usual_relief(self.caliper) if self.relief is None else self.relief
        return Card(self.caliper, measure, share=self.share, relief=relief)

    def folded_as(self, take_up: Mapping[str, float]) -> Stock:
        """The stock with what was measured of its material, by materials' names."""
        return replace(self, share=take_up.get(self.material or self.name, self.share))

    @property
    def sheet_weight_g(self) -> float | None:
        """Weight of one sheet in grams, where the grammage is known."""
        if self.grammage is None:
            return None
        return self.grammage * self.sheet[0] * self.sheet[1] / 1e6

    @property
    def grain_side(self) -> Literal["width", "height"] | None:
        """The side of the sheet that the fibres run along, where it is known."""
        if self.grain == "unknown":
            return None
        width, height = self.sheet
        upright = height >= width
        return "height" if upright == (self.grain == "long") else "width"

    def grain_on(self, *, turned: bool) -> tuple[float, float] | None:
        """The direction that the fibres run along, where it is known, on a sheet that lies as its
        size is given or `turned` by a quarter."""
        side = self.grain_side
        if side is None:
            return None
        return (1.0, 0.0) if (side == "width") != turned else (0.0, 1.0)


def usual_sheet(unit: Unit, bed: tuple[float, float] = (math.inf, math.inf)) -> str:
    """What a new job calls its sheet, for a machine with a bed of so many mm: the usual one where
    that fits, else the largest with a name that does, else one as large as the bed."""

    def fits(name: str) -> bool:
        return all(side <= most for side, most in zip(SHEETS_MM[name], sorted(bed), strict=True))

    by_size = sorted(SHEETS_MM, key=lambda name: math.prod(SHEETS_MM[name]), reverse=True)
    names = filter(fits, (USUAL_SHEETS[unit], *by_size))
    return next(names, f"{bed[0]:g} x {bed[1]:g} mm")

"""Lengths as makers write them, in and out.

Everything inside the package is millimetres (float). Text comes in through `parse_length`
and leaves through `format_length`; no other module knows what an inch is.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Literal

from cutlayers.telling.errors import LengthError

Unit = Literal["mm", "cm", "in"]

MM_PER: dict[str, float] = {"mm": 1.0, "cm": 10.0, "in": 25.4}
"""Millimetres in one unit; the inch is exact (international yard and pound agreement, 1959)."""

LONGEST_MM = 10_000.0
"""No card, bed or box is longer than ten metres; a larger number is a slip of the unit."""

_UNIT_WORDS = {
    "mm": "mm",
    "cm": "cm",
    "in": "in",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "\u2033": "in",
}
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_MARK = re.compile(r"(?<=\d)[.,](?=\d)")
_CURLY = "\u201c\u201d\u2018\u2019"
_NUMBER = re.compile(
    r"""(?P<sign>[+-]?)\s*
        (?:
            (?P<whole>\d{1,9})\s*[\s-]\s*(?P<mixed_top>\d{1,9})\s*/\s*(?P<mixed_bottom>\d{1,9})
          | (?P<top>\d{1,9})\s*/\s*(?P<bottom>\d{1,9})
          | (?P<decimal>\d+(?:\.\d*)?(?:[eE][+-]?\d+)?|\.\d+)
        )\s*(?P<unit>[a-zA-Z"\u2033]*)""",
    re.VERBOSE,
)


def parse_length(value: float | str, unit: Unit = "mm") -> float:
    """Read one length and return millimetres.

    A bare number counts in `unit`. Text may carry its own unit and a fraction:
    `62`, `"62 mm"`, `"6.2 cm"`, `"2 7/16 in"`, `'2-7/16"'`, `"7/16 in"`. The sign is kept;
    whether a length may be negative is the caller's to say.

    Raises LengthError for anything else, for NaN and infinity, and beyond `LONGEST_MM`.

    >>> parse_length('2-7/16"')
    61.9125
    >>> parse_length(2.5, "in")
    63.5
    """
    if isinstance(value, bool):
        raise LengthError(value, "is not a length; write a number or a text such as '62 mm'")
    if isinstance(value, (int, float)):
        return _checked(float(value) * MM_PER[unit] if abs(value) < 1e9 else math.inf, value)
    match = _NUMBER.fullmatch(" ".join(value.split()))
    word = match["unit"].lower() if match else ""
    if match is None or (word and word not in _UNIT_WORDS):
        raise LengthError(value, _not_a_length(value))
    per_unit = MM_PER[_UNIT_WORDS[word] if word else unit]
    if match["decimal"]:
        length = float(match["decimal"]) * per_unit
    else:
        top, bottom = match["mixed_top"] or match["top"], match["mixed_bottom"] or match["bottom"]
        if int(bottom) == 0:
            raise LengthError(value, "is not a length: the fraction divides by zero")
        # Exact until the end, so that 2 7/16 in is 61.9125 mm to the last bit.
        size = int(match["whole"] or 0) + Fraction(int(top), int(bottom))
        length = float(size * Fraction(str(per_unit)))
    return _checked(-length if match["sign"] == "-" else length, value)


def _not_a_length(text: str) -> str:
    """Why not: what people write elsewhere is told as what it is."""
    if len(_MARK.findall(text)) > 1:
        return "has two marks in a number; write thousands without one, and a point for decimals"
    if _COMMA.search(text):
        return f"has a decimal comma; write '{_COMMA.sub('.', text)}'"
    if any(mark in text for mark in _CURLY):
        return "has a curly quote; write inches as '2 7/16 in'"
    return "is not a length; write for example 62, '62 mm', '6.2 cm' or '2 7/16 in'"


def _checked(millimetres: float, value: float | str) -> float:
    if not math.isfinite(millimetres) or abs(millimetres) > LONGEST_MM:
        raise LengthError(value, f"is not a usable length; the longest is {LONGEST_MM:g} mm")
    return millimetres


def format_length(millimetres: float, unit: Unit = "mm", denominator: int = 16) -> str:
    """Write a length for people: mm and cm to 0.1 mm, inches to the nearest 1/`denominator`.

    >>> format_length(61.9125, "in")
    '2 7/16 in'
    >>> format_length(61.94)
    '61.9 mm'
    """
    if unit != "in":
        digits = 1 if unit == "mm" else 2
        rounded = round(millimetres / MM_PER[unit], digits) + 0.0  # the sum turns -0.0 into 0.0
        return f"{rounded:.{digits}f} {unit}"
    return f"{format_inches(millimetres, denominator)} in"


def format_inches(millimetres: float, denominator: int = 16) -> str:
    """Write a length as inches and a reduced fraction, without the unit.

    `denominator` is the finest division of the ruler, 16 or 32 as a rule.

    >>> format_inches(-12.7)
    '-1/2'
    """
    parts = round(abs(millimetres) / MM_PER["in"] * denominator)
    whole, rest = divmod(parts, denominator)
    sign = "-" if millimetres < 0 and parts else ""
    if not rest:
        return f"{sign}{whole}"
    fraction = Fraction(rest, denominator)
    return f"{sign}{f'{whole} ' if whole else ''}{fraction.numerator}/{fraction.denominator}"

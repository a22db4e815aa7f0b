"""One value as a person wrote it in a file: its type and limits checked.

Each `read_…` function returns the value or raises ValueRefused with a sentence that follows the
value's place: "is 4 mm; allowed is 12 mm to 2000 mm". Lengths come out in mm.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from datetime import date, datetime

from cutlayers.telling.errors import LengthError
from cutlayers.telling.lengths import MM_PER, Unit, parse_length
from cutlayers.telling.nearest import nearest
from cutlayers.telling.written import LARGEST_NUMBER, shown

_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
_LAYER = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,30}")


class ValueRefused(ValueError):  # noqa: N818 - a sentence about a value, always caught and placed
    """A value that is not allowed where it stands; the text says why."""


def read_length(value: object, unit: Unit, minimum: float, maximum: float) -> float:
    """A length in mm; bare numbers count in `unit`, the limits are mm and inclusive."""
    allowed = allowed_lengths(unit, minimum, maximum)
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise ValueRefused(f"is {shown(value)}; allowed is {allowed}")
    if not isinstance(value, str) and not _is_usable(value):
        raise ValueRefused(f"is {shown(value)}; allowed is {allowed}")
    try:
        length = parse_length(value, unit)
    except LengthError as error:
        reason = str(error).removeprefix(f"{value!r} ")
        raise ValueRefused(f"is {shown(value)}, which {reason}") from None
    if not minimum <= length <= maximum:
        raise ValueRefused(f"is {_shown_length(value, length, unit)}; allowed is {allowed}")
    return length


def _shown_length(value: float | str, millimetres: float, unit: Unit) -> str:
    if isinstance(value, str):
        plain = value.strip().lower().endswith("mm")
        return shown(value) if plain else f"{shown(value)} ({millimetres:g} mm)"
    return f"{value:g} {unit}" if unit == "mm" else f"{value:g} {unit} ({millimetres:g} mm)"


def allowed_lengths(unit: Unit, minimum: float, maximum: float) -> str:
    """Two limits in mm for people, in `unit` too where that is another.

    >>> allowed_lengths("in", 12.7, 254)
    '12.7 mm to 254 mm (0.5 in to 10 in)'
    """
    text = f"{minimum:g} mm to {maximum:g} mm"
    if unit == "mm":
        return text
    per = MM_PER[unit]
    return f"{text} ({minimum / per:.3g} {unit} to {maximum / per:.4g} {unit})"


def read_number(value: object, minimum: float, maximum: float, unit: str = "") -> float:
    """A number with inclusive limits; `unit` is for the message alone."""
    allowed = f"{minimum:g} to {maximum:g}{f' {unit}' if unit else ''}"
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ValueRefused(f"is {shown(value)}; allowed is a number, {allowed}")
    if not _is_usable(value) or not minimum <= value <= maximum:
        raise ValueRefused(f"is {shown(value)}; allowed is {allowed}")
    return float(value)


def read_whole(value: object, minimum: int, maximum: int) -> int:
    """A whole number with inclusive limits."""
    allowed = f"a whole number, {minimum} to {maximum}"
    if isinstance(value, bool) or not isinstance(value, int) or not minimum <= value <= maximum:
        raise ValueRefused(f"is {shown(value)}; allowed is {allowed}")
    return value


def read_setting(value: object) -> float | str:
    """A number or a text of the user's own."""
    if isinstance(value, str):
        return read_text(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not _is_usable(value):
        raise ValueRefused(f"is {shown(value)}; allowed is a number or a text")
    return value


def read_date(value: object) -> date:
    """A day, as TOML's own date or as text: 2026-03-01."""
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    if isinstance(value, str):
        try:
            return date.fromisoformat(value)
        except ValueError:
            pass
    raise ValueRefused(f"is {shown(value)}; allowed is a day such as 2026-03-01")


def _is_usable(number: float) -> bool:
    return abs(number) <= LARGEST_NUMBER  # false for NaN and infinity as well


def read_choice(value: object, choices: Sequence[str | int]) -> str | int:
    """One of a few words or numbers; a text that is not among them is answered with the nearest."""
    for choice in choices:
        if type(value) is type(choice) and value == choice:
            return choice
    *some, last = [shown(choice) for choice in choices] or ["nothing, for there is none yet"]
    allowed = f"{', '.join(some)} or {last}" if some else last
    near = nearest(value, [str(choice) for choice in choices]) if isinstance(value, str) else None
    hint = f". Did you mean {shown(near)}?" if near is not None else ""
    raise ValueRefused(f"is {shown(value)}; allowed is {allowed}{hint}")


def read_flag(value: object) -> bool:
    """Yes or no."""
    if not isinstance(value, bool):
        raise ValueRefused(f"is {shown(value)}; allowed is true or false, without quotes")
    return value


def read_text(value: object, longest: int = 100) -> str:
    """A text on one line, 1 to `longest` characters, without control characters."""
    if not isinstance(value, str):
        raise ValueRefused(f'is {shown(value)}; allowed is a text in quotes, such as "kraft"')
    if not value.strip() or len(value) > longest:
        allowed = f"a text of 1 to {longest} characters"
        raise ValueRefused(f"is {shown(value)}; allowed is {allowed}")
    if any(_is_control(mark) for mark in value):
        raise ValueRefused(
            f"is {shown(value)}; allowed is a text on one line without control characters"
        )
    return value


def _is_control(mark: str) -> bool:
    return unicodedata.category(mark) in ("Cc", "Cs", "Zl", "Zp") or mark in "\ufffe\uffff"


def read_colour(value: object) -> str:
    """A colour as #RRGGBB, given back in capitals."""
    if not isinstance(value, str) or not _COLOUR.fullmatch(value):
        raise ValueRefused(f'is {shown(value)}; allowed is "#RRGGBB", such as "#0072B2"')
    return value.upper()


def read_layer(value: object) -> str:
    """A layer's name that every version of DXF and an SVG id can hold.

    Source: DXF Reference, symbol table names of R12 (31 characters: letters, digits, - and _);
    an SVG id is an XML name, which begins with a letter. DXF keeps the layer "Defpoints" for
    itself and readers do not plot what is on it.
    """
    if not isinstance(value, str) or not _LAYER.fullmatch(value):
        raise ValueRefused(
            f"is {shown(value)}; allowed is a letter, then up to 30 letters, digits, - or _"
        )
    if value.lower() == "defpoints":
        raise ValueRefused(f"is {shown(value)}, a name that DXF keeps for itself; choose another")
    return value

"""One value as a person wrote it in a file: its type and limits checked.

Each `read_…` function returns the value or raises ValueRefused, whose text follows the
value's place: "is 4 mm; it must be 12 mm to 2000 mm". Lengths come out in mm.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from cutlayers.reading.user_paths import user_path
from cutlayers.telling.errors import LengthError
from cutlayers.telling.lengths import Unit, parse_length
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Allowed, Fault, Refusal, Span
from cutlayers.telling.refusing import refused_clause
from cutlayers.telling.written import LARGEST_NUMBER, shown

_COLOUR = re.compile(r"#[0-9A-Fa-f]{6}")
_PLAIN_NUMBER = re.compile(r"[+-]?\d+(\.\d+)?")
_LAYER = re.compile(r"[A-Za-z][A-Za-z0-9_-]{0,30}")


class ValueRefused(ValueError):  # noqa: N818 - about a value, always caught and placed
    """A value that is not allowed where it stands; `refusal` says why, its place is left open.

    Without a `reason` the sentence is made of what was found and what is allowed.
    """

    def __init__(
        self,
        reason: str = "",
        *,
        fault: Fault | None = None,
        found: object = None,
        allowed: Allowed | None = None,
        nearest: str | None = None,
        unit: Unit = "mm",
        advice: str = "",
        line: int | None = None,
    ) -> None:
        self.refusal = Refusal(
            reason=reason,
            fault=fault or ("other" if allowed is None else "value"),
            line=line,
            found=found,
            allowed=allowed,
            nearest=nearest,
            unit=unit,
            advice=advice,
        )
        super().__init__(refused_clause(self.refusal))


def read_length(value: object, unit: Unit, minimum: float, maximum: float) -> float:
    """A length in mm; bare numbers count in `unit`, the limits are mm and inclusive."""
    allowed = Span(minimum, maximum, "mm")
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise _refused(value, allowed, unit)
    if not isinstance(value, str) and not _is_usable(value):
        raise _refused(value, allowed, unit)
    try:
        length = parse_length(value, unit)
    except LengthError as error:
        raise ValueRefused(
            f"is {shown(value)}, which {error.reason}", found=value, unit=unit
        ) from None
    if not minimum <= length <= maximum:
        raise _refused(value, allowed, unit)
    return length


def _refused(value: object, allowed: Allowed, unit: Unit = "mm") -> ValueRefused:
    return ValueRefused(found=value, allowed=allowed, unit=unit)


def _no_number(value: object, allowed: Span) -> ValueRefused:
    """What is no number, or out of its limits; a text that reads as one is told so."""
    text = value.strip().replace(",", ".", 1) if isinstance(value, str) else ""
    advice = f"write {text}, without quotes" if _PLAIN_NUMBER.fullmatch(text) else ""
    return ValueRefused(found=value, allowed=allowed, advice=advice)


def read_number(value: object, minimum: float, maximum: float, unit: str = "") -> float:
    """A number with inclusive limits; `unit` is for the message alone."""
    allowed = Span(minimum, maximum, unit)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise _no_number(value, allowed)
    if not _is_usable(value) or not minimum <= value <= maximum:
        raise _refused(value, allowed)
    return float(value)


def read_whole(value: object, minimum: int, maximum: int) -> int:
    """A whole number with inclusive limits."""
    if isinstance(value, bool) or not isinstance(value, int) or not minimum <= value <= maximum:
        raise _no_number(value, Span(minimum, maximum, whole=True))
    return value


def read_setting(value: object) -> float | str:
    """A number or a text of the user's own."""
    if isinstance(value, str):
        return read_text(value)
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not _is_usable(value):
        raise _refused(value, "a number or a text")
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
    raise _refused(value, "a day such as 2026-03-01")


def _is_usable(number: float) -> bool:
    return abs(number) <= LARGEST_NUMBER  # false for NaN and infinity as well


def read_choice(value: object, choices: Sequence[str | int]) -> str | int:
    """One of a few words or numbers; a text that is not among them is answered with the nearest."""
    for choice in choices:
        if type(value) is type(choice) and value == choice:
            return choice
    words = [str(choice) for choice in choices]
    near = nearest(value, words) if isinstance(value, str) else None
    raise ValueRefused(found=value, allowed=tuple(choices), nearest=near)


def read_flag(value: object) -> bool:
    """Yes or no."""
    if not isinstance(value, bool):
        raise _refused(value, "true or false, without quotes")
    return value


def read_text(value: object, longest: int = 100) -> str:
    """A text on one line, 1 to `longest` characters, without control characters."""
    if not isinstance(value, str):
        raise _refused(value, 'a text in quotes, such as "kraft"')
    if not value.strip() or len(value) > longest:
        raise _refused(value, f"a text of 1 to {longest} characters")
    if any(_is_control(mark) for mark in value):
        raise _refused(value, "a text on one line without control characters")
    return value


def read_path(value: object) -> Path:
    """Where a file is, ~ being a home folder."""
    if not isinstance(value, str):
        raise _refused(value, "the name of a file, in quotes")
    return user_path(read_text(value))


def readable(text: str) -> str:
    """A text from elsewhere with U+FFFD in the place of each mark that `read_text` refuses.

    >>> readable("line\\nbreak")
    'line\ufffdbreak'
    """
    return "".join("\N{REPLACEMENT CHARACTER}" if _is_control(mark) else mark for mark in text)


def _is_control(mark: str) -> bool:
    return unicodedata.category(mark) in ("Cc", "Cs", "Zl", "Zp") or mark in "\ufffe\uffff"


def read_colour(value: object) -> str:
    """A colour as #RRGGBB, given back in capitals."""
    if not isinstance(value, str) or not _COLOUR.fullmatch(value):
        raise _refused(value, '"#RRGGBB", such as "#0072B2"')
    return value.upper()


def read_layer(value: object) -> str:
    """A layer's name that every version of DXF and an SVG id can hold.

    Source: DXF Reference, symbol table names of R12 (31 characters: letters, digits, - and _);
    an SVG id is an XML name, which begins with a letter. DXF keeps the layer "Defpoints" for
    itself and readers do not plot what is on it.
    """
    if not isinstance(value, str) or not _LAYER.fullmatch(value):
        raise _refused(value, "a letter, then up to 30 letters, digits, - or _")
    if value.lower() == "defpoints":
        reason = f"is {shown(value)}, a name that DXF keeps for itself; choose another"
        raise ValueRefused(reason, found=value)
    return value

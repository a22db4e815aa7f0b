"""Changes to a TOML text: values set or taken out, everything else byte for byte.

Nothing here touches the disk or knows what the file is for. Comments, order and spaces stay
(tomlkit keeps them); new lines go where a person would have put them.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from cutlayers.telling.lengths import MM_PER, Unit
from cutlayers.telling.refusals import Place, Refusal
from cutlayers.telling.refusing import refused_line

FINEST = 64
"""Divisions of an inch that are still written as a fraction."""

NEAR = 1e-6
"""mm; a length so near to a fraction of an inch is that fraction."""


NOT_WRITTEN = (ValueError, TypeError, AttributeError, LookupError, RecursionError)
"""What the library stumbles with over a value that has no place where it is put."""


class EditRefused(ValueError):  # noqa: N818 - always caught, and placed in a file
    """A change that this text has no place for; `refusal` says why."""

    def __init__(self, refusal: Refusal) -> None:
        super().__init__(refused_line(refusal))
        self.refusal = refusal


def with_value(text: str, place: Place, value: object) -> str:
    """The text with one value set, or taken out where it is None; lists count from 0.

    Tables that are missing are made. Raises EditRefused where a step of the place is no table or
    list, or an item is not there; where the text is no TOML, and where it would be none with the
    value in that place.
    """
    import tomlkit  # here, so that whoever only tries an edit does without it
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as error:
        raise EditRefused(Refusal(place, "stands in a text that is no TOML")) from error
    try:
        put(document, place, value)
        fresh = settled(text, tomlkit.dumps(document))
        tomllib.loads(fresh)
    except EditRefused:
        raise
    except (TOMLKitError, *NOT_WRITTEN) as error:
        reason = "cannot be written with this value"
        raise EditRefused(Refusal(place, reason, "value", found=str(value))) from error
    return fresh


def put(table: Any, place: Place, value: object) -> None:
    """`with_value` for tables already read, plain ones and tomlkit's alike; changes them."""
    *outer, last = place
    for depth, step in enumerate(outer):
        table = _inner(table, step, place[: depth + 1])
    if isinstance(last, int):
        _inner(table, last, place)
    elif not isinstance(table, Mapping):
        raise _no_table(table, place[:-1])
    elif value is None and last not in table:
        raise EditRefused(Refusal(place, "is not there to be taken out", "missing"))
    if value is None:
        del table[last]
    else:
        table[last] = value


def _inner(table: Any, step: str | int, place: Place) -> Any:
    if isinstance(step, int):
        if not isinstance(table, list) or not 0 <= step < len(table):
            raise EditRefused(Refusal(place, "is not there", "missing"))
        return table[step]
    if not isinstance(table, Mapping):
        raise _no_table(table, place[:-1])
    if step not in table:
        table[step] = {} if type(table) is dict else _new_table(table)  # type: ignore[index]
    return table[step]


def _no_table(found: Any, place: Place) -> EditRefused:
    return EditRefused(Refusal(place, fault="value", found=_plain(found), allowed="a table"))


def _new_table(parent: Any) -> Any:
    """A table that only holds others is written without a line of its own; one within an inline
    table is inline too."""
    import tomlkit
    from tomlkit.items import InlineTable

    if isinstance(parent, InlineTable):
        return {}
    return tomlkit.table(is_super_table=not isinstance(parent, tomlkit.TOMLDocument))


def _plain(value: Any) -> Any:
    return value.unwrap() if hasattr(value, "unwrap") else value


def length_in(millimetres: float, unit: Unit) -> int | float | str:
    """A length as a file in that unit would have it: inches as a fraction where they are one.

    >>> length_in(61.9125, "in"), length_in(12.7, "mm"), length_in(30, "mm")
    ('2 7/16', 12.7, 30)
    """
    size = round(millimetres / MM_PER[unit], 9)
    if unit == "in":
        parts = Fraction(round(abs(size) * FINEST), FINEST)
        if parts.denominator > 1 and abs(float(parts) - abs(size)) * MM_PER["in"] <= NEAR:
            whole, rest = divmod(parts.numerator, parts.denominator)
            sign = "-" if size < 0 else ""
            return f"{sign}{f'{whole} ' if whole else ''}{rest}/{parts.denominator}"
    return int(size) if size.is_integer() else size


def settled(before: str, after: str) -> str:
    """A text with new lines in it, these moved to where a person would have put them.

    They go above the comments and empty lines in front of the next table, which belong to that;
    a new table has an empty line before and after it. Line ends are those of the text before.
    A text in which lines were changed or lost comes back as it is.
    """
    old, new = before.splitlines(keepends=True), after.splitlines(keepends=True)
    if old and not old[-1].endswith("\n") and len(new) > len(old):
        old[-1] += _line_end(before)
    at = 0
    while at < min(len(old), len(new)) and old[at] == new[at]:
        at += 1
    count = len(new) - len(old)
    if count <= 0 or new[at + count :] != old[at:]:
        return after
    fresh = [line.rstrip("\r\n") + _line_end(before) for line in new[at : at + count]]
    while fresh and not fresh[0].strip():
        fresh.pop(0)
    while fresh and not fresh[-1].strip():
        fresh.pop()
    while at and (not old[at - 1].strip() or old[at - 1].lstrip().startswith("#")):
        at -= 1
    empty = _line_end(before)
    if fresh and fresh[0].startswith("["):
        fresh = [empty, *fresh] if at else fresh
        fresh += [empty] if at < len(old) and old[at].strip() else []
    return "".join([*old[:at], *fresh, *old[at:]])


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"

"""Tables put into, and taken out of, the lists of tables of a TOML text; all else byte for byte.

A table that a person has under a head of its own, [[piece.art]], is a block of lines: it is set in
where that list ends, and taken out from its head to its last key. What comes of it is read again
and compared, so that a head within a text of several lines is never taken for one.
"""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from cutlayers.frozen import frozen
from cutlayers.reading.editing import NOT_WRITTEN, EditRefused, with_value
from cutlayers.telling.refusals import Place, Refusal

_HEAD = re.compile(r"\s*(?P<open>\[\[?)\s*(?P<name>[A-Za-z0-9_.-]+)\s*\]\]?\s*(#.*)?$")


@frozen
class _Head:
    """The head of a table: its line, and its place with the numbers that lists count by."""

    line: int
    place: Place


def with_item(text: str, place: Place, value: Mapping[str, object]) -> str:
    """The text with one table more at the end of a list of tables, which is made if it is missing.

    Raises EditRefused where there is no place for it.
    """
    end = _line_end(text)
    lines = [_head_of(place), *(f"{key} = {_written(each)}" for key, each in value.items())]
    return _with_block(text, place, value, [line + end for line in lines])


def with_copy(text: str, place: Place, other: Mapping[str, object]) -> str:
    """The text with one item of a list of tables a second time, at the end of that list and with
    the comments in it; `other` are its own values where they differ.

    Raises EditRefused where there is no such item.
    """
    found = _item_at(tomllib.loads(text), place)
    lines = text.splitlines(keepends=True)
    if lines and not lines[-1].endswith("\n"):
        lines[-1] += _line_end(text)
    start, end = _extent(lines, place) or (0, 0)
    fresh = _with_block(text, place[:-1], found, lines[start:end])
    items = _at(tomllib.loads(fresh), place[:-1])
    for key, value in other.items():
        fresh = with_value(fresh, (*place[:-1], len(items) - 1, key), value)
    return fresh


def with_block(text: str, place: Place, block: str) -> str:
    """The text with the one table that a block of TOML text has, comments and all, at the end of
    that list of tables. Raises EditRefused where there is no place for it."""
    (found,) = _at(tomllib.loads(block), place)
    end = _line_end(text)
    return _with_block(text, place, found, [line + end for line in block.splitlines()])


def _with_block(text: str, place: Place, value: Mapping[str, object], block: Sequence[str]) -> str:
    """The text with a table more at the end of a list, as the block has it, or else in one line."""
    wanted = tomllib.loads(text)
    outer, last = place[:-1], str(place[-1])
    holder = _at(wanted, outer)
    items = holder.setdefault(last, []) if isinstance(holder, dict) else None
    if not isinstance(items, list):
        raise EditRefused(Refusal(place, fault="value", found=items, allowed="a list of tables"))
    items.append(copy.deepcopy(dict(value)))
    lines, end = text.splitlines(keepends=True), _line_end(text)
    for at in _ends(lines, outer) if outer else _ends(lines, place):
        before, after = lines[:at], lines[at:]
        if before and not before[-1].endswith("\n"):
            before[-1] += end
        gap = [end] if before and before[-1].strip() else []
        rest = [end] if after and after[0].strip() else []
        fresh = "".join([*before, *gap, *block, *rest, *after])
        if _reads_as(fresh, wanted):
            return fresh
    fresh = _with_inline(text, place, value)
    return fresh if _reads_as(fresh, wanted) else with_value(text, place, items)


def _with_inline(text: str, place: Place, value: Mapping[str, object]) -> str:
    """The text with a table more in a list within brackets, if it is one, and its remarks."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError
    from tomlkit.items import Array

    try:
        document = tomlkit.parse(text)
        items = _at(document, place)
        if isinstance(items, Array):
            inline = tomlkit.inline_table()
            inline.update(value)
            items.append(inline)
        return tomlkit.dumps(document)
    except (TOMLKitError, EditRefused, *NOT_WRITTEN):
        return text


def without_item(text: str, place: Place) -> str:
    """The text without one item of a list of tables; a list without any goes as a whole.

    Raises EditRefused where there is no such item.
    """
    wanted = tomllib.loads(text)
    _item_at(wanted, place)
    key, index = place[-2:]
    holder = _at(wanted, place[:-2])
    items = holder[key]
    del items[index]
    if not items:
        del holder[key]
    lines = text.splitlines(keepends=True)
    if extent := _extent(lines, place):
        start, end = extent
        if start and not lines[start - 1].strip():
            start -= 1
        fresh = "".join([*lines[:start], *lines[end:]])
        if _reads_as(fresh, wanted):
            return fresh
    return with_value(text, place if items else place[:-1], None)


def _item_at(table: Any, place: Place) -> Mapping[str, Any]:
    """An item of a list of tables. Raises EditRefused where there is none."""
    index, items = (place[-1], _at(table, place[:-1])) if len(place) > 1 else (None, None)
    if not isinstance(items, list) or not isinstance(index, int) or not 0 <= index < len(items):
        raise EditRefused(Refusal(place, "is not there", "missing"))
    found: Mapping[str, Any] = items[index]
    return found


def _extent(lines: Sequence[str], place: Place) -> tuple[int, int] | None:
    """From the head of a table to behind its last key; None where it has no head."""
    heads = list(_heads(lines))
    for number, head in enumerate(heads):
        if head.place == place:
            inner = len(place)
            rest = (each.line for each in heads[number + 1 :] if each.place[:inner] != place)
            end = _without_remarks(lines, next(rest, len(lines)))
            return head.line, _with_its_remarks(lines, end)
    return None


def _head_of(place: Place) -> str:
    return f"[[{'.'.join(step for step in place if isinstance(step, str))}]]"


def _at(table: Any, place: Place) -> Any:
    for step in place:
        try:
            table = table[step]
        except (KeyError, IndexError, TypeError):
            raise EditRefused(Refusal(place, "is not there", "missing")) from None
    return table


def _reads_as(text: str, wanted: Mapping[str, Any]) -> bool:
    try:
        return tomllib.loads(text) == wanted
    except tomllib.TOMLDecodeError:
        return False


def _heads(lines: Sequence[str]) -> Iterator[_Head]:
    """Every line that looks like the head of a table."""
    counts: dict[tuple[str, ...], int] = {}
    for line, content in enumerate(lines):
        match = _HEAD.match(content)
        if match is None:
            continue
        name = tuple(match["name"].split("."))
        if match["open"] == "[[":
            counts = {
                known: count
                for known, count in counts.items()
                if len(known) <= len(name) or known[: len(name)] != name
            }
            counts[name] = counts.get(name, -1) + 1
        place: list[str | int] = []
        for depth, step in enumerate(name, start=1):
            place.append(step)
            if name[:depth] in counts:
                place.append(counts[name[:depth]])
        yield _Head(line, tuple(place))


def _ends(lines: Sequence[str], outer: Place) -> Iterator[int]:
    """Where what belongs to a table may end, the likeliest first."""
    heads = list(_heads(lines))
    inside = [n for n, head in enumerate(heads) if head.place[: len(outer)] == outer]
    if inside and inside[-1] + 1 < len(heads):
        yield _above_remarks(lines, heads[inside[-1] + 1].line)
    yield len(lines)


def _above_remarks(lines: Sequence[str], at: int) -> int:
    """Above the comments that stand over a head, and belong to it."""
    while at and lines[at - 1].lstrip().startswith("#"):
        at -= 1
    return at


def _without_remarks(lines: Sequence[str], end: int) -> int:
    """The end of what a table says, comments and empty lines behind it left out."""
    while end and (not lines[end - 1].strip() or lines[end - 1].lstrip().startswith("#")):
        end -= 1
    return end


def _with_its_remarks(lines: Sequence[str], end: int) -> int:
    """With the comments right below the last key, unless they stand over the next head."""
    below = end
    while below < len(lines) and lines[below].lstrip().startswith("#"):
        below += 1
    return below if below == len(lines) or not lines[below].strip() else end


def _written(value: object) -> str:
    import tomlkit

    return tomlkit.item(value).as_string()


def _line_end(text: str) -> str:
    return "\r\n" if "\r\n" in text else "\n"

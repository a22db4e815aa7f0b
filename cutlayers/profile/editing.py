"""Changes to a profile's text: one value set or taken out, everything else byte for byte.

Nothing here touches the disk. A change is made in the text's own layout (tomlkit keeps comments,
order and spaces), and is given back only when the text then reads as exactly that change and
passes the checks of `profile.py`.
"""

from __future__ import annotations

import copy
import tomllib
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT

from cutlayers.frozen import frozen
from cutlayers.profile.reading import profile_from
from cutlayers.reading.editing import EditRefused, put, settled, with_value
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown, write_place

Key = tuple[str, ...]
Value = str | int | float | bool | date | Sequence[Any] | Mapping[str, Any]

_MISSING = object()


@frozen
class Edit:
    """One value to be set; None takes the key out."""

    key: Key
    value: Value | None


@frozen
class Change:
    """What an edit did, for people: the key, the value before and after ("-" where none)."""

    key: str
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.key}: {self.old} → {self.new}"


MOST_STEPS = 20
"""Of a key; a profile's own have up to five, and far more are too deep for those who read them."""


def read_key(text: str) -> Key:
    """A dotted key as the file would have it: `materials."my card".cut.force_g`.

    Raises ProfileError.
    """
    try:
        node: Any = tomllib.loads(f"{text} = 0")
    except tomllib.TOMLDecodeError:
        node = None
    steps: list[str] = []
    while isinstance(node, dict) and len(node) == 1:
        ((step, node),) = node.items()
        steps.append(step)
    is_key = node == 0 and not isinstance(node, bool) and len(steps) <= MOST_STEPS
    if not is_key or "\n" in text or "=" in text:
        raise ProfileError(
            Refusal(
                reason=f"{shown(text)} is no key",
                fault="value",
                found=text,
                advice='write one such as tools.blade.offset or materials."my card".cut.force_g',
            )
        )
    return tuple(steps)


def read_value(text: str) -> Value:
    """A value as TOML writes it; what TOML does not know is taken as a text, without quotes.

    >>> read_value("18"), read_value("12 in"), read_value("[1, 2]")
    (18, '12 in', [1, 2])
    """
    try:
        table = tomllib.loads(f"value = {text}")
    except (tomllib.TOMLDecodeError, ValueError, RecursionError):
        return text
    value: Value = table["value"]
    return value if len(table) == 1 else text


def edited(text: str, edits: Sequence[Edit], file: str, name: str) -> tuple[str, list[Change]]:
    """The text of a profile with values set, and what changed; `file` is named in messages.

    Tables that are missing are made. Raises ProfileError where the text is no right profile
    beforehand (a broken file is for its owner to mend) or would be none afterwards.
    """
    before = _right_profile(text, file, name)
    result = text
    wanted: dict[str, Any] = copy.deepcopy(before)
    changes = []
    for edit in edits:
        old = _value_at(wanted, edit.key)
        try:
            put(wanted, edit.key, edit.value)
            if old is _MISSING or not _same(old, edit.value):
                result = with_value(result, edit.key, edit.value)
        except EditRefused as error:
            raise ProfileError(error.refusal.within(file)) from None
        changes.append(Change(write_place(edit.key), written(old), written(edit.value)))
    _right_profile(result, file, name)
    if not _same(tomllib.loads(result), wanted):
        raise ProfileError(
            Refusal(
                edits[0].key,
                "cannot be set without changing the rest",
                file=file,
                advice="edit the file by hand",
            )
        )
    return result, changes


def with_entry(text: str, table: str, entry: Mapping[str, Value], file: str) -> str:
    """The text with one more table at the end of an array of tables, [[table]].

    Raises ProfileError where `table` is written in another way.
    """
    document = tomlkit.parse(text)
    item = tomlkit.table()
    for key, value in entry.items():
        item[key] = value
    listed = document.get(table)
    if listed is None:
        listed = tomlkit.aot()
        listed.append(item)
        document[table] = listed
    elif isinstance(listed, AoT):
        listed.append(item)
    else:
        allowed = f"written as [[{table}]] to be added to"
        raise ProfileError(
            Refusal((table,), "is no list of tables", "value", file=file, allowed=allowed)
        )
    return settled(text, tomlkit.dumps(document))


def _right_profile(text: str, file: str, name: str) -> dict[str, Any]:
    """The tables of a text that is a right profile. Raises ProfileError."""
    table = parse_toml(text, file)
    try:
        tomlkit.parse(text)
    except (TOMLKitError, ValueError, RecursionError) as error:
        reason = f"cannot be changed here: {str(error).rstrip('.')}"
        raise ProfileError(
            Refusal(reason=reason, fault="unreadable", file=file, advice="edit it by hand")
        ) from None
    profile_from(table, file, name)
    return table


def _value_at(table: Any, key: Key) -> Any:
    for step in key:
        if not isinstance(table, Mapping) or step not in table:
            return _MISSING
        table = table[step]
    return table


def _same(one: Any, other: Any) -> bool:
    """Equal in values and types; the order of keys does not count."""
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list) and isinstance(other, (list, tuple)):
        return len(one) == len(other) and all(map(_same, one, other))
    return type(one) is type(other) and (one == other or repr(one) == repr(other))


def written(value: Any) -> str:
    """A value as the file has it; "-" where there is none."""
    if value is None or value is _MISSING:
        return "-"
    if isinstance(value, Mapping):
        inner = ", ".join(f"{write_place((key,))} = {written(each)}" for key, each in value.items())
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(written, value))}]"
    if isinstance(value, date):
        return value.isoformat()
    return shown(value)


def differences(one: Mapping[str, Any], other: Mapping[str, Any]) -> list[Change]:
    """What two profiles say differently, key by key; the diary of trials does not count."""
    first, second = dict(_flat(one)), dict(_flat(other))
    keys = [*first, *(key for key in second if key not in first)]
    return [
        Change(write_place(key), written(first.get(key)), written(second.get(key)))
        for key in keys
        if key[0] != "trials" and not _same(first.get(key), second.get(key))
    ]


def _flat(table: Mapping[str, Any], place: Key = ()) -> list[tuple[Key, Any]]:
    rows: list[tuple[Key, Any]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            rows += _flat(value, (*place, key))
        else:
            rows.append(((*place, key), value))
    return rows

"""Values and places as the user's files have them."""

from __future__ import annotations

import json
import re

from cutlayers.telling.refusals import Place

LONGEST_SHOWN = 60
"""Characters of a wrong text that a message repeats; more would hide the rest of the line."""

LARGEST_NUMBER = 1e12
"""No number in these files comes near; beyond it integers no longer print or convert safely."""

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def write_place(place: Place) -> str:
    """A place as the file's reader would write it.

    >>> write_place(("piece", 0, "size", "length of base"))
    'piece[1].size."length of base"'
    """
    text = ""
    for step in place:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            key = step if _BARE_KEY.fullmatch(step) else quoted(step)
            text += f".{key}" if text else key
    return text


def quoted(key: str) -> str:
    """A text in quotes, on one line whatever is in it."""
    return "".join(
        mark if mark.isprintable() else mark.encode("unicode_escape").decode("ascii")
        for mark in json.dumps(key, ensure_ascii=False)
    )


def shown(value: object) -> str:
    """A value on one line, as the file would have it, shortened where it is long.

    >>> shown('a "b"'), shown(True), shown({"a": 1})
    ('"a \\\\"b\\\\""', 'true', 'a table')
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        short = value if len(value) <= LONGEST_SHOWN else f"{value[:LONGEST_SHOWN]}…"
        quoted = json.dumps(short, ensure_ascii=False)
        return "".join(
            mark if mark.isprintable() else mark.encode("unicode_escape").decode("ascii")
            for mark in quoted
        )
    if isinstance(value, int):
        return str(value) if abs(value) <= LARGEST_NUMBER else "a number far too large"
    if isinstance(value, float):
        text = f"{value:.12g}"
        return f"{text}.0" if text.lstrip("-").isdigit() else text
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    return str(value)

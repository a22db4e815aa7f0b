"""What a person did on the page, as a change of the job's text."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, Literal

from cutlayers import (
    CutlayersError,
    EditRefused,
    Job,
    length_in,
    parse_length,
    with_angles_found,
    with_item,
    with_line,
    with_value,
    without_item,
)
from cutlayers.page.pieces import (
    NoSuchThingError,
    Place,
    restyled,
    with_another,
    with_paper,
    with_stock,
    with_style,
    without_paper,
    without_stock,
)

_NUMBER = re.compile(r"[+-]?\d+(\.\d*)?|[+-]?\.\d+")
_INCHES = re.compile(r"(in|inch|inches|\"|\u2033)\s*$|/\s*\d+\s*$", re.IGNORECASE)

STEP_MM, STEPS_PER_INCH = 0.5, 16
"""By how much one step makes a length larger or smaller."""

NOTHING = "the page asked for something that there is not"

UNREADABLE = "the file cannot be read as it is now; mend it in the editor first"

MOST_STEPS = 10_000
"""At a time; more is no length that a box has."""

MM_PER_INCH = 25.4

STARTING: Mapping[str, Mapping[str, float]] = {
    "sphere": {"diameter": 50},
    "cuboid": {"length": 60, "width": 40, "height": 30},
    "cylinder": {"diameter": 40, "height": 60},
    "egg": {"length": 60, "diameter": 44},
}
"""mm; a thing to be packed, before its maker says more."""

ART: Mapping[str, Mapping[str, object]] = {
    "pattern": {"pattern": "dots", "ink": "#0072B2", "ground": "#FFFFFF", "repeat": "8 mm"},
    "words": {"lettering": "Made by hand", "ink": "#23262B"},
    "colour": {"colour": "#F0E442"},
}
"""What is printed at first, by what it is."""


class ChangeRefused(ValueError):  # noqa: N818 - always caught, and told beside the control
    """A change that cannot be made; its text says why, `place` where."""

    def __init__(self, place: Place, reason: str) -> None:
        super().__init__(reason)
        self.place = place


def changed(text: str, change: Mapping[str, Any], job: Job | None, path: Path) -> str:
    """The text of a file with one change made; `job` is the last that was made of it.

    Raises ChangeRefused where the text has no place for it.
    """
    _table(text)
    try:
        fresh = _changed(text, change, job, path)
        fresh.encode()
    except EditRefused as refused:
        raise ChangeRefused(refused.refusal.place, str(refused)) from None
    except NoSuchThingError as missing:
        raise ChangeRefused(missing.place, str(missing)) from None
    except CutlayersError as error:
        raise ChangeRefused((), str(error)) from None
    except (tomllib.TOMLDecodeError, RecursionError):
        raise ChangeRefused((), UNREADABLE) from None
    except UnicodeEncodeError:
        raise ChangeRefused((), "there are halves of letters in this") from None
    return fresh


def _changed(text: str, change: Mapping[str, Any], job: Job | None, path: Path) -> str:
    if isinstance(which := change.get("piece"), int):
        _place((which,))
    match change:
        case {"set": list(place), "to": to, **more}:
            value = written(to, str(more.get("kind", "")))
            return _set(text, _place(place), value)
        case {"step": list(place), "by": int(by), **more}:
            return _stepped(text, _place(place), by, more.get("from"))
        case {"add": ("pattern" | "words" | "colour") as what, "piece": int(piece), **more}:
            item = {**_on(more), **ART[what]}
            return with_item(text, ("piece", piece, "art"), item)
        case {"add": "paper", "piece": int(piece), **more}:
            return with_paper(text, piece, _on(more))
        case {"add": "box", "style": str(name)}:
            return with_style(text, name)
        case {"add": "box", "like": int(piece)}:
            return with_another(text, piece)
        case {"add": "stock", "name": str(name), "piece": int(piece)}:
            return with_stock(text, name.strip(), piece)
        case {"style": str(name), "piece": int(piece), **more}:
            return restyled(text, piece, name, usual_size=more.get("usual") is True)
        case {"remove": ["stock", str(name)]}:
            return without_stock(text, name)
        case {"add": "letters", "piece": int(piece), "panels": [str(panel), *_], **more}:
            net = more.get("net")
            item = {"panel": f"{net}.{panel}" if net else panel, "text": "Hello"}
            return with_item(text, ("piece", piece, "lettering"), item)
        case {"remove": list(place)}:
            fresh = without_item(text, _place(place))
            return without_paper(fresh) if "facing" in place else fresh
        case {"holds": str(shape), "piece": int(piece)}:
            return _holding(text, piece, shape)
        case {"sized": True, "piece": int(piece)}:
            return _sized(text, piece, job)
        case {"angles": True, "piece": int(piece)}:
            return with_angles_found(text, path, piece)
        case {"line": int(number), "is": None | str() as kind, "piece": int(piece)}:
            return with_line(text, path, piece, number, kind)
    raise ChangeRefused((), NOTHING)


def place_of(change: Mapping[str, Any]) -> Place:
    """Where a change is made; empty where it is no single value."""
    for key in ("set", "step"):
        if isinstance(change.get(key), list):
            return _place(change[key])
    return ()


def conflict_in(change: Mapping[str, Any], before: str, now: str) -> Mapping[str, Any] | None:
    """Where an editor has made another text of the one before, and in it changed the value that a
    person is changing here to another one."""
    place = place_of(change)
    if not place or "set" not in change:
        return None
    theirs = value_at(now, place)
    was = change.get("was", value_at(before, place))
    if theirs == was or str(theirs) in (str(was), str(change.get("to"))):
        return None
    return {"place": list(place), "theirs": theirs, "yours": change.get("to")}


def value_at(text: str, place: Place) -> object:
    """What stands in a text at a place; None where nothing does."""
    try:
        return value_in(_table(text), place)
    except ChangeRefused:
        return None


def _table(text: str) -> dict[str, Any]:
    """What a text holds. Raises ChangeRefused where it is no TOML, is nested far too deeply or has
    a number of thousands of digits."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        raise ChangeRefused((), UNREADABLE) from None


def value_in(table: Mapping[str, Any], place: Place) -> Any:
    """What stands in a table at a place; None where nothing does."""
    found: Any = table
    try:
        for step in place:
            found = found[step]
    except (KeyError, IndexError, TypeError):
        return None
    return found


def written(typed: object, kind: str) -> object:
    """What a person typed, as the file has it; None where nothing was typed.

    Lengths keep the way in which they are written: "2 7/16 in" is a text, 62 a number.
    """
    if not isinstance(typed, str) or kind == "flag":
        return typed
    typed = typed.strip()
    if not typed:
        return None
    plain = _NUMBER.fullmatch(typed) is not None
    match kind:
        case "length" | "number" if plain:
            value = float(typed)
            return int(value) if value.is_integer() else value
        case "whole" if re.fullmatch(r"[+-]?\d{1,18}", typed):
            return int(typed)
        case "words" if "\n" in typed or "," in typed:
            parts = re.split(r"\n" if "\n" in typed else ",", typed)
            return [part.strip() for part in parts if part.strip()]
    return typed


def _set(text: str, place: Place, value: object) -> str:
    if value is None and value_at(text, place) is None:
        return text
    if place[-1] == "fill" and value is True and value_at(text, (*place[:-1], "count")):
        text = with_value(text, (*place[:-1], "count"), None)
    if place[-1] == "count" and value is not None and value_at(text, (*place[:-1], "fill")):
        text = with_value(text, (*place[:-1], "fill"), None)
    return with_value(text, place, value)


def _stepped(text: str, place: Place, by: int, start: object) -> str:
    """A length so many steps larger, written as it was; `start` counts where the file has none."""
    if abs(by) > MOST_STEPS:
        raise ChangeRefused(place, "so many steps are too many")
    unit = _unit(text)
    value = value_at(text, place)
    value = start if value is None else value
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise ChangeRefused(place, "there is no number to start from")
    try:
        size = parse_length(value, unit)
    except CutlayersError as error:
        raise ChangeRefused(place, str(error)) from None
    bare = not isinstance(value, str) or _NUMBER.fullmatch(value.strip()) is not None
    inches = unit == "in" if bare else _INCHES.search(str(value)) is not None or unit == "in"
    if isinstance(value, str) and value.rstrip().endswith(("mm", "cm")):
        inches = False
    step = MM_PER_INCH / STEPS_PER_INCH if inches else STEP_MM
    moved = round(size / step + by) * step
    wanted: object = length_in(round(moved, 6), "in" if inches else "mm")
    named = isinstance(value, str) and not bare and _names_unit(value)
    if named or inches != (unit == "in"):
        wanted = f"{wanted} {'in' if inches else 'mm'}"
    return with_value(text, place, wanted)


def _names_unit(value: str) -> bool:
    return value.rstrip().endswith(("mm", "cm", "in", "inch", "inches", '"', "\u2033"))


def _holding(text: str, piece: int, shape: str) -> str:
    """A piece that is sized by what goes in."""
    if shape not in STARTING:
        raise ChangeRefused(("piece", piece, "holds", "shape"), "there is no such shape")
    at: Place = ("piece", piece)
    before = value_at(text, (*at, "holds"))
    known = before if isinstance(before, Mapping) else {}
    unit = _unit(text)
    holds: dict[str, object] = {"shape": shape}
    for name, usual in STARTING[shape].items():
        holds[name] = known.get(name, _rounded(usual, unit))
    holds["clearance"] = known.get("clearance", _rounded(2, unit))
    size = value_at(text, (*at, "size"))
    for name in size if isinstance(size, Mapping) else ():
        if name != "measure":
            text = with_value(text, (*at, "size", name), None)
    import tomlkit  # here, since nobody changes anything before the first box is seen

    table = tomlkit.inline_table()
    table.update(holds)
    return with_value(text, (*at, "holds"), table)


def _sized(text: str, piece: int, job: Job | None) -> str:
    """A piece that has the sizes found for what went in, and says them itself."""
    at: Place = ("piece", piece)
    origin = job.orders[piece].box.origin if job and piece < len(job.orders) else None
    if origin is None:
        raise ChangeRefused((*at, "size"), "its size is not known yet")
    unit = _unit(text)
    if value_at(text, (*at, "holds")) is not None:
        text = with_value(text, (*at, "holds"), None)
    for name, (dimension, _) in origin.style.table.items():
        if dimension.group == "size":
            size = getattr(origin.dims, name)
            value = length_in(round(size, 2), unit) if dimension.is_length else size
            text = with_value(text, (*at, "size", name), value)
    return text


def _on(more: Mapping[str, Any]) -> dict[str, object]:
    """The panels that something new goes on: those that are named, or all of a role."""
    panels = more.get("panels") or []
    if not isinstance(panels, list):
        raise ChangeRefused((), NOTHING)
    if not panels:
        return {"roles": str(more.get("roles", "wall"))}
    net = more.get("net")
    own = {"net": net} if isinstance(net, str) and net else {}
    return {"panels": [str(panel) for panel in panels], **own}


def _unit(text: str) -> Literal["mm", "in"]:
    return "in" if value_at(text, ("units",)) == "in" else "mm"


def _rounded(size: float, unit: Literal["mm", "in"]) -> object:
    if unit != "in":
        return length_in(size, "mm")
    step = MM_PER_INCH / STEPS_PER_INCH
    return length_in(round(size / step) * step, "in")


def _place(steps: Sequence[Any]) -> Place:
    # Lists count from 0; below it Python would count from their end.
    known = all(isinstance(step, str) or (isinstance(step, int) and step >= 0) for step in steps)
    if not steps or not known:
        raise ChangeRefused((), NOTHING)
    return tuple(steps)

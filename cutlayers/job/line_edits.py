"""What one line of a drawing is for, said in a job's text; all else of it stays as it is.

Panels are numbered anew where a line begins or ends to bound one, so folds are told again by the
creases that they are.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from cutlayers.bringing.lines import Kind
from cutlayers.geometry.segments import Segment
from cutlayers.job.angle_edits import guess_of
from cutlayers.reading.editing import EditRefused, settled, with_value
from cutlayers.reading.items import with_item
from cutlayers.telling.refusals import Place, Refusal

KINDS = tuple(kind.value for kind in Kind)

ON = 0.05
"""mm; a crease whose middle lies no farther from another is the same, or a part of it."""


def with_line(text: str, path: Path, piece: int, number: int, kind: str | None) -> str:
    """The text with one line of the drawing of a piece said to be of a kind, by its number; None
    leaves it to what is said of its looks, or to evidence.

    Angles stay with their creases; those of creases that are none any more go. Raises EditRefused
    where the text has no place for it, JobError where there is no such line, or no box of it.
    """
    at: Place = ("piece", piece)
    if kind is not None and kind not in KINDS:
        raise EditRefused(Refusal((*at, "lines"), fault="unknown", found=kind, allowed=KINDS))
    before = _creases(text, path, piece)
    fresh = _by_number(text, (*at, "lines"), number, kind)
    own = tomllib.loads(text)["piece"][piece]
    said = own.get("folds", {})
    if not said:
        return fresh
    as_drawn = with_value(fresh, (*at, "folds"), None)
    if "size" in own:  # what has no angles yet has no size
        as_drawn = with_value(as_drawn, (*at, "size"), None)
    after = _creases(as_drawn, path, piece)
    at = (*at, "folds")
    wanted = _same_creases(before, after, said)
    if wanted == said:
        return fresh
    for name in said:
        if name not in wanted:
            fresh = with_value(fresh, (*at, name), None)
    for name, angle in wanted.items():
        if said.get(name) != angle:
            guessed = isinstance(angle, dict)
            fresh = with_value(fresh, (*at, name), guess_of(angle["guess"]) if guessed else angle)
    return fresh


def _by_number(text: str, at: Place, number: int, kind: str | None) -> str:
    """The text with a number among those of one kind, and of no other."""
    import tomlkit
    from tomlkit.items import Array

    document: Any = tomlkit.parse(text)
    lines = document[at[0]][at[1]].get("lines", {})
    for name in [*lines]:
        chosen = lines[name]
        for index in reversed(range(len(chosen))):
            numbers = chosen[index].get("numbers", [])
            if number in numbers and name != kind:
                if len(numbers) > 1:
                    numbers.remove(number)
                else:
                    del chosen[index]
        if not chosen:
            del lines[name]
    there = () if kind is None else lines.get(kind, ())
    numbered = [each["numbers"] for each in there if [*each] == ["numbers"]]
    if kind is None or any(number in each for each in numbered):
        return settled(text, tomlkit.dumps(document))
    own = tomlkit.inline_table()
    own["numbers"] = [number]
    if numbered:
        numbered[0].append(number)
    elif isinstance(there, Array):
        there.append(own)
    else:
        fresh = settled(text, tomlkit.dumps(document))
        if there:
            return with_item(fresh, (*at, kind), {"numbers": [number]})
        rows = tomlkit.array()
        rows.append(own)
        return with_value(fresh, (*at, kind), rows)
    return settled(text, tomlkit.dumps(document))


def _creases(text: str, path: Path, piece: int) -> list[tuple[str, Segment]]:
    """The folds of a piece's drawing with their names. Raises EditRefused, JobError."""
    from cutlayers.bringing.understanding import fold_name
    from cutlayers.job.reading import job_in

    orders = job_in(text, path).orders
    drawing = orders[piece].drawing if piece < len(orders) else None
    if drawing is None:
        place: Place = ("piece", piece, "drawing")
        raise EditRefused(Refusal(place, "is not there", "missing"))
    hinges = [hinge for flat, _ in drawing.understood.nets for hinge in flat.net.hinges]
    return [(fold_name(hinge), hinge.edge) for hinge in hinges]


def _same_creases(
    before: list[tuple[str, Segment]],
    after: list[tuple[str, Segment]],
    said: Mapping[str, Any],
) -> dict[str, Any]:
    """What was said of the folds, by the names that they have now."""
    from shapely import LineString, Point

    lines = [
        (name, LineString([edge.start, *edge.flatten(ON)])) for name, edge in before if name in said
    ]
    found: dict[str, Any] = {}
    for name, edge in after:
        middle = Point(edge.point_at(0.5))
        same = next((old for old, line in lines if line.distance(middle) < ON), None)
        if same is not None:
            found[name] = said[same]
    return found

"""A job file with one of its boxes in another size, and all else as it was: comments, order, art,
facings, lettering, the other boxes.

Paths in it are written anew for the folder that the job goes to. What has no place on the box any
more is taken out, and told.
"""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

from cutlayers.box import Origin
from cutlayers.fitting import Item
from cutlayers.frozen import frozen
from cutlayers.job.dimensions import dimension_place
from cutlayers.job.inputs import DRAWING, FILE
from cutlayers.job.reading import job_from
from cutlayers.reading.editing import length_in, with_value
from cutlayers.reading.user_paths import named_from, user_path
from cutlayers.telling.errors import JobError
from cutlayers.telling.lengths import Unit
from cutlayers.telling.refusals import Place, Refusal

GOING_ALONG = ("art", "facing", "lettering")
"""Lists of a piece whose items may find no place on a box of another size."""


@frozen
class Resized:
    """The text of the job, and why each part of the box that was left out could not stay."""

    text: str
    left_out: tuple[Refusal, ...]


def resized(
    text: str,
    file: Path,
    index: int,
    lengths: Mapping[Place, float],
    thing: Item,
    *,
    unit: Unit,
    to: Path,
) -> Resized:
    """The job of `file`, whose text is given in that unit, with other lengths in mm in its piece of
    that number, counted from 0, by their places in it; `thing` takes the place of the one that the
    piece holds, if it holds one.

    `to` is the file that the text is for. Raises JobError where the job cannot be with that size.
    """
    table = tomllib.loads(text)
    for place, value in lengths.items():
        text = with_value(text, ("piece", index, *place), length_in(value, unit))
    if "holds" in table["piece"][index]:
        measures = {name: length_in(size, unit) for name, size in thing.measures.items()}
        holds = {"shape": thing.shape, **measures, "clearance": length_in(thing.clearance, unit)}
        text = with_value(text, ("piece", index, "holds"), holds)
    left_out: list[Refusal] = []
    while True:
        try:
            job_from(tomllib.loads(text), str(file), file.stem)
        except JobError as error:
            at, refusal = _part_of(index, error)
            text = with_value(text, at, None)
            left_out.append(refusal)
        else:
            break
    for place, path in _paths(tomllib.loads(text), file.parent):
        text = with_value(text, place, named_from(to.parent, path))
    return Resized(text, tuple(left_out))


def lengths_of(
    box: Origin | Mapping[str, float], along: Collection[str] = ()
) -> dict[Place, float]:
    """The sizes in mm of a box by their places in a piece: of one that a style made, with the
    options `along`, or those of a drawing by their names."""
    if isinstance(box, Mapping):
        return {("size", name): value for name, value in box.items()}
    return {
        dimension_place(box.dims, name): getattr(box.dims, name)
        for name, (dimension, _) in box.style.table.items()
        if dimension.is_length and (dimension.group == "size" or name in along)
    }


def _part_of(index: int, error: JobError) -> tuple[Place, Refusal]:
    """The last part of the piece that was refused; the error itself where something else was."""
    found: list[tuple[Place, Refusal]] = []
    for refusal in error.refusals:
        match refusal.place:
            case ("piece", int() as piece, str() as kind, int(), *_) if (
                piece == index and kind in GOING_ALONG
            ):
                found.append((refusal.place[:4], refusal))
            case _:
                raise error
    return max(found, key=lambda each: (each[0][2], each[0][3]))


def _paths(value: object, folder: Path, place: Place = ()) -> Iterator[tuple[Place, Path]]:
    """Where a job's tables name a file, and which it is; those with a whole path may stay."""
    if isinstance(value, Mapping):
        for key, inner in value.items():
            named = isinstance(inner, str) and (
                (place[:1] == ("piece",) and key in (FILE, DRAWING))
                or (place == () and key == "profile" and (folder / inner).is_file())
            )
            if not named:
                yield from _paths(inner, folder, (*place, key))
            elif not (path := user_path(inner)).is_absolute():
                yield (*place, key), folder / path
    elif isinstance(value, list):
        for number, inner in enumerate(value):
            yield from _paths(inner, folder, (*place, number))

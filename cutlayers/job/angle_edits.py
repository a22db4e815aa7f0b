"""The angles of a drawing's folds, searched for and said in a job's text; all else of it stays."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from cutlayers.reading.editing import EditRefused, with_value
from cutlayers.telling.refusals import Place, Refusal

NONE_FOUND = (
    "no angles were found at which the box closes; say how far each fold turns, or look whether a "
    "line is missing or is no fold"
)


def with_angles_found(text: str, path: Path, piece: int) -> str:
    """The text with an angle for each fold of a piece's drawing that has none, at which the net
    closes; what is said already is kept, and what nothing tests is told to be a guess.

    Raises EditRefused where there is no drawing, or no such angles were found, JobError.
    """
    from cutlayers.bringing.angles import fold_up
    from cutlayers.bringing.understanding import fold_name
    from cutlayers.job.reading import job_in

    orders = job_in(text, path).orders
    drawing = orders[piece].drawing if piece < len(orders) else None
    if drawing is None:
        raise EditRefused(Refusal(("piece", piece, "drawing"), "is not there", "missing"))
    at: Place = ("piece", piece, "folds")
    fresh = text
    for flat, _ in drawing.understood.nets:
        unknown = drawing.unknown.get(flat.net.name, ())
        if not unknown:
            continue
        said = drawing.angles[flat.net.name]
        given = tuple(
            known if (known := said[fold_name(hinge)]) is not None else own
            for hinge, own in zip(flat.net.hinges, flat.given, strict=True)
        )
        found = fold_up(replace(flat, given=given))
        if found is None:
            raise EditRefused(Refusal((), NONE_FOUND))
        for hinge in found.net.hinges:
            name = fold_name(hinge)
            if name in unknown:
                angle = round(hinge.fold_deg, 4)
                turn = int(angle) if angle.is_integer() else angle
                written = guess_of(turn) if name in found.doubtful else turn
                fresh = with_value(fresh, (*at, name), written)
    return fresh


def guess_of(degrees: float) -> object:
    """An angle that nothing tests, as a job has it."""
    import tomlkit

    table = tomlkit.inline_table()
    table["guess"] = degrees
    return table

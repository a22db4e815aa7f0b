"""A drawing from outside made a job in one go, as whoever only names the file wants it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from cutlayers.bringing.files import read_drawing
from cutlayers.bringing.folding_up import answers
from cutlayers.bringing.rules import Asked, DrawnIn
from cutlayers.bringing.scale import MM_PER_UNIT
from cutlayers.bringing.understanding import understood_of
from cutlayers.job.drawing_template import drawing_job
from cutlayers.telling.lengths import Unit


def drawing_scales(drawing: Path) -> Mapping[DrawnIn, str]:
    """What the unit of a drawing may be, each with the size that it gives, the likeliest first;
    none where the file itself says it. Raises DrawingError where it cannot be read."""
    found = read_drawing(drawing)
    if found.scale is not None:
        return {}
    known: dict[str, DrawnIn] = {unit: unit for unit in MM_PER_UNIT}
    return {known[each.unit]: each.reason for each in found.candidates}


def job_of_drawing(
    drawing: Path,
    folder: Path,
    *,
    drawn_in: DrawnIn | None,
    unit: Unit,
    sheet: str,
    profile: str | None,
) -> str:
    """A commented job, to be kept in `folder`, that makes the boxes of a drawing; `drawn_in` is
    what its unit is, where its file does not say it.

    Raises DrawingError where the drawing holds no box, or its size is not known.
    """
    understood = understood_of(drawing, Asked(unit=drawn_in))
    return drawing_job(
        understood,
        answers(understood),
        drawing,
        folder,
        unit=unit,
        sheet=sheet,
        said={} if drawn_in is None else {"unit": drawn_in},
        profile=profile,
    )

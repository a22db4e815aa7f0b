"""A sheet as it was really printed: the same sheet, moved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from cutlayers.align.match import Alignment
from cutlayers.geometry.paths import Path, union_bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.sheets.model import Placed, Sheet
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import length

CHORD = 0.005
"""mm; an uneven scale makes ellipses of arcs, so they are cut as chords, this near to them."""


def corrected_sheet(sheet: Sheet, alignment: Alignment, page: tuple[float, float]) -> Sheet:
    """The sheet with its pieces' lines and its marks where the print has them.

    Toolpaths are planned from it as from any other sheet, so a kerf stays a kerf however the
    printer scales. `page` is the width and height in mm of what the marks were measured on.
    """
    onto = alignment.fit.transform
    return replace(
        sheet,
        width=page[0],
        height=page[1],
        placed=tuple(_moved_piece(placed, onto) for placed in sheet.placed),
        marks=tuple(
            replace(
                mark,
                centre=onto.apply(mark.centre),
                paths=tuple(moved(path, onto) for path in mark.paths),
            )
            for mark in sheet.marks
        ),
    )


def _moved_piece(placed: Placed, onto: Transform) -> Placed:
    lines = placed.piece.lines
    if not onto.is_similarity:
        lines = tuple(replace(line, path=line.path.flattened(CHORD)) for line in lines)
    return Placed(replace(placed.piece, lines=lines), onto @ placed.place)


def moved(path: Path, onto: Transform) -> Path:
    """A path moved by any affine motion; arcs stay arcs where they can."""
    return (path if onto.is_similarity else path.flattened(CHORD)).transformed(onto)


def off_page(sheet: Sheet) -> Iterator[Finding]:
    """Whether a corrected sheet has lines where none was measured."""
    left, bottom, right, top = union_bounds(stroke.path.bounds for stroke in sheet.strokes)
    out = max(-left, -bottom, right - sheet.width, top - sheet.height)
    if out > 0:
        subject = Subject(sheet=sheet.number)
        yield Finding("aligned-off-page", Severity.WARNING, subject, (length(out),))

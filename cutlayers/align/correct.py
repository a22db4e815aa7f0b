"""A sheet as it was really printed: the same sheet, moved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import shapely

from cutlayers.align.match import Alignment
from cutlayers.geometry.paths import Path
from cutlayers.geometry.segments import union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.sheets.model import SCALED_CHORD, Placed, Sheet
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import length


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
        placed=tuple(Placed(each.piece, onto @ each.place) for each in sheet.placed),
        marks=tuple(
            replace(
                mark,
                centre=onto.apply(mark.centre),
                paths=tuple(moved(path, onto) for path in mark.paths),
            )
            for mark in sheet.marks
        ),
    )


def work_of(sheet: Sheet) -> list[Point]:
    """The outermost points of a sheet's lines: whatever moves all of it evenly moves no other point
    further than one of them."""
    ends = [point for stroke in sheet.strokes for point in stroke.path.points(SCALED_CHORD)]
    hull = shapely.MultiPoint(ends).convex_hull
    return [(float(x), float(y)) for x, y in shapely.get_coordinates(hull)]


def moved(path: Path, onto: Transform) -> Path:
    """A path moved by any affine motion; arcs stay arcs where they can."""
    return (path if onto.is_similarity else path.flattened(SCALED_CHORD)).transformed(onto)


def off_page(sheet: Sheet) -> Iterator[Finding]:
    """Whether a corrected sheet has lines where none was measured.

    Measured: how far the farthest line of a sheet lies outside of the measured area, once the lines
    have been moved to where the print has them.

    Why: the machine does not reach there, or counts from another corner than you measured from;
    then all cuts miss the print by the same amount.

    Cure: measure the marks from the corner that the machine counts from, and check that none of the
    numbers was taken for another's. On a scan, the whole sheet has to be in the picture.

    Source: plain measuring, no source.
    """
    left, bottom, right, top = union_bounds(stroke.path.bounds for stroke in sheet.strokes)
    out = max(-left, -bottom, right - sheet.width, top - sheet.height)
    if out > 0:
        subject = Subject(sheet=sheet.number)
        yield Finding("aligned-off-page", Severity.WARNING, subject, (length(out),))

"""A sheet as it was really printed: the same sheet, moved."""

from __future__ import annotations

from dataclasses import replace

import shapely

from cutlayers.align.match import Alignment
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.sheets.model import SCALED_CHORD, Placed, Sheet


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

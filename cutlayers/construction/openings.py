"""Holes and cut-outs: thumb cuts, windows, punches, hand holes and slots."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.construction.refusing import refuse_above, refuse_unless_none
from cutlayers.construction.spans import below
from cutlayers.geometry.paths import Path, rounded
from cutlayers.geometry.transforms import Point
from cutlayers.net import Feature, Net, Shape, Work
from cutlayers.telling.errors import StyleError

WINDOW_BORDER = 6.0
"""mm of card left beside a window, so that the wall keeps its stiffness (common practice)."""

LEAST_RADIUS = 0.2
"""mm; no blade turns round a smaller corner."""

LEAST_WINDOW = 4.0
"""mm; a smaller opening is a hole to be punched."""

PUNCH_BORDER = 2.0
"""mm of card left round a hole, so that a ribbon does not tear it out."""


def thumb_cut(shape: Shape, edge: str, diameter: float) -> Shape:
    """A half-round cut in the middle of a straight edge; 0 leaves the shape as it is.

    The edge becomes "EDGE-start", "thumb cut" and "EDGE-end", counter-clockwise; a second cut in
    the same shape is called "EDGE thumb cut". The cut must be shorter than the edge.
    """
    if not diameter:
        return shape
    name = f"{edge} thumb cut" if "thumb cut" in shape.edges else "thumb cut"
    corners = ((0.0, 0.0), (diameter, 0.0))
    return _notched(shape, edge, (name,), diameter, corners, (-1.0,))


def notch(shape: Shape, edge: str, at: float, width: float, depth: float) -> Shape:
    """A square notch cut into a straight edge, `at` mm from its start to the notch's middle.

    The edge becomes "EDGE-start", "EDGE notch-1" to "EDGE notch-3" and "EDGE-end".
    """
    corners = ((0.0, 0.0), (0.0, depth), (width, depth), (width, 0.0))
    names = tuple(f"{edge} notch-{i}" for i in (1, 2, 3))
    return _notched(shape, edge, names, width, corners, (0.0, 0.0, 0.0), at)


def _notched(
    shape: Shape,
    edge: str,
    names: tuple[str, ...],
    width: float,
    corners: tuple[Point, ...],
    bulges: tuple[float, ...],
    at: float | None = None,
) -> Shape:
    """Put corners into an edge; theirs are x along the edge from the notch's start, y inward."""
    index = shape.edges.index(edge)
    outline = shape.outline
    segment = outline.segments[index]
    middle = segment.chord / 2 if at is None else at
    ux, uy = segment.direction_at(0.5)
    x0, y0 = segment.point_at((middle - width / 2) / segment.chord)
    placed = tuple((x0 + x * ux - y * uy, y0 + x * uy + y * ux) for x, y in corners)
    path = Path(
        (*outline.vertices[: index + 1], *placed, *outline.vertices[index + 1 :]),
        (*outline.bulges[:index], 0.0, *bulges, 0.0, *outline.bulges[index + 1 :]),
        closed=True,
    )
    edges = (
        *shape.edges[:index],
        f"{edge}-start",
        *names,
        f"{edge}-end",
        *shape.edges[index + 1 :],
    )
    return replace(shape, outline=path, edges=edges)


def with_window(
    net: Net,
    panel: str,
    width: float | None,
    height: float | None,
    radius: float | None,
    clear: tuple[float, float] = (0.0, 0.0),
) -> Net:
    """Cut a window with rounded corners in a rectangular panel; "none" leaves the net as it is.

    It lies in the middle, or between what must stay clear at the bottom and the top of the flat
    panel (a tuck behind it, a thumb cut). Raises StyleError for a window that leaves less than
    `WINDOW_BORDER` of card beside it, and for corners larger than it has room for.
    """
    if panel == "none":
        return net
    left, bottom, right, top = net.panel(panel).outline.bounds
    bottom, top = bottom + clear[0], top - clear[1]
    sides = []
    for name, asked, room in (
        ("window_width", width, right - left),
        ("window_height", height, top - bottom),
    ):
        most = room - 2 * WINDOW_BORDER
        if below(most, LEAST_WINDOW):
            raise StyleError(
                "options.window",
                f'is "{panel}", where {{}} are free, too little for a window',
                works="none",
                lengths=(max(room, 0.0),),
            )
        refuse_above(
            f"options.{name}",
            0.0 if asked is None else asked,
            most,
            "which leaves less than {} of card beside it",
            lengths=(WINDOW_BORDER,),
        )
        sides.append(min(max(0.6 * room, LEAST_WINDOW), most) if asked is None else asked)
    wide, tall = sides
    radius = min(5.0, wide / 4, tall / 4) if radius is None else radius
    refuse_unless_none(
        "options.window_radius",
        radius,
        LEAST_RADIUS,
        min(wide, tall) / 2,
        ("too small to be cut round", "too large for its window"),
    )
    x, y = (left + right) / 2, (bottom + top) / 2
    corners = [
        (x - wide / 2, y - tall / 2),
        (x + wide / 2, y - tall / 2),
        (x + wide / 2, y + tall / 2),
        (x - wide / 2, y + tall / 2),
    ]
    return net.work(panel, Feature(Work.WINDOW, rounded(corners, [radius] * 4), "window"))


def punched(
    net: Net, panel: str, name: str, at: Point, diameter: float, *, closes: bool = False
) -> Net:
    """Punch a hole at a place measured from the lower left corner of a panel on the flat net;
    `closes` says that a ribbon goes through it."""
    left, bottom, _, _ = net.panel(panel).outline.bounds
    hole = Path.circle((left + at[0], bottom + at[1]), diameter / 2)
    return net.work(panel, Feature(Work.PUNCH, hole, name, closes))


def hand_hole(
    net: Net, panel: str, at: Point, length: float, height: float, name: str = "hand hole"
) -> Net:
    """A slot with round ends, such as a hand goes through, its middle measured as for `punched`."""
    left, bottom, _, _ = net.panel(panel).outline.bounds
    x, y = left + at[0], bottom + at[1]
    straight, half = (length - height) / 2, height / 2
    path = Path(
        (
            (x - straight, y - half),
            (x + straight, y - half),
            (x + straight, y + half),
            (x - straight, y + half),
        ),
        (0.0, 1.0, 0.0, 1.0),
        closed=True,
    )
    return net.work(panel, Feature(Work.WINDOW, path, name))

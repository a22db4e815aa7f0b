"""Art on one panel as ink, in the net's coordinates and upright as seen on the finished box."""

from __future__ import annotations

from dataclasses import replace

from cutlayers.artwork.fitting import contained, covering, onto, onto_flat, tiles
from cutlayers.artwork.ink import Contour, Figure, Item, Paint, Stamp
from cutlayers.artwork.model import Art, FlatColour, Lettering, Pattern, Picture
from cutlayers.artwork.patterns import pattern
from cutlayers.artwork.regions import Region, moved
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import Area, as_area
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.single_stroke import letter

LINE_SHARE = 0.1
"""Line width of lettering as a share of the capitals' height, as ISO 3098 type B has it."""

LINE_PITCH = 1.7
"""Capitals' heights from one base line to the next."""


@frozen
class PanelInk:
    """Items for one panel; `area` is what they cover. None of it fits where `items` is empty.

    `fit` is the share of the size asked for that there was room for: 1 where none was asked for.
    `pixels_per_mm` is that of a picture of pixels.
    """

    items: tuple[Item, ...]
    area: Area
    fit: float = 1.0
    pixels_per_mm: float | None = None


def panel_ink(art: Art, upright: Point, region: Region, safe_margin: float) -> PanelInk:
    """Ink of an art on a panel whose flat direction `upright` points up on the box.

    What spreads over the panel is not clipped to its region yet: that is done on the sheet, where
    the neighbours are known. What stands inside keeps `safe_margin` mm from the panel's border.
    """
    turn = onto_flat(upright, art.rotation_deg)
    back = turn.inverse()
    panel = moved(region.panel, back)
    source = art.source
    if isinstance(source, Lettering) or (isinstance(source, Picture) and source.fit == "contain"):
        safe = as_area(panel.buffer(-safe_margin, join_style="mitre"))
        ink = _inside(art, source, safe)
    else:
        left, bottom, right, top = moved(region.whole, back).bounds
        x, y = panel.envelope.centroid.coords[0]
        # About the panel's own middle, so that bleed on one side shifts nothing.
        across, up = max(x - left, right - x), max(y - bottom, top - y)
        ink = _spread(source, (x - across, y - up, x + across, y + up), panel)
    return replace(
        ink,
        items=tuple(item.transformed(turn) for item in ink.items),
        area=moved(ink.area, turn),
    )


def _inside(art: Art, source: Lettering | Picture, safe: Area) -> PanelInk:
    if isinstance(source, Picture):
        box = contained(safe, source.aspect, art.at)
        if box is None:
            return PanelInk((), safe, fit=0.0)
        stamp = Stamp(source.content, (onto(box),))
        return PanelInk((stamp,), _box(box), pixels_per_mm=_density(source, box))
    paints, size = _lettering(source)
    asked = size[1] if source.height is not None else None
    box = contained(safe, size[0] / size[1], art.at, asked or float("inf"))
    if box is None:
        return PanelInk((), safe, fit=0.0)
    scale = (box[3] - box[1]) / size[1]
    place = Transform(xx=scale, yy=scale, dx=box[0], dy=box[1])
    placed = replace(paints.transformed(place), line_width=paints.line_width * scale)
    return PanelInk((placed,), _box(box), fit=scale if asked else 1.0)


def _spread(source: FlatColour | Pattern | Picture, bounds: Bounds, panel: Area) -> PanelInk:
    match source:
        case FlatColour(colour):
            return PanelInk((Paint((_rectangle(bounds),), fill=colour),), panel)
        case Pattern(kind, repeat, ink, ground):
            below = (Paint((_rectangle(bounds),), fill=ground),) if ground else ()
            return PanelInk((*below, Paint(pattern(kind, repeat, bounds), fill=ink)), panel)
        case Picture(fit="tile", repeat=float(repeat)):
            middle = ((bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2)
            boxes = tiles(bounds, middle, repeat, repeat / source.aspect)
            stamp = Stamp(source.content, tuple(map(onto, boxes)))
            return PanelInk((stamp,), panel, pixels_per_mm=_density(source, boxes[0]))
    box = covering(bounds, source.aspect)
    stamp = Stamp(source.content, (onto(box),))
    return PanelInk((stamp,), panel, pixels_per_mm=_density(source, box))


def _lettering(source: Lettering) -> tuple[Paint, tuple[float, float]]:
    """The text as a stroke, lower left corner at the origin, and its width and height.

    Capitals are `height` mm high, or 1 mm where no height is asked for.
    """
    cap = source.height or 1.0
    paths = [
        path
        for i, line in enumerate(source.lines)
        for path in letter(line, cap, (0.0, -i * LINE_PITCH * cap), "middle")
    ]
    half = cap * LINE_SHARE / 2
    left, bottom, right, top = union_bounds(path.bounds for path in paths)
    # A line of capitals alone stands in the middle of its own height, whatever its letters are.
    left, bottom, right, top = left - half, min(bottom, 0.0) - half, right + half, top + half
    shift = Transform.translation(-left, -bottom)
    contours = tuple(Contour.of(path.transformed(shift)) for path in paths)
    paint = Paint(contours, stroke=source.ink, line_width=2 * half, cap=1, join=1)
    return paint, (right - left, top - bottom)


def _density(source: Picture, box: Bounds) -> float | None:
    if isinstance(source.content, Figure):
        return None
    return source.content.width / (box[2] - box[0])


def _rectangle(bounds: Bounds) -> Contour:
    left, bottom, right, top = bounds
    return Contour.polygon(((left, bottom), (right, bottom), (right, top), (left, top)))


def _box(bounds: Bounds) -> Area:
    from shapely import box

    return box(*bounds)

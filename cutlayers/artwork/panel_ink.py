"""Art on one panel as ink, in the net's coordinates and upright as seen on the finished box."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property, lru_cache

from cutlayers.artwork.fitting import contained, covering, onto, onto_flat, tiles
from cutlayers.artwork.ink import Contour, Figure, Item, Paint, Stamp
from cutlayers.artwork.model import Art, FlatColour, Lettering, Pattern, Picture, Source
from cutlayers.artwork.patterns import pattern
from cutlayers.artwork.regions import Regions, moved
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import Area, as_area
from cutlayers.geometry.segments import Bounds, union_bounds
from cutlayers.geometry.transforms import Point, Transform
from cutlayers.lettering.single_stroke import letter

LINE_SHARE = 0.1
"""Line width of lettering as a share of the capitals' height, as ISO 3098 type B has it."""

LINE_PITCH = 1.7
"""Capitals' heights from one base line to the next."""

KEPT = 64
"""Letterings last asked for whose strokes are kept."""


@frozen(slots=False)
class PanelInk:
    """A source's ink on one panel; `area` is what it covers.

    Seen upright, the source `stands` in a rectangle, or spreads over a panel and its bleed; neither
    where there is no room. `turn` carries that onto the net. `fit` is the share of the size asked
    for that there was room for: 1 where none was asked for.
    """

    source: Source
    turn: Transform
    area: Area
    stands: Bounds | None
    spread: tuple[Regions, str] | None = None
    fit: float = 1.0

    @property
    def fits(self) -> bool:
        """Whether there is room for it."""
        return self.stands is not None or self.spread is not None

    @cached_property
    def bounds(self) -> Bounds | None:
        """Where it stands seen upright, or over what it spreads."""
        if self.spread is None:
            return self.stands
        regions, panel = self.spread
        back = self.turn.inverse()
        left, bottom, right, top = moved(regions.of_panels[panel].whole, back).bounds
        x, y = moved(regions.panels[panel], back).envelope.centroid.coords[0]
        # About the panel's own middle, so that bleed on one side shifts nothing.
        across, up = max(x - left, right - x), max(y - bottom, top - y)
        return x - across, y - up, x + across, y + up

    @cached_property
    def pixels_per_mm(self) -> float | None:
        """Of a picture of pixels, how many it has on the panel."""
        source = self.source
        if not isinstance(source, Picture) or isinstance(source.content, Figure):
            return None
        if source.fit == "tile" and source.repeat is not None:
            return source.content.width / source.repeat
        if self.bounds is None:
            return None
        ((left, _, right, _),) = _boxes(source, self.bounds)
        return source.content.width / (right - left)

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """What is printed, in the net's coordinates; a check of a job asks for none of it."""
        if self.bounds is None:
            return ()
        return tuple(item.transformed(self.turn) for item in _drawn(self.source, self.bounds))


def in_sight(inks: Sequence[tuple[Art, str, PanelInk]]) -> list[tuple[Art, str, PanelInk]]:
    """Without what something opaque covers: below it, it would only show as a coloured fringe."""
    seen: list[tuple[Art, str, PanelInk]] = []
    covered: set[str] = set()
    for art, panel, ink in reversed(inks):
        if panel not in covered:
            seen.insert(0, (art, panel, ink))
        if art.covers_all:
            covered.add(panel)
    return seen


def panel_ink(
    art: Art, upright: Point, regions: Regions, panel: str, safe_margin: float
) -> PanelInk:
    """Ink of an art on a panel whose flat direction `upright` points up on the box.

    What spreads over the panel is not clipped to its region yet: that is done on the sheet, where
    the neighbours are known. What stands inside keeps `safe_margin` mm from the panel's border.
    """
    turn = onto_flat(upright, art.rotation_deg)
    flat = moved(regions.panels[panel], turn.inverse())
    source = art.source
    if isinstance(source, Lettering) or (isinstance(source, Picture) and source.fit == "contain"):
        safe = as_area(flat.buffer(-safe_margin, join_style="mitre"))
        return _inside(art, source, safe, turn)
    return PanelInk(source, turn, moved(flat, turn), None, (regions, panel))


def _inside(art: Art, source: Lettering | Picture, safe: Area, turn: Transform) -> PanelInk:
    if isinstance(source, Picture):
        box, fit = contained(safe, source.aspect, art.at), 1.0
    else:
        _, (wide, high) = _lettering(source)
        most = high if source.height is not None else float("inf")
        box = contained(safe, wide / high, art.at, most)
        fit = (box[3] - box[1]) / high if box and source.height is not None else 1.0
    if box is None:
        return PanelInk(source, turn, moved(safe, turn), None, fit=0.0)
    return PanelInk(source, turn, moved(_box(box), turn), box, fit=fit)


def _drawn(source: Source, bounds: Bounds) -> tuple[Item, ...]:
    match source:
        case FlatColour(colour):
            return (Paint((_rectangle(bounds),), fill=colour),)
        case Pattern(kind, repeat, ink, ground):
            below = (Paint((_rectangle(bounds),), fill=ground),) if ground else ()
            return (*below, Paint(pattern(kind, repeat, bounds), fill=ink, apart=True))
        case Lettering():
            paint, (_, high) = _lettering(source)
            scale = (bounds[3] - bounds[1]) / high
            place = Transform(xx=scale, yy=scale, dx=bounds[0], dy=bounds[1])
            return (replace(paint.transformed(place), line_width=paint.line_width * scale),)
    return (Stamp(source.content, tuple(map(onto, _boxes(source, bounds)))),)


def _boxes(source: Picture, bounds: Bounds) -> list[Bounds]:
    """Where a picture is printed: once, or as tiles."""
    match source:
        case Picture(fit="tile", repeat=float(repeat)):
            middle = ((bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2)
            return tiles(bounds, middle, repeat, repeat / source.aspect)
        case Picture(fit="contain"):
            return [bounds]
    return [covering(bounds, source.aspect)]


@lru_cache(KEPT)
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


def _rectangle(bounds: Bounds) -> Contour:
    left, bottom, right, top = bounds
    return Contour.polygon(((left, bottom), (right, bottom), (right, top), (left, top)))


def _box(bounds: Bounds) -> Area:
    from shapely import box

    return box(*bounds)

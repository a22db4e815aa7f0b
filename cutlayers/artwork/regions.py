"""Panels as areas, and how far ink runs past them: the *bleed*.

Ink on a panel runs past the edges that are cut, so that a cut which lands a little off shows no
white. It stops at the folds to other panels; only onto a glue tab, which is hidden behind
another panel, does it run on. Areas are shapely polygons, arcs turned into chords.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, lru_cache

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from cutlayers.artwork.ink import Contour
from cutlayers.frozen import frozen
from cutlayers.geometry.overlays import Area, area, as_area, common, on_grid, together, without
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Transform
from cutlayers.net import Net, Panel, Role, Work

PRINT_CHORD = 0.01
"""mm; chords this near to an arc cannot be told from it in print (a dot at 600 dpi is 0.04)."""

HINGE_WIDTH = 1e-4
"""mm to each side of a hinge within which a border counts as folded."""

INSIDES_MEET = "T********"
"""How the dimensionally extended nine-intersection model (OGC Simple Features) writes it."""

SHARE_STEPS = 12
"""Steps in which two panels divide the waste between them: a quarter of a mm for 3 mm of bleed."""

CORNERS_KEPT = 512
"""Places last asked for at which bleeds meet and whose shares are kept."""


@frozen(slots=False)
class Region:
    """What one panel's ink may cover: the `panel` itself, less its openings, and the `bleed`."""

    panel: Area
    bleed: Area

    @cached_property
    def whole(self) -> Area:
        """Both together."""
        return as_area(together([self.panel, self.bleed]))

    def transformed(self, transform: Transform) -> Region:
        """The region moved."""
        return Region(moved(self.panel, transform), moved(self.bleed, transform))


@frozen(slots=False)
class Regions:
    """The regions of the `printed` panels of a net, in its coordinates, ink of neighbours kept
    apart; each is worked out when it is first asked for, and kept.

    `bleed` mm past cut edges, 0 for none, for the panels whose art spreads over all of them.
    Openings are left white but for their own bleed.
    """

    net: Net
    printed: tuple[str, ...]
    spreading: frozenset[str]
    bleed: float

    @cached_property
    def panels(self) -> dict[str, Area]:
        """What of each panel itself may be inked."""
        return {name: _inked(self.net.panel(name), self.bleed) for name in self.printed}

    @cached_property
    def of_panels(self) -> dict[str, Region]:
        """The region of each panel; the bleeds are dear to work out."""
        blank = as_area(together(area_of(panel.outline) for panel in self.net.panels))
        parts = [
            (
                self.panels[name],
                _bleed(self.net, name, self.printed, blank, self.bleed)
                if name in self.spreading
                else Polygon(),
            )
            for name in self.printed
        ]
        rest = share_out(parts, self.bleed)
        return {
            name: Region(self.panels[name], bleed)
            for name, bleed in zip(self.printed, rest, strict=True)
        }


def _inked(panel: Panel, bleed: float) -> Area:
    inked: BaseGeometry = area_of(panel.outline)
    for feature in panel.features:
        if feature.work in (Work.PUNCH, Work.WINDOW) and feature.path.closed:
            inked = without(inked, area_of(feature.path).buffer(-bleed))
    return as_area(inked)


def _bleed(net: Net, name: str, printed: Sequence[str], blank: Area, bleed: float) -> Area:
    if not bleed:
        return Polygon()
    panel = net.panel(name)
    border = LineString([*panel.outline.points(PRINT_CHORD), panel.outline.start])
    hinges = net.hinges_of([name])
    folded = together(
        LineString(_chords(Path.from_segments([h.edge], closed=False))) for h in hinges
    ).buffer(HINGE_WIDTH)
    cut = without(border, folded)
    # Flat ends: at a fold the bleed ends square, beside the neighbour's own.
    spill = without(shapely.line_merge(cut).buffer(bleed, cap_style="flat"), blank)
    for hinge in hinges:
        other = net.panel(hinge.second if hinge.first == name else hinge.first)
        hidden = other.role is Role.GLUE_TAB and other.under and other.name not in printed
        if hidden:
            edge = LineString(_chords(Path.from_segments([hinge.edge], closed=False)))
            over = common(edge.buffer(bleed, cap_style="flat"), area_of(other.outline))
            spill = together([spill, over])
    return as_area(spill)


def _chords(path: Path) -> list[tuple[float, float]]:
    return path.points(PRINT_CHORD)


def share_out(
    parts: Sequence[tuple[Area, Area]], bleed: float, groups: Sequence[int] | None = None
) -> list[Area]:
    """The bleeds of (panel, bleed) pairs, so cut that none covers another panel or bleed.

    Where two meet in the waste, each keeps what is nearer to its own panel. Those of one of the
    `groups`, a number for each pair, are kept apart already; by default none are.
    """
    group = range(len(parts)) if groups is None else groups
    rest = [each for _, each in parts]
    tree = shapely.STRtree([_box(*part) for part in parts])
    for i, (panel, _) in enumerate(parts):
        for j in sorted(int(found) for found in tree.query(_box(panel, rest[i]))):
            if group[j] == group[i]:
                continue
            # Most only touch, and to see that is cheaper than to take nothing off.
            if shapely.relate_pattern(rest[i], parts[j][0], INSIDES_MEET):
                rest[i] = as_area(without(rest[i], parts[j][0]))
            if j < i or not rest[i].intersects(rest[j]):
                continue
            overlap = common(rest[i], rest[j])
            if overlap.area > 1e-6:
                mine, theirs = _divided(overlap, panel, parts[j][0], bleed)
                rest[i] = as_area(without(rest[i], theirs))
                rest[j] = as_area(without(rest[j], mine))
    return rest


def _box(*shapes: Area) -> Polygon:
    """The box around shapes, of which one or more is not empty."""
    return shapely.box(*shapely.total_bounds(shapes))


def _divided(
    overlap: BaseGeometry, panel: Area, other: Area, bleed: float
) -> tuple[BaseGeometry, BaseGeometry]:
    """The shares of two panels in an area that the bleed of both reaches, each what is nearer."""
    mine = together(
        _share(part, panel, other, bleed) for part in shapely.get_parts(overlap).tolist()
    )
    return mine, without(overlap, mine)


def _share(part: Polygon, panel: Area, other: Area, bleed: float) -> BaseGeometry:
    """What of one place is nearer to the panel than to the other one."""
    left, bottom, right, top = part.bounds
    window = (left - bleed, bottom - bleed, right + bleed, top + bleed)
    near = (part, *(shapely.clip_by_rect(each, *window) for each in (panel, other)))
    place = np.array((left, bottom))
    # Corners of boxes are alike but for where they lie.
    shapes = shapely.transform(near, lambda points: np.round(points - place, 6) + 0.0)
    share = _first_share(*shapely.to_wkb(shapes).tolist(), bleed)
    return on_grid(shapely.transform(share, lambda points: points + place))


@lru_cache(CORNERS_KEPT)
def _first_share(overlap: bytes, one: bytes, other: bytes, bleed: float) -> BaseGeometry:
    """What of an area is nearer to the first of two panels: both grow into it at the same pace."""
    left, *panels = map(on_grid, shapely.from_wkb([overlap, one, other]).tolist())
    mine: list[BaseGeometry] = []
    for step in range(1, SHARE_STEPS + 1):
        reach = bleed * step / SHARE_STEPS
        for number, panel in enumerate(panels):
            # Nothing more comes of a panel that is farther away, nor once all is shared out.
            if left.is_empty or left.distance(panel) > reach:
                continue
            grown = common(left, panel.buffer(reach), grid=None)
            left = without(left, grown, grid=None)
            if number == 0:
                mine.append(grown)
    # What neither reaches, by a rounding, goes to the second.
    return together(mine)


def area_of(path: Path) -> Area:
    """The area that a closed path encloses."""
    return area(path.points(PRINT_CHORD))


def moved(shape: Area, transform: Transform) -> Area:
    """An area moved."""
    t = transform
    return as_area(on_grid(affine_transform(shape, [t.xx, t.xy, t.yx, t.yy, t.dx, t.dy])))


def outlines(shape: Area) -> tuple[Contour, ...]:
    """The rings of an area as contours, holes among them, to be filled even-odd."""
    found = []
    for polygon in shapely.get_parts(shape).tolist():
        for ring in (polygon.exterior, *polygon.interiors):
            if len(ring.coords) > 3:
                found.append(Contour.polygon((x, y) for x, y in ring.coords[:-1]))
    return tuple(found)

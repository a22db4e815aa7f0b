"""Panels as areas, and how far ink runs past them: the *bleed*.

Ink on a panel runs past the edges that are cut, so that a cut which lands a little off shows no
white. It stops at the folds to other panels; only onto a glue tab, which is hidden behind
another panel, does it run on. Areas are shapely polygons, arcs turned into chords.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from functools import cached_property

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


def regions(
    net: Net, printed: Sequence[str], spreading: Collection[str], bleed: float
) -> dict[str, Region]:
    """The region of each printed panel, in the net's coordinates, ink of neighbours kept apart.

    `bleed` mm past cut edges, 0 for none, for the panels whose art spreads over all of them.
    Openings are left white but for their own bleed.
    """
    blank = as_area(together(area_of(panel.outline) for panel in net.panels))
    found = {
        name: Region(
            _inked(net.panel(name), bleed),
            _bleed(net, name, set(printed), blank, bleed) if name in spreading else Polygon(),
        )
        for name in printed
    }
    kept = share_out([(found[name].panel, found[name].bleed) for name in printed], bleed)
    return {name: Region(found[name].panel, rest) for name, rest in zip(printed, kept, strict=True)}


def _inked(panel: Panel, bleed: float) -> Area:
    inked: BaseGeometry = area_of(panel.outline)
    for feature in panel.features:
        if feature.work in (Work.PUNCH, Work.WINDOW) and feature.path.closed:
            inked = without(inked, area_of(feature.path).buffer(-bleed))
    return as_area(inked)


def _bleed(net: Net, name: str, printed: set[str], blank: Area, bleed: float) -> Area:
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
    panels = [_Growing(panel, bleed) for panel, _ in parts]
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
                mine, theirs = _divided(overlap, panels[i], panels[j])
                rest[i] = as_area(without(rest[i], theirs))
                rest[j] = as_area(without(rest[j], mine))
    return rest


def _box(*shapes: Area) -> Polygon:
    """The box around shapes, of which one or more is not empty."""
    return shapely.box(*shapely.total_bounds(shapes))


@dataclass(slots=True)
class _Growing:
    """A panel that grows into the waste in `SHARE_STEPS` steps; each is worked out once."""

    panel: Area
    bleed: float
    grown: dict[int, BaseGeometry] = field(default_factory=dict)

    def reach(self, step: int) -> float:
        """How far it has grown, in mm."""
        return self.bleed * step / SHARE_STEPS

    def after(self, step: int) -> BaseGeometry:
        """What it covers then."""
        if step not in self.grown:
            self.grown[step] = self.panel.buffer(self.reach(step))
        return self.grown[step]


def _divided(
    overlap: BaseGeometry, one: _Growing, other: _Growing
) -> tuple[BaseGeometry, BaseGeometry]:
    """Two shares of an area: both panels grow into it at the same pace."""
    mine: list[BaseGeometry] = []
    left = overlap
    for step in range(1, SHARE_STEPS + 1):
        for each in (one, other):
            # Nothing more comes of a panel that is farther away, nor once all is shared out.
            if left.is_empty or left.distance(each.panel) > each.reach(step):
                continue
            grown = common(left, each.after(step), grid=None)
            left = without(left, grown, grid=None)
            if each is one:
                mine.append(grown)
    # What neither reaches, by a rounding, goes to the second.
    share = together(mine)
    return share, without(overlap, share)


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

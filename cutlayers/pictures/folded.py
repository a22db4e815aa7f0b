"""Folded boxes as people see them, shaded, hidden faces right.

Outside and inside have different colours; edges that were cut are stronger than folds. A view is
drawn once, in mm of the box; every picture that shows it only sets it to its own size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import shapely

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.net.assembly import Assembly, together
from cutlayers.net.faces import Face
from cutlayers.net.space import Vector, dot, moved
from cutlayers.net.stacking import Key, key
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.painting import SHADOW_BLUR, Painted, paint
from cutlayers.pictures.scene import Chain, Group, Item, Label, Scene, Shape
from cutlayers.pictures.surfaces import Flat, flats, painted, surfaces

if TYPE_CHECKING:  # only the guide draws steps
    from cutlayers.box.stages import Stage
    from cutlayers.box.steps import Step

MARGIN = 7.0
"""mm of the picture round each view."""

SOFT = 3 * SHADOW_BLUR
"""mm of the picture, from where on a shadow's soft border shows nothing."""

CAPTION = 2.6
"""mm; height of capitals under a view."""

AS_LARGE = 0.9
"""Share of the largest panel's area from which on another one is as large."""

BEFORE = 5.0
"""mm; what lies nearer before a panel is a layer on it."""

TURNED_AWAY = 0.1
"""Sine of the angle by which a panel looks away from a viewer who has to walk round it."""


@frozen
class View:
    """One view of a box: what is seen, as it is folded, and from where (degrees; see Camera). `lit`
    are panels in a colour of their own."""

    box: Assembly
    caption: str = ""
    azimuth_deg: float = 32.0
    elevation_deg: float = 26.0
    lit: frozenset[Key] = frozenset()


def usual_views(box: Box) -> tuple[View, ...]:
    """What a maker wants to see: each net that is folded half so, the box open, and the box
    closed."""
    half = [
        View(folded, f"{blank.name}, half folded")
        for blank, folded in zip(box.wholes, box.half_folded, strict=True)
        if blank.folds
    ]
    between = (View(box.apart, "apart"),) if box.goes_together else ()
    return (*half, *between, finished_view(box))


def step_views(box: Box) -> dict[Step, View]:
    """The box after each step that moves panels, these lit.

    Where the outsides of the largest have come to look away from the usual viewer, and nobody looks
    into the box, or where others stand before them, it is seen from below or from behind.
    """
    from cutlayers.box.stages import stages

    return {stage.step: _step_view(stage) for stage in stages(box)}


def _step_view(stage: Stage) -> View:
    from cutlayers.box.steps import Action

    usual = View(together(stage.nets), lit=stage.moved)
    lit = [face for face in usual.box.faces if key(face) in usual.lit]
    if not lit or stage.step.action in (Action.GLUE, Action.JOIN_OVER, Action.JOIN_INTO):
        return usual
    largest = max(face.shape.area for face in lit)
    shown = [face for face in lit if face.shape.area >= AS_LARGE * largest]

    def turned_to(view: View) -> float:
        return max(dot(face.pose.normal, _toward(view)) for face in shown)

    def seen(view: View) -> bool:
        hidden = [face for face in shown if _hidden(face, _toward(view), view.box.faces)]
        return 2 * len(hidden) < len(shown)

    low, round_ = -usual.elevation_deg, usual.azimuth_deg + 180.0
    below = replace(usual, caption="from below", elevation_deg=low)
    behind = replace(usual, caption="from behind", azimuth_deg=round_)
    behind_below = replace(behind, caption="from behind, below", elevation_deg=low)
    facing = [
        view for view in (usual, below, behind, behind_below) if turned_to(view) > -TURNED_AWAY
    ]
    if not facing:
        return max(below, behind, key=turned_to)
    return next(filter(seen, facing), facing[0])


def _toward(view: View) -> Vector:
    return Camera.turned(view.azimuth_deg, view.elevation_deg).toward


def _hidden(face: Face, toward: Vector, others: Sequence[Face]) -> bool:
    """Whether another face stands before the middle of one."""
    inner = face.shape.representative_point()
    middle = face.pose.place((inner.x, inner.y))
    for other in others:
        along = dot(other.pose.normal, toward)
        if other is face or abs(along) < TURNED_AWAY:
            continue
        far = -other.pose.flat(middle)[2] / along
        x, y, _ = other.pose.flat(moved(middle, toward, far))
        if far > BEFORE and shapely.contains_xy(other.shape, x, y):
            return True
    return False


def finished_view(box: Box) -> View:
    """The box as it is to be."""
    alone = "folded" if any(blank.folds for blank in box.wholes) else "flat"
    return View(box.assembly, "together" if box.goes_together else alone)


@frozen
class DrawnView:
    """A view as shapes, in mm as the camera sees it, y down; `bounds` are those of its faces, left,
    top, right and bottom, `shade` are those of its shadow, or of the faces where it casts none."""

    caption: str
    shapes: tuple[Painted, ...]
    bounds: Bounds
    shade: Bounds

    def beside(self, scale: float) -> tuple[float, float]:
        """The mm of a picture at some scale that are left free on the left and on the right of the
        faces: a margin, or as much as the shadow needs."""
        left, _, right, _ = self.bounds
        return (
            max(MARGIN, (left - self.shade[0]) * scale + SOFT),
            max(MARGIN, (self.shade[2] - right) * scale + SOFT),
        )

    def below(self, scale: float) -> float:
        """The mm that are left free below the faces."""
        return max(MARGIN, (self.shade[3] - self.bounds[3]) * scale + SOFT)

    def widest(self, width: float) -> float:
        """The largest scale at which it is no wider than so many mm."""
        (left, _, right, _), (before, _, after, _) = self.bounds, self.shade
        return min(
            (width - one - other) / (high - low)
            for low, one in ((left, MARGIN), (before, SOFT))
            for high, other in ((right, MARGIN), (after, SOFT))
        )


def draw_usual(box: Box, looks: Looks = KRAFT) -> tuple[DrawnView, ...]:
    """The usual views, drawn. Raises NetError for nets that cannot be folded."""
    return draw_views(usual_views(box), looks)


def draw_views(views: Sequence[View], looks: Looks = KRAFT) -> tuple[DrawnView, ...]:
    """Draw views of one box; nets that share a name are the same."""
    known: dict[str, dict[str, Flat]] = {}
    drawn = []
    for view in views:
        box = view.box
        for folded in box.boxes:
            if folded.net.name not in known:
                known[folded.net.name] = flats(folded, box.cards)
        camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
        seen = [camera.see(face.pose.place(point)) for face in box.faces for point in face.ring]
        xs, ys = zip(*seen, strict=True)
        pieces = painted(surfaces(box, known), camera.toward)
        shapes = paint(pieces, box.faces, camera, looks, view.lit)
        bounds = (min(xs), -max(ys), max(xs), -min(ys))
        drawn.append(DrawnView(view.caption, shapes, bounds, _shade(shapes, bounds)))
    return tuple(drawn)


def _shade(shapes: Sequence[Painted], bounds: Bounds) -> Bounds:
    """The bounds of a view's shadow, or of its faces where it has none."""
    fallen = [
        point
        for shape in shapes
        if isinstance(shape, Shape) and shape.blur
        for outline in shape.outlines
        if isinstance(outline, Chain)
        for point in outline.points
    ]
    if not fallen:
        return bounds
    xs, ys = zip(*fallen, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def views_scene(
    title: str, drawn: Sequence[DrawnView], height: float = 90.0, ground: str | None = None
) -> Scene:
    """Views side by side, all at one scale, in a picture `height` mm high.

    The tallest view fills the height. Raises ValueError where there is no view.
    """
    if not drawn:
        raise ValueError("a picture needs a view")
    room = height - (3 * CAPTION if any(view.caption for view in drawn) else 0.0)
    scale = _highest(drawn, room)
    return _side_by_side(title, drawn, scale, height, room, ground)


def _highest(drawn: Sequence[DrawnView], height: float) -> float:
    """The largest scale at which views that stand on one floor are no higher than so many mm."""
    high = max(view.bounds[3] - view.bounds[1] for view in drawn)
    over = max(view.shade[3] - view.bounds[3] for view in drawn)
    return min((height - 2 * MARGIN) / high, (height - MARGIN - SOFT) / (high + over))


def single_scenes(drawn: Sequence[DrawnView], width: float, height: float) -> tuple[Scene, ...]:
    """Views each in a picture of its own under its caption, all at one scale, none wider or higher
    than that in mm. Captions are left to whoever shows them."""
    scale = min((min(view.widest(width), _highest([view], height)) for view in drawn), default=1.0)
    found = []
    for view in drawn:
        _, top, _, bottom = view.bounds
        high = MARGIN + (bottom - top) * scale + view.below(scale)
        bare = replace(view, caption="")
        found.append(_side_by_side(view.caption, [bare], scale, high, high, None))
    return tuple(found)


def _side_by_side(
    title: str,
    drawn: Sequence[DrawnView],
    scale: float,
    height: float,
    room: float,
    ground: str | None,
) -> Scene:
    """Views at a scale, captions at the lower border if there are any; they and their shadows have
    `room` mm of the height."""
    groups = []
    at = 0.0
    floor = room - max(view.below(scale) for view in drawn)
    for index, view in enumerate(drawn):
        left, _, right, bottom = view.bounds
        before, after = view.beside(scale)
        width = (right - left) * scale + before + after
        place = Transform(
            xx=scale, yy=scale, dx=at + before - left * scale, dy=floor - bottom * scale
        )
        items: list[Item] = [Group(view.shapes, place=place)]
        if view.caption:
            under = (at + width / 2, room + CAPTION)
            items.append(Label((view.caption,), under, CAPTION, KRAFT.ink, "middle"))
        groups.append(Group(tuple(items), f"view-{index + 1}", view.caption))
        at += width
    return Scene(title, at, height, tuple(groups), ground=ground)

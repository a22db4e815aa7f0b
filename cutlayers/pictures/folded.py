"""Folded boxes as people see them, shaded, hidden faces right.

Outside and inside have different colours; edges that were cut are stronger than folds. A view is
drawn once, in mm of the box; every picture that shows it only sets it to its own size.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.box import Box
from cutlayers.frozen import frozen
from cutlayers.geometry.segments import Bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.net.assembly import Assembly
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.decoration import PLAIN, Decorations
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.painting import Painted, paint
from cutlayers.pictures.scene import Group, Item, Label, Scene
from cutlayers.pictures.surfaces import Flat, flats, painted, surfaces

MARGIN = 7.0
"""mm of the picture round each view."""

CAPTION = 2.6
"""mm; height of capitals under a view."""


@frozen
class View:
    """One view of a box: what is seen, as it is folded, and from where (degrees; see Camera)."""

    box: Assembly
    caption: str = ""
    azimuth_deg: float = 32.0
    elevation_deg: float = 26.0


def usual_views(box: Box) -> tuple[View, ...]:
    """What a maker wants to see: each net that is folded half so, the box open, and the box
    closed."""
    half = [
        View(folded, f"{blank.name}, half folded")
        for blank, folded in zip(box.blanks, box.half_folded, strict=True)
        if blank.net.hinges
    ]
    between = (View(box.apart, "apart"),) if len(box.blanks) > 1 else ()
    return (*half, *between, finished_view(box))


def finished_view(box: Box) -> View:
    """The box as it is to be."""
    return View(box.assembly, "together" if len(box.blanks) > 1 else "folded")


@frozen
class DrawnView:
    """A view as shapes, in mm as the camera sees it, y down; `bounds` are those of its faces, left,
    top, right and bottom, and leave the shadow out."""

    caption: str
    shapes: tuple[Painted, ...]
    bounds: Bounds


def draw_usual(
    box: Box, looks: Looks = KRAFT, decorations: Decorations = PLAIN
) -> tuple[DrawnView, ...]:
    """The usual views, drawn. Raises NetError for nets that cannot be folded."""
    return draw_views(usual_views(box), looks, decorations)


def draw_views(
    views: Sequence[View], looks: Looks = KRAFT, decorations: Decorations = PLAIN
) -> tuple[DrawnView, ...]:
    """Draw views of one box; nets that share a name are the same, and have the same decorations."""
    known: dict[str, dict[str, Flat]] = {}
    drawn = []
    for view in views:
        box = view.box
        for folded in box.boxes:
            if folded.net.name not in known:
                known[folded.net.name] = flats(folded.net, box.cards)
        camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
        seen = [camera.see(face.pose.place(point)) for face in box.faces for point in face.ring]
        xs, ys = zip(*seen, strict=True)
        pieces = painted(surfaces(box, known), camera.toward)
        shapes = paint(pieces, box.faces, camera, looks, decorations)
        bounds = (min(xs), -max(ys), max(xs), -min(ys))
        drawn.append(DrawnView(view.caption, shapes, bounds))
    return tuple(drawn)


def views_scene(
    title: str, drawn: Sequence[DrawnView], height: float = 90.0, ground: str | None = None
) -> Scene:
    """Views side by side, all at one scale, in a picture `height` mm high.

    The tallest view fills the height. Raises ValueError where there is no view.
    """
    if not drawn:
        raise ValueError("a picture needs a view")
    captions = any(view.caption for view in drawn)
    room = height - 2 * MARGIN - (3 * CAPTION if captions else 0.0)
    scale = room / max(view.bounds[3] - view.bounds[1] for view in drawn)
    groups = []
    at, floor = 0.0, MARGIN + room
    for index, view in enumerate(drawn):
        left, _, right, bottom = view.bounds
        width = (right - left) * scale + 2 * MARGIN
        place = Transform(
            xx=scale, yy=scale, dx=at + MARGIN - left * scale, dy=floor - bottom * scale
        )
        items: list[Item] = [Group(view.shapes, place=place)]
        if view.caption:
            under = (at + width / 2, floor + MARGIN + CAPTION)
            items.append(Label((view.caption,), under, CAPTION, KRAFT.ink, "middle"))
        groups.append(Group(tuple(items), f"view-{index + 1}", view.caption))
        at += width
    return Scene(title, at, height, tuple(groups), ground=ground)

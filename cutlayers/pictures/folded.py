"""Folded boxes as people see them, shaded, hidden faces right.

Outside and inside have different colours; edges that were cut are stronger than folds. A view is
drawn once, in mm of the box; every picture that shows it only sets it to its own size.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from cutlayers.geometry.paths import Bounds
from cutlayers.geometry.transforms import Transform
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import faces
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.model import Net
from cutlayers.net.space import Vector
from cutlayers.net.stacking import stacks
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.painting import paint
from cutlayers.pictures.scene import Group, Item, Label, Scene, Shape
from cutlayers.pictures.surfaces import Flat, flats, painted, surfaces

MARGIN = 7.0
"""mm of the picture round each view."""

CAPTION = 2.6
"""mm; height of capitals under a view."""

HALF, HALF_WITH_LOOPS = 0.55, 0.7
"""Fractions shown as half folded."""

LIFTED = 0.35
"""How far a lid is lifted off, as a share of the box's height, once it is clear of the base."""


@dataclass(frozen=True, slots=True)
class View:
    """One view of a box: which nets, how far folded (0…1), the lid lifted off or on, and from
    where it is seen (degrees; see Camera)."""

    nets: tuple[Net, ...]
    caption: str = ""
    fraction: float = 1.0
    apart: bool = False
    azimuth_deg: float = 32.0
    elevation_deg: float = 26.0


def usual_views(nets: Sequence[Net]) -> tuple[View, ...]:
    """What a maker wants to see: each net half folded, the box open, and the box closed."""
    half = [View((net,), f"{net.name}, half folded", _half(net)) for net in nets]
    if len(nets) == 1:
        return (*half, View(tuple(nets), "folded"))
    whole = tuple(nets)
    return (*half, View(whole, "apart", apart=True), View(whole, "together"))


def _half(net: Net) -> float:
    """How far to fold a net for a view on the way: farther where loops would gape."""
    return HALF_WITH_LOOPS if fold(net).closures else HALF


@dataclass(frozen=True, slots=True)
class DrawnView:
    """A view as shapes, in mm as the camera sees it, y down; `bounds` are those of its faces, left,
    top, right and bottom, and leave the shadow out."""

    caption: str
    shapes: tuple[Shape, ...]
    bounds: Bounds


def draw_views(views: Sequence[View], looks: Looks = KRAFT) -> tuple[DrawnView, ...]:
    """Draw views of one box. Raises NetError for nets that cannot be folded."""
    known: dict[str, dict[str, Flat]] = {}
    drawn = []
    for view in views:
        box = posed(view)
        for folded in box.boxes:
            if folded.net.name not in known:
                known[folded.net.name] = flats(folded.net)
        camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
        seen = [
            camera.see(face.pose.place((x, y)))
            for face in box.faces
            for x, y in face.shape.exterior.coords
        ]
        xs, ys = zip(*seen, strict=True)
        pieces = painted(surfaces(box, known), camera.toward)
        shapes = paint(pieces, box.faces, camera, looks)
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


def posed(view: View) -> Assembly:
    """The nets of a view, folded and put where the view has them."""
    boxes = [fold(net, view.fraction) for net in view.nets]
    if view.apart and len(boxes) > 1:
        base, *lids = boxes
        tall = max(each.bounds[1][2] for each in boxes) - base.bounds[0][2]
        top = base.bounds[1][2]
        for index, lid in enumerate(lids):
            rise = top - lid.bounds[0][2] + LIFTED * tall
            boxes[index + 1] = _moved(lid, (0.0, 0.0, rise))
            top = boxes[index + 1].bounds[1][2]
    found = faces(boxes)
    return Assembly(tuple(boxes), found, stacks(boxes, found))


def _moved(folded: FoldedNet, shift: Vector) -> FoldedNet:
    return replace(folded, poses={name: pose.shifted(shift) for name, pose in folded.poses.items()})

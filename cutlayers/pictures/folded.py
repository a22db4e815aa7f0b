"""A drawing of folded boxes, shaded, hidden faces right, as SVG.

Outside and inside have different colours; edges that were cut are stronger than folds. The same
input gives the same bytes. Text is drawn as strokes, so it looks alike everywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lxml import etree

from cutlayers.formats.svg import SVG_NAMESPACE, as_bytes, number
from cutlayers.lettering.single_stroke import letter
from cutlayers.net.assembly import Assembly
from cutlayers.net.faces import faces
from cutlayers.net.folding import FoldedNet, fold
from cutlayers.net.model import Net
from cutlayers.net.space import Vector
from cutlayers.net.stacking import stacks
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.painting import DECIMALS, Page, Painting, paint
from cutlayers.pictures.scene import painted, surfaces

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


def draw_views(
    title: str, views: Sequence[View], looks: Looks = KRAFT, height: float = 90.0
) -> bytes:
    """Draw views side by side, all at one scale, as an SVG picture `height` mm high or less.

    The tallest view fills the height. Raises NetError for nets that cannot be folded and
    ValueError where there is no view.
    """
    if not views:
        raise ValueError("a picture needs a view")
    drawn = [_Drawn.of(view) for view in views]
    captions = any(view.caption for view in views)
    room = height - 2 * MARGIN - (3 * CAPTION if captions else 0.0)
    scale = room / max(each.top - each.bottom for each in drawn)
    widths = [(each.right - each.left) * scale + 2 * MARGIN for each in drawn]
    root = etree.Element(
        "svg",
        {
            "version": "1.1",
            "width": f"{number(sum(widths), DECIMALS)}mm",
            "height": f"{number(height, DECIMALS)}mm",
            "viewBox": f"0 0 {number(sum(widths), DECIMALS)} {number(height, DECIMALS)}",
        },
        nsmap={None: SVG_NAMESPACE},
    )
    etree.SubElement(root, "title").text = title
    if looks.ground is not None:
        etree.SubElement(root, "rect", {"width": "100%", "height": "100%", "fill": looks.ground})
    at, floor = 0.0, MARGIN + room
    for index, (each, width) in enumerate(zip(drawn, widths, strict=True)):
        page = Page(
            scale,
            at + MARGIN - each.left * scale,
            floor + each.bottom * scale,
            each.painting.camera,
        )
        group = etree.SubElement(root, "g", {"id": f"view-{index + 1}"})
        if each.view.caption:
            etree.SubElement(group, "title").text = each.view.caption
        paint(group, each.painting, page, looks, f"v{index + 1}")
        if each.view.caption:
            _write(group, each.view.caption, (at + width / 2, floor + MARGIN + CAPTION), looks)
        at += width
    return as_bytes(root)


@dataclass(frozen=True, slots=True)
class _Drawn:
    """A view folded and sorted; its extent in mm as the camera sees it, shadow left out."""

    view: View
    painting: Painting
    left: float
    bottom: float
    right: float
    top: float

    @staticmethod
    def of(view: View) -> _Drawn:
        camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
        box = posed(view)
        points = [
            camera.see(face.pose.place((x, y)))
            for face in box.faces
            for x, y in face.shape.exterior.coords
        ]
        xs, ys = zip(*points, strict=True)
        return _Drawn(
            view,
            Painting(camera, painted(surfaces(box), camera.toward), box.faces),
            min(xs),
            min(ys),
            max(xs),
            max(ys),
        )


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


def _write(group: etree._Element, text: str, at: tuple[float, float], looks: Looks) -> None:
    x, y = at
    data = []
    for path in letter(text, CAPTION, anchor="middle"):
        points = path.points(0.05)
        words = [f"{number(x + px, DECIMALS)} {number(y - py, DECIMALS)}" for px, py in points]
        data.append(f"M{' L'.join(words)}")
    etree.SubElement(
        group,
        "path",
        {
            "d": " ".join(data),
            "fill": "none",
            "stroke": looks.ink,
            "stroke-width": number(0.12 * CAPTION, DECIMALS),
            "stroke-linecap": "round",
            "stroke-linejoin": "round",
        },
    )

"""A drawing of folded boxes, shaded, hidden faces right, as SVG.

Outside and inside have different colours; edges that were cut are stronger than folds. The same
input gives the same bytes. Text is drawn as strokes, so it looks alike everywhere.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from lxml import etree

from cutlayers.box import Box
from cutlayers.formats.svg import SVG_NAMESPACE, as_bytes, number
from cutlayers.lettering.single_stroke import letter
from cutlayers.net.assembly import Assembly
from cutlayers.pictures.camera import Camera
from cutlayers.pictures.looks import KRAFT, Looks
from cutlayers.pictures.painting import DECIMALS, Page, Painting, paint
from cutlayers.pictures.scene import painted, surfaces

MARGIN = 7.0
"""mm of the picture round each view."""

CAPTION = 2.6
"""mm; height of capitals under a view."""


@dataclass(frozen=True, slots=True)
class View:
    """One view of a box: what is seen, as it is folded, and from where (degrees; see Camera)."""

    box: Assembly
    caption: str = ""
    azimuth_deg: float = 32.0
    elevation_deg: float = 26.0


def usual_views(box: Box) -> tuple[View, ...]:
    """What a maker wants to see: each net half folded, the box open, and the box closed."""
    half = [
        View(folded, f"{blank.name}, half folded")
        for blank, folded in zip(box.blanks, box.half_folded, strict=True)
    ]
    if len(box.blanks) == 1:
        return (*half, View(box.assembly, "folded"))
    return (*half, View(box.apart, "apart"), View(box.assembly, "together"))


def draw_usual(box: Box) -> tuple[DrawnView, ...]:
    """The usual views, drawn. Raises NetError for nets that cannot be folded."""
    return tuple(drawn(view) for view in usual_views(box))


def draw_views(
    title: str, views: Sequence[DrawnView], looks: Looks = KRAFT, height: float = 90.0
) -> bytes:
    """Lay drawn views side by side, all at one scale, as an SVG picture `height` mm high or less.

    The tallest view fills the height. Raises ValueError where there is no view.
    """
    if not views:
        raise ValueError("a picture needs a view")
    captions = any(view.caption for view in views)
    room = height - 2 * MARGIN - (3 * CAPTION if captions else 0.0)
    scale = room / max(each.top - each.bottom for each in views)
    widths = [(each.right - each.left) * scale + 2 * MARGIN for each in views]
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
    for index, (each, width) in enumerate(zip(views, widths, strict=True)):
        page = Page(
            scale,
            at + MARGIN - each.left * scale,
            floor + each.bottom * scale,
            each.painting.camera,
        )
        group = etree.SubElement(root, "g", {"id": f"view-{index + 1}"})
        if each.caption:
            etree.SubElement(group, "title").text = each.caption
        paint(group, each.painting, page, looks, f"v{index + 1}")
        if each.caption:
            _write(group, each.caption, (at + width / 2, floor + MARGIN + CAPTION), looks)
        at += width
    return as_bytes(root)


@dataclass(frozen=True, slots=True)
class DrawnView:
    """A view with its faces in the order in which they are painted, and its extent in mm as the
    camera sees it, shadow left out. It may be shown many times, at any size."""

    caption: str
    painting: Painting
    left: float
    bottom: float
    right: float
    top: float


def drawn(view: View) -> DrawnView:
    """Sort out what of a view hides what."""
    camera = Camera.turned(view.azimuth_deg, view.elevation_deg)
    points = [
        camera.see(face.pose.place((x, y)))
        for face in view.box.faces
        for x, y in face.shape.exterior.coords
    ]
    xs, ys = zip(*points, strict=True)
    return DrawnView(
        view.caption,
        Painting(camera, painted(surfaces(view.box), camera.toward), view.box.faces),
        min(xs),
        min(ys),
        max(xs),
        max(ys),
    )


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

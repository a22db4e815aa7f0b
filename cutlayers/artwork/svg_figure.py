"""An SVG file as a figure: filled and stroked outlines, kept as curves all the way to the print.

What outlines cannot show (gradients, masks, filters …) ends the reading with SvgTooRich, and the
picture is painted as pixels instead; text is refused, since it looks different wherever its font
is missing. Source: SVG 1.1, chapters 7 to 11.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING

from cutlayers.artwork.ink import Contour, Figure, Paint
from cutlayers.artwork.svg_outlines import (
    LARGEST,
    LENGTH,
    PX_PER,
    SMALLEST,
    contours,
    coordinate,
    count_steps,
    length,
    path_data,
)
from cutlayers.artwork.svg_safety import XLINK_HREF, parse_safely
from cutlayers.artwork.svg_style import (
    INHERITED,
    Style,
    StyleSheet,
    SvgTooRich,
    colour,
    number,
    style_of,
    style_sheet,
)
from cutlayers.geometry.transforms import Transform
from cutlayers.reading.markup import local_name, on_its_line
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.refusals import Span
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

__all__ = ["SvgTooRich", "read_figure"]

SVG_NAMESPACE = "http://www.w3.org/2000/svg"

_TEXT = ("text", "tspan", "textPath", "tref", "flowRoot")
_UNPAINTED = ("defs", "title", "desc", "metadata", "style", "symbol", "linearGradient",
              "radialGradient", "pattern", "clipPath", "mask", "filter", "marker")  # fmt: skip
_CAPS = {"butt": 0, "round": 1, "square": 2}
_JOINS = {"miter": 0, "round": 1, "bevel": 2}

MOST_STEPS, STEPS_OF_SHAPE = 400_000, 8
"""Numbers and letters of all path data, a shape once for every place where it is used, and how many
its painting counts for; about 10 µs each. What has more is painted as pixels, in a bounded time."""

MOST_DASHES = 100_000
"""Of one shape's line; each is painted on its own, and no printer shows so many."""


def read_figure(content: bytes) -> Figure:
    """A figure from an SVG's bytes, as large as its width and height, or else its viewBox.

    Raises ValueRefused for a file that is broken, hostile, empty or holds text, and SvgTooRich.
    """
    root = parse_safely(content)
    for element in root.iter():
        if local_name(element) in _TEXT:
            raise ValueRefused(
                "holds text, which needs its font",
                line=element.sourceline,
                advice="turn the text into outlines and save it again",
            )
    width, height, onto = _page(root)
    units = max(width / abs(onto.xx), height / abs(onto.yy))
    try:
        reader = _Reader(root)
        paints = tuple(reader.paints(root, onto, INHERITED, 1.0))
    except SvgTooRich as rich:
        raise SvgTooRich(rich.why, width / height, units) from None
    if not paints:
        raise ValueRefused("shows nothing: it holds no painted outline")
    return Figure(width, height, paints)


def _page(root: etree._Element) -> tuple[float, float, Transform]:
    """Size of the picture and the motion from its user units, y down, to y up."""
    view = str(root.get("viewBox") or "")
    box = [number(part, "a part of viewBox") for part in re.split(r"[\s,]+", view.strip()) if part]
    if box and (len(box) != 4 or not _usable(box[2], box[3])):
        allowed = "four numbers, a true size"
        raise ValueRefused(f"has viewBox {shown(view)}", found=view, allowed=allowed)
    sides = [_absolute(root, side) for side in ("width", "height")]
    if sides[0] and sides[1]:
        width, height = sides[0], sides[1]
    elif box:
        width, height = box[2], box[3]
    else:
        raise ValueRefused("has neither a viewBox nor width and height")
    if not _usable(width, height):
        size = f"is {width:g} × {height:g} px large, which cannot be used"
        raise ValueRefused(size, found=[width, height])
    left, top, wide, high = box or (0.0, 0.0, width, height)
    scale_x, scale_y = width / wide, height / high
    fit = str(root.get("preserveAspectRatio") or "xMidYMid meet").split()
    if fit[0] != "none":
        if fit != ["xMidYMid", "meet"] and fit != ["xMidYMid"]:
            raise SvgTooRich(
                f"preserveAspectRatio {shown(' '.join(fit))}", width / height, max(wide, high)
            )
        scale_x = scale_y = min(scale_x, scale_y)
    dx = (width - scale_x * wide) / 2 - scale_x * left
    dy = (height - scale_y * high) / 2 - scale_y * top
    return width, height, Transform(xx=scale_x, dx=dx, yy=-scale_y, dy=height - dy)


def _usable(width: float, height: float) -> bool:
    return SMALLEST <= width <= LARGEST and SMALLEST <= height <= LARGEST


def _absolute(root: etree._Element, side: str) -> float | None:
    value = str(root.get(side) or "")
    match = LENGTH.fullmatch(value)
    if match is None or match["unit"] not in PX_PER:
        return None  # missing, or a share of a page that is not known here
    return float(match["number"]) * PX_PER[match["unit"]]


class _Reader:
    """Walks the tree; every motion, style and opacity is handed down as an argument."""

    def __init__(self, root: etree._Element) -> None:
        self._sheet: StyleSheet = style_sheet(root)
        self._steps = 0
        self._by_id: Mapping[str, etree._Element] = {
            str(element.get("id")): element for element in root.iter() if element.get("id")
        }

    def paints(
        self, element: etree._Element, onto: Transform, parent: Style, opacity: float
    ) -> Iterator[Paint]:
        """The paints of an element and all inside it, in the picture's coordinates."""
        with on_its_line(element):
            yield from self._paints(element, onto, parent, opacity)

    def _paints(
        self, element: etree._Element, onto: Transform, parent: Style, opacity: float
    ) -> Iterator[Paint]:
        name = local_name(element)
        tag = str(element.tag)
        if name in _UNPAINTED or not (tag == name or tag.startswith(f"{{{SVG_NAMESPACE}}}")):
            return
        style = style_of(element, parent, self._sheet)
        if style["display"] == "none":
            return
        own = number(style["opacity"], "opacity")
        here = onto @ motion(str(element.get("transform") or ""))
        if name in ("svg", "g"):
            if own != 1.0 and len(element):
                raise SvgTooRich("a see-through group")
            if name == "svg" and element.getparent() is not None:
                raise SvgTooRich("a picture inside the picture")
            for child in element:
                yield from self.paints(child, here, style, opacity)
        elif name == "use":
            target = self._by_id.get(
                str(element.get("href") or element.get(XLINK_HREF) or "").strip()[1:]
            )
            if target is None or local_name(target) in ("symbol", "svg"):
                raise SvgTooRich("a symbol")
            x, y = (coordinate(element, key) for key in ("x", "y"))
            if own != 1.0 and local_name(target) == "g":
                raise SvgTooRich("a see-through group")
            shift = here @ Transform.translation(x, y)
            yield from self.paints(target, shift, style, opacity * own)
        else:
            yield from self._shape(element, here, style, opacity * own)

    def _shape(
        self, element: etree._Element, onto: Transform, style: Style, opacity: float
    ) -> Iterator[Paint]:
        data = path_data(element)
        self._steps += STEPS_OF_SHAPE + count_steps(data, MOST_STEPS)
        if self._steps > MOST_STEPS:
            raise SvgTooRich(f"outlines of more than {MOST_STEPS} numbers")
        if style["visibility"] != "visible" or not data.strip():
            return
        current = style["color"]
        fill = None if local_name(element) == "line" else colour(style["fill"], current)
        stroke = colour(style["stroke"], current)
        width = length(style["stroke-width"], "stroke-width")
        stroke = stroke if width > 0 else None
        if stroke and not onto.is_similarity:
            raise SvgTooRich("a line that is wider one way than the other")
        if fill and stroke and opacity != 1.0:
            raise SvgTooRich("a see-through shape with a line round it")
        outlines = tuple(each.transformed(onto) for each in contours(data))
        if not outlines or not (fill or stroke):
            return
        scale = math.sqrt(abs(onto.determinant))
        dash = tuple(scale * each for each in _dashes(style["stroke-dasharray"]))
        if dash and _length(outlines) > MOST_DASHES * sum(dash):
            dashes = style["stroke-dasharray"]
            raise ValueRefused(
                f"has a line of more than {MOST_DASHES} dashes (stroke-dasharray {shown(dashes)})",
                found=dashes,
                advice="make them longer",
            )
        yield Paint(
            outlines,
            fill=fill,
            stroke=stroke,
            line_width=width * scale,
            even_odd=style["fill-rule"] == "evenodd",
            fill_opacity=_share(style["fill-opacity"]) * opacity,
            stroke_opacity=_share(style["stroke-opacity"]) * opacity,
            cap=_CAPS.get(style["stroke-linecap"], 0),
            join=_JOINS.get(style["stroke-linejoin"], 0),
            mitre_limit=_mitre_limit(style["stroke-miterlimit"]),
            dash=dash,
            dash_offset=scale * length(style["stroke-dashoffset"], "stroke-dashoffset"),
        )


def _share(value: str) -> float:
    return min(1.0, max(0.0, number(value, "an opacity")))


def _mitre_limit(value: str) -> float:
    """Source: SVG 1.1, section 11.4: anything below 1 is an error."""
    limit = number(value, "stroke-miterlimit")
    if limit < 1.0:
        raise ValueRefused(
            f"has stroke-miterlimit {shown(value)}", found=value, allowed=Span(least=1)
        )
    return limit


def _length(outlines: tuple[Contour, ...]) -> float:
    """Length of the polygons through all control points, which no curve in them exceeds."""
    return sum(
        math.dist(one, other)
        for outline in outlines
        for one, other in itertools.pairwise(outline.points)
    )


def _dashes(value: str) -> tuple[float, ...]:
    """SVG 2, section 13.5.6: an odd list is repeated, all zeros is a solid line."""
    if value == "none":
        return ()
    dashes = [length(part, "stroke-dasharray") for part in re.split(r"[\s,]+", value) if part]
    if any(each < 0 for each in dashes):
        raise ValueRefused(
            f"has stroke-dasharray {shown(value)}", found=value, allowed="lengths above 0"
        )
    if not sum(dashes):
        return ()
    return tuple(dashes * 2 if len(dashes) % 2 else dashes)


def motion(text: str) -> Transform:
    """What a transform attribute does. Raises ValueRefused."""
    if not text.strip():
        return Transform()
    from svgelements import Matrix

    try:
        m = Matrix(text)
        transform = Transform(m.a, m.c, m.e, m.b, m.d, m.f)
    except (ValueError, TypeError, IndexError):
        reason = f"has the transform {shown(text)}, which makes no sense"
        raise ValueRefused(reason, found=text) from None
    if not all(
        isinstance(part, float | int) and abs(part) <= LARGEST
        for part in (m.a, m.b, m.c, m.d, m.e, m.f)
    ):
        raise ValueRefused(f"has the transform {shown(text)}, which cannot be used", found=text)
    return transform

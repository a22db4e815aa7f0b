"""Ink as SVG elements, in its own coordinates: mm with y up.

Source: SVG 1.1, chapters 5 (use, image), 8 (paths), 11 (painting), 14 (clipping).
"""

from __future__ import annotations

import base64
import io
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from typing import TYPE_CHECKING

from cutlayers.artwork.ink import Contour, Figure, Item, Paint, Raster, Stamp
from cutlayers.formats.svg import matrix, number
from cutlayers.geometry.transforms import Transform

if TYPE_CHECKING:
    from lxml import etree
    from PIL.Image import Image

DECIMALS = 3
"""1 µm is finer than any screen."""

LARGEST_SIDE = 640
"""Pixels that a picture keeps along its longer side: a panel is a hand's breadth on the screen."""

CAPS, JOINS = ("butt", "round", "square"), ("miter", "round", "bevel")

Make = Callable[[str, Mapping[str, str]], "etree._Element"]
Share = Callable[[object, Callable[[], "etree._Element"]], str]
"""How an element is made of its name and attributes; how one that is used in many places is kept,
by a key: it gives the id."""


def ink_elements(ink: Iterable[Item], make: Make, share: Share) -> Iterator[etree._Element]:
    """The elements of ink, from the bottom up."""
    for item in ink:
        if isinstance(item, Paint):
            yield _paint(item, make, share)
        else:
            yield _stamp(item, make, share)


def _paint(paint: Paint, make: Make, share: Share) -> etree._Element:
    if paint.apart and not paint.stroke:
        return _each_alone(paint, make, share)
    attributes = {"d": _data(paint.contours), "fill": paint.fill or "none"}
    if paint.even_odd:
        attributes["fill-rule"] = "evenodd"
    if paint.fill and paint.fill_opacity < 1.0:
        attributes["fill-opacity"] = number(paint.fill_opacity, DECIMALS)
    if paint.stroke:
        attributes |= {
            "stroke": paint.stroke,
            "stroke-width": number(paint.line_width, DECIMALS),
            "stroke-linecap": CAPS[paint.cap],
            "stroke-linejoin": JOINS[paint.join],
            "stroke-miterlimit": number(paint.mitre_limit, DECIMALS),
        }
        if paint.stroke_opacity < 1.0:
            attributes["stroke-opacity"] = number(paint.stroke_opacity, DECIMALS)
        if paint.dash:
            attributes["stroke-dasharray"] = " ".join(number(part, DECIMALS) for part in paint.dash)
            attributes["stroke-dashoffset"] = number(paint.dash_offset, DECIMALS)
    return make("path", attributes | _clip(paint.clip, make, share))


def _each_alone(paint: Paint, make: Make, share: Share) -> etree._Element:
    """Filled contours, of which those that are alike are written once."""
    attributes = {"fill": paint.fill or "none"}
    if paint.fill_opacity < 1.0:
        attributes["fill-opacity"] = number(paint.fill_opacity, DECIMALS)
    group = make("g", attributes | _clip(paint.clip, make, share))
    for contour in paint.contours:
        x, y = contour.start
        data = _data([contour.transformed(Transform.translation(-x, -y))])
        ident = share(("contour", data), partial(make, "path", {"d": data}))
        at = {"x": number(x, DECIMALS), "y": number(y, DECIMALS)}
        group.append(make("use", {"href": f"#{ident}", **at}))
    return group


def _stamp(stamp: Stamp, make: Make, share: Share) -> etree._Element:
    content = stamp.content
    ident = share(("content", id(content)), lambda: _content(content, make, share))
    group = make("g", _clip(stamp.clip, make, share))
    for place in stamp.places:
        group.append(make("use", {"href": f"#{ident}", "transform": matrix(place)}))
    return group


def _content(content: Figure | Raster, make: Make, share: Share) -> etree._Element:
    """A picture on the unit square."""
    if isinstance(content, Raster):
        # The rows of an image run downwards.
        return make(
            "image",
            {
                "width": "1",
                "height": "1",
                "preserveAspectRatio": "none",
                "transform": "matrix(1 0 0 -1 0 1)",
                "href": f"data:image/png;base64,{base64.b64encode(_png(content)).decode()}",
            },
        )
    square = Transform(xx=1.0 / content.width, yy=1.0 / content.height)
    figure = make("g", {"transform": matrix(square, 8)})  # its points are hundreds, or thousands
    figure.extend(_paint(paint, make, share) for paint in content.paints)
    return figure


def _clip(contours: tuple[Contour, ...], make: Make, share: Share) -> dict[str, str]:
    if not contours:
        return {}

    def element() -> etree._Element:
        made = make("clipPath", {})
        made.append(make("path", {"d": _data(contours), "clip-rule": "evenodd"}))
        return made

    return {"clip-path": f"url(#{share(contours, element)})"}


def _data(contours: Iterable[Contour]) -> str:
    return " ".join(word for contour in contours for word in _contour(contour))


def _contour(contour: Contour) -> Iterator[str]:
    yield f"M{_pair(contour.start)}"
    before = "L"  # straight lines follow a start without a letter of their own
    for edge in contour.edges:
        command = "L" if len(edge) == 1 else "C"
        yield f"{'' if command == before else command}{' '.join(map(_pair, edge))}"
        before = command
    if contour.closed:
        yield "Z"


def _pair(point: tuple[float, float]) -> str:
    return f"{number(point[0], DECIMALS)} {number(point[1], DECIMALS)}"


def _png(raster: Raster) -> bytes:
    image = _image(raster)
    image.thumbnail((LARGEST_SIDE, LARGEST_SIDE))
    file = io.BytesIO()
    image.save(file, "PNG")
    return file.getvalue()


def _image(raster: Raster) -> Image:
    from PIL import Image

    mode = "L" if raster.channels == 1 else "RGB"
    size = (raster.width, raster.height)
    if raster.is_jpeg:
        image: Image.Image = Image.open(io.BytesIO(raster.samples), formats=("JPEG",))
        image.draft(mode, (LARGEST_SIDE, LARGEST_SIDE))  # most of a large one is not decoded
        image = image.convert(mode)
    else:
        image = Image.frombytes(mode, size, raster.samples)
    if raster.alpha is not None:
        image.putalpha(Image.frombytes("L", size, raster.alpha))
    return image

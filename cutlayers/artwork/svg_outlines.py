"""Lengths, basic shapes and path data of an SVG as contours, in user units with y down.

Source: SVG 1.1, chapters 8 (paths) and 9 (basic shapes).
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from cutlayers.artwork.ink import Contour
from cutlayers.artwork.svg_style import NUMBER, SvgTooRich
from cutlayers.geometry.transforms import Point
from cutlayers.reading.markup import local_name
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.written import shown

if TYPE_CHECKING:
    from lxml import etree

PX_PER = {"": 1.0, "px": 1.0, "in": 96.0, "mm": 96 / 25.4, "cm": 96 / 2.54, "pt": 96 / 72,
          "pc": 16.0, "Q": 96 / 101.6}  # fmt: skip
"""Source: CSS Values and Units Level 3, section 6.2."""

LARGEST, SMALLEST = 1e6, 1e-3
"""Of a picture's width and height in its own units, and of every coordinate the larger one."""

LENGTH = re.compile(rf"\s*(?P<number>{NUMBER})(?P<unit>[A-Za-z]*)\s*")
_STEP = re.compile(rf"{NUMBER}|[A-Za-z]")
_PATH_DATA = re.compile(r"\s*[Mm][MmZzLlHhVvCcSsQqTtAaEe0-9.,+\-\s]*")


def length(value: str, what: str) -> float:
    """A length in user units. Raises SvgTooRich for one that depends on something else, and
    ValueRefused for one that is no number or larger than any picture."""
    match = LENGTH.fullmatch(value)
    if match is None and value.strip().lower().lstrip("+-") in ("nan", "inf", "infinity"):
        raise ValueRefused(f"has {shown(value)} as {what}, which is no number", found=value)
    if match is None or match["unit"] not in PX_PER:
        raise SvgTooRich(f"{what} {shown(value)}")
    found = float(match["number"]) * PX_PER[match["unit"]]
    if not abs(found) <= LARGEST:
        reason = f"has {shown(value)} as {what}, far larger than any picture"
        raise ValueRefused(reason, found=value)
    return found


def coordinate(element: etree._Element, key: str, default: float = 0.0) -> float:
    """An attribute as a length in user units, `default` where it is missing."""
    value = element.get(key)
    return default if value is None else length(str(value), key)


def path_data(element: etree._Element) -> str:
    """Any basic shape as path data. Source: SVG 1.1, chapter 9."""

    def at(key: str, default: float = 0.0) -> float:
        return coordinate(element, key, default)

    match local_name(element):
        case "path":
            return str(element.get("d") or "")
        case "rect":
            x, y, wide, high = at("x"), at("y"), at("width"), at("height")
            if wide <= 0 or high <= 0:
                return ""
            rx, ry = at("rx", -1.0), at("ry", -1.0)
            rx, ry = (ry if rx < 0 else rx), (rx if ry < 0 else ry)
            rx, ry = min(max(rx, 0.0), wide / 2), min(max(ry, 0.0), high / 2)
            if not rx or not ry:
                return f"M{x} {y}h{wide}v{high}h{-wide}z"
            turn = f"a{rx} {ry} 0 0 1"
            return (
                f"M{x + rx} {y}h{wide - 2 * rx}{turn} {rx} {ry}v{high - 2 * ry}{turn} {-rx} {ry}"
                f"h{2 * rx - wide}{turn} {-rx} {-ry}v{2 * ry - high}{turn} {rx} {-ry}z"
            )
        case "circle" | "ellipse":
            rx, ry = at("rx", at("r")), at("ry", at("r"))
            if rx <= 0 or ry <= 0:
                return ""
            x, y = at("cx") - rx, at("cy")
            return f"M{x} {y}a{rx} {ry} 0 0 1 {2 * rx} 0a{rx} {ry} 0 0 1 {-2 * rx} 0z"
        case "line":
            return f"M{at('x1')} {at('y1')}L{at('x2')} {at('y2')}"
        case "polyline" | "polygon" as name:
            points = str(element.get("points") or "").strip()
            return f"M{points}{'z' if name == 'polygon' else ''}" if points else ""
        case other:
            raise SvgTooRich(f"the element {other}")


def count_steps(data: str, most: int) -> int:
    """Numbers and letters of path data, counted as far as one beyond `most`."""
    return sum(1 for _ in itertools.islice(_STEP.finditer(data), most + 1))


def contours(data: str) -> tuple[Contour, ...]:
    """Path data as contours. Raises ValueRefused for data that cannot be read to its end."""
    return tuple(
        Contour(start, tuple(itertools.chain.from_iterable(_edges(each, data) for each in steps)),
                closed)
        for start, steps, closed in subpaths(data)
    )  # fmt: skip


def subpaths(data: str) -> Iterator[tuple[Point, list[Any], bool]]:
    """Each subpath that has a length: its start, its segments as the library has them, and whether
    it is closed. Raises ValueRefused for data that cannot be read to its end."""
    # The library passes over letters that it does not know.
    if not _PATH_DATA.fullmatch(data):
        raise _senseless(data)
    start: Point = (0.0, 0.0)
    # The library looks for the beginning of a subpath back through all others, so that each is
    # read on its own, from where the one before it was closed.
    *closed, last = re.split("[Zz]", data)
    for part, is_closed in (*((each, True) for each in closed), (last, False)):
        for moved_to, segments, ends in _unclosed(f"M{start[0]!r} {start[1]!r}{part}", data):
            start = moved_to
            if segments:
                yield start, segments, is_closed and ends


def _unclosed(data: str, whole: str) -> Iterator[tuple[Point, list[Any], bool]]:
    """Where each subpath of data without a close begins, its segments, and whether it is the
    last."""
    import svgelements

    try:
        found = list(svgelements.Path(data))
    except (ValueError, TypeError, IndexError, AttributeError, ZeroDivisionError) as error:
        raise _senseless(whole, type(error).__name__) from None
    start: Point | None = None
    segments: list[Any] = []
    for segment in found:
        if isinstance(segment, svgelements.Move):
            if start is not None:
                yield start, segments, False
            start, segments = point_of(segment.end), []
            continue
        if isinstance(segment, svgelements.Arc) and not all(
            map(math.isfinite, (segment.rx, segment.ry, segment.sweep))
        ):
            raise _senseless(whole, "an arc that has no radius")
        segments.append(segment)
    if start is not None:
        yield start, segments, True


def _edges(segment: Any, whole: str) -> Iterator[tuple[Point, ...]]:
    """A segment as straight lines and cubic curves."""
    import svgelements

    match segment:
        case svgelements.Line():
            yield (point_of(segment.end),)
        case svgelements.CubicBezier():
            yield point_of(segment.control1), point_of(segment.control2), point_of(segment.end)
        case svgelements.QuadraticBezier():
            yield raised(segment)
        case svgelements.Arc():
            for curve in segment.as_cubic_curves():
                yield point_of(curve.control1), point_of(curve.control2), point_of(curve.end)
        case _:
            raise _senseless(whole)


def _senseless(data: str, why: str = "") -> ValueRefused:
    reason = f"has path data that make no sense ({shown(data)})"
    return ValueRefused(f"{reason}: {why}" if why else reason, found=data)


def raised(segment: Any) -> tuple[Point, Point, Point]:
    """A quadratic curve as a cubic one: its controls lie two thirds of the way."""
    x0, y0 = point_of(segment.start)
    x1, y1 = point_of(segment.control)
    x2, y2 = point_of(segment.end)
    return (
        (x0 + 2 / 3 * (x1 - x0), y0 + 2 / 3 * (y1 - y0)),
        (x2 + 2 / 3 * (x1 - x2), y2 + 2 / 3 * (y1 - y2)),
        (x2, y2),
    )


def point_of(value: Any) -> Point:
    """A point of the library's. Raises ValueRefused for none, and for one that is far away."""
    if value is None:
        raise ValueRefused("has path data that break off")
    x, y = float(value[0]), float(value[1])
    if not (abs(x) <= LARGEST and abs(y) <= LARGEST):
        raise ValueRefused(f"has a point at ({x:g}, {y:g}), far outside of any picture")
    return x, y

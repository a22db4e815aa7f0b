"""Ink that is cropped to what can be seen, and repeated ink that is written once."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
from lxml import etree
from PIL import Image, ImageChops

from cutlayers.artwork.ink import Contour, Figure, Paint, Stamp, within
from cutlayers.artwork.patterns import pattern
from cutlayers.geometry.transforms import Transform
from cutlayers.pictures.png import write_png
from cutlayers.pictures.scene import Chain, Print, Scene
from cutlayers.pictures.svg import write_svg

SEEN = (0.0, 0.0, 10.0, 10.0)


def square(left: float, bottom: float, side: float = 2.0) -> Contour:
    right, top = left + side, bottom + side
    return Contour.polygon([(left, bottom), (right, bottom), (right, top), (left, top)])


def test_what_lies_wholly_outside_is_left_out() -> None:
    """By its box: what touches the border stays, and so does what holds all of it."""
    inside, touching, around = square(4, 4), square(10, 10), square(-50, -50, 100)
    paint = Paint((inside, touching, around, square(10.1, 4), square(4, -2.1)), fill="#000000")

    (kept,) = within([paint], SEEN)

    assert kept == replace(paint, contours=(inside, touching, around))
    assert list(within([Paint((square(20, 20),), fill="#000000")], SEEN)) == []


def test_a_stroke_reaches_beyond_its_line() -> None:
    """2 mm wide with mitres of 4 at most: SVG 1.1, 11.4, half of 2 × 4 = 4 mm from a corner."""
    line = Paint((square(13, 4),), stroke="#000000", line_width=2.0)

    assert list(within([line], SEEN)) == [line]
    assert list(within([replace(line, line_width=1.0)], SEEN)) == []


def test_a_picture_stays_where_it_shows() -> None:
    content = Figure(1.0, 1.0, (Paint((square(0, 0, 1),), fill="#000000"),))
    here, there = Transform(xx=4, yy=4, dx=8, dy=8), Transform(xx=4, yy=4, dx=11, dy=8)

    (kept,) = within([Stamp(content, (here, there))], SEEN)

    assert kept == Stamp(content, (here,))


def picture(ink: Paint) -> Scene:
    outline = Chain(((0.0, 0.0), (30.0, 0.0), (30.0, 20.0), (0.0, 20.0)), closed=True)
    return Scene("dots", 30.0, 20.0, (Print((ink,), (outline,), Transform()),))


def test_a_pattern_is_one_figure_in_many_places() -> None:
    """It looks as where each stands for itself, to 16 levels of 255 at an edge."""
    each = Paint(pattern("stars", 5.0, (0.0, 0.0, 30.0, 20.0)), fill="#0072B2")
    once = replace(each, apart=True)

    written = etree.fromstring(write_svg(picture(once)))
    places = written.findall(".//{*}g/{*}use")
    assert len([place for place in places if place.get("x")]) == len(each.contours)
    assert len(written.findall(".//{*}defs/{*}path")) == 1
    assert len(write_svg(picture(once))) < len(write_svg(picture(each))) / 2
    one, other = (on_white(write_png(picture(ink), 300)) for ink in (each, once))
    apart = np.asarray(ImageChops.difference(one, other))
    assert apart.max() <= 16


def on_white(png: bytes) -> Image.Image:
    image = Image.open(io.BytesIO(png)).convert("RGBA")
    white = Image.new("RGBA", image.size, "white")
    return Image.alpha_composite(white, image).convert("RGB")

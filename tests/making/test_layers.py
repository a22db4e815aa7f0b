"""The machine's known errors undone in its files."""

from __future__ import annotations

import math
import tomllib
from dataclasses import replace

import pytest

from cutlayers.formats.drawing import Drawing, Layer
from cutlayers.geometry.paths import Path
from cutlayers.geometry.transforms import Point
from cutlayers.making.layers import corrected
from cutlayers.profile.machine import Machine
from cutlayers.profile.output import Correction
from cutlayers.profile.reading import profile_from

MACHINE = """\
title = "t"
[bed]
width = 300
height = 300
[tools.blade]
type = "drag-blade"
offset = 0.25
[operations.cut]
tool = "blade"
"""


def machine(correction: Correction, shift: Point = (0.0, 0.0)) -> Machine:
    plain = profile_from(tomllib.loads(MACHINE), "t.toml", "t")
    register = replace(plain.register, shift_x=shift[0], shift_y=shift[1])
    return replace(plain, correction=correction, register=register)


def drawing(*paths: Path) -> Drawing:
    cut = Layer("cut", "cut", "#000000", 7, paths)
    return Drawing("t", 300, 300, (cut, Layer("register", "marks", "#000000", 7, paths)))


def goes_to(point: Point, correction: Correction) -> Point:
    """Where a machine with such an error goes: x stretched, y stretched and leaning right."""
    x, y = point
    lean = math.radians(correction.skew_deg)
    along = correction.y_scale * y
    return correction.x_scale * x + along * math.sin(lean), along * math.cos(lean)


ERRORS = [
    Correction(True, 1.01, 1.0, 0.0),
    Correction(True, 0.998, 1.003, 0.3),
    Correction(True, 1.0, 1.0, -1.2),
]


@pytest.mark.parametrize("error", ERRORS)
def test_the_machine_ends_where_it_should(error: Correction) -> None:
    """What the file says, gone through the machine's error, is what was meant."""
    meant = Path.polygon(((10, 10), (250, 20), (240, 280), (15, 260)))

    told = corrected(drawing(meant), machine(error)).layers[0].paths[0]

    for point, wanted in zip(told.vertices, meant.vertices, strict=True):
        assert goes_to(point, error) == pytest.approx(wanted, abs=1e-9)


def test_circles_come_out_round() -> None:
    """Arcs that would not stay circular become chords, within the files' tolerance of 0.02 mm."""
    error = Correction(True, 1.02, 0.99, 0.5)
    circle = Path.circle((100, 100), 40)

    told = corrected(drawing(circle), machine(error)).layers[0].paths[0]

    assert told.closed and not any(told.bulges)
    ends = [goes_to(point, error) for point in told.vertices]
    assert all(math.dist(point, (100, 100)) == pytest.approx(40, abs=1e-9) for point in ends)
    middles = [
        ((x0 + x1) / 2, (y0 + y1) / 2)
        for (x0, y0), (x1, y1) in zip(ends, ends[1:] + ends[:1], strict=True)
    ]
    assert max(40 - math.dist(point, (100, 100)) for point in middles) <= 0.02 + 1e-9


def test_an_even_scale_keeps_arcs() -> None:
    """A circle 1 % too large is told 1 % smaller, as arcs."""
    circle = Path.circle((100, 100), 40)

    told = corrected(drawing(circle), machine(Correction(True, 1.01, 1.01))).layers[0].paths[0]

    assert told.bulges == circle.bulges
    assert told.area == pytest.approx(math.pi * (40 / 1.01) ** 2)


def test_nothing_is_undone_unless_the_profile_says_so() -> None:
    """`apply = false` keeps a known error as a note only."""
    before = drawing(Path.circle((100, 100), 40))

    assert corrected(before, machine(Correction(False, 1.01, 1.0, 0.4))) == before


def test_work_is_moved_back_beside_its_marks() -> None:
    """A shift of print to work moves the work layers against it, and leaves the marks."""
    line = Path.line((10, 10), (20, 10))

    work, marks = corrected(drawing(line), machine(Correction(), (0.3, -0.2))).layers

    assert work.paths[0].bounds == pytest.approx((9.7, 10.2, 19.7, 10.2))
    assert marks.paths == (line,)

"""SVG files as lines, held against geometry that is known by hand and against svgelements."""

from __future__ import annotations

import math

import pytest
import svgelements

from cutlayers.bringing.files import drawing_of
from cutlayers.bringing.lines import Drawing
from cutlayers.reading.values import ValueRefused

HEAD = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'


def read(inside: str, page: str = 'width="100mm" height="50mm" viewBox="0 0 100 50"') -> Drawing:
    return drawing_of(f"<svg {HEAD} {page}>{inside}</svg>".encode())


def test_a_rectangle_stands_upright() -> None:
    """y points down in SVG and up here; the page is 50 high."""
    drawing = read('<rect x="10" y="5" width="30" height="20" fill="none" stroke="red"/>')

    (line,) = drawing.lines
    assert line.path.bounds == (10, 25, 40, 45)
    assert line.path.closed
    assert abs(line.path.area) == 600
    assert line.hints.colour == "#FF0000"
    assert line.number == 1


@pytest.mark.parametrize(
    ("page", "mm"),
    [
        ('width="100mm" height="50mm" viewBox="0 0 100 50"', 1.0),
        ('width="10cm" height="5cm" viewBox="0 0 200 100"', 0.5),
        ('width="2in" height="1in" viewBox="0 0 192 96"', 25.4 / 96),
        ('width="72pt" height="36pt" viewBox="0 0 72 36"', 25.4 / 72),
        ('width="210mm" height="297mm"', 25.4 / 96),  # CSS: a unit is a px of 1/96 in
    ],
)
def test_a_page_with_a_unit_tells_the_scale(page: str, mm: float) -> None:
    drawing = read('<path d="M0 0h10" stroke="#000"/>', page)

    assert drawing.scale is not None
    assert drawing.scale.mm == pytest.approx(mm, rel=1e-12)
    assert drawing.candidates == ()


@pytest.mark.parametrize("page", ["", 'width="300" height="200"', 'viewBox="0 0 300 200"'])
def test_px_are_no_scale(page: str) -> None:
    """Nobody knows how large a px is; what it may be is told with the size of each."""
    drawing = read('<path d="M0 0h96v-48" stroke="#000" fill="none"/>', page)

    assert drawing.scale is None
    told = {each.unit: each for each in drawing.candidates}
    assert set(told) == {"1/96 in", "1/90 in", "pt", "mm", "in"}
    assert "25.4 × 12.7 mm" in told["1/96 in"].reason
    assert "27.09 × 13.55 mm" in told["1/90 in"].reason
    assert "33.87 × 16.93 mm" in told["pt"].reason


def test_a_page_as_sold_comes_first() -> None:
    """A4 is 210 × 297 mm (ISO 216), 744.09 × 1052.36 at 90 to the inch."""
    drawing = read('<path d="M0 0h9" stroke="red"/>', 'width="744.09" height="1052.36"')

    assert drawing.candidates[0].unit == "1/90 in"
    assert "A4" in drawing.candidates[0].reason


def test_arcs_stay_arcs() -> None:
    drawing = read(
        '<g stroke="#000" fill="none"><circle cx="20" cy="20" r="5"/>'
        '<path d="M0 0H10A5 5 0 0 1 10 10"/><path d="M0 0A5 5 0 1 0 5 5" transform="scale(-1 1)"/>'
        "</g>"
    )

    circle, rounded, mirrored = (line.path for line in drawing.lines)
    assert len(circle.bulges) == 2
    assert abs(circle.area) == pytest.approx(math.pi * 25, rel=1e-12)
    assert rounded.length == pytest.approx(10 + math.pi * 5, rel=1e-9)
    assert mirrored.length == pytest.approx(5 * 1.5 * math.pi, rel=1e-9)


@pytest.mark.parametrize(
    "data",
    [
        "M10 10C20 0 30 40 50 10S80 0 90 30",
        "M10 10Q40 60 60 10T90 20",
        "M10 20A30 12 25 1 0 60 25",
        "M0 0C0 30 30 0 30 30",
    ],
)
def test_curves_lie_within_the_tolerance(data: str) -> None:
    """Points of the curve by svgelements; the distance to our arcs by shapely."""
    import shapely

    (line,) = read(f'<path d="{data}" fill="none" stroke="#000"/>').lines
    ours = shapely.LineString(line.path.points(1e-5))
    theirs = svgelements.Path(data)
    points = [theirs.point(i / 2000) for i in range(2001)]
    flipped = shapely.points([(point.x, 50 - point.y) for point in points])

    assert shapely.distance(ours, flipped).max() <= 0.0102
    assert ours.length == pytest.approx(shapely.LineString(flipped).length, rel=1e-4)


def test_arcs_of_a_curve_meet_without_a_corner() -> None:
    (line,) = read('<path d="M10 10C20 0 30 40 50 10" fill="none" stroke="#000"/>').lines

    for one, other in zip(line.path.segments, line.path.segments[1:], strict=False):
        before, after = one.direction_at(1.0), other.direction_at(0.0)
        assert math.dist(before, after) < 0.02


def test_layers_groups_and_dashes() -> None:
    drawing = read(
        "<style>.s{stroke:blue;stroke-dasharray:2 1}</style>"
        '<g id="g12"><title>Folds</title><line class="s" x1="0" y1="0" x2="9" y2="0"/></g>'
        '<g xmlns:n="urn:x" n:groupmode="layer" n:label="Outline" id="layer1">'
        '<g id="lid" transform="scale(2)"><path d="M0 0h5" style="stroke:#f00;stroke-width:.5"/>'
        "</g></g>"
    )

    fold, cut = (line.hints for line in drawing.lines)
    assert (fold.layer, fold.colour, fold.dash) == ("Folds", "#0000FF", (2.0, 1.0))
    assert (cut.layer, cut.group) == ("Outline", ("Outline", "layer1", "lid"))
    assert (cut.colour, cut.dash, cut.width) == ("#FF0000", (), 1.0)


def test_used_symbols_and_pages_inside() -> None:
    drawing = read(
        '<defs><symbol id="s" viewBox="0 0 10 10"><rect width="10" height="5" fill="none" '
        'stroke="red"/></symbol></defs><use xlink:href="#s" x="50" y="10" width="20" height="20"/>'
        '<svg x="10" y="10" width="40" height="20" viewBox="0 0 20 10">'
        '<path d="M0 0L20 10" stroke="red"/></svg>'
    )

    used, inside = (line.path.bounds for line in drawing.lines)
    assert used == pytest.approx((50, 30, 70, 40))
    assert inside == pytest.approx((10, 20, 50, 40))


def test_what_is_no_line_is_set_aside() -> None:
    drawing = read(
        '<rect width="100%" height="100%"/><rect width="9" height="9" fill="green"/>'
        '<image href="photo.png"/><text x="5" y="6">90 <tspan>°</tspan></text>'
        '<g display="none"><path d="M0 0h5" stroke="red"/></g>'
        '<path d="M0 0h5" stroke="red" clip-path="url(#c)"/><path d="M3 3L3 3" stroke="red"/>'
    )

    assert len(drawing.lines) == 1
    assert drawing.set_aside == {
        "clip path": 1,
        "filled shape": 1,
        "hidden line": 1,
        "line without length": 1,
        "picture": 1,
        "shape without a size of its own": 1,
        "text": 1,
    }
    assert [(text.text, text.at) for text in drawing.texts] == [("90 °", (5, 44))]


def test_fills_alone_are_lines() -> None:
    drawing = read('<rect width="9" height="9"/><circle cx="20" cy="9" r="2"/>')

    assert len(drawing.lines) == 2


@pytest.mark.parametrize(
    "page", ['viewBox="1e308 0 100 50"', 'viewBox="0 0 1e-300 50"', 'width="1e-9mm"']
)
def test_pages_that_cannot_be(page: str) -> None:
    with pytest.raises(ValueRefused, match=r"viewBox|width"):
        read('<path d="M0 0h9" stroke="red"/>', page)


PUBLIC = (
    '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
    '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd"'
)


def test_an_old_files_doctype_is_passed_over() -> None:
    """SVG 1.1, section 1.3, has it so; nothing is fetched."""
    line = '<text x="1" y="1">a&nbsp;b</text><path d="M0 0h9" stroke="red"/>'
    content = f"{PUBLIC}><?pages?><svg {HEAD}>{line}</svg>"

    assert len(drawing_of(content.encode()).lines) == 1


@pytest.mark.parametrize(
    "content",
    [
        f'{PUBLIC} [<!ENTITY a "b">]><svg {HEAD}>&a;</svg>',
        f"{PUBLIC} []><svg {HEAD}><text>&b;</text></svg>",
        f'<?xml-stylesheet href="a.css"?><svg {HEAD}/>',
    ],
)
def test_a_doctype_that_declares_something_is_refused(content: str) -> None:
    with pytest.raises(ValueRefused, match=r"DOCTYPE|instruction"):
        drawing_of(content.encode())


def test_too_many_lines_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cutlayers.bringing.drawn_lines.MOST_EDGES", 100)
    zigzag = "M0 0" + "l1 1l1 -1" * 60

    with pytest.raises(ValueRefused, match="more than 100,000 lines"):
        read(f'<path d="{zigzag}" stroke="red"/>')


@pytest.mark.parametrize(
    ("inside", "why"),
    [
        ('<use href="other.svg#a"/>', "outside of the file"),
        ('<path d="M0 0L1e999 3" stroke="red"/>', "far outside"),
        ('<path d="M0 0L nan 3" stroke="red"/>', "no sense"),
        ('<g id="a"><use href="#a"/></g>', "round in a circle"),
        ('<path id="b" d="M0 0h9"/><use href="#b" x="50%"/>', "not understood here"),
        ('<path id="b" d="M0 0L9e5 3" stroke="red" transform="scale(9e5)"/>', "far outside"),
        ("<script>1</script>", "script"),
        ("<text>only words</text>", "no line to cut or fold"),
    ],
)
def test_what_is_refused(inside: str, why: str) -> None:
    with pytest.raises(ValueRefused, match=why):
        read(inside)

"""Drawings in ways that no writer of ours has: the same tray, drawn by forty hands.

The base is 60 × 40, its walls are 20 high, with a tab at either end of the two short ones: five
panels and four tabs, eight folds.
"""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterator
from typing import Any

import ezdxf
import shapely

OUTLINE = (
    (20, 0), (80, 0), (80, 20), (82, 12), (98, 12), (100, 20), (100, 60), (98, 68), (82, 68),
    (80, 60), (80, 80), (20, 80), (20, 60), (18, 68), (2, 68), (0, 60), (0, 20), (2, 12), (18, 12),
    (20, 20),
)  # fmt: skip
CREASES = (
    ((20, 20), (80, 20)), ((20, 60), (80, 60)), ((20, 20), (20, 60)), ((80, 20), (80, 60)),
    ((0, 20), (20, 20)), ((80, 20), (100, 20)), ((0, 60), (20, 60)), ((80, 60), (100, 60)),
)  # fmt: skip

DXF: dict[str, Callable[[], bytes]] = {}
SVG: dict[str, Callable[[], bytes]] = {}

Pen = Callable[[Any], None]
"""Draws something into a layout of a DXF."""


def cut_d() -> str:
    return "M" + " L".join(f"{x} {y}" for x, y in OUTLINE) + "Z"


def crease_ds() -> list[str]:
    return [f"M{a} {b} L{c} {d}" for (a, b), (c, d) in CREASES]


def _dxf(**header: object) -> Any:
    document = ezdxf.new(str(header.pop("version", "R2010")), setup=True)
    document.header["$INSUNITS"] = header.pop("units", 4)
    for name, colour in (("CUT", 1), ("FOLD", 5), ("NOTES", 3)):
        document.layers.add(name, color=colour)
    return document


def _bytes(document: Any) -> bytes:
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def _net(space: Any, cut: str = "CUT", fold: str = "FOLD", by: float = 1.0) -> None:
    points = [(x * by, y * by) for x, y in OUTLINE]
    space.add_lwpolyline(points, close=True, dxfattribs={"layer": cut})
    for (a, b), (c, d) in CREASES:
        space.add_line((a * by, b * by), (c * by, d * by), dxfattribs={"layer": fold})


def _a_dxf(build: Callable[[Any], None]) -> Callable[[], bytes]:
    def made() -> bytes:
        document = _dxf()
        build(document)
        return _bytes(document)

    DXF[build.__name__.strip("_").replace("_", " ")] = made
    return made


@_a_dxf
def _layers_in_english(document: Any) -> None:
    _net(document.modelspace())


@_a_dxf
def _layers_in_german(document: Any) -> None:
    document.layers.add("Schneiden", color=7)
    document.layers.add("Falzlinien", color=7)
    _net(document.modelspace(), "Schneiden", "Falzlinien")


@_a_dxf
def _colours_alone(document: Any) -> None:
    space = document.modelspace()
    space.add_lwpolyline(OUTLINE, close=True, dxfattribs={"color": 1})
    for ends in CREASES:
        space.add_line(*ends, dxfattribs={"color": 5})


@_a_dxf
def _one_colour(document: Any) -> None:
    _net(document.modelspace(), "0", "0")


@_a_dxf
def _blocks_nested_mirrored_and_scaled(document: Any) -> None:
    half = document.blocks.new("HALF")
    half.add_lwpolyline([(50, 0), (80, 0), (80, 20), (82, 12), (98, 12), (100, 20), (100, 60),
                         (98, 68), (82, 68), (80, 60), (80, 80), (50, 80)],
                        dxfattribs={"layer": "CUT"})  # fmt: skip
    for ends in (((50, 20), (80, 20)), ((50, 60), (80, 60)), ((80, 20), (80, 60)),
                 ((80, 20), (100, 20)), ((80, 60), (100, 60))):  # fmt: skip
        half.add_line(*ends, dxfattribs={"layer": "FOLD"})
    both = document.blocks.new("BOTH")
    both.add_blockref("HALF", (0, 0))
    both.add_blockref("HALF", (100, 0), dxfattribs={"xscale": -1})
    outer = document.blocks.new("TENTH")
    outer.add_blockref("BOTH", (0, 0), dxfattribs={"xscale": 0.1, "yscale": 0.1})
    document.modelspace().add_blockref(
        "TENTH", (7, 9), dxfattribs={"xscale": 10, "yscale": 10, "rotation": 30}
    )


@_a_dxf
def _array_of_inserts(document: Any) -> None:
    block = document.blocks.new("TRAY")
    _net(block)
    document.modelspace().add_blockref(
        "TRAY",
        (0, 0),
        dxfattribs={
            "row_count": 2,
            "column_count": 3,
            "row_spacing": 90,
            "column_spacing": 110,
        },
    )


@_a_dxf
def _bulges_round_the_corners(document: Any) -> None:
    space = document.modelspace()
    points = []
    for x, y in OUTLINE:
        if (x, y) in ((20, 0), (20, 80)):
            points += (
                [(x, 3, 0.4142), (x + 3, 0, 0)] if y == 0 else [(x + 3, 80, 0.4142), (x, 77, 0)]
            )
        elif (x, y) in ((80, 0), (80, 80)):
            points += [(77, 0, 0.4142), (80, 3, 0)] if y == 0 else [(80, 77, 0.4142), (77, 80, 0)]
        else:
            points.append((x, y, 0))
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": "CUT"})
    for ends in CREASES:
        space.add_line(*ends, dxfattribs={"layer": "FOLD"})


@_a_dxf
def _splines_and_ellipses(document: Any) -> None:
    space = document.modelspace()
    cut = {"layer": "CUT"}
    space.add_open_spline([(20, 0), (40, 0), (60, 0), (80, 0)], dxfattribs=cut)
    space.add_lwpolyline(OUTLINE[1:], dxfattribs=cut)
    space.add_line((20, 20), (20, 0), dxfattribs=cut)
    space.add_ellipse((50, 40), (10, 0), 0.5, dxfattribs=cut)
    for ends in CREASES:
        space.add_line(*ends, dxfattribs={"layer": "FOLD"})


@_a_dxf
def _hatches_texts_and_dimensions(document: Any) -> None:
    space = document.modelspace()
    _net(space)
    hatch = space.add_hatch(color=2, dxfattribs={"layer": "CUT"})
    hatch.paths.add_polyline_path([(25, 25), (75, 25), (75, 55), (25, 55)], is_closed=True)
    space.add_mtext("Base", dxfattribs={"layer": "NOTES"}).set_location((50, 40))
    space.add_text("60 mm", dxfattribs={"layer": "NOTES"}).set_placement((50, 90))
    space.add_linear_dim(base=(0, -10), p1=(20, 0), p2=(80, 0)).render()
    space.add_radius_dim(center=(50, 40), radius=5, angle=30).render()


def _arrow(space: Any, tip: tuple[float, float], way: float, layer: str) -> None:
    for turn in (math.radians(160), math.radians(200)):
        end = (tip[0] + 3 * math.cos(way + turn), tip[1] + 3 * math.sin(way + turn))
        space.add_line(tip, end, dxfattribs={"layer": layer})


def _dimension_lines(space: Any, layer: str) -> None:
    """Two dimensions as plain lines: witness lines, the line between them, and arrows."""
    for x in (20, 80):
        space.add_line((x, -2), (x, -14), dxfattribs={"layer": layer})
    space.add_line((20, -12), (80, -12), dxfattribs={"layer": layer})
    _arrow(space, (20, -12), math.pi, layer)
    _arrow(space, (80, -12), 0.0, layer)
    for y in (20, 60):
        space.add_line((102, y), (114, y), dxfattribs={"layer": layer})
    space.add_line((112, 20), (112, 60), dxfattribs={"layer": layer})
    _arrow(space, (112, 20), -math.pi / 2, layer)
    _arrow(space, (112, 60), math.pi / 2, layer)


def _page(space: Any, layer: str) -> None:
    """A frame round the page, and a title block of three rows in its corner."""
    space.add_lwpolyline([(-40, -60), (160, -60), (160, 110), (-40, 110)], close=True,
                         dxfattribs={"layer": layer})  # fmt: skip
    space.add_lwpolyline([(90, -60), (160, -60), (160, -30), (90, -30)], close=True,
                         dxfattribs={"layer": layer})  # fmt: skip
    for y in (-40, -50):
        space.add_line((90, y), (160, y), dxfattribs={"layer": layer})
    space.add_line((120, -60), (120, -40), dxfattribs={"layer": layer})
    space.add_text("Tray 60 x 40 x 20").set_placement((92, -37))


@_a_dxf
def _frame_title_block_and_dimensions_in_one_colour(document: Any) -> None:
    space = document.modelspace()
    _net(space, "0", "0")
    _page(space, "0")
    _dimension_lines(space, "0")


@_a_dxf
def _frame_title_block_and_dimensions_on_a_layer(document: Any) -> None:
    space = document.modelspace()
    document.layers.add("Sheet 1", color=8)
    document.layers.add("A", color=2)
    document.layers.add("B", color=4)
    _net(space, "A", "B")
    _page(space, "Sheet 1")
    _dimension_lines(space, "Sheet 1")


@_a_dxf
def _dimensions_on_the_layer_of_cuts(document: Any) -> None:
    space = document.modelspace()
    _net(space)
    _dimension_lines(space, "CUT")


@_a_dxf
def _frame_on_the_layer_of_cuts(document: Any) -> None:
    space = document.modelspace()
    _net(space)
    _page(space, "CUT")


@_a_dxf
def _paper_space_alone(document: Any) -> None:
    _net(document.layout("Layout1"))


@_a_dxf
def _model_and_paper_space(document: Any) -> None:
    _net(document.modelspace())
    page = document.layout("Layout1")
    _page(page, "0")
    page.add_viewport(center=(50, 40), size=(100, 80), view_center_point=(50, 40), view_height=80)


@_a_dxf
def _frozen_and_off_layers(document: Any) -> None:
    _net(document.modelspace())
    for name in ("OLD", "WAS"):
        document.layers.add(name)
    _net(document.modelspace(), "OLD", "WAS", 1.3)
    document.layers.get("OLD").freeze()
    document.layers.get("WAS").off()


@_a_dxf
def _nothing_but_notes(document: Any) -> None:
    document.modelspace().add_text("see the other sheet")


@_a_dxf
def _every_kind_of_entity(document: Any) -> None:
    space = document.modelspace()
    _net(space)
    note = {"layer": "NOTES"}
    space.add_point((50, 40), dxfattribs=note)
    space.add_solid([(130, 0), (140, 0), (130, 10), (140, 10)], dxfattribs=note)
    space.add_trace([(130, 20), (140, 20), (130, 30), (140, 30)], dxfattribs=note)
    space.add_3dface([(130, 40), (140, 40), (140, 50), (130, 50)], dxfattribs=note)
    space.add_ray((150, 0), (0, 1), dxfattribs=note)
    space.add_xline((155, 0), (0, 1), dxfattribs=note)
    space.add_polyline2d([(160, 0), (170, 0), (170, 10)], dxfattribs=note)
    space.add_polyline3d([(160, 20, 0), (170, 20, 5), (170, 30, 5)], dxfattribs=note)
    space.add_leader([(50, 40), (120, 90)], dxfattribs=note)
    space.add_shape("", (0, 0), dxfattribs=note)
    space.add_wipeout([(130, 60), (140, 70)], dxfattribs=note)
    space.add_mesh(dxfattribs=note)
    space.add_mline([(180, 0), (190, 10)], dxfattribs=note)
    space.add_arc((180, 30), 5, 0, 270, dxfattribs=note)
    space.add_circle((180, 50), 5, dxfattribs=note)
    space.add_helix(5, 2, 3, dxfattribs=note)
    space.add_body(dxfattribs=note)
    space.add_region(dxfattribs=note)
    space.add_mpolygon(dxfattribs=note)


def _inches_without_units() -> bytes:
    document = _dxf(units=0)
    _net(document.modelspace(), by=1 / 25.4)
    return _bytes(document)


def _of_1988() -> bytes:
    document = _dxf(version="R12")
    space = document.modelspace()
    space.add_polyline2d(OUTLINE, close=True, dxfattribs={"layer": "CUT"})
    for ends in CREASES:
        space.add_line(*ends, dxfattribs={"layer": "FOLD"})
    return _bytes(document)


DXF["units missing"] = _inches_without_units
DXF["R12 without units"] = _of_1988


def _svg(body: str, page: str = 'width="120mm" height="100mm" viewBox="-10 -10 120 100"') -> bytes:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f"{page}>{body}</svg>"
    ).encode()


def _lines(cut: str, fold: str) -> str:
    return f'<path d="{cut_d()}" {cut}/>' + "".join(f'<path d="{d}" {fold}/>' for d in crease_ds())


RED, BLUE = 'fill="none" stroke="red"', 'fill="none" stroke="#00f"'
BLACK = 'fill="none" stroke="black" stroke-width="0.5"'


def _strip(a: tuple[int, int], b: tuple[int, int], wide: float, look: str) -> str:
    """A line as a thin filled rectangle."""
    (x, y), (u, v) = a, b
    length = math.dist(a, b)
    turn = math.degrees(math.atan2(v - y, u - x))
    return (
        f'<rect x="0" y="{-wide / 2}" width="{length}" height="{wide}" {look} '
        f'transform="translate({x} {y}) rotate({turn:.6f})"/>'
    )


def _strips() -> str:
    sides = zip(OUTLINE, (*OUTLINE[1:], OUTLINE[0]), strict=True)
    return "".join(_strip(*each, 0.3, 'fill="#f00"') for each in sides) + "".join(
        _strip(*each, 0.3, 'fill="#00f"') for each in CREASES
    )


def _outlined(width: float = 0.4) -> str:
    """Strokes made outlines: each is a filled ring or a thin filled shape."""

    def d(shape: shapely.Polygon) -> str:
        rings = [shape.exterior, *shape.interiors]
        return "".join(
            "M" + " L".join(f"{x:.4f} {y:.4f}" for x, y in ring.coords[:-1]) + "Z" for ring in rings
        )

    ring = shapely.LinearRing(OUTLINE).buffer(width / 2, cap_style="flat", join_style="mitre")
    found = f'<path fill="red" fill-rule="evenodd" d="{d(ring)}"/>'
    for ends in CREASES:
        crease = shapely.LineString(ends).buffer(width / 2, cap_style="flat")
        found += f'<path fill="blue" d="{d(crease)}"/>'
    return found


def _dimension_svg(look: str) -> str:
    return "".join(
        f'<path {look} d="{d}"/>'
        for d in (
            "M20 82 V94", "M80 82 V94", "M20 92 H80", "M23 91 L20 92 L23 93",
            "M77 91 L80 92 L77 93",
            "M102 20 H114", "M102 60 H114", "M112 20 V60", "M111 23 L112 20 L113 23",
            "M111 57 L112 60 L113 57",
        )
    )  # fmt: skip


SVG |= {
    "transforms": lambda: _svg(
        '<g transform="translate(40 10) rotate(30) scale(2)"><g transform="scale(.5) '
        f'skewX(0) matrix(1 0 0 -1 0 80)">{_lines(RED, BLUE)}</g></g>'
    ),
    "use": lambda: _svg(
        f'<defs><path id="o" d="{cut_d()}"/><g id="f">'
        + "".join(f'<path d="{d}"/>' for d in crease_ds())
        + '</g></defs><use href="#o" fill="none" stroke="red"/>'
        '<use xlink:href="#f" stroke="#00f"/>'
    ),
    "clip path": lambda: _svg(
        '<defs><clipPath id="c"><rect x="-5" y="-5" width="120" height="95"/></clipPath></defs>'
        f'<g clip-path="url(#c)">{_lines(RED, BLUE)}</g>'
    ),
    "nested viewBox": lambda: _svg(
        f'<svg x="5" y="5" width="100" height="80" viewBox="0 0 200 160"><g transform="scale(2)">'
        f"{_lines(RED, BLUE)}</g></svg>"
    ),
    "classes": lambda: _svg(
        "<style>.st0{fill:none;stroke:#231F20;} .st1{fill:none;stroke:#231F20;stroke-dasharray:2,1}"
        "</style>" + _lines('class="st0"', 'class="st1"')
    ),
    "percentages": lambda: _svg(
        f'<g>{_lines(RED, BLUE)}</g><rect width="100%" height="100%" fill="white"/>',
        'width="100%" height="100%" viewBox="0 0 100 80"',
    ),
    "currentColor": lambda: _svg(
        f'<g color="red" fill="none" stroke="currentColor"><path d="{cut_d()}"/></g>'
        '<g style="color:blue" fill="none" stroke="currentColor">'
        + "".join(f'<path d="{d}"/>' for d in crease_ds())
        + "</g>"
    ),
    "markers": lambda: _svg(
        '<defs><marker id="a" viewBox="0 0 10 10" refX="5" refY="5"><path d="M0 0L10 5L0 10z"/>'
        f'</marker></defs>{_lines(RED, BLUE)}<path d="M20 88 H80" stroke="green" '
        'marker-start="url(#a)" marker-end="url(#a)"/>'
    ),
    "dashed": lambda: _svg(_lines(BLACK, BLACK + ' stroke-dasharray="2 1"')),
    "id": lambda: _svg(
        f'<g id="cut"><path d="{cut_d()}" {BLACK}/></g><g id="creases">'
        + "".join(f'<path d="{d}" {BLACK}/>' for d in crease_ds())
        + "</g>"
    ),
    "data-name": lambda: _svg(
        f'<g id="a1" data-name="Cut lines"><path d="{cut_d()}" {BLACK}/></g>'
        '<g id="a2" data-name="Fold lines">'
        + "".join(f'<path d="{d}" {BLACK}/>' for d in crease_ds())
        + "</g>"
    ),
    "aria-label": lambda: _svg(
        f'<g id="a1" aria-label="Cut lines"><path d="{cut_d()}" {BLACK}/></g>'
        '<g id="a2" aria-label="Fold lines">'
        + "".join(f'<path d="{d}" {BLACK}/>' for d in crease_ds())
        + "</g>"
    ),
    "title": lambda: _svg(
        f'<g id="a1"><title>Corte</title><path d="{cut_d()}" {BLACK}/></g>'
        '<g id="a2"><title>Plegado</title>'
        + "".join(f'<path d="{d}" {BLACK}/>' for d in crease_ds())
        + "</g>"
    ),
    "thin rectangles": lambda: _svg(_strips()),
    "outlined strokes": lambda: _svg(_outlined()),
    "dimensions and frame in one look": lambda: _svg(
        f'<rect x="-9" y="-9" width="128" height="128" {BLACK}/>{_lines(BLACK, BLACK)}'
        f"{_dimension_svg(BLACK)}",
        'width="130mm" height="130mm" viewBox="-10 -10 130 130"',
    ),
    "dimensions in the look of cuts": lambda: _svg(_lines(RED, BLUE) + _dimension_svg(RED)),
    "art and text": lambda: _svg(
        '<defs><linearGradient id="g"><stop offset="0" stop-color="#fff"/></linearGradient></defs>'
        '<circle cx="50" cy="40" r="12" fill="#fa0"/><rect x="22" y="2" width="56" height="16" '
        'fill="url(#g)"/><text x="40" y="42" font-size="6">Soap</text>' + _lines(RED, BLUE)
    ),
    "a picture of a box": lambda: _svg(
        '<image width="10" height="10" href="data:image/png;base64,iVBORw0KGgo="/>'
    ),
    "pixels without a unit": lambda: _svg(_lines(RED, BLUE), 'viewBox="0 0 100 80"'),
}


def drawings() -> Iterator[tuple[str, bytes]]:
    """Every drawing with its name."""
    for kind, some in (("dxf", DXF), ("svg", SVG)):
        for name, build in some.items():
            yield f"{name}.{kind}", build()

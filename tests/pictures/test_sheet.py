from __future__ import annotations

import io
import re
import struct
from dataclasses import replace

import numpy as np
import pytest
from lxml import etree
from PIL import Image

from cutlayers.formats.drawing import Drawing
from cutlayers.formats.svg import SVG_NAMESPACE
from cutlayers.pictures.png import write_png
from cutlayers.pictures.scene import Label
from cutlayers.pictures.sheet import sheet_scene
from cutlayers.pictures.svg import write_svg
from cutlayers.telling.colours import GROUND, INK, QUIET_INK
from cutlayers.telling.lengths import Unit
from tests.formats.examples import EXAMPLES, cut

SEVERAL = EXAMPLES[-1].drawing


def draw_picture(drawing: Drawing) -> bytes:
    return write_svg(sheet_scene(drawing))


PLACE = r"(?:[ML]| 0 0 [01] )(-?[0-9.]+) (-?[0-9.]+)"
"""Where a move, a line or an arc ends."""


def strokes(svg: bytes) -> list[tuple[str, str]]:
    """Colour and dash of every stroked path, in order."""
    root = etree.fromstring(svg)
    return [
        (path.get("stroke", ""), path.get("stroke-dasharray", ""))
        for path in root.iter(f"{{{SVG_NAMESPACE}}}path")
        if path.get("stroke")
    ]


def test_each_layer_shows_on_the_sheet_and_in_the_legend() -> None:
    """Line and sample share colour and dash; an empty layer has only its sample."""
    found = strokes(draw_picture(SEVERAL))

    for layer in SEVERAL.layers:
        dash = {"draw": "0.8 1.2", "score": "4 2"}.get(layer.name, "")
        assert found.count((layer.colour, dash)) == (2 if layer.paths else 1)


def test_no_font_is_needed() -> None:
    """All text is drawn as paths."""
    root = etree.fromstring(draw_picture(SEVERAL))

    assert {str(element.tag).split("}")[1] for element in root.iter()} == {
        "svg",
        "title",
        "rect",
        "path",
    }


def test_work_is_painted_inside_the_card_in_its_place() -> None:
    """Ink of each colour, measured from the card's own corner, spans the layer's bounds."""
    scene = sheet_scene(SEVERAL)
    image = np.asarray(Image.open(io.BytesIO(write_png(scene, 1600))).convert("RGB")).astype(int)
    px = 1600 / scene.width
    white = np.argwhere((image == 255).all(axis=2))
    # The card is the only white area, apart from fields of the scale bar to its right.
    top, left = white.min(axis=0)
    cut_ink = np.argwhere(np.abs(image - (213, 94, 0)).max(axis=2) < 10)
    on_card = cut_ink[cut_ink[:, 1] < left + 120 * px]
    (y0, x0), (y1, x1) = on_card.min(axis=0), on_card.max(axis=0)

    assert ((x0 - left) / px, (x1 + 1 - left) / px) == pytest.approx((10, 110), abs=0.5)
    assert ((y0 - top) / px, (y1 + 1 - top) / px) == pytest.approx((80 - 70, 80 - 10), abs=0.5)


@pytest.mark.parametrize("title", ["", "Soap \u2013 caf\u00e9 \u2603", "Very long " * 40])
def test_any_title_can_be_drawn(title: str) -> None:
    """Letters the lettering lacks do not stop the picture, and long titles stay inside."""
    svg = draw_picture(replace(SEVERAL, title=title))
    root = etree.fromstring(svg)
    width = float(root.get("width", "")[:-2])
    xs = [
        float(x)
        for path in root.iter(f"{{{SVG_NAMESPACE}}}path")
        for x in re.findall(r"[ML](-?[0-9.]+) ", path.get("d", ""))
    ]

    assert (root[0].text or "") == title
    assert min(xs) >= 0.0
    assert max(xs) <= width


@pytest.mark.parametrize("size", [(210.0, 297.0), (304.8, 304.8), (30.0, 400.0), (900.0, 100.0)])
def test_nothing_leaves_the_picture(size: tuple[float, float]) -> None:
    """Whatever the sheet's shape, legend and scale bar find room."""
    root = etree.fromstring(draw_picture(Drawing("Sheet", size[0], size[1], (cut(),))))
    width, height = (float(root.get(side, "")[:-2]) for side in ("width", "height"))
    data = " ".join(path.get("d", "") for path in root.iter(f"{{{SVG_NAMESPACE}}}path"))
    points = [(float(x), float(y)) for x, y in re.findall(PLACE, data)]
    inside = [-1e-3 <= x <= width + 1e-3 and -1e-3 <= y <= height + 1e-3 for x, y in points]

    assert all(inside)


def labels(unit: Unit) -> list[str]:
    scene = sheet_scene(replace(SEVERAL, width=279.4, height=215.9), unit)
    return [line for item in scene.items if isinstance(item, Label) for line in item.lines]


def test_lengths_are_told_in_the_unit_of_the_job() -> None:
    """Letter is 8 1/2 × 11 in; of 3.3 in that a scale bar may have 2 are the most of 1, 2, 4; of
    83.8 mm 50 are the most of 10, 20, 50."""
    inches, metric = labels("in"), labels("mm")

    assert "Sheet 11 × 8 1/2 in" in inches and "2 in" in inches
    assert not [each for each in inches if "mm" in each]
    assert "Sheet 279.4 × 215.9 mm" in metric and "50 mm" in metric
    amounts = [re.search(r", ([0-9.]+) (mm|in)$", each) for each in (*metric, *inches)]
    lengths = [float(each[1]) * {"mm": 1, "in": 25.4}[each[2]] for each in amounts if each]
    half = len(lengths) // 2
    assert half and lengths[:half] == pytest.approx(lengths[half:], abs=25.4 / 20 + 0.5)


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2."""
    parts = [value / 255 for value in bytes.fromhex(colour[1:])]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


@pytest.mark.parametrize("ink", [INK, QUIET_INK])
def test_text_keeps_the_contrast_of_wcag(ink: str) -> None:
    """Success criterion 1.4.3: at least 4.5 to 1."""
    assert (luminance(GROUND) + 0.05) / (luminance(ink) + 0.05) >= 4.5


@pytest.mark.parametrize("width_px", [400, 1201])
def test_png_has_the_width_asked_for_and_states_its_density(width_px: int) -> None:
    """Chunk pHYs in pixels per metre, PNG (ISO/IEC 15948); read by another library."""
    scene = sheet_scene(SEVERAL)
    data = write_png(scene, width_px)
    image = Image.open(io.BytesIO(data))
    image.load()

    assert image.size[0] == width_px
    assert image.info["dpi"][0] == pytest.approx(width_px / scene.width * 25.4, abs=0.02)
    at = data.index(b"pHYs")
    assert struct.unpack(">IIB", data[at + 4 : at + 13])[2] == 1

from __future__ import annotations

import math
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from cutlayers.formats.svg import SVG_NAMESPACE, number, onto_page, path_data, write_svg
from cutlayers.geometry.paths import Path
from cutlayers.profile.output import SvgSettings
from tests.formats.examples import CIRCLE, EXAMPLES, QUARTER

SEVERAL = EXAMPLES[-1].drawing
SVG = f"{{{SVG_NAMESPACE}}}"


def root_of(settings: SvgSettings) -> etree._Element:
    """The document element of the drawing with several layers."""
    return etree.fromstring(write_svg(SEVERAL, settings))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0.0, "0"),
        (-0.0, "0"),
        (-0.00004, "0"),
        (-0.00006, "-0.0001"),
        (100.0, "100"),
        (1e6, "1000000"),
        (12.34566, "12.3457"),
        (0.1 + 0.2, "0.3"),
    ],
)
def test_numbers_are_short_and_plain(value: float, text: str) -> None:
    """Four decimals, a point, no exponent, no zeros at the end and no -0."""
    assert number(value) == text


@given(st.floats(-1e5, 1e5))
def test_numbers_read_back_within_half_a_digit(value: float) -> None:
    """What is written differs by at most the rounding."""
    assert float(number(value)) == pytest.approx(value, abs=0.5001e-4)


@pytest.mark.parametrize(
    ("settings", "size", "view_box", "width"),
    [
        (SvgSettings(), ("120mm", "80mm"), "0 0 120 80", "0.1"),
        # 120 mm = 340.1575 pt and 453.5433 px, 80 mm = 226.7717 pt and 302.3622 px.
        (
            SvgSettings(units="px", pixels_per_inch=72),
            ("340.1575", "226.7717"),
            "0 0 340.1575 226.7717",
            "0.2835",
        ),
        (
            SvgSettings(units="px", pixels_per_inch=96),
            ("453.5433", "302.3622"),
            "0 0 453.5433 302.3622",
            "0.378",
        ),
    ],
)
def test_size_and_view_box_are_the_sheet(
    settings: SvgSettings, size: tuple[str, str], view_box: str, width: str
) -> None:
    """One user unit is 1 mm, or one pixel."""
    root = root_of(settings)

    assert (root.get("width"), root.get("height")) == size
    assert root.get("viewBox") == view_box
    assert {group.get("stroke-width") for group in root.iter(f"{SVG}g")} == {width}


def test_groups_stand_in_working_order_with_titles_first() -> None:
    """One top-level group a layer, named for files and for people; empty ones are kept."""
    groups = root_of(SvgSettings()).findall(f"{SVG}g")

    assert [(group.get("id"), group[0].text) for group in groups] == [
        ("draw", "Draw"),
        ("score", "Score"),
        ("perforate", "Perforate"),
        ("cut", "Cut"),
    ]
    assert all(group[0].tag == f"{SVG}title" for group in groups)
    assert [group.get("stroke") for group in groups] == ["#009E73", "#0072B2", "#CC79A7", "#D55E00"]


@pytest.mark.parametrize("curves", ["arcs", "lines"])
def test_only_plain_elements_and_attributes_are_used(curves: Literal["arcs", "lines"]) -> None:
    """No transforms, styles, clips, or path commands beyond M, L, A and Z."""
    root = root_of(SvgSettings(curves=curves))

    assert {element.tag for element in root.iter()} == {
        SVG + tag for tag in ("svg", "title", "g", "path")
    }
    assert {name for element in root.iter() for name in element.attrib} == {
        *("version", "width", "height", "viewBox"),
        *("id", "fill", "stroke", "stroke-width", "d"),
    }
    commands = {c for path in root.iter(f"{SVG}path") for c in path.get("d", "") if c.isalpha()}
    assert commands == (set("MLAZ") if curves == "arcs" else set("MLZ"))


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        (Path.line((10.0, 20.0), (40.0, 60.0)), "M10 60 L40 20"),
        (Path.rectangle(10.0, 5.0), "M0 80 L10 80 L10 75 L0 75 Z"),
        # A left turn with y up is a left turn on paper, but SVG's angles grow clockwise: flag 0.
        (
            Path(((50.0, 10.0), (10.0, 50.0)), (QUARTER,), closed=False),
            "M50 70 A40 40 0 0 0 10 30",
        ),
        (
            Path(((50.0, 10.0), (10.0, 50.0)), (-QUARTER,), closed=False),
            "M50 70 A40 40 0 0 1 10 30",
        ),
        # Each half circle in two quarters; the last one ends where the path began.
        (
            CIRCLE,
            "M80 50 A20 20 0 0 0 60 30 A20 20 0 0 0 40 50 A20 20 0 0 0 60 70 A20 20 0 0 0 80 50 Z",
        ),
    ],
)
def test_y_is_turned_once_and_arcs_with_it(path: Path, expected: str) -> None:
    """On a sheet 80 mm high, y becomes 80 − y."""
    assert path_data(path, onto_page(80.0)) == expected


def test_arcs_are_cut_where_rounding_would_bend_them() -> None:
    """No piece turns by more than 120°: a rounded radius then moves it by the rounding at most."""
    path = Path(((0.0, 0.0), (7.123, 3.3)), (math.tan(math.radians(359.0) / 4),), closed=False)

    assert path_data(path, onto_page(80.0)).count("A") == 3


def test_titles_may_hold_any_text() -> None:
    """Marks of XML and letters beyond ASCII come back as they were."""
    drawing = type(SEVERAL)('Caf\u00e9 <& "soap">', 10.0, 10.0, ())

    assert etree.fromstring(write_svg(drawing, SvgSettings()))[0].text == 'Caf\u00e9 <& "soap">'

"""Art on any box of any style: the areas that its ink may cover are worked out, whatever touches.

`CUTLAYERS_INKS=10000 pytest tests/sheets/test_ink_of_any_box.py` tries as many boxes.
"""

from __future__ import annotations

import os

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from cutlayers.construction.style import Style
from cutlayers.construction.styles import styles
from cutlayers.geometry.overlays import GRID, together
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import PrintChoice
from cutlayers.job.reading import job_from
from cutlayers.job.stock import Stock
from cutlayers.job.writing import job_text
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import shipped_folder
from cutlayers.reading.toml_file import parse_toml
from cutlayers.sheets.artwork import SheetInk, ink_sheet
from cutlayers.sheets.model import Placed, Sheet
from cutlayers.sheets.pieces import pieces_of
from tests.boxes import Spread, boxes, trying

TRIES = int(os.environ.get("CUTLAYERS_INKS", "52"))

SIZES = Spread(sizes=(20.0, 90.0))
ODD_SIZES = Spread(sizes=(1.0, 120.0), options=120.0, odd=True, calipers=(0.1, 2.0))
"""As they come, up to what the tables of the styles allow."""

FIGURES = 30
"""Of a pattern along the longest side at most: how many there are breaks no overlay."""

MACHINE = read_profile(shipped_folder() / "drag-blade-340.toml")

ART = (
    'colour = "#0072B2"',
    'colour = "#0072B2"',
    'pattern = "stripes"\nrepeat = {repeat}',
    'pattern = "stars"\nground = "#F0E442"\nrepeat = {repeat}',
    'lettering = "soap"',
)


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
@settings(trying(1), max_examples=max(1, TRIES // len(styles())))
@given(data=st.data())
def test_art_on_all_panels_of_any_box_can_be_inked(style: Style, data: st.DataObject) -> None:
    """Panels that share a border to the last bits, bleeds that meet along a line, slivers: areas
    are laid over each other on one grid, so none of it fails, and no place is inked for two panels.
    A few boxes lie beside each other, near enough for their bleeds to meet."""
    box = data.draw(boxes(style, data.draw(st.sampled_from((SIZES, SIZES, ODD_SIZES)))))
    stock = Stock("card", box.card.caliper, (1990.0, 1990.0), None, "long")
    text = job_text(style, box.dims, box.card.measure, stock, title="inked")
    there = sorted({panel.role.value for net in box.nets for panel in net.panels})
    bounds = [net.bounds for net in box.nets]
    longest = max(max(right - left, top - low) for left, low, right, top in bounds)
    repeat = min(500.0, max(9.0, longest / FIGURES))
    for art in data.draw(st.lists(st.sampled_from(ART), min_size=1, max_size=2)):
        roles = data.draw(
            st.just(["all", "glue tab"]) | st.lists(st.sampled_from(there), min_size=1)
        )
        text += f"[[piece.art]]\nroles = {roles}\n{art.format(repeat=repeat)}\n"
    job = job_from(parse_toml(text, "job"), "job.toml", "job")
    turn = data.draw(st.sampled_from((0.0, 90.0, 180.0, 270.0)) | st.floats(0.0, 360.0))
    placed, x = [], 5.0
    for piece in pieces_of(job) * data.draw(st.sampled_from((1, 2))):
        place = Transform.rotation(turn)
        left, bottom, right, _ = piece.net.transformed(place).bounds
        placed.append(Placed(piece, Transform.translation(x - left, 5.0 - bottom) @ place))
        x += right - left + data.draw(st.sampled_from((0.0, 0.4, 1.0, 4.0)))
    sheet = Sheet(next(iter(job.stocks.values())), 1, x + 5.0, 420.0, tuple(placed), ())
    bleed = data.draw(st.sampled_from((0.0, 1.0, 3.0, 3.175)))

    ink, _ = ink_sheet(sheet, MACHINE, PrintChoice(bleed=bleed))

    assert ink is not None and [layer.name for layer in ink.layers] == ["art", "marks", "notes"]
    twice, borders = _inked_twice(ink)
    assert twice == pytest.approx(0.0, abs=0.01 + GRID * borders)


def _inked_twice(ink: SheetInk) -> tuple[float, float]:
    """How many mm² of a sheet are more than one panel's, and how long all borders are together,
    along which a place may be a step of the grid off."""
    wholes = [region.whole for piece in ink.pieces for region in piece.regions.values()]
    twice = sum(whole.area for whole in wholes) - together(wholes).area
    return twice, sum(whole.length for whole in wholes)


def test_a_plain_tray_in_one_colour_can_be_inked() -> None:
    """The smallest case: a tray of 60 × 40 × 20 mm with colour on all its panels."""
    size = {"length": 60, "width": 40, "height": 20}
    art = [{"roles": ["all", "glue tab"], "colour": "#0072B2"}]
    job = job_from(
        {
            "stock": {"card": {"caliper": 0.3, "sheet": "A4"}},
            "piece": [{"style": "tray", "stock": "card", "size": size, "art": art}],
        },
        "job.toml",
        "job",
    )
    (piece,) = pieces_of(job)
    left, bottom, right, top = piece.bounds
    place = Transform.translation(20.0 - left, 20.0 - bottom)
    sheet = Sheet(piece.stock, 1, 210.0, 297.0, (Placed(piece, place),), ())

    ink, _ = ink_sheet(sheet, MACHINE, PrintChoice(bleed=3.0))

    (paint,) = ink.layers[0].items
    rings = [contour.points for contour in paint.contours]  # type: ignore[union-attr]
    covered = shapely.Polygon(rings[0])
    # The blank's bounds grown by the bleed hold it all, and its panels are all covered.
    assert covered.bounds == pytest.approx((17.0, 17.0, 23.0 + right - left, 23.0 + top - bottom))

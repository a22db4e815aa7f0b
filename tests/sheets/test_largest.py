"""The largest box from one sheet."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from cutlayers.box import Blank
from cutlayers.construction.card import Card
from cutlayers.construction.style import Style
from cutlayers.construction.styles import style_named
from cutlayers.job.stock import Stock
from cutlayers.profile.machine import Bed, Machine
from cutlayers.profile.reading import read_profile
from cutlayers.sheets.largest import largest_on_sheet
from cutlayers.sheets.model import Piece
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError
from tests.origins import dims_of

CARD = Card(0.3, "score")


def machine(margin: float = 5.0) -> Machine:
    """A bed of 300 mm without register marks."""
    profile = Path(__file__).parents[2] / "profiles" / "desktop-a4.toml"
    found = read_profile(profile)
    marks = replace(found.register, shape="none")
    return replace(found, bed=Bed(300, 300, margin), register=marks)


SIZES = ("length", "width", "height")


def sheets_for(style: Style, dims: Any, stock: Stock) -> int:
    """How many sheets one box takes; 99 where a piece is too large for any."""
    pieces = [Piece(net.name, "box", Blank(net), stock) for net in style.build(dims, CARD)]
    try:
        return len(place_pieces(pieces, machine()).sheets)
    except PlacementError:
        return 99


def test_a_tray_fills_the_sheet_as_worked_by_hand() -> None:
    """3 : 2 : 1 with tabs of 12 mm beside the end walls: the blank is 3k + 2·max(k, 12) by 4k.
    Of 210.6 × 210.6 mm the tip of the blade gets to 200 × 200, 5 mm of margin and 0.3 mm of the
    blade's offset from each edge: 5k ≤ 200, so k = 40."""
    style = style_named("tray")
    stock = Stock("card", 0.3, (210.6, 210.6))
    shape = style.dimensions(length=3, width=2, height=1)
    dims = dims_of(largest_on_sheet(style, shape, SIZES, CARD, stock, machine()))

    assert (dims.length, dims.width, dims.height) == (120, 80, 40)


def test_no_larger_one_of_two_nets_fits() -> None:
    """A gable carton's base and lid lie on the one sheet; one percent more needs two."""
    style = style_named("gable-carton")
    stock = Stock("card", 0.3, (300, 290))
    shape = style.dimensions(length=5, width=4, height=4)
    dims = dims_of(largest_on_sheet(style, shape, SIZES, CARD, stock, machine()))
    assert sheets_for(style, dims, stock) == 1
    larger = {name: getattr(dims, name) * 1.01 for name in SIZES}
    assert sheets_for(style, replace(dims, **larger), stock) > 1


def test_what_no_size_can_do_is_refused() -> None:
    """Tabs of 60 mm do not go on a sheet of 40 mm at any scale."""
    style = style_named("tray")
    dims = style.dimensions(length=3, width=2, height=1, tab=60)
    with pytest.raises(PlacementError, match="no tray of these proportions"):
        largest_on_sheet(style, dims, SIZES, CARD, Stock("card", 0.3, (40, 40)), machine())

"""Art on any box of any style: the areas that its ink may cover are worked out, whatever touches.

`CUTLAYERS_INKS=10000 pytest tests/sheets/test_ink_of_any_box.py` tries as many boxes.
"""

from __future__ import annotations

import os
import random
from typing import Any

import pytest
import shapely

from cutlayers.construction.style import Style, styles
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import PrintChoice
from cutlayers.job.reading import job_from
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import shipped_folder
from cutlayers.sheets.artwork import SheetInk, ink_sheet
from cutlayers.sheets.model import Placed, Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.telling.errors import JobError

TRIES = int(os.environ.get("CUTLAYERS_INKS", "52"))

SOURCES: tuple[dict[str, Any], ...] = (
    {"colour": "#0072B2"},
    {"colour": "#0072B2"},
    {"pattern": "stripes"},
    {"pattern": "stars", "ground": "#F0E442"},
    {"lettering": "soap"},
)


def a_length(chance: random.Random, usual: float) -> float:
    """Odd and even lengths about the usual one: any, whole, of an inch's sixteenths."""
    length = usual * chance.uniform(0.6, 1.5)
    match chance.randrange(4):
        case 0:
            return round(length)
        case 1:
            return round(length / 25.4 * 16) / 16 * 25.4
        case 2:
            return round(length, chance.choice((1, 2)))
    return length


def a_job(style: Style, chance: random.Random) -> dict[str, Any]:
    size: dict[str, Any] = {
        name: min(max(a_length(chance, usual), dimension.minimum), dimension.maximum)
        if dimension.kind == "length"
        else usual
        for name, (dimension, usual) in style.table.items()
        if dimension.group == "size"
    }
    size["measure"] = chance.choice(("inside", "score", "outside"))
    art = [{"roles": "all", **chance.choice(SOURCES)}]
    if chance.random() < 0.3:
        art.append({"roles": "all", **chance.choice(SOURCES)})
    return {
        "stock": {"card": {"caliper": chance.choice((0.2, 0.3, 0.32, 0.5, 1.0)), "sheet": "A3"}},
        "piece": [{"style": style.name, "stock": "card", "size": size, "art": art}],
    }


def inked(style: Style, chance: random.Random) -> SheetInk | None:
    """The ink of a sheet with a few boxes beside each other, near enough for their bleeds to meet;
    None where the style refuses the size."""
    machine = read_profile(shipped_folder() / "drag-blade-305.toml")
    try:
        job = job_from(a_job(style, chance), "job.toml", "job")
    except JobError:
        return None
    turn = chance.choice((0.0, 90.0, 180.0, 270.0, chance.uniform(0.0, 360.0)))
    placed, x = [], 5.0
    for piece in pieces_of(job) * chance.choice((1, 1, 2)):
        place = Transform.rotation(turn)
        left, bottom, right, _ = piece.net.transformed(place).bounds
        placed.append(Placed(piece, Transform.translation(x - left, 5.0 - bottom) @ place))
        x += right - left + chance.choice((0.0, 0.4, 1.0, 4.0))
    stock = next(iter(job.stocks.values()))
    sheet = Sheet(stock, 1, x + 5.0, 420.0, tuple(placed), ())
    bleed = chance.choice((0.0, 1.0, 3.0, 3.175))
    ink, _ = ink_sheet(sheet, machine, PrintChoice(bleed=bleed))
    return ink


@pytest.mark.parametrize("style", styles(), ids=lambda style: style.name)
def test_art_on_all_panels_of_any_box_can_be_inked(style: Style) -> None:
    """Panels that share a border to the last bits, bleeds that meet along a line, slivers: areas
    are laid over each other on one grid, so none of it fails."""
    wanted, done, number = max(1, TRIES // len(styles())), 0, 0
    while done < wanted:
        done += inked(style, random.Random(f"{style.name} {number}")) is not None
        number += 1
        assert number < 20 * wanted, "nearly every size was refused"


def test_a_plain_tray_in_one_colour_can_be_inked() -> None:
    """The smallest case: a tray of 60 × 40 × 20 mm with colour on all its panels."""
    machine = read_profile(shipped_folder() / "drag-blade-305.toml")
    size = {"length": 60, "width": 40, "height": 20}
    art = [{"roles": "all", "colour": "#0072B2"}]
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

    ink, _ = ink_sheet(sheet, machine, PrintChoice(bleed=3.0))

    (paint,) = ink.layers[0].items
    rings = [contour.points for contour in paint.contours]  # type: ignore[union-attr]
    covered = shapely.Polygon(rings[0])
    # The blank's bounds grown by the bleed hold it all, and its panels are all covered.
    assert covered.bounds == pytest.approx((17.0, 17.0, 23.0 + right - left, 23.0 + top - bottom))

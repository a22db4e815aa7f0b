"""Whole jobs: each kind of box once, and the grain where the pieces lie."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

from cutlayers.box import build
from cutlayers.checks.job import all_findings, check_boxes
from cutlayers.checks.lying import check_lying
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.fitting import item
from cutlayers.geometry.transforms import Transform
from cutlayers.job.order import GrainWay, Job, Order
from cutlayers.job.stock import Grain, Stock
from cutlayers.profile.reading import read_profile
from cutlayers.profile.search import shipped_folder
from cutlayers.sheets.model import Piece, Placed, Sheet
from cutlayers.sheets.pieces import pieces_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.words import place_of


def carton_job(grain: Grain) -> Job:
    """Two soap cartons on A4."""
    style = style_named("tuck-carton")
    stock = Stock("card", 0.3, (210.0, 297.0), grain=grain)
    dims = style.dimensions()
    order = Order(build(style, dims, Card(0.3)), "card", 2, "soap")
    return Job("Soap", "mm", {"card": stock}, (order,))


def sheet_of(job: Job, *places: Transform, turned: bool = False) -> Sheet:
    (order,) = job.orders
    stock = job.stocks["card"]
    (blank,) = order.box.blanks
    piece = Piece("soap", order.name, blank, stock)
    width, height = stock.sheet[::-1] if turned else stock.sheet
    return Sheet(stock, 1, width, height, tuple(Placed(piece, place) for place in places), ())


UPRIGHT, TURNED = Transform(), Transform.rotation(90)


@pytest.mark.parametrize(
    ("grain", "place", "sheet_turned", "direction"),
    [
        ("unknown", UPRIGHT, False, None),
        ("long", UPRIGHT, False, (0, 1)),
        ("short", UPRIGHT, False, (1, 0)),
        ("long", UPRIGHT, True, (1, 0)),
        ("long", TURNED, False, (1, 0)),  # the net's right now points up the sheet
        ("long", TURNED, True, (0, -1)),
        ("short", TURNED, False, (0, -1)),
    ],
)
def test_the_grain_as_a_net_has_it(
    grain: Grain, place: Transform, sheet_turned: bool, direction: tuple[float, float] | None
) -> None:
    """Turned with the sheet on the bed, and back with the piece on the sheet."""
    sheet = sheet_of(carton_job(grain), place, turned=sheet_turned)

    if direction is None:
        assert sheet.grain is None
    else:
        assert sheet.grain is not None
        x, y = sheet.placed[0].on_piece(sheet.grain)
        assert (abs(x), abs(y)) == pytest.approx((abs(direction[0]), abs(direction[1])))


@pytest.mark.parametrize(
    ("grain", "places", "count"),
    [
        ("short", (UPRIGHT, UPRIGHT), 0),
        ("long", (UPRIGHT, UPRIGHT), 1),  # once, though two lie wrong
        ("long", (UPRIGHT, TURNED), 1),
        ("unknown", (TURNED,), 0),
    ],
)
def test_grain_is_told_once_for_each_net(
    grain: Grain, places: tuple[Transform, ...], count: int
) -> None:
    """A tube wants the grain round it, across its upright folds."""
    job = carton_job(grain)
    found = list(check_lying([sheet_of(job, *places)]))

    assert [each.code for each in found] == ["grain-of-tube"] * count
    assert all(place_of(each) == "soap: carton" for each in found)


def test_each_order_has_its_own_thing() -> None:
    """Named by the order."""
    job = carton_job("short")
    bar = item("cuboid", {"length": 70, "width": 25, "height": 80})
    other = replace(job.orders[0], name="other", holds=bar)
    found = all_findings(check_boxes(replace(job, orders=(*job.orders, other))))

    assert [(each.code, place_of(each)) for each in found] == [("item-too-large", "other: carton")]


def laid(job: Job) -> list[tuple[str, str]]:
    """Code and place of what is told of the grain, once the pieces lie on sheets."""
    machine = read_profile(shipped_folder() / "drag-blade-340.toml")
    sheets = place_pieces(pieces_of(job), machine, job.sheets).sheets
    return [(each.code, place_of(each)) for each in check_lying(sheets)]


def gable_job(grain: GrainWay | Mapping[str, GrainWay]) -> Job:
    """A gable carton: its base is a tray, whose long folds want to run along the grain, and its lid
    a tube, whose upright creases want to run across it."""
    style = style_named("gable-carton")
    stock = Stock("card", 0.3, (297.0, 297.0), grain="long")
    dims = style.dimensions(length=70, width=40, height=40)
    order = Order(build(style, dims, Card(0.3)), "card", 1, "favour", grain=grain)
    return Job("Favours", "mm", {"card": stock}, (order,))


@pytest.mark.parametrize(
    ("grain", "told"),
    [
        ("across", [("grain", "favour: base")]),
        ("along", [("grain-of-tube", "favour: lid")]),
        ({"base": "along", "lid": "across"}, []),
        # What is named for a blank is its maker's will, wrong or not.
        ({"base": "across", "lid": "along"}, []),
    ],
)
def test_one_way_for_all_blanks_silences_none_that_lies_wrong(
    grain: GrainWay | Mapping[str, GrainWay], told: list[tuple[str, str]]
) -> None:
    """Right for one of two blanks it is wrong for the other; each may have a way of its own."""
    assert laid(gable_job(grain)) == told


@pytest.mark.parametrize("grain", ["along", "across"])
def test_the_one_blank_of_a_box_lies_as_the_job_says(grain: GrainWay) -> None:
    """Whoever says so for a box of one blank means that blank."""
    job = carton_job("long")
    job = replace(job, orders=(replace(job.orders[0], grain=grain),))

    assert laid(job) == []

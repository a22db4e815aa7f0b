"""Stock in a job file: one for all nets of a box, or a table with one for each."""

from __future__ import annotations

import math

import pytest

import cutlayers
from cutlayers.guide.hand_work import hand_work
from cutlayers.guide.material import box_needs, card_area
from cutlayers.guide.ruler import RULERS
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from
from cutlayers.reading.toml_file import parse_toml
from cutlayers.report.report import stock_rows
from cutlayers.sheets.pieces import pieces_of
from cutlayers.solids.model import model_of
from cutlayers.telling.errors import JobError, StyleError

JOB = """\
title = "Soap sets for the winter market"

[stock.board]
caliper = "1.0 mm"
grammage = 620
sheet = "A4"
price = 0.6

[stock.ivory]
caliper = "0.3 mm"
grammage = 250
sheet = "A4"
grain = "long"
price = 0.2

[[piece]]
name = "soap set"
style = "telescope-box"
stock = { base = "board", lid = "ivory" }
count = 2
size = { length = 90, width = 60, height = 35 }
"""
"""A set of soaps in a tray of board, with a lid of card over it."""


def job_of(text: str = JOB) -> Job:
    return job_from(parse_toml(text, "set.toml"), "set.toml", "set")


def test_each_blank_is_cut_from_its_stock() -> None:
    job = job_of()
    (order,) = job.orders
    (hand,) = (hand_work(order, job, RULERS["1mm"], ()),)

    assert order.stocks == ("board", "ivory")
    assert [(each.net.name, each.stock.name) for each in pieces_of(job)] == [
        *[("base", "board")] * 2,
        *[("lid", "ivory")] * 2,
    ]
    assert [(blank.name, stock) for blank, stock in hand.cut_from] == [
        ("soap set: base", "board"),
        ("soap set: lid", "ivory"),
    ]
    parts = model_of(job, job.orders).parts
    assert [(part.stock, part.caliper) for part in parts] == [("board", 1.0), ("ivory", 0.3)]


def test_a_box_weighs_what_its_cards_weigh() -> None:
    """Grammage times area of each net."""
    job = job_of()
    (order,) = job.orders
    stocks = {net.name: job.stocks[order.stock_of(net.name)] for net in order.box.nets}
    base, lid = order.box.nets

    needs = box_needs(order.box, stocks)
    grams = card_area(base) * 620e-6 + card_area(lid) * 250e-6
    assert needs.weight_g == pytest.approx(grams)
    assert needs.area_mm2 == pytest.approx(math.fsum(map(card_area, (base, lid))))


def test_sheets_are_counted_and_paid_by_stock() -> None:
    """Two bases of 162 × 132 mm lie one above the other on a sheet of A4, and so do two lids of
    164 × 134 mm: one sheet at 0.60 and one at 0.20."""
    layout = cutlayers.lay_out(job_of(), cutlayers.read_profile("desktop-a4"))

    rows = [(row.stock, row.sheets, row.cost) for row in stock_rows(layout.sheets)]
    assert rows == [("board", 1, 0.6), ("ivory", 1, 0.2)]
    assert [card.stock for card in layout.setup_sheets] == ["board", "ivory"]


@pytest.mark.parametrize(
    ("right", "wrong", "lines"),
    [
        (
            "lid =",
            "lit =",
            [
                "stock.lit is unknown; known are base, lid. Did you mean lid?",
                "stock.lid is missing",
            ],
        ),
        (', lid = "ivory"', "", ["stock.lid is missing"]),
        ('"ivory" }', '"ivry" }', ['stock.lid is "ivry"; it must be "board" or "ivory"']),
        ('"ivory" }', "3 }", ["stock.lid is 3; it must be a text in quotes"]),
        ('{ base = "board", lid = "ivory" }', "{}", ["stock is empty; name a stock for each net"]),
        ("telescope-box", "tray", ["stock is a table, but the box has one net alone"]),
        ("count = 2", "fill = true", ["fill needs one stock; write count in place of it"]),
        (
            "count = 2",
            'grain = { base = "along" }',
            ['grain is "along", but stock.board.grain is unknown'],
        ),
    ],
)
def test_what_cannot_be_is_refused_in_its_place(right: str, wrong: str, lines: list[str]) -> None:
    with pytest.raises(JobError) as caught:
        job_of(JOB.replace(right, wrong))

    told = str(caught.value).splitlines()
    assert len(told) == len(lines)
    for line, start in zip(told, lines, strict=True):
        assert line.startswith(f"set.toml: piece[1].{start}")


def test_a_grain_that_is_known_may_be_asked_for() -> None:
    """Of the lid alone, whose stock has one."""
    (order,) = job_of(JOB.replace("count = 2", 'grain = { lid = "across" }')).orders

    assert (order.grain_of("base"), order.grain_of("lid")) == ("any", "across")


def test_one_name_is_for_all_nets() -> None:
    (order,) = job_of(JOB.replace('{ base = "board", lid = "ivory" }', '"board"')).orders

    assert (order.stock_of("base"), order.stock_of("lid")) == ("board", "board")
    assert order.stocks == ("board",)


def test_a_box_without_a_job_takes_a_caliper_for_each_net() -> None:
    """The lid's base as worked by hand for 90 × 60 mm: 93.9 × 63.3 between its creases."""
    box = cutlayers.build(
        "telescope-box", length=90, width=60, height=35, caliper={"base": 1.0, "lid": "0.3 mm"}
    )
    left, bottom, right, top = box.blank("lid").net.panel("base").outline.bounds

    assert (right - left, top - bottom) == pytest.approx((93.9, 63.3))


@pytest.mark.parametrize(
    ("style", "caliper", "told"),
    [
        ("telescope-box", {"base": 1.0, "lit": 0.3}, "lit is unknown; known are base, lid"),
        ("telescope-box", {"base": 1.0}, "lid is missing"),
        ("telescope-box", {}, "is empty"),
        ("tray", {"tray": 1.0}, "one net alone"),
        ("telescope-box", {"base": 1.0, "lid": 40}, "is 40"),
    ],
)
def test_a_wrong_table_of_calipers_is_refused(
    style: str, caliper: dict[str, float | str], told: str
) -> None:
    with pytest.raises(StyleError, match=told):
        cutlayers.build(style, length=90, width=60, height=35, caliper=caliper)

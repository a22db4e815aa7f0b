"""The way to the grain in a job file: a word for all blanks of a box, or one for each."""

from __future__ import annotations

import pytest

from cutlayers.job.order import Order
from cutlayers.job.reading import job_from
from cutlayers.reading.toml_file import parse_toml
from cutlayers.sheets.pieces import pieces_of
from cutlayers.telling.errors import JobError

JOB = """\
[stock.card]
caliper = 0.3
sheet = "A3"
grain = "{of_card}"

[[piece]]
style = "telescope-box"
stock = "card"
size = {{ length = 90, width = 60, height = 30 }}
grain = {grain}
"""


def order_of(grain: str, of_card: str = "long") -> Order:
    table = parse_toml(JOB.format(grain=grain, of_card=of_card), "boxes.toml")
    (order,) = job_from(table, "boxes.toml", "boxes").orders
    return order


@pytest.mark.parametrize(
    ("grain", "base", "lid", "for_each"),
    [
        ('"along"', "along", "along", False),
        ('{ base = "along", lid = "across" }', "along", "across", True),
        ('{ lid = "across" }', "any", "across", True),
        ("{}", "any", "any", True),
    ],
)
def test_each_blank_gets_its_way(grain: str, base: str, lid: str, for_each: bool) -> None:
    """A blank that a table does not name lies as it comes."""
    order = order_of(grain)

    assert (order.grain_of("base"), order.grain_of("lid")) == (base, lid)
    assert order.grain_for_each is for_each


def test_the_pieces_carry_it() -> None:
    table = parse_toml(JOB.format(grain='{ lid = "across" }', of_card="long"), "boxes.toml")
    pieces = pieces_of(job_from(table, "boxes.toml", "boxes"))

    assert {each.net.name: each.grain for each in pieces} == {"base": "any", "lid": "across"}


@pytest.mark.parametrize(
    ("grain", "of_card", "line"),
    [
        ('"upwards"', "long", 'piece[1].grain is "upwards"; it must be "any", "along" or "across"'),
        ('{ lid = "cross" }', "long", 'piece[1].grain.lid is "cross"; it must be'),
        ('{ lit = "across" }', "long", "piece[1].grain.lit is unknown; known are base, lid"),
        ('{ lid = "across" }', "unknown", "stock.card.grain is unknown"),
        ("3", "long", "piece[1].grain is 3; it must be"),
    ],
)
def test_what_cannot_be_is_refused_in_its_place(grain: str, of_card: str, line: str) -> None:
    with pytest.raises(JobError) as caught:
        order_of(grain, of_card)

    assert line in str(caught.value)
    assert "\n" not in str(caught.value)

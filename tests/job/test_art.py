from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from cutlayers.artwork.model import FlatColour, Lettering, Pattern
from cutlayers.job.reading import job_from, job_schema
from cutlayers.telling.errors import JobError
from tests.printed import table

ROOT = Path(__file__).parents[2]


def read(*art: dict[str, Any], **more: Any) -> Any:
    return job_from(table(*art, **more), "job.toml", "job").orders[0]


def test_panels_by_name_and_by_role() -> None:
    """Together, in the net's order, each once."""
    order = read({"panels": ["front", "base"], "roles": "base", "colour": "#0072b2"})

    (art,) = order.art
    assert [spot.panel for spot in art.spots] == ["base", "front"]
    assert art.source == FlatColour("#0072B2")


@pytest.mark.parametrize("table", ["art", "facing"])
def test_all_leaves_out_glue_tabs_unless_asked(table: str) -> None:
    """A tray has a base, four walls and four tabs; glue wants bare card."""

    def panels(roles: object) -> list[str]:
        if table == "art":
            (art,) = read({"roles": roles, "colour": "#0072B2"}).art
            return sorted(spot.panel for spot in art.spots)
        facings = read(facing=[{"roles": roles, "stock": "kraft"}]).facings
        return sorted(facing.on.panel for facing in facings)

    assert panels("all") == ["back", "base", "front", "left", "right"]
    assert len(panels(["all", "glue tab"])) == 9


def test_a_facing_goes_on_a_glue_tab_that_is_named() -> None:
    (tab,) = read(facing=[{"panels": "front left tab", "stock": "kraft"}]).facings
    assert tab.on.panel == "front left tab"


def test_what_is_not_said_has_a_default() -> None:
    """Black ink, 10 mm from dot to dot, letters as large as fits."""
    dots, words = read(
        {"panels": "front", "pattern": "dots"}, {"panels": "front", "lettering": "soap"}
    ).art

    assert dots.source == Pattern("dots", 10.0, "#000000")
    assert words.source == Lettering(("soap",), None, "#000000")


@pytest.mark.parametrize(
    ("art", "said"),
    [
        ({"colour": "#0072B2"}, "art[1].panels is missing; there are base, front"),
        ({"panels": "frnt", "colour": "#0072B2"}, 'art[1].panels names "frnt"; it must be "base"'),
        ({"panels": "frnt", "colour": "#0072B2"}, 'Did you mean "front"?'),
        ({"roles": "roof", "colour": "#0072B2"}, "art[1].roles fits no panel; there are panels"),
        ({"roles": "rof", "colour": "#0072B2"}, 'art[1].roles is "rof"; it must be "base"'),
        (
            {"panels": "front", "net": "lid", "colour": "#0072B2"},
            'art[1].net is "lid"; it must be "tray"',
        ),
        ({"panels": []}, "art[1].panels is an empty list; it must be a name"),
        ({"panels": 3}, "art[1].panels is 3; it must be a name"),
        ({"panels": "front"}, "art[1] is missing what to print; give one of file, colour"),
        (
            {"panels": "front", "colour": "#0072B2", "pattern": "dots"},
            "art[1] has colour and pattern; give one of",
        ),
        ({"panels": "front", "colour": "blue"}, 'art[1].colour is "blue"; it must be "#RRGGBB"'),
        (
            {"panels": "front", "pattern": "dotz"},
            'art[1].pattern is "dotz"; it must be "stripes", "dots", "checks" or "stars"',
        ),
        (
            {"panels": "front", "colour": "#0072B2", "fit": "cover"},
            "art[1].fit goes with file, not with colour",
        ),
        (
            {"panels": "front", "lettering": "soap", "repeat": 4},
            "art[1].repeat goes with file or pattern, not with lettering",
        ),
        (
            {"panels": "front", "file": "a.png", "fit": "tile"},
            "art[1].repeat is missing; a tile needs its width",
        ),
        ({"panels": "front", "file": "a.png", "repeat": 9}, 'goes with fit = "tile"'),
        ({"panels": "front", "lettering": "soap ☃"}, 'art[1].lettering has "☃"'),
        ({"panels": "front", "lettering": ["soap", " "]}, "it must be a text of 1 to 100"),
        ({"panels": "front", "pattern": "dots", "repeat": 0.5}, "is 0.5 mm; it must be 2 mm to"),
        ({"panels": "front", "pattern": "dots", "rotation": 999}, "it must be -360 to 360"),
        ({"panels": "front", "color": "#0072B2"}, "art[1].color is unknown"),
        ({"panels": "front", "file": "nowhere.png"}, "is not there, seen from the job's folder"),
    ],
)
def test_wrong_art_is_refused(art: dict[str, Any], said: str) -> None:
    """With its place, what it is, and what is allowed."""
    with pytest.raises(JobError) as caught:
        read(art)

    assert said in str(caught.value)
    assert all(line.startswith("job.toml: piece[1].") for line in str(caught.value).splitlines())


@pytest.mark.parametrize(
    ("facing", "said"),
    [
        ({"panels": "front"}, "facing[1].stock is missing"),
        ({"panels": "front", "stock": "gold"}, 'facing[1].stock is "gold"; it must be "kraft"'),
        (
            {"panels": "front", "stock": "kraft", "border": 13},
            "facing[1].border is 13 mm, which leaves nothing, or more than one piece, of panel",
        ),
        ({"stock": "kraft"}, "facing[1].panels is missing"),
        (
            {"panels": "front", "stock": "kraft", "art": [{"colour": "red"}]},
            'facing[1].art[1].colour is "red"',
        ),
    ],
)
def test_wrong_facings_are_refused(facing: dict[str, Any], said: str) -> None:
    """In the same way."""
    with pytest.raises(JobError) as caught:
        read(facing=[facing])

    assert said in str(caught.value)


def test_the_schema_knows_art() -> None:
    """So that editors complete it."""
    piece = job_schema()["$defs"]["WrittenPiece"]["properties"]

    assert {"art", "facing"} <= set(piece)
    assert "lettering" in job_schema()["$defs"]["WrittenArt"]["properties"]


def test_the_print_table_overrules_the_profile() -> None:
    """Only where it says something; in the job's unit."""
    inches = table() | {"units": "in", "print": {"bleed": "1/8"}}
    inches["stock"]["kraft"]["caliper"] = "0.3 mm"
    inches["piece"][0] = {**inches["piece"][0], "size": {"length": 3, "width": 2, "height": 1}}
    job = job_from(inches, str(Path("job.toml")), "job")

    assert job.printing.bleed == pytest.approx(3.175)
    assert job.printing.dpi is None

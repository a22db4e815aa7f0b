"""Pictures of boxes in their card's colours, printed and faced, looked at pixel by pixel."""

from __future__ import annotations

import colorsys
import io
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from lxml import etree
from PIL import Image

from cutlayers.job.order import Job
from cutlayers.job.reading import read_job
from cutlayers.pictures.folded import View, draw_usual, draw_views, views_scene
from cutlayers.pictures.orders import looks_for
from cutlayers.pictures.png import write_png
from cutlayers.pictures.svg import write_svg

CARD = """
[stock.card]
caliper = 0.3
sheet = "12x12 in"
{colours}

[stock.paper]
caliper = 0.1
sheet = "A4"
colour = "#3040E0"

[[piece]]
name = "box"
style = "{style}"
stock = "card"
{size}
"""
TRAY = "size = { length = 60, width = 40, height = 30, measure = 'score' }"
GREEN = 'colour = "#20C020"'


def job(tmp_path: Path, style: str, size: str, more: str = "", colours: str = "") -> Job:
    file = tmp_path / "job.toml"
    file.write_text(CARD.format(style=style, size=size, colours=colours) + more, encoding="utf-8")
    return read_job(file)


def pixels(job: Job, azimuth: float = 0.0, elevation: float = 0.0) -> np.ndarray:
    """Rows of red, green and blue, −1 where there is nothing but the ground."""
    (order,) = job.orders
    view = View(order.box.assembly, "", azimuth, elevation)
    drawn = draw_views([view], looks_for(job, order))
    image = Image.open(io.BytesIO(write_png(views_scene("x", drawn), 600))).convert("RGBA")
    found = np.asarray(image).astype(int)
    found[found[..., 3] < 255] = -1
    return found[..., :3]


def test_each_net_has_the_colour_of_its_card(tmp_path: Path) -> None:
    """From the front a lid half as high as its base shows the lid's blue above the base's green."""
    two = job(
        tmp_path,
        "telescope-box",
        "size = { length = 60, width = 40, height = 30 }\noptions = { lid_height = 15 }",
        colours=GREEN,
    )
    (order,) = two.orders
    split = replace(order, stock={"base": "card", "lid": "paper"})
    found = pixels(replace(two, orders=(split,)))
    rows = [row[(row >= 0).all(axis=1)] for row in found]
    painted = [np.median(row, axis=0) for row in rows if len(row) > 50]

    red, green, blue = painted[len(painted) // 4]
    assert blue > 1.5 * max(red, green)
    red, green, blue = painted[3 * len(painted) // 4]
    assert green > 1.5 * max(red, blue)


def front(found: np.ndarray) -> np.ndarray:
    """The rectangle that is painted all over, 2 % less on each side, where its edges are drawn."""
    rows, columns = np.nonzero(found[..., 0] >= 0)
    top, bottom, left, right = rows.min(), rows.max(), columns.min(), columns.max()
    high, wide = round(0.02 * (bottom - top)), round(0.02 * (right - left))
    return found[top + high : bottom - high, left + wide : right - wide]


def is_like(found: np.ndarray, colour: str) -> np.ndarray:
    """Where pixels have the hue of a colour, however dark: light changes no hue."""
    wanted = colorsys.rgb_to_hsv(*(part / 255 for part in bytes.fromhex(colour[1:])))[0]
    hues = np.array([colorsys.rgb_to_hsv(*pixel)[0] for pixel in (found / 255).reshape(-1, 3)])
    away = np.abs(hues - wanted)
    alike: np.ndarray = (np.minimum(away, 1 - away) < 0.04).reshape(found.shape[:2])
    return alike


def test_card_has_its_own_colours(tmp_path: Path) -> None:
    colours = 'colour = "#20C020"\ninside_colour = "#D03080"'
    tray = job(tmp_path, "tray", TRAY, colours=colours)

    assert is_like(front(pixels(tray)), "#20C020").all()
    from_above = front(pixels(tray, elevation=90.0))
    assert is_like(from_above, "#D03080").mean() > 0.9


def test_an_outside_alone_goes_for_both_sides(tmp_path: Path) -> None:
    tray = job(tmp_path, "tray", TRAY, colours=GREEN)

    assert is_like(front(pixels(tray, elevation=90.0)), "#20C020").mean() > 0.9


def test_colour_covers_the_outside_and_not_the_inside(tmp_path: Path) -> None:
    art = '[[piece.art]]\nroles = "all"\ncolour = "#C03020"\n'
    tray = job(tmp_path, "tray", TRAY, art, GREEN)

    assert is_like(front(pixels(tray)), "#C03020").all()
    assert is_like(front(pixels(tray, elevation=90.0)), "#20C020").mean() > 0.9


def test_stripes_cover_half(tmp_path: Path) -> None:
    """A stripe is half as wide as its repeat; 60 mm hold six of 10 mm."""
    art = '[[piece.art]]\nroles = "all"\npattern = "stripes"\nrepeat = 10\nink = "#C03020"\n'
    found = front(pixels(job(tmp_path, "tray", TRAY, art, GREEN)))

    assert is_like(found, "#C03020").mean() == pytest.approx(0.5, abs=0.03)
    assert (is_like(found, "#C03020") | is_like(found, "#20C020")).mean() > 0.95


@pytest.mark.parametrize("ending", ["png", "jpg"])
def test_a_picture_stands_upright(tmp_path: Path, ending: str) -> None:
    """Red above and on the left alone: turned or mirrored, the corner would be another."""
    image = Image.new("RGB", (120, 60), "#2040D0")
    image.paste("#D02020", (0, 0, 60, 30))
    image.save(tmp_path / f"corner.{ending}", quality=95)
    art = f'[[piece.art]]\npanels = "front"\nfile = "corner.{ending}"\nfit = "cover"\n'
    red = is_like(front(pixels(job(tmp_path, "tray", TRAY, art, GREEN))), "#D02020")
    rows, columns = np.array_split(np.arange(red.shape[0]), 2), red.shape[1] // 2
    corner = red[rows[0]][:, : columns - 4]

    assert corner.mean() > 0.95
    assert red[rows[1][4:]].mean() < 0.01
    assert red[rows[0]][:, columns + 4 :].mean() < 0.01


def test_a_facing_lies_within_its_border(tmp_path: Path) -> None:
    """60 × 30 mm less 5 mm all round: 50 × 20 of 60 × 30. Half a crease is off at each side."""
    facing = '[[piece.facing]]\npanels = "front"\nstock = "paper"\nborder = 5\n'
    found = front(pixels(job(tmp_path, "tray", TRAY, facing, GREEN)))
    paper = is_like(found, "#3040E0")
    trimmed = 0.96**2  # of the face, without the rim that is left out here

    assert paper.mean() == pytest.approx(50 * 20 / (60 * 30) / trimmed, abs=0.02)
    rows, columns = np.nonzero(paper)
    assert rows.mean() == pytest.approx(found.shape[0] / 2, abs=2)
    assert columns.mean() == pytest.approx(found.shape[1] / 2, abs=2)


def test_ink_of_a_facing_lies_on_it_and_over_the_panels_own(tmp_path: Path) -> None:
    more = """
[[piece.art]]
roles = "wall"
colour = "#C03020"

[[piece.facing]]
panels = "front"
stock = "paper"
border = 5

[[piece.facing.art]]
colour = "#20B0B0"
"""
    found = front(pixels(job(tmp_path, "tray", TRAY, more, GREEN)))

    assert not is_like(found, "#3040E0").any()
    assert is_like(found, "#20B0B0").mean() == pytest.approx(
        50 * 20 / (60 * 30) / 0.96**2, abs=0.02
    )
    assert is_like(found[: found.shape[0] // 10], "#C03020").all()


def test_a_bent_face_is_printed_all_over(tmp_path: Path) -> None:
    """A pillow is pictured as flat strips, each with its own part of the pattern."""
    art = '[[piece.art]]\nroles = "all"\ncolour = "#C03020"\n'
    pillow = job(tmp_path, "pillow-pack", "size = { length = 110, width = 70 }", art, GREEN)
    found = pixels(pillow)
    painted = found[found[..., 0] >= 0][None]

    assert is_like(painted, "#C03020").mean() > 0.95


def test_ink_is_written_once_for_all_views(tmp_path: Path) -> None:
    art = '[[piece.art]]\npanels = "front"\nlettering = "soap"\nink = "#C03020"\n'
    made = job(tmp_path, "tray", TRAY, art)
    (order,) = made.orders
    root = etree.fromstring(
        write_svg(views_scene("x", draw_usual(order.box, looks_for(made, order))))
    )
    letters = root.xpath("//*[@stroke='#C03020']")
    uses = root.xpath("//*[local-name()='use']")

    assert len(letters) == 1
    assert len(uses) >= 2
    ids = root.xpath("//@id")
    assert len(ids) == len(set(ids))

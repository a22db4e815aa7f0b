"""Names of pieces in the picture of their sheet: on the piece, clear of its lines."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest
import shapely

from cutlayers.geometry.overlays import together
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Part
from cutlayers.geometry.transforms import Transform
from cutlayers.job.reading import job_from
from cutlayers.lettering.single_stroke import letter
from cutlayers.making.make import draw_sides, lay_out, plan
from cutlayers.making.sides import LaidSide, draw_side
from cutlayers.pictures.piece_names import PieceName, piece_names
from cutlayers.pictures.scene import CAPITAL, LINE_HEIGHT, Label
from cutlayers.profile.machine import Machine
from cutlayers.profile.reading import profile_from, read_profile
from cutlayers.profile.search import shipped_folder
from cutlayers.sheets.model import Placed

STEP = 4.0
"""mm; the module of the picture of a small sheet."""

HEAD = """
title = "Box"
stock.card = { caliper = 0.3, sheet = [300, 300] }
stock.paper = { caliper = 0.12, sheet = "A4" }
"""

PIECES = {
    "facings": """
[[piece]]
name = "soap"
style = "tray"
stock = "card"
size = { length = 60, width = 40, height = 25 }
lettering = [{ panel = "base", text = "Soap", height = 5 }]
facing = [{ roles = "wall", stock = "paper" }]
""",
    "strips": """
[[piece]]
style = "partition"
stock = "card"
size = { length = 96, width = 60, height = 31 }
""",
    "tags": """
[[piece]]
name = "Anna"
style = "hang-tag"
stock = "card"
size = { length = 30, height = 60 }
count = 3
[[piece]]
name = "Zoë"
style = "hang-tag"
stock = "card"
size = { length = 60, height = 30 }
""",
}


def machine(text: str) -> Machine:
    return profile_from(tomllib.loads(text), "cutter.toml", "cutter")


def shipped() -> Machine:
    return read_profile(shipped_folder() / "drag-blade-340.toml")


def sides(text: str) -> tuple[LaidSide, ...]:
    return lay_out(job_from(tomllib.loads(HEAD + text), "box.toml", "Box"), shipped()).sides


def ink(name: PieceName) -> shapely.MultiLineString:
    """The strokes of a name, which are drawn upwards where it is turned."""
    lean = Transform.rotation(90.0 if name.turned else 0.0)
    found = []
    for number, line in enumerate(name.lines):
        at = (0.0, -number * LINE_HEIGHT * name.cap / CAPITAL)
        for path in letter(line, name.cap, at, "middle"):
            there = path.transformed(Transform.translation(*name.start) @ lean)
            found.append(there.points(0.01))
    return shapely.MultiLineString(found)


def outline(placed: Placed) -> Path:
    return next(each.path for each in placed.strokes if each.part is Part.OUTLINE)


def holds(placed: Placed, name: PieceName) -> bool:
    """Whether a name lies on a piece and on none of its lines."""
    lines = shapely.MultiLineString([each.path.points(0.05) for each in placed.strokes])
    card = shapely.Polygon(outline(placed).points(0.05))
    return bool(card.contains(ink(name)) and ink(name).distance(lines) > 0.3 * name.cap)


def told(placed: Sequence[Placed]) -> Iterator[tuple[Placed, PieceName]]:
    names = list(piece_names(placed, STEP))
    assert len(names) == len(placed)
    yield from zip(placed, names, strict=True)


@pytest.mark.parametrize("pieces", PIECES)
@pytest.mark.parametrize("turn", [0.0, 90.0, 200.0])
def test_each_piece_has_its_name_on_it(pieces: str, turn: float) -> None:
    """However it lies: pieces of one kind beside each other, letters on one of them."""
    for side in sides(PIECES[pieces]):
        lying = [
            replace(each, place=Transform.rotation(turn) @ each.place) for each in side.sheet.placed
        ]
        for placed, name in told(lying):
            assert " ".join(name.lines).replace(": ", " ") == placed.piece.name.replace(": ", " ")
            assert holds(placed, name)


def test_names_are_in_the_picture_and_in_no_file() -> None:
    """A facing looks like any other: its name is all that tells it apart."""
    job = job_from(tomllib.loads(HEAD + PIECES["facings"]), "box.toml", "Box")
    *_, paper = draw_sides(plan(lay_out(job, shipped())))
    labels = [each for each in paper.picture.items if isinstance(each, Label)]
    words = [" ".join(each.lines).replace(": ", " ") for each in labels]

    for way in ("front", "back", "left", "right"):
        assert f"soap tray {way} facing" in words
    assert {layer.name for layer in paper.drawing.layers} == {"cut", "register"}


def test_a_name_keeps_out_of_letters() -> None:
    """A D as high as its tag has room for a small name in its bowl."""
    tag = """
[[piece]]
name = "tag"
style = "hang-tag"
stock = "card"
size = { length = 60, height = 90 }
lettering = [{ panel = "front", text = "D" }]
"""
    (side,) = sides(tag)

    for placed, name in told(side.sheet.placed):
        drawn = [each for each in placed.strokes if each.name.startswith("lettering")]
        letters = shapely.MultiLineString([each.path.points(0.05) for each in drawn])
        assert not letters.convex_hull.intersects(ink(name))


def test_pieces_of_a_list_are_numbered_as_in_it() -> None:
    job = job_from(tomllib.loads(HEAD + PIECES["strips"]), "box.toml", "Box")
    (side,) = plan(lay_out(job, shipped())).sides
    labels = draw_side(side, numbered=True).picture.items
    words = {" ".join(each.lines) for each in labels if isinstance(each, Label)}
    words = {each.replace(": ", " ") for each in words}

    for number, placed in enumerate(side.laid.sheet.placed, start=1):
        assert f"{number}. {placed.piece.name}".replace(": ", " ") in words


GABLE = """
[[piece]]
style = "gable-carton"
stock = "card"
size = { length = 40, width = 40, height = 30 }
"""
"""Its gussets fold towards the outside."""


def test_on_the_back_names_lie_where_the_pieces_do() -> None:
    """Where its creases are, and not mirrored themselves."""
    text = (shipped_folder() / "drag-blade-340.toml").read_text()
    text = text.replace("scoring = {", 'scoring = { valleys = "back",')
    planned = plan(lay_out(job_from(tomllib.loads(HEAD + GABLE), "box.toml", "Box"), machine(text)))
    back = next(side for side in planned.sides if side.laid.name.endswith("-back"))
    over = back.laid.turned_over
    seen = [replace(each, place=over @ each.place) for each in back.laid.sheet.placed]

    for placed, name in told(seen):
        assert holds(placed, name)
    card = together(shapely.Polygon(outline(each).points(0.05)) for each in seen)
    (score,) = (each for each in draw_side(back).drawing.layers if each.name == "score")
    assert score.paths
    assert all(card.covers(shapely.LineString(path.points(0.05))) for path in score.paths)


def test_a_piece_without_room_has_none() -> None:
    """A tag of 15 × 20 mm with a name of 40 letters."""
    tag = (
        PIECES["tags"]
        .replace("Anna", "A" * 40)
        .replace("length = 30, height = 60", "length = 15, height = 20")
    )
    (side,) = sides(tag)

    names = {line for name in piece_names(side.sheet.placed, STEP) for line in name.lines}
    assert "A" * 40 not in names

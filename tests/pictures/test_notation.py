"""Lines for people to read: the notation of paper folders in every picture.

A valley fold is a line of dashes alike, a mountain fold of a dash and a dot in turn, a cut is solid
(A. Yoshizawa's notation, as S. Randlett, The Art of Origami, 1961, has it in print).
"""

from __future__ import annotations

import pytest

from cutlayers.box import build
from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.geometry.strokes import Fold, Operation
from cutlayers.guide.figures import PENS
from cutlayers.pictures.foldable import foldable
from cutlayers.pictures.gallery import LINES
from cutlayers.profile.notation import COLOURS
from cutlayers.telling.colours import LIT_INSIDE, LIT_OUTSIDE

Pattern = tuple[float, ...]


def tray_pens() -> dict[str, tuple[str, Pattern]]:
    style = style_named("tray")
    box = build(style, style.dimensions(length=60, width=40, height=20), Card(0.3))
    return {kind: (colour, dash) for kind, colour, dash in foldable(box).pens}


def patterns() -> dict[str, dict[str, Pattern]]:
    """By picture the lengths on and off of its valleys, mountains and cuts."""
    page = tray_pens()
    return {
        "guide": {
            "valley": PENS["towards"].dash,
            "mountain": PENS["away"].dash,
            "cut": PENS["cut"].dash,
        },
        "gallery": {
            "valley": LINES[Operation.SCORE, Fold.VALLEY].dash,
            "mountain": LINES[Operation.SCORE, Fold.MOUNTAIN].dash,
            "cut": LINES[Operation.CUT, None].dash,
        },
        "page": {kind: page[kind][1] for kind in ("valley", "mountain", "cut")},
    }


@pytest.mark.parametrize("picture", patterns())
def test_valleys_are_dashed_and_mountains_dashed_and_dotted(picture: str) -> None:
    lines = patterns()[picture]
    dash, dot = lines["mountain"][::2]

    assert len(lines["valley"]) == 2
    assert dash >= 3 * dot
    assert lines["cut"] == ()


def test_one_colour_means_one_kind_of_line() -> None:
    """On the page and in the gallery the colours of a sheet's own layers, each with one meaning;
    tints of light on panels are no line's."""
    assert len(set(COLOURS.values())) == len(COLOURS)
    assert not {LIT_INSIDE, LIT_OUTSIDE} & set(COLOURS.values())
    for (operation, _), pen in LINES.items():
        assert pen.colour == COLOURS[operation]
    page = tray_pens()
    assert page["mountain"][0] == page["valley"][0] == COLOURS[Operation.SCORE]
    assert page["cut"][0] == COLOURS[Operation.CUT]

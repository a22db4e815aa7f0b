"""A few careless drawings fold up; `python -m tests.bringing.fold_ups` tries all and prints rates.

Of 26 styles, each in seven careless drawings three times over, all fold up but the pillow pack,
which bends, and one drawing in a hundred whose loose creases lost one."""

from __future__ import annotations

import pytest

from cutlayers.construction.styles import style_named
from tests.bringing.fold_ups import wrong
from tests.bringing.round_trips import example


@pytest.mark.parametrize(
    "style",
    [
        "crash-lock-carton",
        "gable-carton",
        "pop-up-card",
        "pyramid-box",
        "tapered-tray",
        "tuck-carton",
    ],
)
def test_a_careless_drawing_folds_up(style: str) -> None:
    """Split, doubled, with gaps of 0.2 mm, arcs as short lines, turned on the page."""
    assert wrong(example(style_named(style)), "all of it", seed=2) == ""

"""Scenes painted: how large a picture may become."""

from __future__ import annotations

import io

import pytest
from PIL import Image

from cutlayers.pictures import png
from cutlayers.pictures.png import write_png
from cutlayers.pictures.scene import Scene


@pytest.mark.parametrize(("high", "size"), [(50.0, (200, 100)), (10_000.0, (10, 1000))])
def test_a_picture_has_its_width_or_as_many_pixels_as_there_may_be(
    monkeypatch: pytest.MonkeyPatch, high: float, size: tuple[int, int]
) -> None:
    """100 × 50 mm, 200 pixels wide, are 100 pixels high; 100 × 10,000 mm would be 20,000 high: of
    10,000 pixels √(10,000 / 100) = 10 are its width."""
    monkeypatch.setattr(png, "MOST_PIXELS", 20_000 if high == 50.0 else 10_000)

    painted = write_png(Scene("strip", 100.0, high, (), ground="#FFFFFF"), 200)

    assert Image.open(io.BytesIO(painted)).size == size

"""Things to be packed: their measures and what is refused."""

from __future__ import annotations

import math

import pytest

from cutlayers.fitting import item
from cutlayers.telling.errors import StyleError


@pytest.mark.parametrize(
    ("shape", "sizes", "extents"),
    [
        ("cuboid", {"length": 9, "width": 6, "height": 3}, (9, 6, 3)),
        ("cylinder", {"diameter": 5, "height": 8}, (5, 5, 8)),
        ("egg", {"length": 6, "diameter": 4}, (4, 4, 6)),
        ("sphere", {"diameter": 7}, (7, 7, 7)),
    ],
)
def test_extents(shape: str, sizes: dict[str, float], extents: tuple[float, float, float]) -> None:
    """An egg stands on end; clearance counts once for both sides."""
    thing = item(shape, sizes, 2)

    assert thing.extents == extents
    assert thing.with_clearance.extents == tuple(extent + 2 for extent in extents)


HALF = math.sqrt(0.5)


@pytest.mark.parametrize(
    ("shape", "sizes", "normal", "reach"),
    [
        ("cuboid", {"length": 4, "width": 6, "height": 2}, (HALF, 0, HALF), 3 * HALF),
        ("sphere", {"diameter": 10}, (0.6, 0, 0.8), 5),
        ("cylinder", {"diameter": 10, "height": 4}, (HALF, 0, HALF), 7 * HALF),
        ("cylinder", {"diameter": 10, "height": 4}, (0.6, 0.8, 0), 5),
        ("egg", {"length": 10, "diameter": 6}, (0, 0, 1), 5),
        ("egg", {"length": 10, "diameter": 6}, (0, 0.6, 0.8), math.hypot(3 * 0.6, 5 * 0.8)),
    ],
)
def test_reach(
    shape: str, sizes: dict[str, float], normal: tuple[float, float, float], reach: float
) -> None:
    """Support functions: box Σ|nᵢ|aᵢ, ellipsoid √Σ(nᵢaᵢ)², cylinder r·|n across| + h/2·|n up|."""
    assert item(shape, sizes).reach(normal) == pytest.approx(reach)


@pytest.mark.parametrize(
    ("shape", "sizes", "clearance", "field"),
    [
        ("ball", {"diameter": 5}, 0, "holds.shape"),
        ("sphere", {}, 0, "holds.diameter"),
        ("sphere", {"diameter": 5, "height": 5}, 0, "holds.height"),
        ("sphere", {"diameter": 0}, 0, "holds.diameter"),
        ("sphere", {"diameter": math.nan}, 0, "holds.diameter"),
        ("sphere", {"diameter": 5}, -1, "holds.clearance"),
        ("sphere", {"diameter": 5, "slack": 1}, 0, "holds.slack"),
        ("cuboid", {"length": 5, "width": -1, "height": 1}, 0, "holds.width"),
    ],
)
def test_refusals_name_the_field(
    shape: str, sizes: dict[str, float], clearance: float, field: str
) -> None:
    """Shape, measure or clearance."""
    with pytest.raises(StyleError) as caught:
        item(shape, sizes, clearance)

    assert caught.value.field == field

"""Convex parts of a blank with many slits, and what it takes to find them."""

from __future__ import annotations

import pytest
import shapely

from cutlayers.geometry import convex


def test_no_pair_of_a_comb_is_tried_again_and_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """A strip with 40 slits has 164 corners, so 162 triangles (a polygon of n has n - 2): no more
    tries than these have pairs, where beginning anew after each join takes 300,160."""
    strip = shapely.box(0.0, 0.0, 410.0, 30.0)
    slits = [shapely.box(10.0 * n - 0.5, 15.0, 10.0 * n + 0.5, 30.0) for n in range(1, 41)]
    comb = strip.difference(shapely.union_all(slits))
    assert isinstance(comb, shapely.Polygon)
    real, tries = convex.joined_hull, 0

    def counted(one: shapely.Polygon, other: shapely.Polygon) -> shapely.Polygon | None:
        nonlocal tries
        tries += 1
        return real(one, other)

    monkeypatch.setattr(convex, "joined_hull", counted)
    parts = convex.convex_parts(comb)

    assert tries < 162 * 161 / 2
    assert all(map(convex.is_convex, parts))
    assert sum(part.area for part in parts) == pytest.approx(410 * 30 - 40 * 15)
    assert shapely.union_all(parts).symmetric_difference(comb).area < 1e-6

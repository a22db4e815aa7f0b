"""Nets that are drawn several times are counted."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from cutlayers.bringing.alike import alike
from cutlayers.bringing.cleaning import clean
from cutlayers.bringing.lines import DrawnLine, Hints, Kind, Meant
from cutlayers.bringing.panels import FlatNet, flat_nets
from cutlayers.geometry.paths import Path
from cutlayers.geometry.strokes import Operation
from cutlayers.geometry.transforms import Transform

# An L of two panels, 40 × 20 and 10 × 30, which is not its own mirror image.
CUT = Path.polygon([(0, 0), (40, 0), (40, 20), (10, 20), (10, 50), (0, 50)])
CREASE = Path.line((0, 20), (10, 20))


def nets(*places: Transform, crease: Path = CREASE) -> tuple[FlatNet, ...]:
    """The L at each place."""
    lines = [
        Meant(DrawnLine(path.transformed(place), Hints(), number), kind, "")
        for number, (place, path, kind) in enumerate(
            (place, path, kind)
            for place in places
            for path, kind in ((CUT, Kind.CUT), (crease, Kind.SCORE))
        )
    ]
    return flat_nets(clean(lines).edges)


TURNED = Transform.translation(100, 100) @ Transform.rotation(37.0)
MIRRORED = Transform.translation(-100, 0) @ Transform(xx=-1.0)


def test_turned_and_shifted_copies_are_one_net() -> None:
    """Of three there is one, three times."""
    found = alike(nets(Transform(), TURNED, Transform.translation(0, 200)))

    assert [count for _, count in found] == [3]


def test_a_mirrored_copy_is_another_net() -> None:
    """Its outside is the card's other face."""
    assert [count for _, count in alike(nets(Transform(), MIRRORED))] == [1, 1]


@pytest.mark.parametrize("longer", [0.5, -0.5])
def test_a_net_of_another_size_is_another_net(longer: float) -> None:
    """Half a millimetre is no slip of the hand."""
    share = 1 + longer / math.hypot(40, 50)
    grown = Transform.translation(100, 0) @ Transform(xx=share, yy=share)

    assert [count for _, count in alike(nets(Transform(), grown))] == [1, 1]


def test_a_net_with_another_crease_is_another_net() -> None:
    """Perforated where the first is scored, so not one to be made of the other."""
    first, other = nets(Transform(), TURNED)
    hinge = replace(other.net.hinges[0], operation=Operation.PERFORATE)
    perforated = replace(other, net=replace(other.net, hinges=(hinge,)))

    assert [count for _, count in alike((first, other, perforated))] == [2, 1]

"""What a profile may not say, as facts: the place, what was found, what is allowed, what was
meant. The limits are those of the profile's declarations."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from cutlayers.profile.reading import read_profile
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.refusals import Span
from tests.profile.test_reading import PROFILE

BED = Span(30, 5000, "mm")
TYPES = ("drag-blade", "laser", "wheel", "pen", "stylus")
TOOLS = ("blade", "pen", "stylus", "beam")
BLADE = ("tools", "blade")

# What is replaced in PROFILE, by what, then place, found, allowed, nearest.
REFUSED: list[tuple[str, str, tuple[str | int, ...], Any, Any, str | None]] = [
    ("width = 305", "width = 0", ("bed", "width"), 0, BED, None),
    ("width = 305", "width = true", ("bed", "width"), True, BED, None),
    ("width = 305", "width = nan", ("bed", "width"), float("nan"), BED, None),
    ("offset = 0.25", "offset = -1", (*BLADE, "offset"), -1, Span(0, 2, "mm"), None),
    ("offset = 0.25", "offset = 3", (*BLADE, "offset"), 3, Span(0, 2, "mm"), None),
    ('type = "pen"', 'type = "penn"', ("tools", "pen", "type"), "penn", TYPES, "pen"),
    (
        'tool = "stylus"',
        'tool = "stylos"',
        ("operations", "score", "tool"),
        "stylos",
        TOOLS,
        "stylus",
    ),
]


@pytest.mark.parametrize(
    ("old", "new", "place", "found", "allowed", "nearest"), REFUSED, ids=[row[1] for row in REFUSED]
)
def test_a_refusal_is_facts(
    old: str,
    new: str,
    place: tuple[str | int, ...],
    found: object,
    allowed: object,
    nearest: str | None,
    tmp_path: Path,
) -> None:
    """One refusal with all of them, in the file that was read."""
    file = tmp_path / "mine.toml"
    file.write_text(PROFILE.replace(old, new, 1))

    with pytest.raises(ProfileError) as caught:
        read_profile(file)

    (refusal,) = caught.value.refusals
    assert (refusal.file, refusal.place) == (str(file), place)
    assert str(refusal.found) == str(found)  # nan is not equal to itself
    assert (refusal.allowed, refusal.nearest) == (allowed, nearest)

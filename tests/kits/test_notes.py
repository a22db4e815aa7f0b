"""Values kept as JSON come back as they were, and nothing else does."""

from __future__ import annotations

import json
from typing import Any

import pytest

from cutlayers.kits.making import MadePiece, MadeSheet
from cutlayers.kits.notes import note_of, read_note
from cutlayers.telling.findings import (
    Allowed,
    Cure,
    Edit,
    Finding,
    Severity,
    Subject,
    details,
)
from cutlayers.telling.quantities import angle, length

FINDING = Finding(
    "flap-too-long",
    Severity.WARNING,
    Subject(piece="Böx", at=(1.5, -2.0), lines=(3, 4), sheet=2),
    (length(2.0), angle(0.1)),
    Allowed(most=(length(1.0),)),
    (Subject(panel="front"),),
    details(way="a", many=3, share=0.5, sure=True, size=length(2), names=("x", "y"), sizes=()),
    Cure((Edit(("piece", 0, "size"), length(3.0)), Edit(("x",), None), Edit(("y",), False))),
)
MADE = MadeSheet(
    1, "kraft", (), (), (MadePiece(0, "lid", 1, 2.5, 3.0, 90.0),), {"a": "b"}, (FINDING,)
)


@pytest.mark.parametrize("value", [FINDING, MADE])
def test_what_is_kept_comes_back(value: Any) -> None:
    """Equal, and of the same kinds all through: 3 and 3.0, true and 1 are told apart."""
    found = read_note(note_of(value), type(value))

    assert found == value
    assert repr(found) == repr(value)


def changed(place: tuple[str | int, ...], value: object) -> bytes:
    """The note of the sheet with another value somewhere in it."""
    table = json.loads(note_of(MADE))
    here = table
    for step in place[:-1]:
        here = here[step]
    here[place[-1]] = value
    return json.dumps(table).encode()


@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"\xff",
        b"[]",
        b"null",
        b"[" * 100_000,
        b"{}",
        changed(("number",), "1"),
        changed(("number",), True),
        changed(("number",), 1.0),
        changed(("stock",), None),
        changed(("pieces",), {}),
        changed(("pieces", 0, "x"), "2"),
        changed(("pieces", 0), {"row": 0}),
        changed(("files",), []),
        changed(("files", "a"), 3),
        changed(("operations",), ["fly"]),
        changed(("findings", 0, "severity"), "mild"),
        changed(("findings", 0, "subject", "at"), [1.0, 2.0, 3.0]),
        changed(("findings", 0, "measured", 0, "kind"), "time"),
        changed(("findings", 0, "details", 0), ["way", {"a": 1}]),
    ],
)
def test_what_is_no_note_is_refused(content: bytes) -> None:
    """As a ValueError, whatever it is."""
    with pytest.raises(ValueError):
        read_note(content, MadeSheet)

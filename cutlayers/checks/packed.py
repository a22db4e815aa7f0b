"""Does the thing to be packed fit?"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import Obstacle, pack, wanting
from cutlayers.fitting.touching import TOUCH
from cutlayers.net.assembly import Assembly
from cutlayers.telling.findings import Finding, Severity


def check_packed(box: Assembly, thing: Item, caliper: float) -> tuple[Finding, ...]:
    """An error for a thing that does not go in, warnings where only its slack does not, or where
    a flap or glue tab presses on it."""
    place = box.boxes[0].net.name
    packing = pack(thing, box, caliper)
    if packing.fits:
        return ()
    if packing.walls:
        bare = pack(Item(thing.shape, *thing.extents), box, caliper)
        severity = Severity.ERROR if bare.walls else Severity.WARNING
        wanting = "" if bare.walls or not thing.slack else f" with its slack of {thing.slack:g} mm"
        worst = sorted(packing.walls, key=lambda each: -each.amount)
        names = ", ".join(f"{each.label} by {each.amount:.1f} mm" for each in worst[:4])
        return (
            Finding(
                severity,
                "item-too-large",
                place,
                f"a {thing}{wanting} is in the way of {names}",
                "clear of all panels",
                _advice(packing.walls),
            ),
        )
    if packing.above_rim > TOUCH:
        return (
            Finding(
                Severity.WARNING,
                "item-too-tall",
                place,
                f"a {thing} stands {packing.above_rim:.1f} mm above the rim",
                "up to the rim",
                f"make the box {packing.above_rim:.1f} mm higher",
            ),
        )
    names = ", ".join(f"{each.label} by {each.amount:.1f} mm" for each in packing.layers[:4])
    return (
        Finding(
            Severity.WARNING,
            "item-pressed",
            place,
            f"a {thing} goes between the walls, but presses on {names}",
            "clear of flaps and glue tabs",
            _advice(packing.layers),
        ),
    )


def _advice(obstacles: Sequence[Obstacle]) -> str:
    more = [
        f"{size:.1f} mm {word}"
        for size, word in zip(wanting(obstacles), ("longer", "wider", "higher"), strict=True)
        if size > TOUCH
    ]
    return f"make the box {' and '.join(more)}"

"""Does the thing to be packed fit?"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.findings import Finding, Severity
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import TOUCH, Obstacle, pack
from cutlayers.net.assembly import Assembly


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
    """How much larger along the front, to the back and upwards, as each obstacle asks."""
    more = []
    for axis, word in enumerate(("longer", "wider", "higher")):
        sides = [0.0, 0.0]
        for each in obstacles:
            part = each.toward[axis]
            # A panel gives way along the axis that it faces most.
            if abs(part) >= max(abs(component) for component in each.toward) - 1e-9:
                sides[part > 0] = max(sides[part > 0], each.amount / abs(part))
        if sum(sides) > TOUCH:
            more.append(f"{sum(sides):.1f} mm {word}")
    return f"make the box {' and '.join(more)}"

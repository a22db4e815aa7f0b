"""Does the thing to be packed fit?"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import Obstacle, pack, wanting
from cutlayers.fitting.touching import TOUCH
from cutlayers.net.assembly import Assembly
from cutlayers.telling.findings import Detail, Finding, Severity, Subject, details
from cutlayers.telling.quantities import length, lengths


def check_packed(box: Assembly, thing: Item, caliper: float) -> tuple[Finding, ...]:
    """An error for a thing that does not go in, warnings where only its slack does not, or where
    a flap or glue tab presses on it."""
    place = Subject(net=box.boxes[0].net.name)
    packing = pack(thing, box, caliper)
    if packing.fits:
        return ()
    about = details(shape=thing.shape, extents=lengths(*thing.extents))
    if packing.walls:
        bare = pack(Item(thing.shape, *thing.extents), box, caliper)
        severity = Severity.ERROR if bare.walls else Severity.WARNING
        if not bare.walls and thing.slack:
            about += details(slack=length(thing.slack))
        worst = sorted(packing.walls, key=lambda each: -each.amount)
        return (_in_the_way("item-too-large", severity, place, worst, packing.walls, about),)
    if packing.above_rim > TOUCH:
        above = (length(packing.above_rim),)
        return (Finding("item-too-tall", Severity.WARNING, place, above, details=about),)
    layers = packing.layers
    return (_in_the_way("item-pressed", Severity.WARNING, place, layers, layers, about),)


def _in_the_way(
    code: str,
    severity: Severity,
    place: Subject,
    told: Sequence[Obstacle],
    all_of_them: Sequence[Obstacle],
    about: tuple[tuple[str, Detail], ...],
) -> Finding:
    more = tuple(length(size) if size > TOUCH else length(0.0) for size in wanting(all_of_them))
    return Finding(
        code,
        severity,
        place,
        tuple(length(each.amount) for each in told),
        others=tuple(each.face.subject for each in told),
        details=about + details(larger=more),
    )

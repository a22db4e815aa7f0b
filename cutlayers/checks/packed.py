"""Does the thing to be packed fit?

Measured: the thing that `holds` names, with its clearance, is stood on the floor of the folded box
and moved over as far as that helps; then how far each panel would still have to give way.
item-too-large: a wall, a bottom or a lid is in the way; a warning only, where the thing itself
goes in and just its clearance does not. item-too-tall: how far it stands above the rim of an open
box. item-pressed: it goes between the walls, but a flap or a glue tab inside presses on it.

Why: a box that is too small bows, bursts its glue or does not shut; what stands above the rim keeps
a lid off. Where a flap presses, soap is marked and a bath bomb loses crumbs.

Cure: make the box longer, wider or higher by the amounts told; `cutlayers size` finds the smallest
box that holds the thing. Or give less `clearance`.

Source: geometry of rigid panels, the card's caliper and what its creases take of it; how much
clearance is pleasant is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from cutlayers.box.facing import BARE, Faced
from cutlayers.construction.card import Card
from cutlayers.fitting.items import Item
from cutlayers.fitting.packing import Obstacle, pack, wanting
from cutlayers.fitting.touching import TOUCH
from cutlayers.net.assembly import Assembly
from cutlayers.telling.findings import Detail, Finding, Severity, Subject, details
from cutlayers.telling.quantities import length, lengths


def check_packed(
    box: Assembly, thing: Item, card: Card, faced: Faced = BARE
) -> tuple[Finding, ...]:
    """An error for a thing that does not go in, warnings where only its clearance does not, or
    where a flap or glue tab presses on it."""
    place = Subject(net=box.boxes[0].net.name)
    packing = pack(thing, box, card, faced)
    if packing.fits:
        return ()
    about = details(shape=thing.shape, extents=lengths(*thing.extents))
    if packing.walls:
        bare = pack(Item(thing.shape, *thing.extents), box, card, faced)
        severity = Severity.ERROR if bare.walls else Severity.WARNING
        if not bare.walls and thing.clearance:
            about += details(clearance=length(thing.clearance))
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
    obstacles: Sequence[Obstacle],
    all_of_them: Sequence[Obstacle],
    about: tuple[tuple[str, Detail], ...],
) -> Finding:
    more = tuple(length(size) if size > TOUCH else length(0.0) for size in wanting(all_of_them))
    return Finding(
        code,
        severity,
        place,
        tuple(length(each.amount) for each in obstacles),
        others=tuple(each.face.subject for each in obstacles),
        details=about + details(larger=more),
    )

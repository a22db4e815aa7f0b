"""Do panels pass through one another in the folded box?

Measured: the length along which two panels cut each other in the folded box. Panels may touch: a
flap's edge on a wall, a tab flat on its panel. They collide where one goes right through the
other. Each panel is first drawn in by one caliper on all sides (0.05 mm at least); what then
still cuts the other panel's shrunken shape goes through it by more than its thickness. Through a
window or a slot a panel may go. A cut of less than 0.1 mm is two corners that touch.

Why: two pieces of card cannot be in one place. At the table the box stops folding there; pressed
on, the thinner flap buckles or a crease cracks.

Cure: make one of the two panels smaller (a shorter flap, a narrower tuck), make the box larger,
or change the angle between them.

Source: common practice, no source; the tolerance is one thickness of the card.
"""

from __future__ import annotations

from cutlayers.construction.card import Card
from cutlayers.net.assembly import Assembly
from cutlayers.net.crossing_faces import crossing_faces
from cutlayers.telling.findings import Finding, Severity
from cutlayers.telling.quantities import length as length_of

LEAST = 0.05
"""mm; the tolerance for card thinner than this."""


def check_colliding(box: Assembly, card: Card) -> tuple[Finding, ...]:
    """An error for each pair of panels that pass through one another."""
    drawn_in = [max(card.of(face.net).caliper, LEAST) for face in box.faces]
    return tuple(
        Finding(
            "collision",
            Severity.ERROR,
            one.subject,
            (length_of(length),),
            others=(other.subject,),
        )
        for one, other, length in crossing_faces(box.faces, drawn_in)
    )

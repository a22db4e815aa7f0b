"""Do the panels meet again where hinges close a loop?

Measured: some hinges are left over once every panel hangs on another: they close a ring of
panels, such as the last corner of a box. Once folded, the two edges of such a hinge should lie on
each other (closure: the gap between them) and its two panels should stand at the hinge's own
fold angle (closure-angle: how far off they are).

Why: card does not stretch. If the edges of a ring are of different lengths, or its angles do not
add up, the last corner gapes, or you force it shut and the walls bow. Glue does not hide either.

Cure: make the lengths of the edges round that corner agree, or correct the fold angles of the
panels that lead there. In a box of the catalogue whose sizes are within their limits it does not
happen; there it is a fault worth reporting.

Source: common practice, no source; 0.05 mm and 0.5° are finer than any hand folds.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.telling.findings import Finding, Severity, Subject, at_most, details
from cutlayers.telling.quantities import angle, length


def check_closing(box: Assembly, limits: Limits) -> tuple[Finding, ...]:
    """An error for each left-over hinge whose panels miss each other or meet at another angle."""
    return tuple(_open_loops(box, limits))


def _open_loops(box: Assembly, limits: Limits) -> Iterator[Finding]:
    for folded in box.boxes:
        for closure in folded.closures:
            hinge = closure.hinge
            fold = Subject(net=folded.net.name, panel=hinge.first, beyond=hinge.second)
            if closure.gap > limits.closure:
                yield Finding(
                    "closure",
                    Severity.ERROR,
                    fold,
                    (length(closure.gap),),
                    at_most(length(limits.closure)),
                )
            elif closure.angle_deg > limits.closure_deg:
                yield Finding(
                    "closure-angle",
                    Severity.ERROR,
                    fold,
                    (angle(closure.angle_deg),),
                    at_most(angle(limits.closure_deg)),
                    details=details(fold=angle(hinge.fold_deg)),
                )

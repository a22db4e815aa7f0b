"""Do the panels meet again where hinges close a loop?"""

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

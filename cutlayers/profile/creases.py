"""Whose creases were measured.

Measured: how much of the card's caliper a crease takes, by the trial `fold` on this machine; the
stock names the material in the profile that has it, or has its name.

Why: a crease takes some of the card's thickness from the inside of a box and leaves the rest
outside. Without a trial it counts as half; blanks for this card are drawn by what was measured, so
they are a little larger or smaller than those of the same job on another machine.

Cure: none is needed. Try again when you score with other settings or buy other card:
`cutlayers trial fold`.

Source: the trial's own readings.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding, Severity, Subject, details
from cutlayers.telling.quantities import length


def crease_findings(job: Job, take_up: Mapping[str, float]) -> Iterator[Finding]:
    """A note for each stock of a box whose blanks are drawn by what was measured; `take_up` is the
    machine's. None where the job was read without it."""
    for name in dict.fromkeys(name for order in job.orders for name in order.card_stocks):
        stock = job.stocks[name]
        material = stock.material or stock.name
        if take_up.get(material) == stock.share:
            yield Finding(
                "creases-measured",
                Severity.NOTE,
                Subject(stock=name),
                (length(stock.card("score").take_up), length(stock.caliper)),
                details=details(material=material),
            )

"""Where in a job file a person changes what a finding speaks of."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cutlayers.curing.proposals import GRAIN_WAYS, HELPFUL
from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding

Place = tuple[str | int, ...]

_ART = re.compile(r"piece\[(\d+)\]\.(art|facing)\[(\d+)\]")
"""How `write_place` writes the place of art, its own or that of a facing; counted from 1."""


def places_of(finding: Finding, job: Job) -> Iterator[Place]:
    """Key paths, lists counted from 0, the one that is most likely to help first; one of a table
    stands for all that is in it. Those of its cure come before all."""
    subject = finding.subject
    if finding.cure is not None:
        yield from (edit.path for edit in finding.cure.edits)
    if subject.art and (found := _ART.match(subject.art)):
        yield "piece", int(found[1]) - 1, found[2], int(found[3]) - 1
    names = [order.name for order in job.orders]
    if subject.piece in names:
        piece: Place = ("piece", names.index(subject.piece))
        if finding.code in GRAIN_WAYS:
            yield *piece, "grain"
        if finding.code.startswith("lettering"):
            yield *piece, "lettering"
        yield from ((*piece, "options", name) for name in HELPFUL.get(finding.code, ()))
        yield from ((*piece, part) for part in ("holds", "size", "options"))
    if subject.stock:
        yield "stock", subject.stock, "material"
        yield "stock", subject.stock
    if subject.sheet is not None:
        yield ("sheets",)
    if subject.operation:
        yield ("profile",)

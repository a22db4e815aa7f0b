"""Where was a blank given relief?

Measured: how far creases stop short of inner corners of cuts, at how many of these, and how many
round holes there are, twice as wide, where a cut ends in a point or creases meet in one. It is told
once for each blank that has any.

Why: card tears from the points of notches and slits, and from creases that run into them, once it
is thick enough to pull on them as it is folded; where creases meet in a point it bulges or bursts.
Holes that would leave too narrow a strip of card are left out, and short creases run on to their
ends. Between its end and the corner a crease is neither scored nor cut: the whole card bends there.
Square corners, such as the ends of slots, and whatever windows and letters have stay as drawn.
By hand holes are punched and scores stopped short by eye, as the page says and draws.

Cure: none is needed. `relief` of the stock in the job says another length, 0 none at all; without
it relief is one caliper from 0.5 mm card on, and thinner card has none.

Source: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding, Severity, Subject
from cutlayers.telling.quantities import count, length


def check_relief(job: Job) -> Iterator[Finding]:
    """A note for each blank with relief."""
    for order in job.orders:
        for blank in order.box.blanks:
            found = blank.relieved
            if found.stops or found.holes:
                yield Finding(
                    "relief",
                    Severity.NOTE,
                    Subject(piece=order.name, net=blank.name),
                    (length(blank.relief), count(found.stops), count(len(found.holes))),
                )

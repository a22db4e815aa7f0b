"""Does a finger get in to what is pressed from inside while a box is put together?

Measured: where glue is pressed from inside, or a panel is pushed down to square a box up, whether a
finger 12 mm thick gets there with a hand behind it, as the box then stands; else a pencil of 7 mm.
It is looked at in the middle of each panel, and at both ends of a long one. What is pressed lying
flat on the table needs no finger inside.

Why: a tab that nobody presses holds poorly, and the last face of a closed solid cannot be pressed
from inside at all.

Cure: press with the end of a pencil where one gets in, and from outside where nothing does, and
hold until the glue has set. A larger box, or a shorter tab, lets a finger in.

Source: the test finger of IEC 60529 is 12 mm thick and 80 mm long; that a hand held flat is 30 mm
thick and a pencil 7 mm is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator

from cutlayers.job.order import Job
from cutlayers.telling.findings import Finding, Severity, Subject, details


def check_reach(job: Job) -> Iterator[Finding]:
    """A note for the panels of each step that no finger gets in to.

    Raises NetError for a box that cannot be folded.
    """
    for order in job.orders:
        unreached: dict[tuple[object, ...], list[Subject]] = {}
        for press in order.box.unreached:
            subject = Subject(piece=order.name, net=press.step.net, panel=press.panel)
            unreached.setdefault((press.step, press.tool), []).append(subject)
        for (_, tool), (first, *others) in unreached.items():
            yield Finding(
                "no-finger-inside",
                Severity.NOTE,
                first,
                others=tuple(others),
                details=details(tool=str(tool)),
            )

"""Does every tongue hold in its slit, and has it room there?

Measured: each tongue in the slit, slot or recess that it goes into, as the closed box has them.
lock-shallow: how far it reaches through the card of the panel that holds it, which should be all of
it, one caliper; or how much of that card holds it, before it or along it, which should be 2 mm.
lock-tight: the width of the slit less what the tongue takes up of it, which should be the play that
both were made with; or how much of the tongue meets card where the slit is too short.
bridge-thin: the narrowest card beside the slit, which should be three calipers wide.

Why: a tongue that does not come through, or is held by a hair, slips out when the box is lifted. A
slit without play has to be forced, and its ends tear. So does a narrow bridge of card beside it.

Cure: make the slit or the tongue longer (the options `slit`, `tongue_length`, `lap` where the style
has them), or the slit shorter where the card beside it is narrow; or take thinner card.

Source: geometry of slabs of one caliper; 2 mm and three calipers are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from cutlayers.job.limits import Limits
from cutlayers.net.assembly import Assembly
from cutlayers.net.engagement import BRIDGE, LEAST_HOLD
from cutlayers.net.locks import Lock, bridge, locks
from cutlayers.net.model import Net
from cutlayers.telling.findings import Finding, Severity, Subject, at_least, details
from cutlayers.telling.quantities import length

ROUNDING = 1e-3
"""mm; a measure this near to its limit has met it."""


def check_locking(box: Assembly, nets: Sequence[Net], limits: Limits) -> tuple[Finding, ...]:
    """An error for a tongue that does not come through or has no room, warnings for one that is
    barely held or has less play than it was made with, and for a narrow bridge of card. Nets whose
    layers share a plane are left out."""
    return tuple(
        finding
        for net in nets
        if net.caliper and net.engagements
        for finding in _found(box, net, limits)
    )


def _found(box: Assembly, net: Net, limits: Limits) -> Iterator[Finding]:
    for lock in locks(box, net):
        yield from _held(lock, limits)
    least = BRIDGE * net.caliper
    for slit in dict.fromkeys(slit for _, slit, _ in net.engagements):
        wide = bridge(net, slit, least)
        if wide is not None:
            yield Finding(
                "bridge-thin",
                Severity.WARNING,
                Subject(net=net.name, panel=slit),
                (length(wide),),
                at_least(length(least)),
            )


def _held(lock: Lock, limits: Limits) -> Iterator[Finding]:
    tongue = Subject(net=lock.net, panel=lock.tongue)
    slit = (Subject(net=lock.net, panel=lock.slit),)
    for way, severity, found, least in (
        ("bite", Severity.ERROR, lock.bite, lock.made.bite),
        ("hold", Severity.WARNING, lock.hold, LEAST_HOLD),
    ):
        if found < least - ROUNDING:
            yield Finding(
                "lock-shallow",
                severity,
                tongue,
                (length(found),),
                at_least(length(least)),
                slit,
                details(way=way),
            )
            return
    # What card gives, or a ruler rounds, is no fault.
    play, wanted = -lock.in_the_way, 0.0
    if lock.in_the_way <= limits.closure:
        if lock.play is None:
            return
        play, wanted = lock.play, lock.made.play
    if play < wanted - limits.closure or play < -ROUNDING:
        severity = Severity.ERROR if play < -ROUNDING else Severity.WARNING
        yield Finding(
            "lock-tight", severity, tongue, (length(play),), at_least(length(wanted)), slit
        )

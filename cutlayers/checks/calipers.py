"""Is the card thin enough for the box?

Measured: the caliper of the card against the most that each net takes, at the sizes it has; what
takes least is told. A fold by up to a right angle takes 1.65 mm, a fold right over 0.6 mm, one
between them in proportion. A panel has to reach from its crease by the width of two grooves, of
one and a half calipers and 0.7 mm each; a tuck by ten calipers. A panel that bends without a
crease, or interleaves with others, may stretch by one per cent on the outside of its bend.

Why: thick card does not fold where it is told to. A crease too sharp for it splits on the outside;
a narrow tab tears off before it turns; a stiff tuck springs out again; a panel bent too far keeps
a kink. Greyboard from about 1.7 mm on is not creased at all, however it is scored.

Cure: take thinner card; or make the narrow tab or tuck deeper, by as much as is told. Greyboard up
to 3 mm is cut in several passes, with fresh blades, and joined at its edges: cut the panels apart
along their folds and hinge them with tape or cloth, or cut half through on the outside of a fold of
up to a right angle and tape it over. Such a box comes out larger or smaller by a part of the
caliper, so try one first.

Source: the trade's table of creasing grooves, of one and a half calipers and the rule, ends at
1.65 mm; 0.6 mm is the thickest that folding cartons, which are glued lying flat, are made of; all
else is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from cutlayers.box import Box, build
from cutlayers.job.caliper import SMALLEST_CALIPER
from cutlayers.net.calipers import (
    FOLDED_FLAT,
    ROUNDING,
    Most,
    Reason,
    is_pressed_flat,
    least_caliper,
    least_reach,
    most_caliper,
)
from cutlayers.net.model import Net
from cutlayers.telling.errors import StyleError
from cutlayers.telling.findings import (
    Detail,
    Finding,
    Severity,
    Subject,
    at_least,
    at_most,
    details,
)
from cutlayers.telling.quantities import angle, length

FINE = 0.01
"""mm; how exactly a limit is found and told."""

SOLD = 5
"""Of these, which is as fine as card is sold."""

TRIES = 5
"""How often a least is tried; each try names a slightly larger one."""


def check_calipers(box: Box) -> tuple[Finding, ...]:
    """An error for each net of card too thick for it, else a warning where it cannot be pressed
    flat for glueing; a warning for each net of card too thin."""
    return tuple(finding for net in box.nets for finding in _found(box, net))


def _found(box: Box, net: Net) -> Iterator[Finding]:
    caliper = box.card.of(net.name).caliper
    most = most_caliper(net, caliper)
    if most is not None and caliper > most.caliper + ROUNDING:
        yield _too_thick(net, caliper, most, _that_works(box, net.name, most.caliper))
    elif is_pressed_flat(net) and caliper > FOLDED_FLAT + ROUNDING:
        yield _not_flat(net, caliper)
    if box.origin is None or not box.origin.style.limp:
        yield from _too_thin(box, net)


def _that_works(box: Box, net: str, caliper: float) -> float | None:
    """The most caliper in mm, to `FINE`, of which the box can be made anew and this net takes it:
    its panels are other ones then. None where no card does. `caliper` is what the net takes as it
    is."""
    low, high = _in_fine(caliper), _in_fine(box.card.of(net).caliper) + 1
    while _mm(low) >= SMALLEST_CALIPER:
        taken = low if box.origin is None else _taken(box, net, low)
        if taken == low:
            break
        # A box that cannot be made of it is tried of the next thinner card that is sold.
        low, high = (low - SOLD if taken is None else taken), low
    else:
        return None
    if box.origin is not None and _taken(box, net, low + 1) == low + 1:
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (middle, high) if _taken(box, net, middle) == middle else (low, middle)
    return _mm(low)


def _taken(box: Box, net: str, caliper: int) -> int | None:
    """What a net takes of a box made anew of card so thick, at most that, both in `FINE`; None
    where the style makes no such box."""
    try:
        again = _again(box, net, _mm(caliper))
    except (StyleError, KeyError):
        return None
    most = most_caliper(again, _mm(caliper))
    return caliper if most is None else min(caliper, _in_fine(most.caliper))


def _again(box: Box, net: str, caliper: float) -> Net:
    """A net of a box that a style made, made anew: its card, wherever the box is of that, is so
    thick now. Raises StyleError and KeyError where there is no such net."""
    assert box.origin is not None
    own = box.card.of(net)
    card = box.card.each(lambda card: replace(card, caliper=caliper) if card == own else card)
    return build(box.origin.style, box.origin.dims, card).blank(net).net


def _mm(caliper: int) -> float:
    return round(caliper * FINE, 2)


def _in_fine(caliper: float) -> int:
    """A most in `FINE`, on the safe side."""
    return math.floor((caliper + ROUNDING) / FINE)


def _too_thick(net: Net, caliper: float, most: Most, works: float | None) -> Finding:
    of = angle(most.of) if most.reason in (Reason.FOLD, Reason.FLAT) else length(most.of)
    about: tuple[tuple[str, Detail], ...] = details(reason=most.reason.value, of=of)
    if most.reason in (Reason.NARROW, Reason.TUCK):
        about += details(wanting=length(least_reach(most.reason, caliper) - most.of))
    return Finding(
        "card-too-thick",
        Severity.ERROR,
        Subject(net=net.name, panel=most.panel, beyond=most.beyond),
        (length(caliper),),
        None if works is None else at_most(length(works)),
        details=about,
    )


def _not_flat(net: Net, caliper: float) -> Finding:
    """Is the card thin enough to be glued lying flat?

    Measured: the caliper of the card, for a net that the trade glues pressed flat and squares up
    later, against the 0.6 mm that a fold right over takes.

    Why: pressed flat, two of its creases fold right over. In thicker card they split on the
    outside, where everybody looks, or will not lie down, and the glue does not meet its panel.

    Cure: none is needed where you glue it standing, round a block of wood or what goes in; keep it
    standing. To post or store it flat, take thinner card.

    Source: common practice for folding cartons, of 0.2 to 0.6 mm; no source.
    """
    return Finding(
        "card-too-thick-to-press",
        Severity.WARNING,
        Subject(net=net.name),
        (length(caliper),),
        at_most(length(FOLDED_FLAT)),
    )


def _too_thin(box: Box, net: Net) -> Iterator[Finding]:
    """Is the card stiff enough for its panels?

    Measured: the caliper of the card, against a five hundredth of the widest panel's shorter side;
    along the other side its folds hold it. Flaps, tabs, bags, bands, pop-up cards and nets that lie
    flat are left out.

    Why: a wide panel of thin card sags, bows with damp air, and lets the corners of the box lean;
    a lid of it drops in.

    Cure: take thicker card, or line the wide panels with a second layer.

    Source: common practice, no source: boxes 100 mm wide are made of card of 0.2 mm at least, boxes
    200 mm wide of 0.4 mm.
    """
    least, caliper = least_caliper(net), box.card.of(net.name).caliper
    if least is not None and caliper < least.caliper - ROUNDING:
        yield Finding(
            "card-too-thin",
            Severity.WARNING,
            Subject(net=net.name, panel=least.panel),
            (length(caliper),),
            at_least(length(_that_is_stiff(box, net.name, least.caliper))),
            details=details(span=length(least.span)),
        )


def _that_is_stiff(box: Box, net: str, caliper: float) -> float:
    """The least caliper in mm, to `FINE`, in which the net does not sag once the box is made anew
    of it: its panels are a little larger then. As its panels are now where it cannot be."""
    stiff = -_in_fine(-caliper)
    for _ in range(TRIES if box.origin is not None else 0):
        try:
            again = _again(box, net, _mm(stiff))
        except (StyleError, KeyError):
            break
        least = least_caliper(again)
        if least is None or least.caliper <= _mm(stiff) + ROUNDING:
            break
        stiff = max(stiff + 1, -_in_fine(-least.caliper))
    return _mm(stiff)

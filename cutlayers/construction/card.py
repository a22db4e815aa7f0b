"""What a style must know of the card."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import Literal

from cutlayers.construction.spans import at_least, below
from cutlayers.frozen import frozen
from cutlayers.telling.errors import StyleError

Measure = Literal["inside", "score", "outside"]


LEAST_INSIDE = 1.0
"""mm of room a box must have each way; with less there is nothing to pack, nor to fold."""

SHARE = 0.5
"""Of its caliper that a crease takes where nobody measured it: creases at mid-thickness."""

RELIEF_FROM = 0.5
"""mm of caliper; thinner card gives way by itself and needs no relief. Common practice, no
source."""


@frozen
class Card:
    """What a style must know of the card: its caliper in mm, what a size is measured to, and how
    much of the caliper a crease takes.

    A crease drawn on the blank is where two panels turn. Folded, each panel lies `take_up` inside
    of the plane through its creases and the rest of its caliper outside, so between two folded
    walls inside = score − 2 · take-up and outside = score + 2 · (caliper − take-up).

    Source: the FEFCO–ESBO code measures blanks between crease centres and allows for thickness in
    the same way; that half the caliper lies to either side is common practice, and
    `cutlayers trial fold` measures it.
    """

    caliper: float
    measure: Measure = "inside"
    coarse: float = 0.0
    """mm; steps between layers are whole numbers of it, as a ruler shows them; with 0 they are
    what the card is thick."""
    share: float = SHARE
    """How much of its caliper a crease takes. Below 0 and above 1 is possible: card that bends
    round rather than folds lies outside of its crease altogether."""
    relief: float = 0.0
    """mm; how far creases stop short of a cut, and the radius of relief holes. No style asks."""
    others: tuple[tuple[str, Card], ...] = ()
    """The cards of those nets of a box that are of a card of their own, by the net's name."""

    def of(self, net: str) -> Card:
        """The card of one net of a box."""
        return dict(self.others).get(net) or (replace(self, others=()) if self.others else self)

    def each(self, change: Callable[[Card], Card]) -> Card:
        """Every net's card changed."""
        own = change(replace(self, others=()))
        return replace(own, others=tuple((net, change(card)) for net, card in self.others))

    def thickest(self, nets: Iterable[str]) -> float:
        """The caliper of the thickest card of some nets, in mm."""
        return max(self.of(net).caliper for net in nets)

    @property
    def take_up(self) -> float:
        """How far inside of the plane through its creases the inner face of a panel lies, in mm."""
        return self.caliper * self.share

    @property
    def bulk(self) -> float:
        """How far outside of the plane through its creases its outer face lies, in mm."""
        return self.caliper - self.take_up

    @property
    def eased(self) -> float:
        """How much farther apart in mm two panels folded right over lie than the strip between
        their creases is wide: the inner face of each lies `take_up` inside of its crease, so they
        touch, their middles a caliper apart, over a strip of twice that."""
        return self.caliper - 2 * self.take_up if self.step else 0.0

    @property
    def step(self) -> float:
        """How far apart the creases of two layers stand in mm: a caliper, or what a ruler shows of
        it."""
        if not self.coarse:
            return self.caliper
        steps = round(self.caliper / self.coarse)
        return steps * self.coarse if steps else 0.0

    @property
    def inner_face(self) -> float:
        """How far inside of its creases a panel's inner face lies in mm, as a clearance: 0 where no
        steps between layers are made."""
        return self.take_up if self.step else 0.0

    @property
    def inner_layer(self) -> float:
        """How far inside of its creases what lies a layer inside of a panel ends, in mm, as a
        clearance."""
        return self.step + self.inner_face

    def score(self, length: float, folded_ends: int) -> float:
        """Panel length, score to score, for a length given in this measure.

        `folded_ends` is how many ends of the panel turn into a wall: 2 for a base, 1 for a
        wall that ends in a rim, 0 for none.
        """
        match self.measure:
            case "inside":
                return length + self.take_up * folded_ends
            case "outside":
                return length - self.bulk * folded_ends
        return length

    def given(self, score: float, folded_ends: int) -> float:
        """The length in this measure of a panel whose length is `score`; undoes `score`."""
        return score - self.score(0.0, folded_ends)

    def panel(self, field: str, length: float, folded_ends: int) -> float:
        """`score`, for a size that must leave room inside the box.

        Raises StyleError naming the field where the card itself fills the size.
        """
        score = self.score(length, folded_ends)
        walls = self.take_up * folded_ends
        if below(score - walls, LEAST_INSIDE):
            least = self.given(LEAST_INSIDE + walls, folded_ends)
            raise StyleError(
                field,
                "is {}, of which card {} thick leaves less than {} inside",
                at_least(least),
                lengths=(length, self.caliper, LEAST_INSIDE),
            )
        return score


def usual_relief(caliper: float) -> float:
    """The relief in mm of card that thick where nobody says otherwise: one caliper, or none."""
    return caliper if caliper >= RELIEF_FROM else 0.0

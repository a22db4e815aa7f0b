"""A base of n equal sides with a wall on each: prisms, tapered cups and pyramids from one blank.

Geometry, for base sides a, rim sides b (0 for a pyramid) and height h: a regular polygon of side x
has the apothem x/(2·tan(π/n)); the walls run out by the difference `run` of the two apothems, so
they are s = √(h² + run²) high on the flat and fold up by atan2(h, run). Their outside normals lean
down by the same angle, so neighbours turn by acos((h²·cos(2π/n) + run²)/s²).

On the flat, neighbouring walls leave a gap of 360°/n − 2δ at the base corner, where δ is how far
a wall's side leans out; a tab's end must stay in that gap, and inside the wall it lands on.
"""

from __future__ import annotations

import math

from cutlayers.construction.card import Card
from cutlayers.construction.options import LEAST_TAB
from cutlayers.construction.refusing import refuse_above, refuse_below, refuse_small
from cutlayers.construction.spans import at_least, below
from cutlayers.frozen import frozen
from cutlayers.net.shapes import open_gap
from cutlayers.telling.errors import StyleError

STEEPEST_DEG = 75.0
"""A tab's end slants at least 15° from square (common practice)."""

INSIDE = 0.92
"""Share of a corner's angle that a tab's end takes up, so that it stays clear of the edge."""

CLEAR_DEG = 3.0
"""A tab keeps at least so far off the neighbouring wall on the flat; less is a sliver to cut."""

USUAL_TAB = 12.0
"""mm; depth of a tab where there is room (common practice: 8–15)."""

LEAST_SIDE = 9.0
"""mm; sides of a base or rim: a tab of the least depth covers not quite half of a wall."""

NAMED = 0.1
"""mm between the least and the deepest tab, so that one can be named to 0.1 mm."""

LEAST_TOP = 2.0
"""mm of a tab's far edge between its slanting ends."""


@frozen
class Star:
    """Sizes of a star, score to score: number of sides, base side, rim side and height; and the
    card it is made of."""

    sides: int
    bottom: float
    top: float
    height: float
    card: Card

    @property
    def step(self) -> float:
        """How far apart layers lie, in mm."""
        return self.card.step

    @property
    def run(self) -> float:
        """How far a wall runs out from base to rim; negative where the rim is smaller."""
        return apothem(self.sides, self.top) - apothem(self.sides, self.bottom)

    @property
    def slant(self) -> float:
        """Height of a wall on the flat."""
        return math.hypot(self.height, self.run)

    @property
    def base_fold_deg(self) -> float:
        """From the base to a wall."""
        return math.degrees(math.atan2(self.height, self.run))

    @property
    def side_fold_deg(self) -> float:
        """From a wall to its neighbour."""
        turn = self.height**2 * math.cos(2 * math.pi / self.sides) + self.run**2
        return math.degrees(math.acos(turn / self.slant**2))

    @property
    def lean_deg(self) -> float:
        """How far a wall's side leans out from square; negative leans in."""
        return math.degrees(math.atan2((self.top - self.bottom) / 2, self.slant))

    @property
    def side(self) -> float:
        """Length of a wall's slanting side."""
        return math.hypot(self.slant, (self.top - self.bottom) / 2)

    @property
    def seam(self) -> float:
        """Length of a wall's side once it is drawn in for a tab behind the next wall."""
        at_base = math.radians(90.0 + self.lean_deg)
        at_rim = math.radians(90.0 - self.lean_deg if self.top else -2 * self.lean_deg)
        return self.side - self.drawn_in * (1 / math.tan(at_base) + 1 / math.tan(at_rim))

    @property
    def drawn_in(self) -> float:
        """How far a wall's side moves in where its tab goes behind the next wall; the flatter the
        walls lie to each other, the farther."""
        return self.step / math.sin(math.radians(self.side_fold_deg))

    @property
    def shortest(self) -> float:
        """How much is left of a wall's shorter end, rim or base, once its side is drawn in."""
        ends = (self.top, self.bottom) if self.top else (self.bottom,)
        return min(ends) - self.drawn_in / math.cos(math.radians(self.lean_deg))

    @property
    def clear(self) -> float:
        """How far up a seam a tab keeps off the base, so that its lower edge lies on it.

        What the base takes up of its creases and what a leaning tab reaches down with its lower
        face, measured up the seam; on the flat there is an `open_gap` across to the next wall."""
        lean = math.cos(math.radians(self.base_fold_deg))
        down = (self.card.bulk if lean > 0 else self.card.take_up) * abs(lean)
        high = self.card.take_up + down if self.step else 0.0
        folded = high * self.side / self.height
        beside = math.sin(math.radians(min(90.0, max(self.gap_deg, CLEAR_DEG))))
        return max(folded, open_gap(self.step) / beside)

    @property
    def below_tip(self) -> float:
        """How much farther a tab ends below a common tip than above the base: two tabs meet on
        each wall there."""
        if self.top or not self.step:
            return 0.0
        return max(0.0, self.off_seam / math.sin(math.radians(-2 * self.lean_deg)) - self.clear)

    @property
    def off_seam(self) -> float:
        """How far off a seam a tab ends that lies on the wall before it, its far face 1.5 layers
        inside, clear of one that hangs on that wall and lies as far inside of the next: at an
        angle δ between the walls 1.5 (1 + cos δ)/sin δ layers."""
        inner = math.radians(180.0 - self.side_fold_deg)
        near = 1.5 if math.cos(inner) > 0 else 0.5
        return self.step * (1.5 + near * math.cos(inner)) / math.sin(inner)

    @property
    def beside_tab(self) -> float:
        """How much of a wall's width a tab on it leaves: before its own crease, which stands drawn
        in on the wall before, and before the tab at the other end."""
        return self.off_seam - self.step / math.tan(math.radians(self.side_fold_deg))

    @property
    def least_side(self) -> float:
        """The least side of upright walls with tabs between them."""
        return max(LEAST_SIDE, self.least_tab + self.spare + self.beside_tab)

    @property
    def gap_deg(self) -> float:
        """Between neighbouring walls on the flat."""
        return 360.0 / self.sides - 2 * self.lean_deg

    @property
    def tab_angles_deg(self) -> tuple[float, float]:
        """Steepest angles between a tab's hinge and its ends, at the base and at the rim."""
        gap = max(self.gap_deg - CLEAR_DEG, CLEAR_DEG)
        at_base = min(STEEPEST_DEG, INSIDE * gap, INSIDE * (90.0 + self.lean_deg))
        # A wall's corner at the rim; a pyramid's apex has what two base corners leave of 180°.
        at_rim = 90.0 - self.lean_deg if self.top else -2 * self.lean_deg
        return at_base, min(STEEPEST_DEG, INSIDE * at_rim)

    @property
    def volume(self) -> float:
        """Of the frustum: h/3·(A₁ + A₂ + √(A₁A₂))."""
        lower, upper = (polygon_area(self.sides, side) for side in (self.bottom, self.top))
        return self.height / 3 * (lower + upper + math.sqrt(lower * upper))

    @property
    def holds_tabs(self) -> bool:
        """Whether there is room for tabs that hold, and walls are left beside them."""
        return self.shortest > 0.0 and not below(self.deepest_tab, self.least_tab + self.spare)

    @property
    def unglued(self) -> float:
        """How much of a tab lies before the edge of the wall behind which it goes: at a blunt
        corner its crease stands so far off."""
        return max(0.0, self.step / math.tan(math.radians(self.side_fold_deg)))

    @property
    def least_tab(self) -> float:
        """Depth of a tab that is glued over no more than the least depth."""
        return LEAST_TAB + self.unglued

    @property
    def spare(self) -> float:
        """How much deeper than the least a tab may be at least, in mm."""
        return NAMED if self.step else 0.0

    @property
    def deepest_tab(self) -> float:
        """The deepest tab that keeps its ends apart and stays on the neighbour."""
        if self.gap_deg < 2 * CLEAR_DEG:
            return 0.0
        base, rim = (1 / math.tan(math.radians(angle)) for angle in self.tab_angles_deg)
        deepest = (self.seam - 2 * self.clear - self.below_tip - LEAST_TOP) / (base + rim)
        if self.top:
            side = min(self.bottom, self.top)
            deepest = min(deepest, 0.45 * side + self.unglued + self.spare, side - self.beside_tab)
        return deepest


def apothem(sides: int, side: float) -> float:
    """Distance from a regular polygon's middle to its sides."""
    return side / (2 * math.tan(math.pi / sides))


def polygon_area(sides: int, side: float) -> float:
    """Area of a regular polygon: n·a²/4 · cot(π/n)."""
    return sides * side**2 / (4 * math.tan(math.pi / sides))


def side_score(card: Card, sides: int, side: float, steepness: float = 1.0) -> float:
    """Score-to-score side of a regular polygon given in the card's measure.

    `steepness` is slant over height of the walls: leaning card is thicker in the plane of the
    base. Source: walls that lie inside or outside of the planes through their creases move the
    apothem by that, and the side by 2·tan(π/n) as much.
    """
    return side + card.score(0.0, 2) * steepness * math.tan(math.pi / sides)


def refuse_side(
    card: Card,
    field: str,
    side: float,
    sides: int,
    steepness: float = 1.0,
    least: float = LEAST_SIDE,
) -> None:
    """Raise StyleError for a side of base or rim, as given, that is too short for tabs."""
    short = side_score(card, sides, side, steepness)
    if below(short, least):
        raise StyleError(
            field,
            "is {}, too short for tabs on the walls",
            at_least(side + least - short),
            lengths=(side,),
        )


def upright(card: Card, sides: int, side: float, height: float, folded_ends: int) -> Star:
    """Upright walls on a base, side and height in the card's measure; `folded_ends` is how many
    ends of a wall are folded."""
    score = side_score(card, sides, side)
    return Star(sides, score, score, card.score(height, folded_ends), card)


def refuse_upright(
    card: Card, sides: int, side: float, height: float, folded_ends: int, spare: float = 0.0
) -> None:
    """Raise StyleError for upright walls without room inside or for tabs, and `spare` mm more."""
    card.panel("size.height", height, folded_ends)
    star = upright(card, sides, side, height, folded_ends)
    refuse_side(card, "size.side", side, sides, least=star.least_side)
    least = least_height(star) + spare
    why = "too low for tabs between the walls"
    refuse_small(card, "size.height", height, folded_ends, least, why)


def least_height(star: Star) -> float:
    """The least height of upright walls with tabs between them."""
    base, rim = (1 / math.tan(math.radians(angle)) for angle in star.tab_angles_deg)
    return LEAST_TOP + (star.least_tab + star.spare) * (base + rim) + 2 * star.clear


def tab_depth(star: Star, asked: float | None) -> float:
    """The tab's depth: as asked, or the usual one where there is room.

    The star is known to have room for the least one. Raises StyleError for one too shallow or too
    deep.
    """
    if asked is None:
        return min(USUAL_TAB, star.deepest_tab)
    refuse_below(
        "options.tab", asked, star.least_tab, "too shallow to be glued behind the next wall"
    )
    refuse_above(
        "options.tab",
        asked,
        star.deepest_tab,
        "deeper than what stays on the next wall and clear of others on the flat",
    )
    return asked

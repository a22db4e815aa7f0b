"""A way made shorter by exchanging two, three or four of its links at a time.

The way is closed to a *round* by one stop more, the *rest*: its first end lies where the way
begins, its other end at no distance from anything, since the way may end anywhere. Stop `s` has
the ends 2s and 2s + 1; the tool crosses from one to the other at the stop, and a *link* joins
each end to one of another stop.

Method: from an end whose link might go, to a nearer end, on to the one that this leaves loose,
and so on, as long as what is saved exceeds what is added; a chain that can be closed to a round
again with something gained is taken at once (Lin and Kernighan, "An effective heuristic algorithm
for the traveling-salesman problem", 1973, with the neighbour lists and waiting lists of Bentley,
1992). So a chain costs a few additions, and only one that gains is held against the round.
"""

from __future__ import annotations

import itertools
import random
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from functools import cache

from cutlayers.toolpaths.nearby import Near
from cutlayers.toolpaths.stops import Stop

GAIN = 1e-7
"""mm; a way shorter by less is the same way, so that rounding cannot keep the search going."""

BREADTH = (7, 6, 5)
"""Ends tried at the first, second and third step of a chain. Found by trying: more make a way
shorter by some thousandths, and take as much longer as swaps that gain more."""

BREADTH_AFTER_SWAP = (5, 2, 2)
"""The same when mending what a swap has spoiled, of which there are many."""

SWAPS = 20
"""Random swaps of neighbouring stretches. They free a way of few stops from an arrangement that
no exchange improves."""

MOST_SWAPPED = 80
"""Stops of a way from which on swaps are left out. They make a way through 15 strewn lines 1 %
shorter, one through 60 lines 0.4 %, and one through 100 or more 0.2 %, for a tenth of the time."""

LONGEST_SWAPPED = 10
"""Stops in a stretch that is swapped, at most."""

_NUMBERS = range(8)
"""Of the ends of a chain, which are four, six or eight."""


class Round:
    """The round while it is being improved.

    `line` lists the ends as the tool comes to them, or all the other way about; each even place
    and the next hold the ends of one stop.
    """

    def __init__(
        self,
        points: Sequence[complex],
        near: Sequence[Sequence[Near]],
        stops: Sequence[Stop],
        down: Iterable[int],
    ) -> None:
        """Begin with a way that comes down at the ends `down`, in order.

        `points` are the ends, and last where the way begins; `near` the nearest ends of other
        stops to each of them.
        """
        self.home = 2 * len(stops)
        self.open_end = self.home + 1
        self.points = [*points, points[-1]]
        # Any end may be the last of the way, at no cost; the open end itself is near to none.
        self.near = [*([(0.0, self.open_end), *each] for each in near), []]
        self.near[self.home] = list(near[self.home])
        self.later = [*(stop.later for stop in stops), ()]
        self.bound = any(self.later)
        self.line = [self.open_end, self.home, *(side for end in down for side in (end, end ^ 1))]
        self.place = [0] * len(self.line)
        self.link = [0] * len(self.line)
        self.gap = [0.0] * len(self.line)
        for index, end in enumerate(self.line):
            self.place[end] = index
        for index in range(0, len(self.line), 2):
            self._join(self.line[index - 1], self.line[index])

    @property
    def down(self) -> list[int]:
        """The ends at which the tool comes down, in order from the start."""
        at = self.place[self.home]
        if at & 1:
            return [*self.line[at + 1 :: 2], *self.line[: at - 1 : 2]]
        backwards = [*self.line[at + 2 :], *self.line[:at]]
        return backwards[::-2]

    def improve(self, swaps: int = 0, stop: Callable[[], bool] = lambda: False) -> None:
        """Exchange links while that helps; then try swaps, and keep those that helped.

        The random numbers are always the same. Where `stop` says so, what is found so far holds.
        """
        self._exchange(sorted(self.line, key=lambda end: -self.gap[end]), BREADTH)
        count = len(self.line) // 2
        if not 4 <= count <= MOST_SWAPPED:
            return
        chance = random.Random(count)
        for _ in range(swaps):
            if stop():
                return
            before = self.line[:], self.place[:], self.link[:], self.gap[:]
            chain = self._swapped(chance)
            if self._close(chain):
                self._exchange(chain, BREADTH_AFTER_SWAP)
                if sum(self.gap) > sum(before[3]) - GAIN:
                    self.line, self.place, self.link, self.gap = before

    def _swapped(self, chance: random.Random) -> list[int]:
        """The chain that swaps two neighbouring stretches."""
        line = self.line
        longest = min(LONGEST_SWAPPED, len(line) // 2 // 2 - 1)
        first = 2 * int(chance.random() * (len(line) // 2))
        middle = (first + 2 + 2 * int(chance.random() * longest)) % len(line)
        last = (middle + 2 + 2 * int(chance.random() * longest)) % len(line)
        return [line[i] for i in (first - 1, first, last - 1, last, middle - 1, middle)]

    def _exchange(self, ends: Sequence[int], breadth: tuple[int, int, int]) -> None:
        """Close chains that gain, from the ends given and from those whose links change, until
        none is left."""
        queue, waiting = deque(ends), set(ends)
        while queue:
            end = queue.popleft()
            waiting.discard(end)
            chain = self._gaining(end, *breadth)
            while chain:
                for each in chain:
                    if each not in waiting:
                        waiting.add(each)
                        queue.append(each)
                chain = self._gaining(end, *breadth)

    def _gaining(self, t1: int, first: int, second: int, third: int) -> tuple[int, ...]:
        """Close a chain that begins by giving up the link of an end, if one gains; its ends.

        A chain t1, t2, … t2k gives up the links t1–t2, t3–t4, … and joins t2–t3, t4–t5, … t2k–t1.
        The loops are written out, since nearly all the time is spent here.
        """
        near, link, gap = self.near, self.link, self.gap
        points, open_end = self.points, self.open_end
        here, free = points[t1], t1 == open_end
        t2 = link[t1]
        saved = gap[t1]
        side = self.place[t2] & 1
        for added, t3 in near[t2][:first]:
            one = saved - added
            if one <= GAIN:
                break
            if t3 == t1:
                continue
            t4 = link[t3]
            one += gap[t3]
            # Two links alone close to one round only if they turn a stretch about.
            if self.place[t3] & 1 == side:
                closing = 0.0 if free or t4 == open_end else abs(points[t4] - here)
                if one - closing > GAIN and self._close((t1, t2, t3, t4)):
                    return t1, t2, t3, t4
            for added, t5 in near[t4][:second]:
                two = one - added
                if two <= GAIN:
                    break
                if t5 in (t1, t2, t3):
                    continue
                t6 = link[t5]
                two += gap[t5]
                closing = 0.0 if free or t6 == open_end else abs(points[t6] - here)
                if two - closing > GAIN and self._close((t1, t2, t3, t4, t5, t6)):
                    return t1, t2, t3, t4, t5, t6
                for added, t7 in near[t6][:third]:
                    three = two - added
                    if three <= GAIN:
                        break
                    if t7 in (t1, t2, t3, t4, t5):
                        continue
                    t8 = link[t7]
                    three += gap[t7]
                    closing = 0.0 if free or t8 == open_end else abs(points[t8] - here)
                    if three - closing > GAIN and self._close((t1, t2, t3, t4, t5, t6, t7, t8)):
                        return t1, t2, t3, t4, t5, t6, t7, t8
        return ()

    def _close(self, chain: Sequence[int]) -> bool:
        """Exchange the links of a chain, unless that leaves more than one round or an undue order.

        The longest stretch between the links stays where it is, so that little is renumbered.
        """
        line, place, size = self.line, self.place, len(self.line)
        if not _is_one_round(_as_met(chain, place)):
            return False
        # Where the stretches begin: behind each link that is given up.
        cuts = []
        for index in range(0, len(chain), 2):
            one, two = place[chain[index]], place[chain[index + 1]]
            cuts.append(max(one, two) if abs(one - two) == 1 else 0)
        cuts.sort()
        if self.bound:
            # The rest stays at the front, so that what comes first stands first.
            begin = 0 if cuts[0] else 1
        else:
            lengths = [cuts[i] - cuts[i - 1] for i in range(len(cuts))]
            lengths[0] += size
            begin = lengths.index(max(lengths))
        cuts = cuts[begin:] + cuts[:begin]
        joined: dict[int, int] = {}
        for index in range(1, len(chain), 2):
            one, two = chain[index], chain[(index + 1) % len(chain)]
            joined[one], joined[two] = two, one
        stretches: dict[int, tuple[int, int, bool]] = {}
        for low, high in itertools.pairwise(cuts):
            stretches[line[low]] = low, high, False
            stretches[line[high - 1]] = low, high, True
        end = line[cuts[0] - 1]
        run: list[int] = []
        while len(run) < (cuts[-1] - cuts[0]) % size:
            low, high, backwards = stretches[joined[end]]
            end = line[low] if backwards else line[high - 1]
            stretch = line[low:high] if low < high else line[low:] + line[:high]
            if backwards:
                stretch.reverse()
            run += stretch
        if self.bound and not self._in_due_order(run):
            return False
        self._put(run, cuts[0])
        for index in range(1, len(chain), 2):
            self._join(chain[index], chain[(index + 1) % len(chain)])
        return True

    def _in_due_order(self, run: Sequence[int]) -> bool:
        """Whether no stop of a run comes after one that it must precede."""
        seen: set[int] = set()
        for end in run[::2]:
            stop = end >> 1
            if not seen.isdisjoint(self.later[stop]):
                return False
            seen.add(stop)
        return True

    def _put(self, run: list[int], first: int) -> None:
        """Write a run into the line from a place on, and round its end."""
        line, place = self.line, self.place
        fits = len(line) - first
        line[first : first + len(run)] = run[:fits]
        for index, end in enumerate(run[:fits], first):
            place[end] = index
        if fits < len(run):
            line[: len(run) - fits] = run[fits:]
            for index, end in enumerate(run[fits:]):
                place[end] = index

    def _join(self, one: int, other: int) -> None:
        self.link[one], self.link[other] = other, one
        apart = 0.0
        if self.open_end not in (one, other):
            apart = abs(self.points[one] - self.points[other])
        self.gap[one] = self.gap[other] = apart


def _as_met(chain: Sequence[int], place: Sequence[int]) -> tuple[int, ...]:
    """The numbers that the ends of a chain have in it, in the order in which a round meets them."""
    return tuple([number for _, number in sorted(zip([place[t] for t in chain], _NUMBERS))])  # noqa: B905


@cache
def _is_one_round(met: tuple[int, ...]) -> bool:
    """Whether a round is still one when the links of a chain are exchanged.

    `met` are its ends by their number in the chain, in the order in which the round meets them: 2k
    and 2k + 1 are those of a link that is given up, 2k + 1 and 2k + 2 are joined. Of all chains
    there are few such orders, so each is gone through once.
    """
    first = 0 if met[0] ^ 1 == met[-1] else 1  # between the last and the first may be a stretch
    turned = (*met[first:], *met[:first])
    across = {}
    for one, other in zip(turned[::2], turned[1::2], strict=True):
        across[one], across[other] = other, one
    here, passed = 0, 0
    while True:
        here = across[here]
        passed += 1
        here = (here + 1 if here & 1 else here - 1) % len(met)
        if here == 0:
            return passed == len(across) // 2

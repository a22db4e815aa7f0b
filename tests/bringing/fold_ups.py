"""Our own nets, drawn by a careless hand, brought back and folded up: do the angles come?

`python -m tests.bringing.fold_ups [STYLE …]` tries every style and slip, and prints a table.
"""

from __future__ import annotations

import itertools
import sys
import time
from collections import defaultdict
from collections.abc import Sequence

from cutlayers.bringing.angles import fold_up
from cutlayers.bringing.bends import bends
from cutlayers.construction.styles import styles
from cutlayers.net import Net
from tests.bringing.careless import SLIPS, careless
from tests.bringing.round_trips import brought, example

BENDS = "its panels bend"
"""What is found where no rigid fold-up can be: told, and no failure."""

SLACK = 1.0
"""Degrees that an angle may miss after gaps of 0.2 mm."""


def wrong(nets: Sequence[Net], slips: str, seed: int = 1) -> str:
    """What differs from the angles of nets drawn with slips, in a few words; empty if nothing
    does. Which way round the card lies is not told, so only sizes of angles are compared."""
    handed = careless(nets, seed, slips, "layers", "svg mm")
    wanted = sorted(abs(hinge.fold_deg) for net in nets for hinge in net.hinges)
    found: list[float] = []
    for flat in brought(handed):
        folded = fold_up(flat)
        if folded is None and bends(flat.net):
            return BENDS
        if folded is None:
            return f"no answer for {len(flat.net.panels)} panels"
        found += [abs(hinge.fold_deg) for hinge in folded.net.hinges]
    if len(found) != len(wanted):
        return f"{len(found)} hinges, not {len(wanted)}"
    off = max((abs(a - b) for a, b in zip(sorted(found), wanted, strict=True)), default=0.0)
    return f"an angle is {off:.1f}° off" if off > SLACK else ""


def main(names: Sequence[str], seeds: Sequence[int] = (1, 2, 3)) -> None:
    """Print how many drawings of each style fold up, and why others do not."""
    print("| style | drawings | fold up | told to bend | longest, s |\n|---|---|---|---|---|")
    drawings = explained = 0
    for style in styles():
        if names and style.name not in names:
            continue
        reasons: dict[str, list[str]] = defaultdict(list)
        longest = 0.0
        for slips, seed in itertools.product(SLIPS, seeds):
            start = time.perf_counter()
            found = wrong(example(style), slips, seed)
            longest = max(longest, time.perf_counter() - start)
            reasons[found].append(f"{slips} {seed}")
        number = len(SLIPS) * len(seeds)
        good, bent = len(reasons.pop("", ())), len(reasons.pop(BENDS, ()))
        drawings, explained = drawings + number, explained + good + bent
        shares = f"{100 * good / number:.0f} % | {100 * bent / number:.0f} %"
        print(f"| {style.name} | {number} | {shares} | {longest:.2f} |", flush=True)
        for reason, some in reasons.items():
            print(f"    {len(some)} × {reason} ({', '.join(some[:3])})")
    print(f"| all | {drawings} | {100 * explained / drawings:.1f} % either way | | |")


if __name__ == "__main__":
    main(sys.argv[1:])

"""Our own nets, drawn by a careless hand, brought back and folded up: do the angles come?

`python -m tests.bringing.fold_ups [STYLE …]` tries every style and slip, and prints a table.
"""

from __future__ import annotations

import sys
import time
from collections import defaultdict
from collections.abc import Sequence

from cutlayers.bringing.angles import fold_up
from cutlayers.construction.styles import styles
from cutlayers.net import Net
from tests.bringing.careless import SLIPS, careless
from tests.bringing.round_trips import brought, example

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
        if folded is None:
            return f"no answer for {len(flat.net.panels)} panels"
        found += [abs(hinge.fold_deg) for hinge in folded.net.hinges]
    if len(found) != len(wanted):
        return f"{len(found)} hinges, not {len(wanted)}"
    off = max((abs(a - b) for a, b in zip(sorted(found), wanted, strict=True)), default=0.0)
    return f"an angle is {off:.1f}° off" if off > SLACK else ""


def main(names: Sequence[str], seeds: Sequence[int] = (1, 2, 3)) -> None:
    """Print how many drawings of each style fold up, and why others do not."""
    print("| style | drawings | fold up | longest, s |\n|---|---|---|---|")
    total: list[bool] = []
    for style in styles():
        if names and style.name not in names:
            continue
        reasons: dict[str, list[str]] = defaultdict(list)
        good: list[bool] = []
        longest = 0.0
        for slips in SLIPS:
            for seed in seeds:
                start = time.perf_counter()
                found = wrong(example(style), slips, seed)
                longest = max(longest, time.perf_counter() - start)
                good.append(not found)
                if found:
                    reasons[found].append(f"{slips} {seed}")
        total += good
        rate = 100 * sum(good) / len(good)
        print(f"| {style.name} | {len(good)} | {rate:.0f} % | {longest:.2f} |", flush=True)
        for reason, some in reasons.items():
            print(f"    {len(some)} × {reason} ({', '.join(some[:3])})")
    print(f"| all | {len(total)} | {100 * sum(total) / len(total):.1f} % | |")


if __name__ == "__main__":
    main(sys.argv[1:])

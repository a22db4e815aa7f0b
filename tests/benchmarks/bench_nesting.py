"""How well sheets are filled, how fast, and whether two thousand random jobs are without fault.

Run with `python -m tests.benchmarks.bench_nesting PART`:

- `judge N`: N random jobs, each sheet judged by shapely on the panels themselves;
- `quick`: the quick mode against bounding boxes packed by rectpack, in sheets and in time;
- `thorough SECONDS`: the thorough mode against the search heuristic alone, both given SECONDS;
- `growth`: CPU seconds and regions for more and more pieces, different ones and like ones;
- `jigsaw`: boxes cut from one sheet, whose perfect packing is one sheet.
"""

from __future__ import annotations

import math
import random
import statistics
import sys
import threading
import time
from collections import Counter
from collections.abc import Sequence
from unittest import mock

import rectpack
import shapely
import spyrrow
from shapely.geometry.base import BaseGeometry

from cutlayers.construction.card import Card
from cutlayers.construction.styles import style_named
from cutlayers.job.order import SheetRules
from cutlayers.net import Net
from cutlayers.sheets import laying
from cutlayers.sheets.model import Piece
from cutlayers.sheets.outlines import Points, no_fit_region, outline_of
from cutlayers.sheets.placing import place_pieces
from cutlayers.telling.errors import PlacementError
from tests.sheets.judge import (
    complaints,
    machine,
    pieces,
    polygon_net,
    random_job,
    rectangle_net,
    stock,
)

GAP = 4.0
BED = machine(2100.0, 2100.0, 0.0)
SHEETS = {"12x12 in": (304.8, 304.8), "A3": (297.0, 420.0), "600x400": (600.0, 400.0)}


def mixes() -> dict[str, list[Net]]:
    """The nets of the sample jobs, and mixes of them."""
    gable = style_named("gable-carton")
    tuck, tray = style_named("tuck-carton"), style_named("tray")
    favour = gable.build(
        gable.dimensions(length=60, width=60, height=62, lid_height=25, roof_depth=45), Card(0.32)
    )
    small = gable.build(gable.dimensions(length=40, width=40, height=42), Card(0.32))
    bar = tuck.build(tuck.dimensions(length=61.9, width=28.6, height=88.9), Card(0.3))
    sample = tray.build(
        tray.dimensions(length=100, width=70, height=25, tab=12), Card(0.5, "outside")
    )
    return {
        "bath-bomb favours": list(favour),
        "soap-bar cartons": list(bar),
        "counter trays": list(sample),
        "small favours and trays": [*small, *sample],
        "everything": [*favour, *bar, *sample],
    }


def judge(number: int) -> None:
    refused, sheets, laid, seconds, faults = 0, 0, 0, [], 0
    for seed in range(number):
        mix, cutter, rules = random_job(seed)
        begin = time.process_time()
        try:
            placing = place_pieces(mix, cutter, rules)
        except PlacementError:
            refused += 1
            continue
        seconds.append(time.process_time() - begin)
        sheets += placing.count
        count = sum(len(sheet.placed) * sheet.copies for sheet in placing.sheets)
        laid += count
        found = [each for s in placing.sheets for each in complaints(s, cutter.bed, rules)]
        if count != len(mix):
            found.append("pieces are missing")
        faults += len(found)
        for each in found:
            print(f"job {seed}: {each}")
    seconds.sort()
    print(
        f"{number} jobs, {refused} refused as too large, {laid} pieces on {sheets} sheets: "
        f"{faults} faults; CPU s a job: median {statistics.median(seconds):.2f}, "
        f"95 % {seconds[int(0.95 * len(seconds))]:.2f}, most {seconds[-1]:.2f}"
    )


def boxes_on_sheets(mix: list[Piece], width: float, height: float) -> int:
    """Sheets that rectpack's best offline algorithm needs for the bounding boxes."""
    best = math.inf
    for algorithm in (rectpack.MaxRectsBssf, rectpack.MaxRectsBaf, rectpack.GuillotineBssfSas):
        packer = rectpack.newPacker(rotation=True, pack_algo=algorithm)
        for piece in mix:
            left, bottom, right, top = piece.bounds
            packer.add_rect(
                rectpack.float2dec(right - left + GAP, 3), rectpack.float2dec(top - bottom + GAP, 3)
            )
        packer.add_bin(
            rectpack.float2dec(width + GAP, 3), rectpack.float2dec(height + GAP, 3), count=10_000
        )
        packer.pack()
        assert len(packer.rect_list()) == len(mix)
        best = min(best, len(packer))
    return int(best)


def quick() -> None:
    print(f"{'mix':26} {'sheet':9} {'rectpack':>8} {'quick':>6} {'saved':>6} {'CPU s':>6}")
    totals = Counter[str]()
    for name, nets in mixes().items():
        for sheet, (width, height) in SHEETS.items():
            mix = pieces(nets, stock(width, height), 24)
            boxes = boxes_on_sheets(mix, width, height)
            begin = time.process_time()
            count = place_pieces(mix, BED, SheetRules(gap=GAP)).count
            took = time.process_time() - begin
            totals["boxes"] += boxes
            totals["quick"] += count
            print(f"{name:26} {sheet:9} {boxes:8} {count:6} {1 - count / boxes:6.1%} {took:6.2f}")
    print(
        f"all: {totals['boxes']} and {totals['quick']} sheets, "
        f"{1 - totals['quick'] / totals['boxes']:.1%} saved"
    )


def _simple(ring: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Without corners so near each other that single precision confounds them."""
    return [(x, y) for x, y in shapely.Polygon(ring).exterior.simplify(1e-3).coords]


def strip_alone(nets: list[Net], count: int, height: float, seconds: int) -> float:
    """The length to which the heuristic alone packs the pieces, given all cores and a gap."""
    items = [
        spyrrow.Item(str(i), _simple(outline_of(net).ring), count, [0, 90, 180, 270])
        for i, net in enumerate(nets)
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=seconds, min_items_separation=GAP, seed=1, early_termination=False
    )
    found: list[float] = []
    instance = spyrrow.StripPackingInstance("alone", height, items)
    thread = threading.Thread(target=lambda: found.append(instance.solve(config).width))
    thread.start()
    thread.join()
    return found[0]


def thorough(seconds: int) -> None:
    """A sheet as long as 1.02 of what the heuristic reaches must hold all the pieces."""
    for name, nets in mixes().items():
        height = 400.0
        count = max(2, 12 // len(nets))
        area = count * sum(outline_of(net).area for net in nets)
        length = strip_alone(nets, count, height, seconds)
        for slack in (1.0, 1.01, 1.02):
            card = stock(length * slack, height)
            begin = time.monotonic()
            rules = SheetRules(gap=GAP, mode="thorough", seconds=seconds)
            placing = place_pieces(pieces(nets, card, count), BED, rules)
            faults = [each for s in placing.sheets for each in complaints(s, BED.bed, rules)]
            print(
                f"{name:26} {count * len(nets):3} pieces, alone {area / length / height:.1%} of "
                f"{length:.1f} mm; sheet × {slack:.2f}: {placing.count} sheet(s) in "
                f"{time.monotonic() - begin:.1f} s, {len(faults)} faults",
                flush=True,
            )
            if placing.count == 1:
                break


def polygons_of_a_sheet(
    chance: random.Random, width: float, height: float, cuts: int
) -> list[list[tuple[float, float]]]:
    """Convex pieces that make up a sheet, cut by random straight lines."""
    from shapely.ops import split

    parts = [shapely.box(0, 0, width, height)]
    for _ in range(cuts):
        parts.sort(key=lambda part: -part.area)
        whole = parts.pop(0)
        x, y = whole.centroid.coords[0]
        angle = chance.uniform(0, math.pi)
        dx, dy = 2000 * math.cos(angle), 2000 * math.sin(angle)
        line = shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)])
        halves = split(whole, line).geoms
        parts += [half for half in halves if isinstance(half, shapely.Polygon)]
    rings = [shapely.orient_polygons(part).exterior.coords[:-1] for part in parts]
    return [[(x, y) for x, y in ring] for ring in rings]


def jigsaw() -> None:
    for kind in ("boxes", "polygons"):
        for slack in (1.0, 1.02, 1.05, 1.1):
            ones = Counter[str]()
            for seed in range(10):
                chance = random.Random(seed)
                if kind == "boxes":
                    nets = [
                        rectangle_net(w, h, f"{w} {h}") for w, h in _guillotine(chance, 240, 160, 3)
                    ]
                else:
                    nets = [
                        polygon_net(corners, str(i))
                        for i, corners in enumerate(polygons_of_a_sheet(chance, 240, 160, 7))
                    ]
                card = stock(240 * slack, 160)
                mix = [piece for net in nets for piece in pieces([net], card, rotation="none")]
                for mode in ("quick", "thorough"):
                    rules = SheetRules(gap=0.0, mode=mode, seconds=10)
                    placing = place_pieces(mix, BED, rules)
                    faults = [e for s in placing.sheets for e in complaints(s, BED.bed, rules)]
                    assert not faults, faults
                    ones[mode] += placing.count == 1
            print(
                f"8 {kind} of one sheet, sheet × {slack}: on one sheet by quick {ones['quick']} "
                f"of 10, by thorough {ones['thorough']} of 10",
                flush=True,
            )


def _guillotine(
    chance: random.Random, width: float, height: float, depth: int
) -> list[tuple[float, float]]:
    if depth == 0:
        return [(width, height)]
    share = chance.uniform(0.35, 0.65)
    if width > height:
        parts = ((width * share, height), (width * (1 - share), height))
    else:
        parts = ((width, height * share), (width, height * (1 - share)))
    return [side for part in parts for side in _guillotine(chance, *part, depth - 1)]


def _mixed(count: int) -> list[Net]:
    """Boxes of three styles, no two alike."""
    chance = random.Random(8)
    nets: list[Net] = []
    for number in range(count):
        name = ("tray", "tuck-carton", "gable-carton")[number % 3]
        style = style_named(name)
        length = chance.uniform(35, 70)
        height = chance.uniform(15, 30) if name == "tray" else chance.uniform(42, 70)
        dims = style.dimensions(length=length, width=chance.uniform(28, length), height=height)
        nets += style.build(dims, Card(0.4, "outside" if name == "tray" else "inside"))
    return nets


def growth() -> None:
    asked: list[int] = []

    def counted(still: tuple[Points, ...], moving: tuple[Points, ...], gap: float) -> BaseGeometry:
        asked.append(1)
        return no_fit_region(still, moving, gap)

    mock.patch.object(laying, "no_fit_region", counted).start()
    card, cutter = stock(297, 420), machine(2100.0, 2100.0)
    trays = [*mixes()["counter trays"]]
    rows = [("different", n, pieces(_mixed(n), card)) for n in (1, 10, 40, 100, 200)]
    rows += [("like", n, pieces(trays, card, n)) for n in (1, 10, 100, 1000)]
    last: tuple[str, int, float] | None = None
    print(f"{'pieces':>16} {'sheets':>6} {'CPU s':>6} {'regions':>7} {'exponent':>8}")
    for name, number, mix in rows:
        asked.clear()
        begin = time.process_time()
        count = place_pieces(mix, cutter, SheetRules(gap=GAP)).count
        took = time.process_time() - begin
        exponent = ""
        if last is not None and last[0] == name:
            exponent = f"{math.log(took / last[2]) / math.log(number / last[1]):.2f}"
        last = name, number, took
        print(f"{number:6} {name:9} {count:6} {took:6.2f} {len(asked):7} {exponent:>8}", flush=True)


def main() -> None:
    match sys.argv[1:]:
        case ["judge", number]:
            judge(int(number))
        case ["quick"]:
            quick()
        case ["thorough", seconds]:
            thorough(int(seconds))
        case ["growth"]:
            growth()
        case ["jigsaw"]:
            jigsaw()
        case _:
            print(__doc__)


if __name__ == "__main__":
    main()

"""How time and memory grow with what is asked for, far beyond what a kitchen table asks.

    python -m tests.benchmarks.bench_load              # all rows
    python -m tests.benchmarks.bench_load kinds path   # some

Each row is a command, run in a process of its own at growing sizes. Time is that of the processor,
its children's too, memory the largest resident set. The exponent is the slope of the best line
through the logarithms of what goes beyond the smallest size (least squares): 1 is in proportion,
2 the square. Source of the way: any textbook's log-log fit.
"""

from __future__ import annotations

import io
import math
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]

STOCK = """
profile = "drag-blade-340"
[stock.ivory]
caliper = 0.3
grammage = 250
sheet = "12x12 in"
"""

PIECE = """
[[piece]]
name = "box {n}"
style = "tray"
stock = "ivory"
count = {count}
size = {{ length = {length}, width = {width}, height = 20 }}
"""

Words = list[str]


@dataclass(frozen=True)
class Row:
    """What grows: the sizes, the words of the command at one of them, the exponent that is still
    fine, and what it is that may cost more."""

    about: str
    sizes: Sequence[int]
    words: Callable[[Path, int], Words]
    wanted: float = 1.3


def cutlayers(*words: str | Path) -> Words:
    return [sys.executable, "-m", "cutlayers", *map(str, words)]


def alike(verb: str) -> Callable[[Path, int], Words]:
    def words(folder: Path, count: int) -> Words:
        job = folder / "job.toml"
        job.write_text(STOCK + PIECE.format(n=1, count=count, length=80, width=60))
        return cutlayers(verb, job, *(("-o", folder / "out") if verb == "make" else ()))

    return words


def kinds(verb: str) -> Callable[[Path, int], Words]:
    def words(folder: Path, count: int) -> Words:
        job = folder / "job.toml"
        pieces = (
            PIECE.format(n=n, count=1, length=40 + n % 50, width=40 + n // 50 % 50 + n / 1e4)
            for n in range(count)
        )
        job.write_text(STOCK + "".join(pieces))
        return cutlayers(verb, job, *(("-o", folder / "out") if verb == "make" else ()))

    return words


def rows(folder: Path, count: int) -> Words:
    lines = [f"Guest {n},{(60, 70, 80)[n % 3]}" for n in range(1, count + 1)]
    (folder / "guests.csv").write_text("\n".join(["name,length", *lines]) + "\n")
    lettering = '[[piece.lettering]]\npanel = "base"\ntext = "{name}"\n'
    piece = PIECE.format(n=1, count=1, length='"{length}"', width=50)
    (folder / "job.toml").write_text(f'kit.file = "guests.csv"\n{STOCK}{piece}{lettering}')
    return cutlayers("check", folder / "job.toml")


def with_image(folder: Path, name: str) -> Words:
    art = f'[[piece.art]]\npanels = "base"\nfile = "{name}"\n'
    piece = PIECE.format(n=1, count=1, length=80, width=60)
    (folder / "job.toml").write_text(STOCK + piece + art)
    return cutlayers("make", folder / "job.toml", "-o", folder / "out")


def pixels(folder: Path, megapixels: int) -> Words:
    from PIL import Image

    side = math.floor(math.sqrt(megapixels * 1e6))
    noise = Image.effect_noise((512, 512), 60.0).resize((side, side))
    Image.merge("RGB", [noise] * 3).save(folder / "art.png", compress_level=1)
    return with_image(folder, "art.png")


def outlines(folder: Path, curves: int) -> Words:
    part = "c1 2 3 4 5 0l1 1z"
    body = f'<path d="M5 5{part * curves}"/>'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{body}</svg>'
    (folder / "art.svg").write_text(svg)
    return with_image(folder, "art.svg")


def scan(folder: Path, megapixels: int) -> Words:
    from PIL import Image

    side = math.floor(math.sqrt(megapixels * 1e6))
    Image.effect_noise((512, 512), 60.0).resize((side, side)).save(folder / "scan.png")
    program = (
        "import sys; from pathlib import Path\n"
        "from cutlayers.align.scan import read_scan\n"
        "read_scan(Path(sys.argv[1]).read_bytes(), 'scan', 300.0)\n"
    )
    return [sys.executable, "-c", program, str(folder / "scan.png")]


def contour(_: Path, teeth: int) -> Words:
    program = (
        "import math, sys\n"
        "from cutlayers.geometry.offsetting import offset_parts\n"
        "from cutlayers.geometry.paths import Path\n"
        "n = int(sys.argv[1])\n"
        "ring = [(n + 2 * (k % 2)) * complex(math.cos(math.pi * k / n), math.sin(math.pi * k / n))"
        " for k in range(2 * n)]\n"
        "offset_parts(Path.polygon([(p.real, p.imag) for p in ring]), 0.1)\n"
    )
    return [sys.executable, "-c", program, str(teeth)]


ROWS = {
    "alike": Row("check, boxes of one kind", (1, 100, 1000, 10_000), alike("check")),
    "kinds": Row("check, boxes all different", (1, 50, 200, 1000), kinds("check")),
    "make": Row("make, boxes of one kind", (1, 40, 160, 640), alike("make")),
    "made": Row("make, boxes all different", (1, 40, 160), kinds("make")),
    "rows": Row("check, rows of a kit", (10, 100, 1000, 10_000), rows),
    "pixels": Row("make, megapixels of a PNG", (1, 8, 25, 60), pixels),
    "path": Row("make, curves of an SVG", (100, 2000, 8000, 32_000), outlines),
    "scan": Row("read a scan, megapixels", (1, 10, 40, 120), scan),
    "contour": Row("move one contour of so many teeth", (10, 250, 1000, 4000), contour),
}


def cost(words: Words) -> tuple[float, float]:
    """Seconds of the processor and MB."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    process = subprocess.Popen(
        words, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
    )
    assert process.stderr is not None
    said = process.stderr.read()
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in ((0, 1) if "check" in words else (0,)):
        raise SystemExit(f"{' '.join(words)}: {process.returncode}\n{said.decode()}")
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024


def exponent(sizes: Sequence[int], costs: Sequence[float]) -> float:
    """Of the growth beyond the smallest size; NaN where nothing grows."""
    points = [
        (math.log(size), math.log(cost - costs[0]))
        for size, cost in zip(sizes[1:], costs[1:], strict=True)
        if cost - costs[0] > 0.05 * costs[0]
    ]
    if len(points) < 2:
        return math.nan
    middle_x, middle_y = (sum(each) / len(points) for each in zip(*points, strict=True))
    slope: float = sum((x - middle_x) * (y - middle_y) for x, y in points) / sum(
        (x - middle_x) ** 2 for x, _ in points
    )
    return slope


def main() -> None:
    """Print a line for each row."""
    chosen = sys.argv[1:] or list(ROWS)
    print(f"load {os.getloadavg()[0]:.1f}")
    for name in chosen:
        row = ROWS[name]
        times, memory = [], []
        for size in row.sizes:
            with tempfile.TemporaryDirectory() as folder:
                seconds, megabytes = cost(row.words(Path(folder), size))
            times.append(seconds)
            memory.append(megabytes)
        out = io.StringIO()
        for size, seconds, megabytes in zip(row.sizes, times, memory, strict=True):
            out.write(f"  {size}: {seconds:.1f} s, {megabytes:.0f} MB;")
        slope = exponent(row.sizes, times)
        print(f"{name}: {row.about}\n {out.getvalue()}")
        print(
            f"   time ~ n^{slope:.2f}, memory ~ n^{exponent(row.sizes, memory):.2f}"
            f"{'' if not slope > row.wanted else f', WANTED {row.wanted}'}",
            flush=True,
        )


if __name__ == "__main__":
    main()

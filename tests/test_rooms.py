"""Lower rooms never import higher ones."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "cutlayers"

# fmt: off
ROOMS = (
    "frozen", "later", "telling", "reading", "writing", "geometry", "net", "construction",
    "lettering", "artwork", "bringing", "box", "fitting", "job", "profile", "toolpaths",
    "formats", "sheets", "pictures", "solids", "report", "align", "checks", "curing", "guide",
    "viewer", "making", "trials", "kits", "explaining", "page", "cli", "__main__",
)
# fmt: on
"""Every room, file or folder, from the ground up; each may know those before it."""


def imported_rooms(path: Path) -> Iterator[str]:
    """Rooms that a module imports when it runs; imports for the type checker alone do not count."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for inner in ast.walk(node)
    }
    for node in ast.walk(tree):
        if node in for_types or not isinstance(node, ast.ImportFrom) or not node.module:
            continue
        first, _, rest = node.module.partition(".")
        if first == "cutlayers" and rest:
            yield rest.partition(".")[0]


def test_every_room_knows_only_lower_ones() -> None:
    """An import from a higher room would let data run back."""
    climbing = []
    for path in sorted(PACKAGE.rglob("*.py")):
        room = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        if room == "__init__":
            continue
        height = ROOMS.index(room)
        climbing += [
            f"{path.relative_to(PACKAGE)} imports {other}"
            for other in imported_rooms(path)
            if ROOMS.index(other) > height
        ]

    assert climbing == []


OVERLAYS = {"union", "intersection", "difference", "symmetric_difference", "union_all"}
OVERLAYS |= {"unary_union", "coverage_union", "coverage_union_all"}

OWN_OVERLAYS = {
    "geometry/overlays.py": "the room of them",
    "sheets/outlines.py": "the union of a thousand sums, nine times dearer on a grid: each result "
    "is checked and made anew on the grid where it fails; and areas by which parts are compared",
    "sheets/laying.py": "free regions, taken away from thousands of times; layouts are checked",
    "cli/check.py": "no areas: the difference between two texts",
    "pictures/surfaces.py": "faces cut by a half plane, of which each side is convex or a line",
}
"""Modules that lay areas over each other by themselves, and why; the list can only shrink."""


def test_areas_are_laid_over_each_other_in_one_room() -> None:
    """Elsewhere nobody asks the geometry library for an overlay, in floating point or on a grid of
    his own: on borders that run along each other such an overlay breaks."""
    callers = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in OVERLAYS
    }

    assert callers == set(OWN_OVERLAYS)


def test_the_list_of_rooms_is_complete() -> None:
    """A new room takes its place in the list."""
    there = {
        path.name.removesuffix(".py")
        for path in PACKAGE.iterdir()
        if path.suffix == ".py" or (path / "__init__.py").is_file()
    }

    assert there - {"__init__"} == set(ROOMS)

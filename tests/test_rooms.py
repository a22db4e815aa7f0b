"""Lower rooms never import higher ones."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parents[1] / "cutlayers"

# fmt: off
ROOMS = (
    "frozen", "telling", "reading", "writing", "geometry", "net", "construction", "lettering",
    "artwork", "box", "fitting", "job", "profile", "toolpaths", "formats", "sheets", "pictures",
    "solids", "report", "align", "checks", "curing", "guide", "making", "trials", "kits",
    "explaining", "cli", "__main__",
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


def test_the_list_of_rooms_is_complete() -> None:
    """A new room takes its place in the list."""
    there = {
        path.name.removesuffix(".py")
        for path in PACKAGE.iterdir()
        if path.suffix == ".py" or (path / "__init__.py").is_file()
    }

    assert there - {"__init__"} == set(ROOMS)

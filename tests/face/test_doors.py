"""The command line stands on the package's face; what else it reaches for has a reason."""

from __future__ import annotations

import ast
from pathlib import Path

CLI = Path(__file__).parents[2] / "cutlayers" / "cli"

BEYOND = {
    "align": "marks of a printed sheet have a door of their own",
    "box": "the answer of `size` is where a box came from",
    "construction": "help and limits of a style, as `new`, `styles` and `size` list them",
    "curing": "cures are tried and written by `check --mend`",
    "explaining": "the pages of `explain`",
    "fitting": "`size` searches for boxes",
    "guide": "the page without a machine, for other papers and rulers",
    "job": "which files a job names; schemas; values and files of `size`",
    "kits": "a table of rows has a door of its own",
    "making": "`align` makes one sheet of a job anew",
    "page": "the page in the browser is a door of its own, which `open` opens",
    "pictures": "the gallery of `styles`",
    "profile": "profiles are listed, edited and chosen",
    "reading": "raw tables of user files, and values of a command's own words",
    "report": "tables of text",
    "sheets": "how long a bar is; the largest box; where marks lie",
    "solids": "folded boxes in open formats have a door of their own",
    "trials": "trial cuts have a door of their own",
    "writing": "other sets of files than those of a job",
}
"""Rooms beside `telling` that commands take things from, and what for."""

FACE = {"check", "make"}
"""Commands that take nothing of making, sheets, toolpaths or formats but by the face."""


def rooms(path: Path) -> set[str]:
    """Rooms that a module imports from when it runs, the face, words and other commands apart."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    for_types = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.unparse(node.test)
        for inner in ast.walk(node)
    }
    modules = [
        node.module.split(".")
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module and node not in for_types
    ]
    found = {module[1] for module in modules if module[0] == "cutlayers" and module[1:]}
    return found - {"cli", "telling"}


def test_what_commands_take_beyond_the_face_is_listed() -> None:
    """Nothing more, and nothing on the list that is no longer taken."""
    assert set().union(*map(rooms, CLI.rglob("*.py"))) == set(BEYOND)


def test_checking_and_making_go_by_the_face() -> None:
    """So a program can do what these commands do."""
    for name in FACE:
        taken = rooms(CLI / f"{name}.py")
        assert not taken & {"making", "sheets", "toolpaths", "formats", "job", "profile", "report"}

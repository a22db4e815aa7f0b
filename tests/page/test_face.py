"""The page stands on the package's public face."""

from __future__ import annotations

import ast
from pathlib import Path

import cutlayers

PAGE = Path(cutlayers.__file__).parent / "page"


def test_the_page_knows_the_face_and_itself_alone() -> None:
    """What it needs of the package, the face has."""
    below = [
        f"{path.name} imports {node.module}"
        for path in sorted(PAGE.glob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
        and node.module
        and node.module.startswith("cutlayers.")
        and not node.module.startswith("cutlayers.page")
    ]

    assert below == []

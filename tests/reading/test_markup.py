"""Markup from users is parsed in one place, with one set of safe settings."""

from __future__ import annotations

import ast
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "cutlayers"
PARSERS = {"XMLParser", "fromstring", "iterparse", "XMLPullParser", "HTMLParser", "ElementTree"}


def test_only_one_module_parses_markup() -> None:
    """A second parser would have settings of its own."""
    parsing = {
        path.relative_to(PACKAGE).as_posix()
        for path in PACKAGE.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Attribute)
        and node.attr in PARSERS
        and isinstance(node.value, ast.Name)
        and node.value.id in ("etree", "lxml", "ElementTree", "html")
    }

    assert parsing == {"reading/markup.py"}

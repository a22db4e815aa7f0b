"""Pages for people, made of the templates of a package.

Whatever is set into a page is escaped, a name that a template mistakes is an error, and colours
come from the one table of them (`colours`). This module loads its library when it is called.
"""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cutlayers.telling import colours

if TYPE_CHECKING:
    from jinja2 import Environment

SETTING: dict[str, Any] = {"autoescape": True, "trim_blocks": True, "lstrip_blocks": True}
"""How templates are read."""


@cache
def environment(package: str) -> Environment:
    """The templates in the folder `templates` of a package, compiled when first used."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    from cutlayers.telling.compiled_pages import CompiledPages

    loader = PackageLoader(package)
    folder = Path(sys.modules[package].__path__[0]) / "templates"
    found = Environment(
        loader=loader,
        undefined=StrictUndefined,
        auto_reload=False,
        bytecode_cache=CompiledPages(folder, SETTING),
        **SETTING,
    )
    found.globals["colours"] = colours
    return found

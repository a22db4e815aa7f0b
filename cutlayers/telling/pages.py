"""Pages for people, made of the templates of a package.

Whatever is set into a page is escaped, a name that a template mistakes is an error, and colours
come from the one table of them (`colours`). This module loads its library when it is called.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from cutlayers.telling import colours

if TYPE_CHECKING:
    from jinja2 import Environment


@cache
def environment(package: str) -> Environment:
    """The templates in the folder `templates` of a package, compiled when first used."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    found = Environment(
        loader=PackageLoader(package),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    found.globals["colours"] = colours
    return found

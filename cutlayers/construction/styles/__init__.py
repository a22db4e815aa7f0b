"""The box styles, one a file, and how to find them: by being here."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache

from cutlayers.construction.style import Style


class _ByName(Mapping[str, Style]):
    """Each module beside this one defines one style as STYLE, which has the
    module's name, hyphens for underscores. A module is loaded when its style is asked for."""

    def __init__(self) -> None:
        modules = sorted(module.name for module in pkgutil.iter_modules(__path__))
        self._modules = {module.replace("_", "-"): module for module in modules}

    def __getitem__(self, name: str) -> Style:
        style: Style = importlib.import_module(f"{__name__}.{self._modules[name]}").STYLE
        return style

    def __iter__(self) -> Iterator[str]:
        return iter(self._modules)

    def __len__(self) -> int:
        return len(self._modules)


@cache
def styles_by_name() -> Mapping[str, Style]:
    """All styles by their names, each loaded when it is asked for."""
    return _ByName()


def styles() -> tuple[Style, ...]:
    """All styles, by name."""
    return tuple(styles_by_name().values())


def style_named(name: str) -> Style:
    """The style of that name. Raises KeyError for a name that `styles` does not list."""
    return styles_by_name()[name]

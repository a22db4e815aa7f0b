"""Names that a package gives, each loaded from its module when it is first used."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping


def loaded_later(
    package: str, homes: Mapping[str, str]
) -> tuple[Callable[[str], object], Callable[[], list[str]]]:
    """`__getattr__` and `__dir__` of a package whose `__all__` says what is there for users.

    `homes` are its modules, each with the names to be taken from it, parted by spaces.
    """
    home = {name: module for module, names in homes.items() for name in names.split()}

    def load(name: str) -> object:
        if name not in home:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        from importlib import import_module

        value = getattr(import_module(f"{package}.{home[name]}"), name)
        setattr(sys.modules[package], name, value)
        return value

    def names() -> list[str]:
        return sorted(sys.modules[package].__all__)

    return load, names

"""The profile that is used where none is named: its name, in a file of the user's folder."""

from __future__ import annotations

import os

from cutlayers.profile.search import known_own_folder, own_folder
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import OutputError, ProfileError
from cutlayers.writing.refusing import unwritable

DEFAULT = "default.txt"
"""The file in the user's folder that holds the default profile's name."""


def default_profile() -> str | None:
    """The name of the default profile, where one was chosen."""
    folder = known_own_folder()
    if folder is None:
        return None
    path = folder / DEFAULT
    try:
        name = os.fsdecode(read_user_file(path, 1)).strip()
    except ValueRefused as refused:
        if refused.refusal.fault == "absent":
            return None
        raise ProfileError(refused.refusal.within(str(path))) from None
    return name or None


def set_default(name: str | None) -> None:
    """Choose the default profile; None chooses none. Raises OutputError."""
    from cutlayers.writing.single import put

    path = own_folder() / DEFAULT
    try:
        if name is None:
            path.unlink(missing_ok=True)
        else:
            put(path, os.fsencode(f"{name}\n"))
    except OSError as error:
        raise OutputError(unwritable(path, error)) from None

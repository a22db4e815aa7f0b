"""Where machine profiles are kept, and which one a name means.

A name is looked up in the user's own folder first, then among the profiles shipped with the
package; a profile of the user's own shadows a shipped one of the same name. A text that ends in
`.toml` or holds a folder is a file and is not looked up.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal

from cutlayers.frozen import frozen
from cutlayers.reading.toml_file import read_toml
from cutlayers.reading.user_files import absent
from cutlayers.reading.user_paths import user_path
from cutlayers.telling.errors import ProfileError
from cutlayers.telling.nearest import nearest
from cutlayers.telling.refusals import Refusal
from cutlayers.telling.written import shown

FOLDER_VARIABLE = "CUTLAYERS_PROFILES"
"""Environment variable that names another folder for the user's own profiles."""


@frozen
class FoundProfile:
    """One profile of a list. `title` is None where the file cannot be read."""

    name: str
    title: str | None
    path: Path
    owner: Literal["yours", "shipped"]
    shadowed: bool
    """True where a profile of the same name is found before this one."""


def own_folder() -> Path:
    """The folder of the user's own profiles, which need not exist.

    Raises ProfileError where the system knows no home folder.
    """
    folder = known_own_folder()
    if folder is None:
        reason = "there is no home folder for profiles of your own"
        advice = f"name a folder for them in {FOLDER_VARIABLE}"
        raise ProfileError(Refusal(reason=reason, fault="absent", advice=advice))
    return folder


def known_own_folder() -> Path | None:
    """The same; None where there is none, and so no profile in it."""
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return user_path(named)
    from platformdirs import user_config_path

    try:
        return user_config_path("cutlayers", appauthor=False) / "profiles"
    except RuntimeError:
        return None


def own_path(name: str) -> Path:
    """Where a profile of the user's own by that name belongs.

    Raises ProfileError for a name that is not a plain file name.
    """
    if not name or name.startswith(".") or any(mark in name for mark in '/\\:*?"<>|'):
        advice = "use letters, digits, '-' and '_'"
        raise ProfileError(
            Refusal(
                reason=f"{shown(name)} is no name for a profile",
                fault="value",
                found=name,
                advice=advice,
            )
        )
    return own_folder() / f"{name.removesuffix('.toml')}.toml"


def shipped_folder() -> Path:
    """The folder of the shipped profiles: inside an installed package, or in the source tree."""
    package = Path(__file__).parents[1]
    installed = package / "shipped_profiles"
    return installed if installed.is_dir() else package.parent / "profiles"


def list_profiles() -> tuple[FoundProfile, ...]:
    """All profiles in the order in which they are found: the user's own, then the shipped."""
    found: list[FoundProfile] = []
    for owner, path in _files():
        shadowed = any(profile.name == path.stem for profile in found)
        found.append(FoundProfile(path.stem, _title(path), path, owner, shadowed))
    return tuple(found)


def find_profile(name_or_path: str | Path, folder: Path = Path()) -> Path:
    """The file of a profile; a relative path is taken from `folder`.

    Raises ProfileError, naming the nearest profiles, where there is none.
    """
    text = str(name_or_path)
    if text.lower().endswith(".toml") or "/" in text or os.sep in text:
        path = folder / user_path(text)
        if not _is_file(path):
            raise ProfileError(
                absent(path, "there is no such profile file").refusal.within(str(path))
            )
        return path
    for _owner, path in _files():
        if path.stem == text:
            return path
    known = sorted({path.stem for _owner, path in _files()})
    raise ProfileError(
        Refusal(
            reason=f"there is no profile named {shown(text)}",
            fault="unknown",
            found=text,
            allowed=tuple(known),
            nearest=nearest(text, known),
            advice=_where_profiles_are(),
        )
    )


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except OSError:  # a name too long for the system
        return False


def _where_profiles_are() -> str:
    folder = known_own_folder()
    own = f"a profile of your own goes into {folder}, or " if folder else ""
    return f"{own}give the path of its .toml file"


def _files() -> list[tuple[Literal["yours", "shipped"], Path]]:
    files: list[tuple[Literal["yours", "shipped"], Path]] = []
    places: tuple[tuple[Literal["yours", "shipped"], Path | None], ...] = (
        ("yours", known_own_folder()),
        ("shipped", shipped_folder()),
    )
    for owner, folder in places:
        if folder is None:
            continue
        try:
            files += [(owner, path) for path in sorted(folder.glob("*.toml")) if path.is_file()]
        except OSError as error:
            reason = f"the profiles cannot be listed: {error.strerror}"
            raise ProfileError(
                Refusal(reason=reason, fault="unreadable", file=str(folder))
            ) from None
    return files


def _title(path: Path) -> str | None:
    try:
        title = read_toml(path, "profile", ProfileError).get("title")
    except ProfileError:
        return None
    return title if isinstance(title, str) else None

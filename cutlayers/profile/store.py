"""The user's profiles on the disk: saved whole, the last version kept.

Whatever happens while one is saved, the file is the old or the new one.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from cutlayers.frozen import frozen
from cutlayers.profile.editing import Change, Edit, edited, with_entry
from cutlayers.profile.search import find_profile, own_path, shipped_folder
from cutlayers.reading.toml_file import LARGEST_MEGABYTES
from cutlayers.reading.user_files import read_user_file
from cutlayers.reading.values import ValueRefused
from cutlayers.telling.errors import OutputError, ProfileError
from cutlayers.telling.refusals import Refusal
from cutlayers.writing.refusing import taken, unwritable
from cutlayers.writing.single import expect, put, put_over

BACKUP = ".bak"
"""What is added to a profile's file name for its last version."""

_MARK = "\ufeff"


def new_path(name: str) -> Path:
    """Where a new profile of the user's own goes. Raises ProfileError for a name that is not a
    plain file name, OutputError where there is one already."""
    path = own_path(name)
    if path.exists():
        raise OutputError(taken(path, "choose another name"))
    return path


def last_version(path: Path) -> Path:
    """Where the last version of a profile is kept."""
    return path.with_name(path.name + BACKUP)


@frozen
class ProfileText:
    """A profile's file as it was read: its bytes, and its text with line ends as they are."""

    path: Path
    content: bytes

    @property
    def text(self) -> str:
        """The text without a byte-order mark. Raises ProfileError where it is not UTF-8."""
        try:
            return self.content.decode("utf-8").removeprefix(_MARK)
        except UnicodeDecodeError as error:
            reason = f"byte {error.start + 1} is not UTF-8; left as it is"
            raise ProfileError(
                Refusal(reason=reason, fault="unreadable", file=str(self.path))
            ) from None

    def encoded(self, text: str) -> bytes:
        """Another text in this file's manner."""
        mark = _MARK if self.content.startswith(_MARK.encode()) else ""
        return (mark + text).encode("utf-8")


def own_profile(name_or_path: str) -> ProfileText:
    """A profile that may be changed.

    Raises ProfileError for one that came with the package, and for one that cannot be read.
    """
    path = find_profile(name_or_path).resolve()
    if path.parent == shipped_folder().resolve():
        raise ProfileError(
            Refusal(
                reason=f"{path.stem} came with cutlayers and is not changed",
                fault="unwritable",
                found=path.stem,
                advice="make one of your own from it with "
                f"'cutlayers profile copy {path.stem} NAME'",
            )
        )
    return profile_file(path)


def profile_file(path: Path) -> ProfileText:
    """A profile's file as it is. Raises ProfileError where it cannot be read."""
    try:
        return ProfileText(path, read_user_file(path, LARGEST_MEGABYTES))
    except ValueRefused as refused:
        raise ProfileError(refused.refusal.within(str(path))) from None


def change(
    profile: ProfileText,
    edits: Sequence[Edit],
    diary: dict[str, object] | None = None,
    write: bool = True,
) -> list[Change]:
    """Set values in a profile and save it; `diary` is one more entry of [[trials]].

    Raises ProfileError where the result would not be a right profile, OutputError where it
    cannot be written. Then nothing has changed.
    """
    file, name = str(profile.path), profile.path.stem
    text, changes = edited(profile.text, edits, file, name)
    if diary is not None:
        text = with_entry(text, "trials", diary, file)  # type: ignore[arg-type]
        edited(text, (), file, name)
    if write and text != profile.text:
        save(profile, profile.encoded(text))
    return changes


def save(before: ProfileText, content: bytes) -> None:
    """Put new content in a profile's place and keep the old as its last version.

    Raises OutputError where that fails, or where the file is no longer what was read.
    """
    path = before.path
    try:
        expect(path, before.content)
        put_over(path, before.content, content, last_version(path))
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(unwritable(path, error)) from None


def add_profile(path: Path, content: bytes, replace: bool = False) -> None:
    """Put a new profile on the disk; with `replace`, in place of one that is there already.

    Raises OutputError, and ProfileError where the one that is there cannot be read.
    """
    try:
        if os.path.lexists(path):
            if not replace:
                raise OutputError(taken(path, "choose another name or use --replace"))
            save(profile_file(path), content)
        else:
            put(path, content)
    except OSError as error:
        if isinstance(error, OutputError):
            raise
        raise OutputError(unwritable(path, error)) from None

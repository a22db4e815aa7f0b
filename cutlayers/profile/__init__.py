"""Machine profiles: found, read, checked, edited, carried."""

from __future__ import annotations

from typing import TYPE_CHECKING

__all__ = [
    "Answer",
    "Change",
    "Edit",
    "FoundProfile",
    "ProfileText",
    "Question",
    "add_profile",
    "change",
    "default_profile",
    "differences",
    "find_profile",
    "first_steps",
    "known_own_folder",
    "last_version",
    "list_profiles",
    "new_path",
    "own_path",
    "own_profile",
    "profile_file",
    "profile_in",
    "profile_schema",
    "profile_text",
    "questions",
    "read_key",
    "read_profile",
    "read_value",
    "set_default",
]

if TYPE_CHECKING:
    from cutlayers.profile.asking import Answer, Question, questions
    from cutlayers.profile.default import default_profile, set_default
    from cutlayers.profile.editing import Change, Edit, differences, read_key, read_value
    from cutlayers.profile.reading import profile_in, profile_schema, read_profile
    from cutlayers.profile.search import (
        FoundProfile,
        find_profile,
        known_own_folder,
        list_profiles,
        own_path,
    )
    from cutlayers.profile.store import (
        ProfileText,
        add_profile,
        change,
        last_version,
        new_path,
        own_profile,
        profile_file,
    )
    from cutlayers.profile.template import first_steps, profile_text
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "asking": "Answer Question questions",
            "default": "default_profile set_default",
            "editing": "Change Edit differences read_key read_value",
            "reading": "profile_in profile_schema read_profile",
            "search": "FoundProfile find_profile known_own_folder list_profiles own_path",
            "store": "ProfileText add_profile change last_version new_path own_profile "
            "profile_file",
            "template": "first_steps profile_text",
        },
    )

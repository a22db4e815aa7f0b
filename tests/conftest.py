"""How hard hypothesis tries: `pytest --hypothesis-profile=thorough` for 300 examples a style."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("thorough", max_examples=300, deadline=None)

"""The doors, each a function from a seeded chance to a case, and how often each is tried."""

from __future__ import annotations

from collections.abc import Callable

from tests.attack.cases import Case, Chance
from tests.attack.drawings import drawing
from tests.attack.folders import folder
from tests.attack.media import font, pixels, scan, svg
from tests.attack.page import page
from tests.attack.spoken import command, marks, pipe, record, trial
from tests.attack.texts import fold, job, job_name, profile, profile_edit, table

SHARES: dict[Callable[[Chance], Case], int] = {
    job: 20,
    fold: 3,
    job_name: 2,
    profile: 14,
    profile_edit: 14,
    table: 8,
    svg: 8,
    pixels: 5,
    font: 7,
    scan: 1,
    marks: 1,
    record: 6,
    trial: 1,
    command: 4,
    pipe: 1,
    folder: 1,
    page: 2,
    drawing: 2,
}
"""In a hundred cases; doors behind which little is done get more of them."""

DOORS: dict[str, Callable[[Chance], Case]] = {
    door.__name__.replace("_", "-"): door for door in SHARES
}

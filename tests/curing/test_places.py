"""Where a person is led who presses a finding."""

from __future__ import annotations

import pytest

from cutlayers.curing import places_of
from cutlayers.job.order import Job
from cutlayers.job.reading import job_from
from cutlayers.reading.toml_file import parse_toml
from cutlayers.telling.findings import Cure, Edit, Finding, Severity, Subject

JOB = """
[stock.kraft]
caliper = 0.3
sheet = "12x12 in"
[[piece]]
name = "one"
style = "tray"
stock = "kraft"
size = { length = 60, width = 40, height = 20 }
[[piece]]
name = "two"
style = "gable-carton"
stock = "kraft"
size = { length = 60, width = 60, height = 60 }
"""


@pytest.fixture
def job() -> Job:
    return job_from(parse_toml(JOB, "job.toml"), "job.toml", "job")


@pytest.mark.parametrize(
    ("code", "subject", "first"),
    [
        ("lid-tight", Subject(piece="two"), ("piece", 1, "options", "clearance")),
        ("grain", Subject(piece="one", net="tray"), ("piece", 0, "grain")),
        ("lettering-reduced", Subject(piece="one"), ("piece", 0, "lettering")),
        ("art-covered", Subject(piece="two", art="piece[2].art[3]"), ("piece", 1, "art", 2)),
        ("art-covered", Subject(piece="one", art="piece[1].facing[2].art[1]"),
         ("piece", 0, "facing", 1)),
        ("relief", Subject(piece="two"), ("piece", 1, "holds")),
        ("nearest-material", Subject(stock="kraft"), ("stock", "kraft", "material")),
        ("no-room-for-coupon", Subject(sheet=1), ("sheets",)),
        ("blade-turns", Subject(operation="cut"), ("profile",)),
    ],
)  # fmt: skip
def test_the_likeliest_place_comes_first(
    job: Job, code: str, subject: Subject, first: tuple[str | int, ...]
) -> None:
    """Counted from 0, as the file's tables are; findings count from 1 as people do."""
    assert next(places_of(Finding(code, Severity.WARNING, subject), job)) == first


def test_a_cure_says_itself_where_it_is_made(job: Job) -> None:
    cure = Cure((Edit(("piece", 0, "size", "height"), 5.0),))
    finding = Finding("lid-tight", Severity.ERROR, Subject(piece="two"), cure=cure)

    assert next(places_of(finding, job)) == ("piece", 0, "size", "height")


def test_what_has_no_place_in_the_file_leads_nowhere(job: Job) -> None:
    assert list(places_of(Finding("x", Severity.NOTE, Subject(piece="none")), job)) == []

"""Findings as data for scripts, and as lines in millimetres and in sixteenths of an inch."""

from __future__ import annotations

import json

import pytest

from cutlayers.telling.facts import finding_data
from cutlayers.telling.findings import (
    Cure,
    Edit,
    Finding,
    Severity,
    Subject,
    at_least,
    details,
)
from cutlayers.telling.lengths import Unit
from cutlayers.telling.quantities import Quantity, length, lengths, share
from cutlayers.telling.words import in_words

TAB = Finding(
    "tab-small",
    Severity.WARNING,
    Subject(piece="soap", net="tray", panel="glue tab"),
    (length(3.175),),
    at_least(length(6.35)),
    cure=Cure((Edit(("piece", 0, "options", "tab"), length(12.0)),)),
)


def test_a_finding_is_data_with_kinds_and_units() -> None:
    """The line for people is in inches here; the numbers stay mm."""
    data = finding_data(TAB, "in")

    assert json.loads(json.dumps(data)) == {
        "code": "tab-small",
        "severity": "warning",
        "subject": {"piece": "soap", "net": "tray", "panel": "glue tab"},
        "measured": [{"kind": "length", "value": 3.175, "unit": "mm"}],
        "allowed": {"least": [{"kind": "length", "value": 6.35, "unit": "mm"}], "most": []},
        "others": [],
        "details": {},
        "cure": {
            "edits": [
                {
                    "path": ["piece", 0, "options", "tab"],
                    "value": {"kind": "length", "value": 12.0, "unit": "mm"},
                }
            ]
        },
        "told": in_words(TAB, "in"),
    }


def test_what_is_not_said_is_none_or_empty() -> None:
    data = finding_data(Finding("curved", Severity.NOTE, Subject(net="bag")))

    assert data["subject"] == {"net": "bag"}
    assert data["allowed"] is None and data["cure"] is None
    assert data["measured"] == data["others"] == [] and data["details"] == {}


@pytest.mark.parametrize(
    ("value", "data"),
    [
        ("askew", "askew"),
        (True, True),
        (3, 3),
        (("a", "b"), ["a", "b"]),
        (share(0.5), {"kind": "share", "value": 0.5, "unit": "1"}),
        (lengths(1.0), [{"kind": "length", "value": 1.0, "unit": "mm"}]),
    ],
)
def test_details_keep_their_kind(
    value: str | int | Quantity | tuple[str, ...], data: object
) -> None:
    finding = Finding("curved", Severity.NOTE, Subject(), details=details(what=value))

    assert finding_data(finding)["details"] == {"what": data}


SPOKEN: list[tuple[Finding, Unit, tuple[str, ...]]] = [
    # 3.175 mm is 1/8 in, 6.35 mm is 1/4 in.
    (TAB, "mm", ("soap: tray: glue tab: ", "a depth of 3.2 mm", "6.35 mm or more")),
    (TAB, "in", ("soap: tray: glue tab: ", "a depth of 1/8 in", "1/4 in or more", "1/8 in deeper")),
]


@pytest.mark.parametrize(("finding", "unit", "said"), SPOKEN)
def test_a_finding_is_told_in_the_unit_of_the_job(
    finding: Finding, unit: Unit, said: tuple[str, ...]
) -> None:
    line = in_words(finding, unit)

    assert [part for part in said if part not in line] == [], line

"""The schema of what scripts read; tests/making holds what is told of the samples against it."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

from cutlayers.cli import main
from cutlayers.explaining.schema import report_schema
from cutlayers.kits.manifest import KitReport, kit_data
from cutlayers.report.report import Report, report_data
from cutlayers.telling.facts import finding_data
from cutlayers.telling.findings import Allowed, Cure, Edit, Finding, Severity, Subject, details
from cutlayers.telling.quantities import angle, area, count, length, lengths, mass, share

FULL = Finding(
    "curved",
    Severity.WARNING,
    Subject(
        piece="soap",
        net="lid",
        panel="front",
        beyond="back",
        edge="e",
        feature="f",
        part="outline",
        operation="cut",
        at=(1.0, 2.0),
        sheet=1,
        mark=2,
        stock="kraft",
        art="piece[1].art[1]",
        file="a.csv",
        lines=(2, 3),
        column="name",
    ),
    (length(1.0), angle(2.0), area(3.0), mass(4.0), share(0.5), count(6)),
    Allowed(lengths(1.0), ()),
    (Subject(panel="left"),),
    details(
        word="a", whole=1, part=0.5, yes=True, long=length(1.0), words=("a",), sizes=lengths(1)
    ),
    Cure((Edit(("piece", 0, "options", "tab"), length(9.0)), Edit(("print",), None))),
)
"""A finding in which everything is said."""


@pytest.fixture(scope="module")
def schema() -> Draft202012Validator:
    Draft202012Validator.check_schema(report_schema())
    return Draft202012Validator(report_schema())


def test_a_finding_that_says_everything_is_in_the_schema(schema: Draft202012Validator) -> None:
    """In the report of a job and of a kit."""
    report = Report("a", "in", "b", "mm", (), findings=(FULL,))
    kit = KitReport("a", "b", "mm", 1, 2, 0.5, 3.0, (), (), (FULL,))

    schema.validate(json.loads(json.dumps(report_data(report))))
    schema.validate(json.loads(json.dumps(kit_data(kit))))


@pytest.mark.parametrize(
    ("key", "wrong"),
    [
        ("severity", "bad"),
        ("subject", {"colour": "red"}),
        ("measured", [{"kind": "length", "value": 1.0, "unit": "g"}]),
        ("cure", {"edits": [{"path": [1.5], "value": 1}]}),
        ("told", None),
    ],
)
def test_what_is_no_finding_is_refused(
    schema: Draft202012Validator, key: str, wrong: object
) -> None:
    """The schema is no empty promise."""
    told = json.loads(json.dumps(finding_data(FULL)))
    assert schema.is_valid({"rows": 1, "sheets": 1, "findings": [told]})

    assert not schema.is_valid({"rows": 1, "sheets": 1, "findings": [{**told, key: wrong}]})


def test_the_command_prints_the_schema() -> None:
    printed = CliRunner().invoke(main, ["explain", "--schema"])

    assert json.loads(printed.output) == report_schema()
    assert CliRunner().invoke(main, ["explain", "grain", "--schema"]).exit_code == 2

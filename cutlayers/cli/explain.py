"""`cutlayers explain`."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

import click

from cutlayers.cli.ending import RefusedUsage
from cutlayers.cli.options import json_option, print_json
from cutlayers.cli.wrapping import wrapped

if TYPE_CHECKING:
    from cutlayers.explaining import Code

HEADS = {
    "measured": "What is measured",
    "why": "Why it matters",
    "cure": "How to cure it",
    "source": "Source",
}


@click.command()
@click.argument("code", required=False)
@click.option(
    "--schema",
    is_flag=True,
    help="Print the JSON Schema of report.json, of 'cutlayers check --json', and of what any "
    "--json prints where it refuses, instead.",
)
@json_option
def explain(code: str | None, as_json: bool, schema: bool) -> None:
    """Explain a finding by its CODE: what is measured, why it matters, how to cure it.

    Without CODE, list all codes. A finding's code stands in brackets where 'check' and 'make'
    print it, in report.txt, and in the JSON for scripts.
    """
    from cutlayers.explaining import CODES
    from cutlayers.telling.tables import table

    if schema:
        if code is not None:
            raise click.UsageError("give a CODE or --schema, not both")
        from cutlayers.explaining import report_schema

        print_json(report_schema())
        return
    if code is None:
        if as_json:
            print_json([_data(each) for each in CODES.values()])
        else:
            rows = [(each.code, _severity(each), each.line) for each in CODES.values()]
            click.echo("\n".join(table([("code", "severity", "what it says"), *rows])))
        return
    _explain_one(_chosen(code), as_json)


def _explain_one(code: Code, as_json: bool) -> None:
    from cutlayers.explaining import beside, page_of

    parts = asdict(page_of(code))
    if as_json:
        print_json({**_data(code), **parts})
        return
    click.echo(f"{code.code} ({_severity(code)}): {code.line}")
    for part, head in HEADS.items():
        click.echo(f"\n{head}\n{wrapped(parts[part], 2)}")
    if others := beside(code):
        click.echo(f"\nThe same page explains {', '.join(others)}.")


def _chosen(name: str) -> Code:
    """The code of that name. Raises RefusedUsage naming those most like it."""
    from cutlayers.explaining import CODES
    from cutlayers.telling.nearest import meant
    from cutlayers.telling.refusals import Refusal
    from cutlayers.telling.written import shown

    if name in CODES:
        return CODES[name]
    raise RefusedUsage(
        Refusal(
            ("CODE",),
            f"is {shown(name)}, which is no code",
            "usage",
            found=name,
            nearest=meant(name, CODES),
            advice="'cutlayers explain' lists them",
        )
    )


def _data(code: Code) -> dict[str, object]:
    return {"code": code.code, "severities": list(code.severities), "line": code.line}


def _severity(code: Code) -> str:
    return " or ".join(code.severities)

"""cutlayers: from a short job file to cut, score, perforate and draw layers for paper boxes.

    read_job, read_profile   the two files, as values
    styles, build            what can be made, and one box of it without any file
    check                    what is wrong with a job, and worth knowing of it
    lay_out, plan, draw      sheets, lines in working order, drawings and pictures as values
    render, write            the contents of the files; the files in a folder
    show, work_ahead         boxes as they are folded; files begun while other work goes on

Each of the last takes what the one before gave; whoever only asks whether a job works stops at
`check` or `lay_out`. Bare lengths are mm, in and out. Whatever a user can put right is raised as a
CutlayersError with a message in one line; `in_words` makes such a line of a finding.

Importing the package is light: what a name needs is loaded when the name is first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

__all__ = [
    "Ahead",
    "Allowed",
    "Box",
    "Budget",
    "Cancelled",
    "Card",
    "Cure",
    "CutlayersError",
    "Drawn",
    "Edit",
    "Finding",
    "Job",
    "Layout",
    "Machine",
    "Order",
    "Planned",
    "Quantity",
    "Report",
    "Severity",
    "SheetRules",
    "Shown",
    "Stock",
    "Style",
    "Subject",
    "__version__",
    "build",
    "check",
    "draw",
    "in_words",
    "lay_out",
    "plan",
    "read_job",
    "read_profile",
    "render",
    "report_json",
    "report_of",
    "report_text",
    "show",
    "styles",
    "work_ahead",
    "write",
]

if TYPE_CHECKING:
    from cutlayers.box import Box
    from cutlayers.construction.card import Card
    from cutlayers.construction.style import Style
    from cutlayers.construction.styles import styles
    from cutlayers.job.building import build
    from cutlayers.job.order import Job, Order, SheetRules
    from cutlayers.job.reading import read_job
    from cutlayers.job.stock import Stock
    from cutlayers.making.ahead import Ahead, work_ahead
    from cutlayers.making.make import (
        check,
        draw,
        lay_out,
        plan,
        render,
        report_of,
        show,
        write,
    )
    from cutlayers.making.stages import Drawn, Layout, Planned, Shown
    from cutlayers.profile.machine import Machine
    from cutlayers.profile.reading import read_profile
    from cutlayers.report.report import Report, report_json, report_text
    from cutlayers.telling.budget import Budget
    from cutlayers.telling.errors import Cancelled, CutlayersError
    from cutlayers.telling.findings import Allowed, Cure, Edit, Finding, Severity, Subject
    from cutlayers.telling.quantities import Quantity
    from cutlayers.telling.words import in_words
else:
    # fmt: off
    _HOMES = {
        "box": "Box",
        "construction.card": "Card",
        "construction.style": "Style",
        "construction.styles": "styles",
        "job.building": "build",
        "job.order": "Job Order SheetRules",
        "job.reading": "read_job",
        "job.stock": "Stock",
        "making.ahead": "Ahead work_ahead",
        "making.make": "check draw lay_out plan render report_of show write",
        "making.stages": "Drawn Layout Planned Shown",
        "profile.machine": "Machine",
        "profile.reading": "read_profile",
        "report.report": "Report report_json report_text",
        "telling.budget": "Budget",
        "telling.errors": "Cancelled CutlayersError",
        "telling.findings": "Allowed Cure Edit Finding Severity Subject",
        "telling.quantities": "Quantity",
        "telling.words": "in_words",
    }
    # fmt: on
    _HOME = {name: home for home, names in _HOMES.items() for name in names.split()}

    def __getattr__(name: str) -> object:
        """Load a name from its home the first time that it is asked for."""
        if name not in _HOME:
            raise AttributeError(f"module 'cutlayers' has no attribute {name!r}")
        from importlib import import_module

        value = getattr(import_module(f"cutlayers.{_HOME[name]}"), name)
        globals()[name] = value
        return value

    def __dir__() -> list[str]:
        """The names that are there for users, loaded or not."""
        return sorted(__all__)

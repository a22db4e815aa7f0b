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
    "Control",
    "Controls",
    "Cure",
    "CutlayersError",
    "Drawn",
    "Edit",
    "EditRefused",
    "Finding",
    "Foldable",
    "Job",
    "Layout",
    "Machine",
    "Order",
    "OutputError",
    "Planned",
    "Quantity",
    "Report",
    "Severity",
    "SheetRules",
    "Shown",
    "Source",
    "Stock",
    "Style",
    "Subject",
    "__version__",
    "build",
    "check",
    "cure_in_words",
    "default_profile",
    "draw",
    "files_read",
    "foldable",
    "format_length",
    "in_words",
    "in_words_without_severity",
    "job_controls",
    "job_in",
    "job_template",
    "lay_out",
    "laying_steps",
    "length_in",
    "list_profiles",
    "looks_for",
    "machine_for",
    "parse_length",
    "plan",
    "put",
    "put_new",
    "read_job",
    "read_profile",
    "read_user_file",
    "refused_clause",
    "render",
    "report_json",
    "report_of",
    "report_text",
    "show",
    "step_in_words",
    "style_scene",
    "styles",
    "usual_sheet",
    "with_cure",
    "with_cures",
    "with_item",
    "with_value",
    "without_item",
    "work_ahead",
    "write",
    "write_svg",
]

if TYPE_CHECKING:
    from cutlayers.box import Box
    from cutlayers.construction.card import Card
    from cutlayers.construction.catalogue import job_template
    from cutlayers.construction.style import Style
    from cutlayers.construction.styles import styles
    from cutlayers.curing import Source, with_cure, with_cures
    from cutlayers.explaining.controls import Control, Controls, job_controls
    from cutlayers.guide.assembly_words import step_in_words
    from cutlayers.job.building import build
    from cutlayers.job.order import Job, Order, SheetRules
    from cutlayers.job.reading import job_in, read_job
    from cutlayers.job.stock import Stock, usual_sheet
    from cutlayers.making.ahead import Ahead, work_ahead
    from cutlayers.making.inputs import files_read, machine_for
    from cutlayers.making.make import (
        check,
        draw,
        lay_out,
        laying_steps,
        plan,
        render,
        report_of,
        show,
        write,
    )
    from cutlayers.making.stages import Drawn, Layout, Planned, Shown
    from cutlayers.pictures.foldable import Foldable, foldable
    from cutlayers.pictures.gallery import style_scene
    from cutlayers.pictures.orders import looks_for
    from cutlayers.pictures.svg import write_svg
    from cutlayers.profile.default import default_profile
    from cutlayers.profile.machine import Machine
    from cutlayers.profile.reading import read_profile
    from cutlayers.profile.search import list_profiles
    from cutlayers.reading.editing import EditRefused, length_in, with_value
    from cutlayers.reading.items import with_item, without_item
    from cutlayers.reading.user_files import read_user_file
    from cutlayers.report.report import Report, report_json, report_text
    from cutlayers.telling.budget import Budget
    from cutlayers.telling.errors import Cancelled, CutlayersError, OutputError
    from cutlayers.telling.findings import Allowed, Cure, Edit, Finding, Severity, Subject
    from cutlayers.telling.lengths import format_length, parse_length
    from cutlayers.telling.quantities import Quantity
    from cutlayers.telling.refusing import refused_clause
    from cutlayers.telling.words import cure_in_words, in_words, in_words_without_severity
    from cutlayers.writing.single import put, put_new
else:
    # fmt: off
    _HOMES = {
        "box": "Box",
        "construction.card": "Card",
        "construction.catalogue": "job_template",
        "construction.style": "Style",
        "construction.styles": "styles",
        "curing": "Source with_cure with_cures",
        "explaining.controls": "Control Controls job_controls",
        "guide.assembly_words": "step_in_words",
        "job.building": "build",
        "job.order": "Job Order SheetRules",
        "job.reading": "job_in read_job",
        "job.stock": "Stock usual_sheet",
        "making.ahead": "Ahead work_ahead",
        "making.inputs": "files_read machine_for",
        "making.make": "check draw lay_out laying_steps plan render report_of show write",
        "making.stages": "Drawn Layout Planned Shown",
        "pictures.foldable": "Foldable foldable",
        "pictures.gallery": "style_scene",
        "pictures.orders": "looks_for",
        "pictures.svg": "write_svg",
        "profile.default": "default_profile",
        "profile.machine": "Machine",
        "profile.reading": "read_profile",
        "profile.search": "list_profiles",
        "reading.editing": "EditRefused length_in with_value",
        "reading.items": "with_item without_item",
        "reading.user_files": "read_user_file",
        "report.report": "Report report_json report_text",
        "telling.budget": "Budget",
        "telling.errors": "Cancelled CutlayersError OutputError",
        "telling.findings": "Allowed Cure Edit Finding Severity Subject",
        "telling.lengths": "format_length parse_length",
        "telling.quantities": "Quantity",
        "telling.refusing": "refused_clause",
        "telling.words": "cure_in_words in_words in_words_without_severity",
        "writing.single": "put put_new",
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

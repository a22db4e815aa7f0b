"""cutlayers: from a short job file to cut, score, perforate and draw layers for paper boxes.

    read_job, read_profile   the two files, as values
    styles, build            what can be made, and one box of it without any file
    check                    what is wrong with a job, and worth knowing of it
    lay_out, plan, draw      sheets, lines in working order, drawings and pictures as values
    moves_of                 where each tool is at every moment of the work on a side
    render, write            the contents of the files; the files in a folder
    show, work_ahead         boxes as they are folded; files begun while other work goes on
    guide_page, gallery      the page to follow, by hand too; pages of the styles
    align_sheet              a printed sheet's cut files where its register marks really are
    largest_on_sheet         the box that a sheet gives; `too_large` and `cut_in_parts` where none
    describe, job_text       what a style takes; a job file of one box

From `lay_out` to `write` each takes what the one before gave; whoever only asks whether a job works
stops at `check` or `lay_out`. Bare lengths are mm, in and out. Whatever a user can put right is
raised as a CutlayersError with a message in one line; `in_words` makes such a line of a finding.

Further doors, packages that say in their `__all__` what is there for users:

    cutlayers.bringing       drawings from outside, and the nets in them
    cutlayers.profile        machine profiles: found, made, changed
    cutlayers.fitting        things to be packed, and boxes for them
    cutlayers.curing         edits of a job that cure a finding
    cutlayers.kits           a set of boxes for each row of a table
    cutlayers.trials         trial cuts and what is read off them
    cutlayers.box            a box: its nets, and how it closes as it is put together
    cutlayers.solids         folded boxes for other programs
    cutlayers.explaining     pages of findings, tables and keys of both files
    cutlayers.reading        values as people write them in these files

Importing the package is light: what a name needs is loaded when the name is first used.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

__version__ = "0.1.0"

__all__ = [
    "RULERS",
    "Ahead",
    "AlignedSheet",
    "Allowed",
    "AsDrawn",
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
    "Move",
    "OpenKit",
    "Order",
    "OutputError",
    "Planned",
    "Quantity",
    "Report",
    "Resized",
    "Rows",
    "Ruler",
    "Severity",
    "SheetRules",
    "Shown",
    "Source",
    "Stock",
    "Style",
    "StyleDescription",
    "Subject",
    "__version__",
    "align_sheet",
    "as_drawn",
    "box_data",
    "build",
    "card_in_words",
    "check",
    "cure_in_words",
    "cut_in_parts",
    "default_profile",
    "describe",
    "draw",
    "draw_sides",
    "drawing_job",
    "drawing_scales",
    "drawing_scene",
    "drawn_sizes",
    "files_read",
    "foldable",
    "format_length",
    "gallery",
    "guide_page",
    "in_words",
    "in_words_without_severity",
    "job_controls",
    "job_files",
    "job_in",
    "job_of_drawing",
    "job_schema",
    "job_template",
    "job_text",
    "kit_rows",
    "largest_on_sheet",
    "lay_out",
    "laying_steps",
    "length_in",
    "lengths_of",
    "list_profiles",
    "looks_for",
    "machine_for",
    "marks_in_scan",
    "moves_of",
    "names_kit",
    "on_one_sheet",
    "one_script",
    "open_kit",
    "parse_length",
    "places_of",
    "plan",
    "put",
    "put_all_new",
    "put_kept",
    "put_new",
    "read_caliper",
    "read_job",
    "read_profile",
    "read_sheet",
    "read_user_file",
    "refused_clause",
    "render",
    "render_aligned",
    "report_json",
    "report_of",
    "report_text",
    "resized",
    "row_job",
    "show",
    "step_in_words",
    "style_scene",
    "styles",
    "too_large",
    "usual_sheet",
    "viewer_file",
    "with_angles_found",
    "with_block",
    "with_copy",
    "with_cure",
    "with_cures",
    "with_item",
    "with_line",
    "with_value",
    "without_item",
    "work_ahead",
    "write",
    "write_kit",
    "write_png",
    "write_svg",
]

if TYPE_CHECKING:
    from cutlayers.box import Box
    from cutlayers.construction.card import Card
    from cutlayers.construction.catalogue import (
        StyleDescription,
        card_in_words,
        describe,
        job_template,
    )
    from cutlayers.construction.style import Style
    from cutlayers.construction.styles import styles
    from cutlayers.curing import Source, places_of, with_cure, with_cures
    from cutlayers.explaining.controls import Control, Controls, job_controls
    from cutlayers.guide.assembly_words import step_in_words
    from cutlayers.guide.ruler import RULERS, Ruler
    from cutlayers.guide.sheet import guide_page
    from cutlayers.job.angle_edits import with_angles_found
    from cutlayers.job.bringing_in import drawing_scales, job_of_drawing
    from cutlayers.job.building import build
    from cutlayers.job.caliper import read_caliper
    from cutlayers.job.drawing_template import drawing_job
    from cutlayers.job.drawings import drawn_sizes
    from cutlayers.job.inputs import names_kit
    from cutlayers.job.line_edits import with_line
    from cutlayers.job.order import Job, Order, SheetRules
    from cutlayers.job.reading import job_in, job_schema, read_job
    from cutlayers.job.resizing import Resized, lengths_of, resized
    from cutlayers.job.stock import Stock, read_sheet, usual_sheet
    from cutlayers.job.writing import job_text
    from cutlayers.kits.one_row import kit_rows, row_job
    from cutlayers.kits.opening import OpenKit, open_kit
    from cutlayers.kits.rows import Rows
    from cutlayers.kits.writing import write_kit
    from cutlayers.making.ahead import Ahead, work_ahead
    from cutlayers.making.aligning import AlignedSheet, align_sheet, marks_in_scan, render_aligned
    from cutlayers.making.checking import check
    from cutlayers.making.inputs import files_read, job_files, machine_for
    from cutlayers.making.make import (
        draw,
        draw_sides,
        lay_out,
        laying_steps,
        plan,
        render,
        report_of,
        show,
        write,
    )
    from cutlayers.making.sides import moves_of
    from cutlayers.making.stages import Drawn, Layout, Planned, Shown
    from cutlayers.pictures.as_drawn import AsDrawn, as_drawn
    from cutlayers.pictures.drawings import drawing_scene
    from cutlayers.pictures.foldable import Foldable, foldable
    from cutlayers.pictures.gallery import gallery, style_scene
    from cutlayers.pictures.orders import looks_for
    from cutlayers.pictures.png import write_png
    from cutlayers.pictures.svg import write_svg
    from cutlayers.profile.default import default_profile
    from cutlayers.profile.machine import Machine
    from cutlayers.profile.reading import read_profile
    from cutlayers.profile.search import list_profiles
    from cutlayers.reading.editing import EditRefused, length_in, with_value
    from cutlayers.reading.items import with_block, with_copy, with_item, without_item
    from cutlayers.reading.user_files import read_user_file
    from cutlayers.report.report import Report, report_json, report_text
    from cutlayers.sheets.largest import largest_on_sheet, on_one_sheet
    from cutlayers.sheets.out_of_sheets import cut_in_parts, too_large
    from cutlayers.telling.budget import Budget
    from cutlayers.telling.errors import Cancelled, CutlayersError, OutputError
    from cutlayers.telling.findings import Allowed, Cure, Edit, Finding, Severity, Subject
    from cutlayers.telling.lengths import format_length, parse_length
    from cutlayers.telling.quantities import Quantity
    from cutlayers.telling.refusing import refused_clause
    from cutlayers.telling.words import cure_in_words, in_words, in_words_without_severity
    from cutlayers.toolpaths.moves import Move
    from cutlayers.viewer.data import box_data
    from cutlayers.viewer.files import one_script, viewer_file
    from cutlayers.writing.single import put, put_all_new, put_kept, put_new
else:
    from cutlayers.later import loaded_later

    __getattr__, __dir__ = loaded_later(
        __name__,
        {
            "box": "Box",
            "construction.card": "Card",
            "construction.catalogue": "StyleDescription card_in_words describe job_template",
            "construction.style": "Style",
            "construction.styles": "styles",
            "curing": "Source places_of with_cure with_cures",
            "explaining.controls": "Control Controls job_controls",
            "guide.assembly_words": "step_in_words",
            "guide.ruler": "RULERS Ruler",
            "guide.sheet": "guide_page",
            "job.angle_edits": "with_angles_found",
            "job.bringing_in": "drawing_scales job_of_drawing",
            "job.building": "build",
            "job.caliper": "read_caliper",
            "job.drawing_template": "drawing_job",
            "job.drawings": "drawn_sizes",
            "job.inputs": "names_kit",
            "job.line_edits": "with_line",
            "job.order": "Job Order SheetRules",
            "job.reading": "job_in job_schema read_job",
            "job.resizing": "Resized lengths_of resized",
            "job.stock": "Stock read_sheet usual_sheet",
            "job.writing": "job_text",
            "kits.one_row": "kit_rows row_job",
            "kits.opening": "OpenKit open_kit",
            "kits.rows": "Rows",
            "kits.writing": "write_kit",
            "making.ahead": "Ahead work_ahead",
            "making.aligning": "AlignedSheet align_sheet marks_in_scan render_aligned",
            "making.checking": "check",
            "making.inputs": "files_read job_files machine_for",
            "making.make": "draw draw_sides lay_out laying_steps plan render report_of show write",
            "making.sides": "moves_of",
            "making.stages": "Drawn Layout Planned Shown",
            "pictures.as_drawn": "AsDrawn as_drawn",
            "pictures.drawings": "drawing_scene",
            "pictures.foldable": "Foldable foldable",
            "pictures.gallery": "gallery style_scene",
            "pictures.orders": "looks_for",
            "pictures.png": "write_png",
            "pictures.svg": "write_svg",
            "profile.default": "default_profile",
            "profile.machine": "Machine",
            "profile.reading": "read_profile",
            "profile.search": "list_profiles",
            "reading.editing": "EditRefused length_in with_value",
            "reading.items": "with_block with_copy with_item without_item",
            "reading.user_files": "read_user_file",
            "report.report": "Report report_json report_text",
            "sheets.largest": "largest_on_sheet on_one_sheet",
            "sheets.out_of_sheets": "cut_in_parts too_large",
            "telling.budget": "Budget",
            "telling.errors": "Cancelled CutlayersError OutputError",
            "telling.findings": "Allowed Cure Edit Finding Severity Subject",
            "telling.lengths": "format_length parse_length",
            "telling.quantities": "Quantity",
            "telling.refusing": "refused_clause",
            "telling.words": "cure_in_words in_words in_words_without_severity",
            "toolpaths.moves": "Move",
            "viewer.data": "box_data",
            "viewer.files": "one_script viewer_file",
            "writing.single": "put put_all_new put_kept put_new",
        },
    )

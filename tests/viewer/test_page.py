"""The page of a box that is one file: what stands in it, before any browser reads it."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path

from lxml import html

from cutlayers import Report, job_in, job_template, read_profile, styles, usual_sheet
from cutlayers.guide.build import build_guide
from cutlayers.guide.ruler import usual_ruler
from cutlayers.job.order import Job
from cutlayers.pictures.foldable import foldable
from cutlayers.pictures.orders import looks_for
from cutlayers.telling.errors import JobError
from cutlayers.viewer.files import one_script
from cutlayers.viewer.page import box_page

MOST_BYTES = 300_000
"""What a page may weigh, so that it is sent to a phone without a thought."""

MACHINE = read_profile("drag-blade-340")

NAUGHTY = '</script><b title="x">&amp; Salt'
JOB = f"""
title = '{NAUGHTY}'
units = "in"
[stock.kraft]
caliper = "0.3 mm"
sheet = "12x12 in"
[[piece]]
name = '{NAUGHTY}'
style = "tray"
stock = "kraft"
size = {{ length = "2 7/16", width = 2, height = 1, measure = "inside" }}
"""


def page(job: Job) -> bytes:
    nothing = Report(job.title, job.unit, MACHINE.title, "mm", (), (), (), ())
    guide = build_guide(job, usual_ruler(job.unit), machine=MACHINE, report=nothing)
    return box_page(guide, [foldable(each.box, looks_for(job, each)) for each in job.orders])


def job(text: str) -> Job:
    return job_in(text, Path("job.toml"))


def test_a_page_of_any_style_printed_all_over_is_light() -> None:
    """Dots of 8 mm on all walls, or on what the style has instead of walls."""
    heavy = {}
    for style in styles():
        text = job_template(style, "mm", usual_sheet("mm"), "drag-blade-340").rstrip()
        dots = 'pattern = "dots"\nink = "#0072B2"\nground = "#FFFFFF"\nrepeat = 8'
        try:
            printed = job(f'{text}\n\n[[piece.art]]\nroles = "wall"\n{dots}\n')
        except JobError:
            printed = job(f'{text}\n\n[[piece.art]]\nroles = "all"\n{dots}\n')
        bytes_ = len(page(printed))
        if bytes_ > MOST_BYTES:
            heavy[style.name] = bytes_

    assert heavy == {}


def test_whatever_a_user_writes_stays_text() -> None:
    """In the head, among the words, and in the data for the script."""
    written = page(job(JOB)).decode()
    read = html.document_fromstring(written)

    assert read.findtext(".//title") == NAUGHTY
    assert read.findtext(".//h1") == NAUGHTY
    assert len(read.findall(".//script")) == 2
    assert read.findall(".//b") == []
    (boxes,) = (
        each.text_content() for each in read.findall(".//script") if each.get("id") == "boxes"
    )
    assert "<" not in boxes
    (told,) = json.loads(boxes)
    assert told["panels"][0]["hung"] is None


def test_sizes_are_in_the_unit_of_the_job() -> None:
    """2 7/16 in is how the job says it."""
    read = html.document_fromstring(page(job(JOB)).decode())
    (sizes,) = read.find_class("sizes")

    assert sizes.text_content() == "length 2 7/16 in, width 2 in, height 1 in, measured inside"


def test_the_policy_lets_in_its_own_script_and_style_alone() -> None:
    """Content Security Policy Level 3, 2.3.1: a sum is base64 of SHA-256 over the text between the
    tags. Nothing else may be fetched: `default-src 'none'`."""
    written = page(job(JOB)).decode()
    read = html.document_fromstring(written)
    (policy,) = read.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    allowed = dict(part.strip().split(" ", 1) for part in policy.split(";"))

    def sum_of(tag: str) -> str:
        (text,) = re.findall(rf"<{tag}>(.*?)</(?:script|style)>", written, re.DOTALL)
        return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"

    assert allowed.pop("script-src") == sum_of('script type="module"')
    assert allowed.pop("style-src") == sum_of("style")
    assert allowed.pop("img-src") == "data:"
    assert set(allowed.values()) == {"'none'"}
    assert "http" not in re.sub(r"http-equiv|http://www\.w3\.org/2000/svg", "", written)


def test_modules_become_one_script() -> None:
    """Nothing is left that only a file of its own may have."""
    script = one_script("copy")

    assert not re.search(r"^\s*(import|export)\b", script, re.MULTILINE)
    assert script.count("const its_box =") == 1


def test_the_same_job_gives_the_same_page() -> None:
    assert page(job(JOB)) == page(job(JOB))

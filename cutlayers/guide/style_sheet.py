"""How the page looks, on a screen and on paper."""

from __future__ import annotations

from typing import Literal

PAPER_MM = {"A4": "210mm 297mm", "letter": "215.9mm 279.4mm"}
"""Sources: ISO 216:2007; ASME Y14.1 size A."""


def style_sheet(paper: Literal["A4", "letter"]) -> str:
    """The page's CSS for one size of paper."""
    return CSS.replace("PAPER", PAPER_MM[paper])


CSS = """
@page { size: PAPER; margin: 14mm 15mm 15mm 17mm; }
:root { color-scheme: light; }
* { box-sizing: border-box; }
html { -webkit-text-size-adjust: 100%; }
body {
  margin: 0 auto; padding: 12mm 8mm 20mm; max-width: 196mm;
  font: 10.5pt/1.45 system-ui, -apple-system, "Segoe UI", "Liberation Sans", Arial, sans-serif;
  color: #1a1a1a; background: #fff; font-variant-numeric: tabular-nums lining-nums;
}
h1, h2, h3, h4 {
  line-height: 1.2; text-wrap: balance; break-after: avoid; break-inside: avoid;
}
p, dd, dt { break-inside: avoid; }
.whole { break-inside: avoid; }
h1 { font-size: 25pt; font-weight: 750; letter-spacing: -0.015em; margin: 0 0 1.5mm; }
h2 {
  font-size: 15.5pt; margin: 11mm 0 3mm; padding-top: 2.2mm; border-top: 0.7mm solid #1a1a1a;
}
h3 { font-size: 12pt; margin: 6mm 0 1.6mm; }
h4 { font-size: 10.5pt; margin: 4.5mm 0 1mm; }
p { margin: 0 0 2mm; max-width: 150mm; }
ul, ol { margin: 0 0 2mm; padding-left: 6mm; max-width: 150mm; }
li { margin: 0.6mm 0; }
.kicker { color: #4f4f4f; margin: 0; }
header { display: flex; flex-wrap: wrap; gap: 6mm; align-items: flex-start;
  justify-content: space-between; border-bottom: 0.25mm solid #b9b4a8; padding-bottom: 5mm; }
header > div { flex: 1 1 90mm; }
.boxes { list-style: none; padding: 0; margin: 4mm 0 0; }
.boxes li { margin: 0 0 1.6mm; }
.boxes b { font-weight: 650; }
caption { text-align: left; font-weight: 600; font-size: 9.5pt; padding: 1mm 0; }
.keep { break-after: avoid; }
.note { color: #4f4f4f; font-size: 9.5pt; }
.told { break-inside: avoid; break-after: avoid; border-left: 0.9mm solid #1a1a1a;
  padding: 1mm 0 1mm 3.5mm; margin: 3mm 0; }
.told p, .told ul { margin: 0; }
dl.needs { display: grid; grid-template-columns: 27mm 1fr; gap: 1.6mm 5mm; margin: 2mm 0 0; }
dl.needs dt { font-weight: 650; }
dl.needs dd { margin: 0; max-width: 140mm; }
table { border-collapse: collapse; margin: 1mm 0 3mm; font-size: 10pt; }
th, td { text-align: left; vertical-align: top; padding: 1mm 5mm 1mm 0; }
th { font-weight: 600; font-size: 8.8pt; color: #4f4f4f; border-bottom: 0.3mm solid #1a1a1a; }
td { border-bottom: 0.15mm solid #d3cfc6; }
td.number, th.number { text-align: right; white-space: nowrap; padding-right: 6mm; }
td.spans { white-space: nowrap; }
tr { break-inside: avoid; }
.tables { display: flex; flex-wrap: wrap; gap: 0 10mm; align-items: flex-start; }
.points { columns: 3 44mm; column-gap: 7mm; margin: 1mm 0 3mm; padding: 0; list-style: none;
  max-width: none; font-size: 10pt; }
.points li { break-inside: avoid; border-bottom: 0.15mm solid #d3cfc6; margin: 0;
  padding: 0.7mm 0; display: flex; gap: 3mm; }
.points b { flex: 0 0 9mm; color: #0060a0; }
.points .head { font-size: 8.8pt; }
.points .head b { color: inherit; }
.points span { flex: 1; text-align: right; white-space: nowrap; }
figure { margin: 3mm 0 4mm; break-inside: avoid; }
figure svg { display: block; max-width: 100%; height: auto; }
figcaption { font-size: 9pt; color: #4f4f4f; margin-top: 1.5mm; }
svg text { font-family: inherit; }
.legend { display: flex; flex-wrap: wrap; gap: 1mm 6mm; margin: 2mm 0 0; padding: 0;
  list-style: none; max-width: none; font-size: 9pt; }
.legend li { display: flex; gap: 2mm; align-items: center; margin: 0; }
.legend svg.sample { width: 14mm; height: 3mm; }
.legend .waste { width: 6mm; height: 3.4mm; border: 0.2mm solid #5a5a5a;
  background: repeating-linear-gradient(135deg, #9a9a9a 0 0.3mm, #fff 0.3mm 1.2mm); }
.picture { flex: 0 1 60mm; margin: 0; }
.picture svg { max-height: 62mm; margin-left: auto; }
.views svg { width: 100%; max-height: 62mm; }
ol.steps { counter-reset: step; list-style: none; padding: 0; margin: 2mm 0; max-width: 160mm; }
ol.steps > li { counter-increment: step; position: relative; padding: 0 0 2.2mm 11mm;
  min-height: 9mm; break-inside: avoid; }
ol.steps > li::before { content: counter(step); position: absolute; left: 0; top: 0;
  width: 7mm; height: 7mm; border: 0.35mm solid #1a1a1a; border-radius: 50%;
  text-align: center; font-weight: 650; line-height: 6.2mm; }
ol.steps > li > h4 { margin: 0 0 0.5mm; }
ol.steps > li > *:first-child { padding-top: 0.9mm; }
ol.steps > li.step { padding-top: 0.9mm; }
ol.steps > li > p { margin: 0 0 1.2mm; }
ol.hand > li.cut { break-inside: auto; }
.scroll { break-inside: avoid; }
em { font-style: italic; }
dd ul { padding-left: 4.5mm; margin: 0; }
.findings { padding: 0; list-style: none; }
.findings li { margin: 0 0 1.5mm; }
.findings b { text-transform: uppercase; font-size: 8.5pt; letter-spacing: 0.04em; }
@media screen and (max-width: 700px) {
  body { padding: 5mm 4mm 12mm; }
  h1 { font-size: 21pt; }
  .scroll { overflow-x: auto; }
}
@media print {
  body { padding: 0; max-width: none; }
  h2 { margin-top: 8mm; }
  section.blank + section.blank { break-before: page; }
  a { color: inherit; text-decoration: none; }
}
"""

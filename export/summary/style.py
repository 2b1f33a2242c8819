"""The look of the summary page: dark text on white, thin lines, nothing that needs colour."""

from __future__ import annotations

STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 72rem; padding: 1.5rem; background: #fff; color: #1a1a1a;
  font: 15px/1.45 "Helvetica Neue", Helvetica, Arial, sans-serif; }
h1 { font-size: 1.7rem; margin: 0 0 .2rem; }
h2 { font-size: 1.2rem; margin: 2.2rem 0 .6rem; padding-bottom: .25rem;
  border-bottom: 1.5px solid #1a1a1a; }
h3 { font-size: 1rem; margin: 1.4rem 0 .4rem; }
p { margin: .4rem 0; max-width: 48rem; }
.papers { columns: 3; padding-left: 1.2rem; font-size: .9rem; }
nav { margin: .6rem 0 0; font-size: .9rem; }
nav a { color: inherit; margin-right: 1rem; }
.figures { display: flex; flex-wrap: wrap; gap: .5rem 2.2rem; margin: 1.2rem 0 0; padding: 0; }
.figures div { display: flex; flex-direction: column-reverse; }
.figures dt { font-size: .8rem; color: #444; }
.figures dd { margin: 0; font-size: 1.35rem; font-variant-numeric: tabular-nums; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: .5rem 0 1rem; font-size: .87rem; }
th { text-align: left; vertical-align: bottom; border-bottom: 1px solid #1a1a1a;
  padding: .25rem .8rem .25rem 0; font-weight: 600; }
td { vertical-align: top; border-bottom: 1px solid #d9d9d9; padding: .25rem .8rem .25rem 0; }
th.number, td.number { text-align: right; font-variant-numeric: tabular-nums;
  white-space: nowrap; }
th:last-child, td:last-child { padding-right: 0; }
td:first-child { white-space: nowrap; }
figure { margin: 0 0 1rem; }
figure svg { display: block; width: 100%; height: auto; max-height: 34rem; }
figcaption { font-size: .85rem; color: #444; margin-top: .2rem; }
.set { display: grid; grid-template-columns: 10rem 1fr 1fr; gap: .5rem 1.5rem;
  align-items: start; }
.set .pictures { grid-column: 2 / 4; display: grid; gap: 1rem;
  grid-template-columns: repeat(auto-fit, minmax(20rem, 1fr)); }
.maps { display: grid; gap: 1rem 1.5rem;
  grid-template-columns: repeat(auto-fill, minmax(30rem, 1fr)); }
.plans { display: flex; gap: 2rem; }
.plan { width: 10rem; }
@media print {
  @page { margin: 12mm; }
  @page wide { size: landscape; margin: 12mm; }
  #parts, #maps { page: wide; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  nav { display: none; }
  table { font-size: 8.2pt; }
  thead { display: table-header-group; }
  tr, figure, .set { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
  .wide { overflow: visible; }
  .maps { grid-template-columns: 1fr 1fr; }
  .set .pictures { grid-template-columns: 1fr 1fr; }
  figure svg { max-height: 95mm; }
}
"""

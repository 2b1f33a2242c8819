"""The look of the summary page: ink on paper by day, paper on ink by night, and on paper black."""

from __future__ import annotations

STYLE = """
:root { color-scheme: light dark; --ground: #fff; --ink: #1a1a1a; --quiet: #4a4a4a; --line: #d9d9d9;
  --pale: #f3f3f1; --surface: 250,250,247; --edge: 26,26,26; --chosen: 246,196,83; }
@media (prefers-color-scheme: dark) { @media screen { :root { --ground: #16181a; --ink: #e8e8e6;
  --quiet: #b4b4b0; --line: #3c3f42; --pale: #212426; --surface: 214,214,208;
  --edge: 20,22,24; } } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 76rem; padding: 1.5rem; background: var(--ground);
  color: var(--ink); font: 15px/1.45 "Helvetica Neue", Helvetica, Arial, sans-serif; }
a { color: inherit; }
:focus-visible { outline: 3px solid #c77700; outline-offset: 2px; }
h1 { font-size: 1.7rem; margin: 0 0 .6rem; overflow-wrap: anywhere; }
h2 { font-size: 1.2rem; margin: 2.2rem 0 .6rem; padding-bottom: .25rem;
  border-bottom: 1.5px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.4rem 0 .4rem; overflow-wrap: anywhere; }
p { margin: .4rem 0; max-width: 48rem; }
.first { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 1rem 2.5rem;
  align-items: start; }
.first .wide { margin-top: .8rem; }
.verdict { border: 1.5px solid var(--ink); border-left-width: .7rem; padding: .5rem .9rem; }
.verdict strong { font-size: 1.25rem; }
.verdict.yes { border-color: #2e7d46; }
.verdict.read { border-color: #b77900; }
.verdict.no { border-color: #b3261e; }
.papers { columns: 18rem; padding-left: 1.2rem; font-size: .9rem; margin: .3rem 0; }
.papers li { overflow-wrap: anywhere; }
nav { margin: 1rem 0 0; }
nav a { display: inline-block; padding: .25rem 0; margin-right: 1rem; }
.search { display: flex; flex-wrap: wrap; gap: .3rem .8rem; align-items: center;
  margin: .8rem 0 0; }
.search[hidden] { display: none; }
.search input { font: inherit; color: inherit; background: var(--ground); padding: .4rem .6rem;
  border: 1.5px solid var(--ink); width: 18rem; max-width: 100%; }
.search output a, .search output span { margin-right: .8rem; }
button { font: inherit; font-size: .85rem; color: inherit; background: var(--pale);
  border: 1px solid var(--quiet); padding: .25rem .6rem; cursor: pointer; }
.tools { display: flex; flex-wrap: wrap; gap: .3rem; margin: 0 0 .4rem; }
.told { min-height: 1.45em; font-size: .9rem; }
details { margin: .6rem 0; }
summary { cursor: pointer; font-weight: 600; padding: .3rem 0; }
.figures { display: flex; flex-wrap: wrap; gap: .5rem 2.2rem; margin: 1rem 0 0; padding: 0; }
.figures div { display: flex; flex-direction: column-reverse; justify-content: flex-end; }
.figures dt { font-size: .8rem; color: var(--quiet); }
.figures dd { margin: 0; font-size: 1.35rem; font-variant-numeric: tabular-nums; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; margin: .5rem 0 1rem; font-size: .87rem; }
th { text-align: left; vertical-align: bottom; border-bottom: 1px solid var(--ink);
  padding: .25rem .8rem .25rem 0; font-weight: 600; }
td { vertical-align: top; border-bottom: 1px solid var(--line); padding: .25rem .8rem .25rem 0; }
th.number, td.number { text-align: right; font-variant-numeric: tabular-nums;
  white-space: nowrap; }
th:last-child, td:last-child { padding-right: 0; }
td:first-child { white-space: nowrap; }
.first td:first-child { white-space: normal; }
tr:focus { background: var(--pale); }
figure { margin: 0 0 1rem; min-width: 0; }
figure svg { display: block; width: 100%; height: auto; max-height: 34rem; background: #fff; }
figcaption { font-size: .85rem; color: var(--quiet); margin-top: .2rem; overflow-wrap: anywhere; }
.look svg { max-height: 24rem; }
.set { display: grid; grid-template-columns: 10rem minmax(0, 1fr); gap: .5rem 1.5rem;
  align-items: start; }
.set .pictures { display: grid; gap: 1rem;
  grid-template-columns: repeat(auto-fit, minmax(min(20rem, 100%), 1fr)); }
.turn { max-width: 52rem; }
.turn canvas { display: block; width: 100%; aspect-ratio: 8 / 5; cursor: grab;
  touch-action: pan-y; border: 1px solid var(--line); }
.maps { display: grid; gap: 1rem 1.5rem;
  grid-template-columns: repeat(auto-fill, minmax(min(30rem, 100%), 1fr)); }
.maps svg { touch-action: pan-y; border: 1px solid var(--line); }
.maps svg.zoomed { touch-action: none; cursor: grab; }
.maps svg > :not([data-part]) { pointer-events: none; }
.maps [data-part] { cursor: pointer; }
.maps .chosen { fill: #f6c453; }
.chart { display: grid; gap: .2rem 2rem;
  grid-template-columns: repeat(auto-fit, minmax(min(22rem, 100%), 1fr)); }
.chart p { margin: 0 0 .4rem; font-variant-numeric: tabular-nums; }
.share { display: block; width: 100%; height: 1.1rem; overflow: visible; }
.share .all { fill: none; stroke: var(--ink); stroke-width: 1; vector-effect: non-scaling-stroke; }
.share .part { fill: var(--ink); }
.share.cost .all { stroke: none; }
.share.cost .part { fill: var(--quiet); }
.plans { display: flex; flex-wrap: wrap; gap: 2rem; }
.plan { width: 10rem; }
@media screen {
  .not-sought { display: none; }
  .maps .sought:not(.chosen) { fill: #cfe3f7; }
}
@media screen and (max-width: 44rem) {
  body { padding: 1rem; }
  .first, .set { grid-template-columns: minmax(0, 1fr); }
  button { padding: .5rem .8rem; }
  #findings table, #strength table, #parts table { min-width: 54rem; }
  #sheets table, #bars table { min-width: 44rem; }
}
@media print {
  @page { margin: 12mm; }
  @page wide { size: landscape; margin: 12mm; }
  #parts, #maps { page: wide; }
  body { max-width: none; padding: 0; font-size: 10pt; }
  nav, .search, .tools, .turn, .told { display: none !important; }
  .maps .chosen { fill: #ededed; }
  .maps svg { border: 0; }
  table { font-size: 8.2pt; }
  thead { display: table-header-group; }
  tr, figure, .set, .chart > div { break-inside: avoid; }
  h2, h3 { break-after: avoid; }
  .wide { overflow: visible; }
  .maps { grid-template-columns: 1fr 1fr; }
  .set .pictures { grid-template-columns: 1fr 1fr; }
  figure svg { max-height: 95mm; }
}
"""

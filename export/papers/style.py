"""How the papers look, in the typesetter's language. It is all calls of these that follow it."""

from __future__ import annotations

from export.papers.page_format import PageFormat

STYLE = """
#set text(font: "Libertinus Serif", size: 11pt, lang: "en", hyphenate: false)
#set par(justify: false, leading: 0.5em)
#set heading(numbering: none)
#show heading: set block(above: 0.9em, below: 0.5em)
#set table(stroke: 0.4pt + black, inset: (x: 4pt, y: 3pt), align: left + horizon)

#let head(title, below, plan: none, code: none) = grid(
  columns: (1fr, auto, auto), column-gutter: 6mm,
  {
    text(size: 15pt, weight: "bold", title)
    if below != "" [ #linebreak() #text(size: 11pt, below)]
  },
  if code != none { image(code, width: 34mm) },
  if plan != none { image(plan, width: 30mm) },
)

#let rows(heads, columns, flush, cells, to-write: false, small: false) = {
  set text(size: 8.5pt) if small
  set table(inset: (x: 3pt, y: 2.6pt)) if small
  set table.cell(breakable: false) if small
  set table(inset: (x: 4pt, y: 4.5pt)) if to-write
  table(
    columns: columns,
    align: range(columns.len()).map(at => horizon + if at in flush { right } else { left }),
    table.header(..heads.map(h => table.cell(fill: luma(225), strong(h)))),
    ..cells.flatten(),
  )
}

#let named(title, body, whole: false, with-next: false) = block(
  breakable: not whole, sticky: with-next, above: 0.9em, below: 0.6em,
)[
  #block(sticky: true, below: 0.45em, strong(title))
  #body
]

#let lines(title, across, items) = {
  // A list sets its marks and items in a grid, which costs more than all their letters.
  let ticked(item) = block(above: 0.5em, below: 0.5em, par(
    hanging-indent: 1.25em, box(width: 1.25em, sym.ballot) + item,
  ))
  let column(items) = for item in items { ticked(item) }
  let deep = calc.ceil(items.len() / across)
  named(title, if across == 1 { column(items) } else {
    grid(columns: (1fr,) * across, column-gutter: 5mm, ..items.chunks(deep).map(column))
  })
}

#let overview(title, items) = {
  let half = calc.ceil(items.len() / 2)
  named(title, grid(
    columns: (1fr, 1fr), column-gutter: 6mm,
    enum(..items.slice(0, half)), enum(start: half + 1, ..items.slice(half)),
  ))
}

#let cautions(items) = block(
  width: 100%, stroke: 1.2pt + black, inset: 6pt, above: 0.9em, breakable: false,
)[
  #strong("Caution")
  #for item in items { block(above: 0.5em, item) }
]

#let view(file, caption, width) = block(above: 0.4em, below: 0.4em, align(center)[
  #image(file, width: width)
  #if caption != "" { text(style: "italic", caption) }
])
"""


def page_setup(format_: PageFormat, job: str, revision: str) -> str:
    """Return the settings of the pages; the foot names job and revision and counts the pages."""
    return f"""#set document(title: {job}, date: none)
#set page(
  width: {format_.width_mm:g}mm, height: {format_.height_mm:g}mm,
  margin: (
    x: {format_.beside_mm:g}mm, top: {format_.above_mm:g}mm, bottom: {format_.below_mm:g}mm,
  ),
  footer: text(size: 8pt, {{
    {job} + ", revision {revision}"
    h(1fr)
    context [page #counter(page).get().first() of #counter(page).final().first()]
  }}),
)
"""

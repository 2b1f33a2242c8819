"""How the papers look, in the typesetter's language. It is all calls of these that follow it."""

from __future__ import annotations

STYLE = """
#set text(font: "Libertinus Serif", size: 11pt, lang: "en", hyphenate: false)
#set par(justify: false, leading: 0.5em)
#set heading(numbering: none)
#show heading: set block(above: 0.9em, below: 0.5em)
#set table(stroke: 0.4pt + black, inset: (x: 4pt, y: 3pt), align: left + horizon)
#set list(marker: sym.ballot, indent: 0pt, body-indent: 5pt)

#let head(title, below, plan, code: none) = grid(
  columns: (1fr, auto, 30mm), column-gutter: 6mm,
  [#text(size: 15pt, weight: "bold", title) #linebreak() #text(size: 11pt, below)],
  if code != none { image(code, width: 34mm) },
  align(right, image(plan, width: 30mm)),
)

#let rows(heads, columns, cells) = if cells.len() > 0 {
  table(
    columns: columns,
    table.header(..heads.map(h => table.cell(fill: luma(225), strong(h)))),
    ..cells.flatten(),
  )
}

#let named(title, body) = block(breakable: true, above: 0.8em)[
  #block(sticky: true, below: 0.45em, strong(title))
  #body
]

#let lines(title, items) = if items.len() > 0 { named(title, list(..items)) }

#let overview(title, items) = {
  let half = calc.ceil(items.len() / 2)
  named(title, grid(
    columns: (1fr, 1fr), column-gutter: 6mm,
    enum(..items.slice(0, half)), enum(start: half + 1, ..items.slice(half)),
  ))
}

#let cautions(items) = if items.len() > 0 {
  block(width: 100%, stroke: 1.2pt + black, inset: 6pt, above: 0.9em, breakable: false)[
    #strong("Caution")
    #for item in items { block(above: 0.5em, item) }
  ]
}

#let wall(title, wanted, file) = block(breakable: false, sticky: true, above: 0.9em, below: 0.6em)[
  #block(below: 0.45em, strong(title))
  #wanted
  #align(center, image(file, width: 170mm))
]

#let picture(file) = align(center, image(file, width: 170mm))

#let view(file, caption, width) = block(above: 0.4em, below: 0.4em, align(center)[
  #image(file, width: width)
  #if caption != "" { text(style: "italic", caption) }
])
"""


def page_setup(paper: str, job: str, revision: str) -> str:
    """Return the settings of the pages; the foot names job and revision and counts the pages."""
    return f"""#set document(title: {job}, date: none)
#set page(
  paper: "{paper}",
  margin: (x: 15mm, top: 14mm, bottom: 18mm),
  footer: context grid(
    columns: (1fr, auto), column-gutter: 6mm,
    text(size: 8pt, {job} + ", revision {revision}"),
    text(size: 8pt, "page " + str(counter(page).get().first()) + " of "
      + str(counter(page).final().first())),
  ),
)
"""

"""Pages of cards, such as labels: all that stands on one has its place there, and no page a foot.

Texts get smaller letters where they are too long for their place, and at last end in an ellipsis,
so nothing runs into anything. The widths of their letters tell how small most have to be; the
typesetter measures the others, which costs more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import Enum
from functools import lru_cache
from itertools import chain
from math import fsum

from export.papers.pdf import letter_widths
from export.papers.revision import revision_of
from export.papers.typesetting import Source, quoted

CAPITAL_OF_SIZE = 0.658
"""Height of a capital of the papers' font as a share of its size; a test measures it."""

LEAST_CAPITAL_MM = 1.35
"""Capitals get no smaller than in type of 6 pt: then the end of a text is left out."""

_SURELY = 0.98
"""A text whose letters fill no more of its width fits, however they are set side by side; a test
sets each letter beside each other one."""

_REMEMBERED = 4_096
"""Lines: each is reckoned at several sizes, and comes again on the next card."""


class Look(Enum):
    """How a text stands out; the value is what the macro is told."""

    PLAIN = "plain"
    BOLD = "bold"
    WHITE_ON_BLACK = "black"


@dataclass(frozen=True, slots=True, kw_only=True)
class Words:
    """A line of text in a box of `width_mm` whose height is that of its capitals, which are smaller
    where it would be too long; what hangs below the line stands below the box.

    White on black has a bar round it, which is half a capital larger on all sides.
    """

    text: str
    x_mm: float
    y_mm: float
    width_mm: float
    capital_mm: float
    look: Look = Look.PLAIN


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A picture as SVG that fills a box."""

    svg: str
    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float


Card = tuple[Words | Drawn, ...]
"""What stands on a card; places count from its upper left corner, to the right and down."""

_MACROS = f"""
#set text(
  font: "Libertinus Serif", lang: "en", hyphenate: false,
  top-edge: "cap-height", bottom-edge: "baseline",
)
#set par(leading: 0pt)

#let line(capital, weight, colour, body) = text(
  size: capital / {CAPITAL_OF_SIZE}, weight: weight, fill: colour, body,
)

#let short(width, ..line-of) = line(..line-of)

#let fitting(width, capital, weight, colour, body) = context {{
  let wide(height, words) = measure(line(height, weight, colour, words)).width
  let full = wide(capital, body)
  let height = if full <= width {{ capital }} else {{
    calc.max(capital * (width / full) * 0.99, calc.min(capital, {LEAST_CAPITAL_MM}mm))
  }}
  let shown = body
  if wide(height, shown) > width {{
    let letters = body.clusters()
    let (some, all) = (0, letters.len())
    while all - some > 1 {{
      let half = calc.quo(some + all, 2)
      let longer = wide(height, letters.slice(0, half).join() + "…") > width
      if longer {{ all = half }} else {{ some = half }}
    }}
    shown = letters.slice(0, some).join("", default: "") + "…"
  }}
  box(width: width, height: capital, align(left + bottom, line(height, weight, colour, shown)))
}}

#let words(x, y, width, capital, look, body, fits: false) = place(top + left, dx: x, dy: y, {{
  let fitting = if fits {{ short }} else {{ fitting }}
  if look == "black" {{
    let rim = capital / 2
    place(top + left, dx: -rim, dy: -rim, rect(
      width: width + 2 * rim, height: 2 * capital, fill: black, stroke: none,
    ))
    fitting(width, capital, "bold", white, body)
  }} else {{
    fitting(width, capital, if look == "bold" {{ "bold" }} else {{ "regular" }}, black, body)
  }}
}})

#let drawn(x, y, width, height, file) = place(top + left, dx: x, dy: y,
  image(file, width: width, height: height, fit: "contain"))

#let card(x, y, body) = place(top + left, dx: x, dy: y, body)
"""


def card_document(
    title: str,
    page_mm: tuple[float, float],
    corners_mm: Sequence[tuple[float, float]],
    cards: Sequence[Card],
) -> Source:
    """Return the cards, page by page, each page at the same corners, from its own upper left corner
    to the right and down; the last page may have less.
    """
    names: dict[str, str] = {}
    pages = [cards[at : at + len(corners_mm)] for at in range(0, len(cards), len(corners_mm))]
    body = "\n#pagebreak()\n".join(
        "\n".join(
            f"#card({x:.3f}mm, {y:.3f}mm, {{ {'; '.join(_items(card, names))} }})"
            for (x, y), card in zip(corners_mm, page, strict=False)
        )
        for page in pages
    )
    files = tuple((name, svg) for svg, name in names.items())
    width_mm, height_mm = page_mm
    head = (
        f"#set document(title: {quoted(title)}, date: none)\n"
        f"#set page(width: {width_mm:.4f}mm, height: {height_mm:.4f}mm, margin: 0mm)\n"
    )
    stamp = revision_of(text.encode() for text in (body, *chain.from_iterable(files)))
    return Source(main=f"{head}{_MACROS}{body}\n", files=files, revision=stamp)


def _items(card: Iterable[Words | Drawn], names: dict[str, str]) -> Iterator[str]:
    for item in card:
        match item:
            case Words():
                fitting = surely_fitting(item)
                yield _words(item) if fitting is None else _words(fitting, ", fits: true")
            case Drawn():
                name = names.setdefault(item.svg, f"picture-{len(names) + 1}.svg")
                yield f"drawn({_at(item)}, {item.height_mm:.3f}mm, {quoted(name)})"


def _words(words: Words, fits: str = "") -> str:
    how = f"{words.capital_mm:.3f}mm, {quoted(words.look.value)}"
    return f"words({_at(words)}, {how}, {quoted(words.text)}{fits})"


def _at(item: Words | Drawn) -> str:
    return f"{item.x_mm:.3f}mm, {item.y_mm:.3f}mm, {item.width_mm:.3f}mm"


def surely_fitting(words: Words) -> Words | None:
    """Return the words in letters that surely fit, on the same line; None where only measuring
    tells: with other letters than those of ASCII, and where an end may have to be left out.
    """
    if not letter_widths(_weight(words.look)).keys() >= set(words.text):
        return None
    wide_mm = reckoned_mm(words.text, words.capital_mm, words.look)
    if wide_mm <= words.width_mm:
        return words
    capital_mm = words.capital_mm * words.width_mm / wide_mm
    if words.look is Look.WHITE_ON_BLACK or capital_mm < LEAST_CAPITAL_MM:
        return None
    return replace(words, y_mm=words.y_mm + words.capital_mm - capital_mm, capital_mm=capital_mm)


def reckoned_mm(text: str, capital_mm: float, look: Look) -> float:
    """Return how wide a line is at most, its letters side by side; letters that are not those of
    ASCII count as wide as the widest of these.
    """
    return _shares(text, _weight(look)) * capital_mm / CAPITAL_OF_SIZE / _SURELY


@lru_cache(_REMEMBERED)
def _shares(text: str, weight: str) -> float:
    """Return how wide a line is, as a share of the size of its type."""
    widths = letter_widths(weight)
    widest = max(widths.values())
    return fsum(widths.get(letter, widest) for letter in text)


def _weight(look: Look) -> str:
    return "regular" if look is Look.PLAIN else "bold"

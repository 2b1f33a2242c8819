"""The nests of a list of several materials, one line for each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from export.tables.csv_text import csv_text, fixed
from nesting.answer.nest_answer import NestAnswer

COLUMNS = (
    "material",
    "folder",
    "pieces",
    "sheets",
    "least_sheets",
    "layouts",
    "yield",
    "price",
    "least_price",
)


def nest_list_csv(nests: Iterable[tuple[str, str, NestAnswer]]) -> str:
    """Return the materials, each with its folder and its nest, as CSV."""
    return csv_text(COLUMNS, _rows(nests))


def _rows(nests: Iterable[tuple[str, str, NestAnswer]]) -> Iterator[tuple[object, ...]]:
    for material, folder, answer in nests:
        solution = answer.solution
        yield (
            material,
            folder,
            sum(piece.quantity for piece in answer.instance.pieces),
            solution.sheets,
            solution.mix_bound,
            solution.distinct,
            fixed(answer.share_used, 4),
            fixed(solution.price, 2),
            fixed(solution.price_bound, 2),
        )

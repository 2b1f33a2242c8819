"""The page of a nest of plain rectangles: figures, stock, layouts and their maps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from export.markup_text import in_markup
from export.summary.markup import (
    Align,
    Column,
    figure,
    key_figures,
    page,
    paragraph,
    section,
    table,
)
from export.tables.csv_text import fixed, shown_size
from nesting.answer.nest_answer import NestAnswer, SheetPlan
from nesting.answer.solution import Solution
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units

_COLUMNS = (
    Column("layout", Align.NUMBER),
    Column("stock"),
    Column("sheet size"),
    Column("runs", Align.NUMBER),
    Column("pieces on it", Align.NUMBER),
    Column("yield", Align.NUMBER),
    Column("offcuts to keep"),
)


def nest_html(title: str, answer: NestAnswer, maps: Mapping[int, str], units: Units) -> str:
    """Return the page as HTML; `maps` has the SVG of each layout by its number."""
    shown = "".join(figure(svg, f"sheets/{number:03d}.dxf") for number, svg in maps.items())
    body = "".join(
        (
            f"<header><h1>{in_markup(title)}</h1>\n{key_figures(_figures(answer))}</header>\n",
            section(
                "layouts",
                "Layouts",
                (
                    table(_COLUMNS, (_row(plan, units) for plan in answer.sheets)),
                    paragraph(_proof(answer)),
                ),
            ),
            section("maps", "Sheet maps", (f'<div class="maps">{shown}</div>\n',)) if maps else "",
        )
    )
    return page(f"{title}: nest", body)


def _figures(answer: NestAnswer) -> Iterator[tuple[str, str]]:
    solution = answer.solution
    yield "pieces", str(sum(piece.quantity for piece in answer.instance.pieces))
    yield "sheets", str(solution.sheets)
    yield "sheets needed at least", str(solution.mix_bound)
    yield "layouts", str(solution.distinct)
    yield "yield", f"{fixed(100 * answer.share_used, 1)} %"
    yield "price", fixed(solution.price, 2)


def _proof(answer: NestAnswer) -> str:
    solution = answer.solution
    return (
        f"No answer has fewer than {solution.lower_bound} sheets ({solution.bound_kind}) or costs"
        f" less than {fixed(solution.price_bound, 2)} ({solution.price_bound_kind})"
        f"{_saving(solution)}.{_mix(solution)} Prices are {answer.prices}."
        f" Seed {solution.seed}; the search ended because {solution.stop}.{_rounded(answer)}"
    )


def _mix(solution: Solution) -> str:
    if solution.mix_bound == solution.lower_bound:
        return ""
    return (
        f" With the sizes in the same proportion as here, {solution.mix_bound} sheets are needed"
        " at least (by price)."
    )


def _saving(solution: Solution) -> str:
    if not solution.could_save:
        return ": none is cheaper"
    share = fixed(100 * solution.gap, 2)
    return f": a better one could save {fixed(solution.could_save, 2)} at most, {share} %"


def _rounded(answer: NestAnswer) -> str:
    if not answer.rounded_mm:
        return ""
    return f" Lengths on no grid were rounded by at most {fixed(answer.rounded_mm, 5)} mm."


def _row(plan: SheetPlan, units: Units) -> tuple[object, ...]:
    (stock,) = plan.instance.stocks
    return (
        plan.number,
        stock.id,
        shown_size(to_mm(stock.length), to_mm(stock.width), units),
        plan.layout.runs,
        len(plan.layout.placements),
        f"{fixed(100 * plan.piece_area / plan.sheet_area, 1)} %",
        ", ".join(shown_size(to_mm(o.length), to_mm(o.width), units) for o in plan.offcuts),
    )

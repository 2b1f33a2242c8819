"""The closing tables of the command."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import fsum
from pathlib import Path

from casewright.commands.nest_command.files import NestFiles
from casewright.commands.nest_command.options import OptionTexts
from casewright.commands.nest_command.question import Question
from casewright.terminal.terminal_text import TextTable, tell_words
from casewright.wording import counted
from export.tables.what_if_table import WhatIfRow
from nesting.answer.nest_answer import NestAnswer, SheetPlan
from nesting.answer.solution import Choice, Solution, StopReason
from nesting.edge_to_edge.books import SawWorkload
from nesting.question.ticks import to_m2, to_mm
from parametric.stock.lengths import Units, show_length

SHOWN_OFFCUTS = 8
MOST_LINES = 10


def show_answer(answer: NestAnswer, books: SawWorkload | None, units: Units) -> None:
    """Print the stock that is cut, how good that is, and the offcuts."""
    tell_words(rules_text(answer, units))
    stock_table(answer).tell()
    for line in proof_lines(answer):
        tell_words(line)
    if books is not None:
        tell_words(
            f"Saw: {counted(books.loads, 'load')}, {counted(books.cuts, 'cut')}, "
            f"{books.cuts_saved} fewer than sheet by sheet"
        )
    for line in offcut_lines(answer, units):
        tell_words(line)
    if len(answer.solution.choices) > 1:
        curve_table(answer.solution).tell()


def list_table(nests: Sequence[NestFiles]) -> TextTable:
    """Return the nests of all materials, and what they come to."""
    table = TextTable()
    table.add_texts("material")
    table.add_numbers("sheets", ("at", "least"), "layouts", "price", ("could", "save"))
    solutions = [nest.answer.solution for nest in nests]
    for nest, solution in zip(nests, solutions, strict=True):
        table.add_row(
            nest.material,
            str(solution.sheets),
            str(solution.mix_bound),
            str(solution.distinct),
            f"{solution.price:.2f}",
            f"{solution.could_save:.2f}",
        )
    table.add_row(
        "all",
        str(sum(solution.sheets for solution in solutions)),
        str(sum(solution.mix_bound for solution in solutions)),
        str(sum(solution.distinct for solution in solutions)),
        f"{fsum(solution.price for solution in solutions):.2f}",
        f"{fsum(solution.could_save for solution in solutions):.2f}",
    )
    return table


def what_if_table(rows: Iterable[WhatIfRow], units: Units) -> TextTable:
    """Return the ways with what each costs; where there is no nest, it says why."""
    table = TextTable("What if")
    table.add_texts("material", "sizes", "remnants", "gap", "cut")
    table.add_numbers("price", "sheets", "layouts")
    table.add_texts("folder")
    for row in rows:
        asked = (
            row.material,
            row.sizes,
            "with" if row.remnants else "without",
            show_length(to_mm(row.gap), units),
            row.cut,
        )
        if row.answer is None:
            table.add_row(*asked, "none", "", "", row.why_not)
            continue
        solution = row.answer.solution
        figures = (f"{solution.price:.2f}", str(solution.sheets), str(solution.distinct))
        table.add_row(*asked, *figures, row.folder)
    return table


def where_text(folder: Path, nests: Sequence[NestFiles]) -> str:
    """Return where the files are."""
    if len(nests) == 1:
        return f"Written to {folder}; open {folder / 'summary.html'}"
    return f"Written to {folder}, a folder for each material; {folder / 'nests.csv'} lists them"


def further_text(further: Sequence[str], table: str = "placements.csv") -> str:
    """Return which columns mean nothing to the nest; blank where there are none."""
    if not further:
        return ""
    listed = ", ".join(further)
    return f"Further columns, carried along to {table} and not understood: {listed}"


def skipped_text(lines: Sequence[int]) -> str:
    """Return which rows ask for no piece; blank where there are none."""
    if not lines:
        return ""
    shown = ", ".join(map(str, lines[:MOST_LINES]))
    more = len(lines) - MOST_LINES
    rest = f" and {more} more" if more > 0 else ""
    return f"{counted(len(lines), 'row')} with quantity 0 left out: line {shown}{rest}"


def spare_text(questions: Iterable[Question]) -> str:
    """Return how many pieces are cut beyond those asked for; blank where there are none."""
    spare = sum(row.spare for question in questions for kind in question.types for row in kind.rows)
    return f"{counted(spare, 'spare piece')} included" if spare else ""


def gap_warning(texts: OptionTexts) -> str | None:
    """Return what is wrong when nobody said how far apart pieces lie; None when somebody did."""
    if texts.gap is not None:
        return None
    if texts.edge_to_edge:
        return (
            "Warning: no --gap given, so the saw cuts as if its blade took nothing away. "
            "Give the blade's kerf with --gap."
        )
    return (
        "Warning: no --gap given, so routed parts will touch and the bit cuts into them. "
        "Give at least the bit's diameter with --gap; --gap 0 says that they may touch."
    )


def rounded_text(most_mm: float) -> str:
    """Return how far lengths were rounded that the nest cannot count exactly; blank for none."""
    if not most_mm:
        return ""
    return (
        "Some lengths are neither whole 0.01 mm nor whole 1/64 in. They are rounded by at most "
        f"{most_mm:.5f} mm, pieces and gaps up, sheets down."
    )


def rules_text(answer: NestAnswer, units: Units) -> str:
    """Return what was asked for in one line, so that a forgotten gap shows."""
    rules = answer.instance.rules
    edges = (rules.trim.left, rules.trim.right, rules.trim.bottom, rules.trim.top)
    shown = [show_length(to_mm(edge), units) for edge in edges]
    trim = shown[0] if len(set(shown)) == 1 else ", ".join(shown)
    saw, gap = rules.saw, show_length(to_mm(rules.gap), units)
    if saw is None:
        way = f"free nest, gap {gap}"
    else:
        stages = "any number of" if saw.stages is None else saw.stages
        way = f"edge to edge in {stages} stages, blade {gap}"
    pieces = sum(piece.quantity for piece in answer.instance.pieces)
    kinds = counted(len(answer.instance.pieces), "kind")
    return f"{counted(pieces, 'piece')} of {kinds}; {way}, trim {trim}"


def stock_table(answer: NestAnswer) -> TextTable:
    """Return the sheets that are cut of each stock."""
    table = TextTable()
    table.add_texts("stock")
    table.add_numbers("sheets", "layouts", "yield", "price")
    stocks = answer.instance.stock_of
    used = Counter(plan.layout.stock for plan in answer.sheets)
    for name in (name for name in stocks if name in used):
        plans = [plan for plan in answer.sheets if plan.layout.stock == name]
        sheets = sum(plan.layout.runs for plan in plans)
        price = sheets * stocks[name].price_to_pay
        table.add_row(name, str(sheets), str(len(plans)), _yield(plans), f"{price:.2f}")
    if len(used) != 1:
        solution = answer.solution
        price = solution.price
        total = ("all", str(solution.sheets), str(solution.distinct))
        table.add_row(*total, f"{100 * answer.share_used:.1f} %", f"{price:.2f}")
    return table


def proof_lines(answer: NestAnswer) -> Iterator[str]:
    """Yield how far from the best possible the answer may be, and why the search ended."""
    solution = answer.solution
    yield f"At least {counted(solution.lower_bound, 'sheet')} ({solution.bound_kind})"
    if solution.mix_bound > solution.lower_bound:
        yield (
            f"At least {counted(solution.mix_bound, 'sheet')} with the sizes in the same "
            "proportion as here (by price)"
        )
    if solution.could_save:
        yield (
            f"Price at least {solution.price_bound:.2f} ({solution.price_bound_kind}): a better "
            f"nest saves {solution.could_save:.2f} at most, {100 * solution.gap:.2f} %; "
            f"prices {answer.prices}"
        )
    else:
        yield (
            f"Price {solution.price:.2f} is the least possible ({solution.price_bound_kind}); "
            f"prices {answer.prices}"
        )
    yield f"Stopped: {solution.stop} (seed {solution.seed})"
    if solution.stop is StopReason.CANCELLED:
        yield "The best answer so far is kept; it is complete and verified."
    if answer.seconds is not None:
        yield (
            "A clock decided when to stop: the same question may get another answer. Loading the "
            f"compiled loops took {answer.loaded_seconds:.1f} s, which it does not count."
        )


def offcut_lines(answer: NestAnswer, units: Units) -> Iterator[str]:
    """Yield the offcuts that are worth keeping, the largest first."""
    offcuts: Counter[tuple[int, int]] = Counter()
    for plan in answer.sheets:
        for offcut in plan.offcuts:
            sides = sorted((offcut.length, offcut.width), reverse=True)
            offcuts[sides[0], sides[1]] += plan.layout.runs
    if not offcuts:
        return
    area = to_m2(sum(length * width * count for (length, width), count in offcuts.items()))
    yield f"Offcuts to keep: {offcuts.total()}, {area:.2f} m2"
    largest = sorted(offcuts.items(), key=lambda entry: (-entry[0][0] * entry[0][1], entry[0]))
    for (length, width), count in largest[:SHOWN_OFFCUTS]:
        size = f"{show_length(to_mm(length), units)} x {show_length(to_mm(width), units)}"
        yield f"  {count} x {size}"
    if len(largest) > SHOWN_OFFCUTS:
        yield f"  and {len(largest) - SHOWN_OFFCUTS} more sizes, all in nest.json"


def curve_table(solution: Solution) -> TextTable:
    """Return what fewer layouts would cost; the way taken is marked."""
    table = TextTable("Fewer layouts")
    table.add_numbers("layouts", "sheets", "price", "")
    for choice in solution.choices:
        mark = "taken" if _taken(choice, solution) else ""
        table.add_row(str(choice.layouts), str(choice.sheets), f"{choice.price:.2f}", mark)
    return table


def _taken(choice: Choice, solution: Solution) -> bool:
    return (choice.layouts, choice.sheets) == (solution.distinct, solution.sheets)


def _yield(plans: list[SheetPlan]) -> str:
    pieces = sum(plan.piece_area * plan.layout.runs for plan in plans)
    sheets = sum(plan.sheet_area * plan.layout.runs for plan in plans)
    return f"{100 * pieces / sheets:.1f} %"

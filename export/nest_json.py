"""A nest as JSON, for programs.

Lengths are millimetres as the nest counts them, in whole 1/1600: what is on no grid of 0.01 mm or
1/64 in is rounded, pieces up, sheets down. Places are
in the frame of the sheet: x along its length, y along its width, from the lower left corner. Keys:

    format      "casewright nest 2"; the number changes when a key changes its meaning
    sheets      how many sheets are cut
    bound       no answer can do with fewer sheets than this; bound_kind says what it rests on
    price       of all sheets; remnants cost nothing. prices says whether prices were given
    price_bound no answer can be cheaper; price_bound_kind says what that rests on
    gap         (price - price_bound) / price: the share that a better answer could save at most
    seed        with effort and the same files it gives the same answer again; effort is null when
                a clock decided after so many seconds
    stop        why the search ended
    rounded     the most by which a length was rounded
    repeatable  whether the same question gives the same answer: not after a clock or a cancel
    choices     other ways that were found to trade price for fewer layouts, and this one
    rules       gap between pieces (the blade, on a saw), trim of each edge, rim for small pieces,
                stages of a saw (null: free nest, 0: any number)
    layouts     in the order to cut them, those with pieces of the highest priority first:
        number, stock, length, width, runs (sheets cut like this), yield (0 to 1)
        placements  in the order to cut them: piece (what is alike has one name), x, y, turned (by
                    a quarter), whether the piece is small or narrow enough to come loose
                    (at_risk), and whose it is (dealt): for the runs from first to last the piece
                    and group as the list names them, and the line there
        offcuts     what is left and worth keeping: x, y, length, width; the largest first
        saw         null in a free nest; else first (which way the first cuts run), stages, kerf,
                    boards (number, x, y, length, width, fate, pieces; 0 is the whole sheet) and
                    cuts in their order: number, stage (0: trim), kind, line, board, distance from
                    the board's left or lower edge to the blade, dust (what the blade takes), and
                    the boards made: taken (at the fence) and rest, null where nothing is left
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from export.json_text import json_text
from nesting.after.offcuts import Offcut
from nesting.answer.nest_answer import Dealt, NestAnswer, SheetPlan
from nesting.answer.solution import Placement, StopReason
from nesting.edge_to_edge.cuts import Board, Cut, CutSequence
from nesting.question.sheet_rules import SheetRules
from nesting.question.ticks import to_mm

FORMAT = "casewright nest 2"


def nest_json(answer: NestAnswer) -> str:
    """Return the nest as JSON: indented by 1, keys in the order above, a newline at the end."""
    solution = answer.solution
    content = {
        "format": FORMAT,
        "sheets": solution.sheets,
        "bound": solution.lower_bound,
        "bound_kind": solution.bound_kind,
        "price": round(solution.price, 9),
        "price_bound": round(solution.price_bound, 9),
        "price_bound_kind": solution.price_bound_kind,
        "prices": answer.prices,
        "gap": round(solution.gap, 9),
        "seed": solution.seed,
        "effort": answer.effort,
        "seconds": answer.seconds,
        "stop": solution.stop,
        "rounded": round(answer.rounded_mm, 9),
        "repeatable": answer.seconds is None and solution.stop is not StopReason.CANCELLED,
        "choices": [
            {"layouts": choice.layouts, "sheets": choice.sheets, "price": round(choice.price, 9)}
            for choice in solution.choices
        ],
        "rules": _rules(answer.instance.rules),
        "layouts": [_layout(plan) for plan in answer.sheets],
    }
    return json_text(content, indent=1) + "\n"


def _rules(rules: SheetRules) -> dict[str, Any]:
    trim, rim = rules.trim, rules.rim
    return {
        "gap": to_mm(rules.gap),
        "trim": {
            "left": to_mm(trim.left),
            "right": to_mm(trim.right),
            "bottom": to_mm(trim.bottom),
            "top": to_mm(trim.top),
        },
        "rim": rim and {"longest_side": to_mm(rim.longest_side), "distance": to_mm(rim.distance)},
        "stages": None if rules.saw is None else rules.saw.stages or 0,
    }


def _layout(plan: SheetPlan) -> dict[str, Any]:
    (stock,) = plan.instance.stocks
    at_risk = set(plan.at_risk)
    return {
        "number": plan.number,
        "stock": stock.id,
        "length": to_mm(stock.length),
        "width": to_mm(stock.width),
        "runs": plan.layout.runs,
        "yield": round(plan.piece_area / plan.sheet_area, 6),
        "placements": [
            _placement(placed, whose, placed in at_risk)
            for placed, whose in zip(plan.order, plan.dealt, strict=True)
        ],
        "offcuts": [_rectangle(offcut) for offcut in plan.offcuts],
        "saw": plan.sequence and _sequence(plan.sequence),
    }


def _placement(placed: Placement, whose: Iterable[Dealt], at_risk: bool) -> dict[str, Any]:
    return {
        "piece": placed.piece,
        "x": to_mm(placed.x),
        "y": to_mm(placed.y),
        "turned": placed.turned,
        "at_risk": at_risk,
        "dealt": [
            {
                "first": share.first_run,
                "last": share.last_run,
                "piece": share.piece,
                "group": share.group,
                "line": share.line,
            }
            for share in whose
        ],
    }


def _rectangle(box: Offcut | Board) -> dict[str, float]:
    return {
        "x": to_mm(box.x),
        "y": to_mm(box.y),
        "length": to_mm(box.length),
        "width": to_mm(box.width),
    }


def _sequence(sequence: CutSequence) -> dict[str, Any]:
    return {
        "first": sequence.first,
        "stages": sequence.stages,
        "kerf": to_mm(sequence.kerf),
        "boards": [
            {"number": board.number}
            | _rectangle(board)
            | {"fate": board.fate, "pieces": [placed.piece for placed in board.holds]}
            for board in sequence.boards
        ],
        "cuts": [_cut(cut) for cut in sequence.cuts],
    }


def _cut(cut: Cut) -> dict[str, Any]:
    return {
        "number": cut.number,
        "stage": cut.stage,
        "kind": cut.kind,
        "line": cut.line,
        "board": cut.board,
        "distance": to_mm(cut.distance),
        "dust": to_mm(cut.dust),
        "taken": cut.taken,
        "rest": cut.rest,
    }

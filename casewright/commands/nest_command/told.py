"""What stops a nest, told by the lines of the files that asked for it."""

from __future__ import annotations

from collections.abc import Iterator

from casewright.commands.nest_command.question import Question
from casewright.errors import (
    CasewrightError,
    DoesNotFit,
    Fault,
    InputErrors,
    OptionErrors,
    OptionFault,
)
from casewright.intake.document import Place, placed_fault
from casewright.progress import Cancelled
from nesting.question.errors import Fault as NestFault
from nesting.question.errors import (
    InvalidInstance,
    NestingError,
    NotEnoughStock,
    PieceTooBig,
    StoppedTooEarly,
)

# What the nest calls a rule, and the option that sets it.
_OPTIONS = {
    "rules: rim": "--rim",
    "rules: gap": "--gap",
    "rules: trim": "--trim",
    "trim": "--trim",
    "edge to edge": "--stages",
    "rim": "--rim",
}


def told_by_lines(question: Question, error: NestingError) -> CasewrightError:
    """Return the error as the user can put it right.

    Raises:
        Cancelled: it was stopped before there was any answer to keep.
        NestingError: the given one, when the user cannot.
    """
    match error:
        case InvalidInstance():
            return _invalid(question, error)
        case PieceTooBig():
            return DoesNotFit("\n".join(_too_big(question, error)))
        case NotEnoughStock():
            return DoesNotFit("\n".join(_not_enough(question, error)))
        case StoppedTooEarly() if question.seconds is not None:
            found = f"{question.seconds:g}"
            allowed = "more: no answer was found in that time"
            return OptionErrors((OptionFault(option="--seconds", found=found, allowed=allowed),))
        case StoppedTooEarly():
            raise Cancelled from error
        case _:
            raise error


def _too_big(question: Question, error: PieceTooBig) -> Iterator[str]:
    for piece in error.pieces:
        yield f"{question.piece_places[piece.piece]}: {piece}"


def _not_enough(question: Question, error: NotEnoughStock) -> Iterator[str]:
    yield f"Not enough stock ({error.proof}). What is short, and what stock is limited:"
    for short in error.short:
        line = question.piece_places[short.piece]
        yield f"{line}: piece {short.piece}: {short.quantity} cannot be placed"
    for stock in error.stocks:
        line = question.stock_places[stock.stock]
        more = (
            "and more of it would not hold the short pieces"
            if stock.more_needed is None
            else f"{stock.more_needed} more would do"
        )
        yield f"{line}: stock {stock.stock}: {stock.on_hand} on hand, {more}"


def _invalid(question: Question, error: InvalidInstance) -> CasewrightError:
    located = [_located(question, fault) for fault in error.faults]
    in_files = tuple(fault for fault in located if isinstance(fault, Fault))
    if in_files:
        return InputErrors(in_files)
    return OptionErrors(tuple(fault for fault in located if isinstance(fault, OptionFault)))


def _located(question: Question, fault: NestFault) -> Fault | OptionFault:
    """Return the fault in the file whose entry it names, or else as one of an option."""
    for word, places in (("stock", question.stock_places), ("piece", question.piece_places)):
        names = [
            name
            for name in places
            if fault.where == f"{word} {name}" or fault.where.startswith(f"{word} {name}: ")
        ]
        if names:
            path, line = places[max(names, key=len)]
            return placed_fault(
                path,
                Place(line, None),
                found=f"{fault.where}: {fault.found}",
                allowed=fault.allowed,
            )
    option = next((o for rule, o in _OPTIONS.items() if fault.where.startswith(rule)), "options")
    return OptionFault(option=option, found=fault.found, allowed=fault.allowed)

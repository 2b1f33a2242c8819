"""Options about the list of pieces: what it calls its columns, and how much more is cut."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from fractions import Fraction

from casewright.commands.nest_command.read_pieces import MOST_SPARE_PERCENT, NEEDED, OPTIONAL
from casewright.errors import OptionErrors, OptionFault
from casewright.intake.document import shown
from casewright.intake.nearest import one_of

_PERCENT = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,6})?) ?%?")


def column_names(
    options: Iterable[str], known: Sequence[str] = (*NEEDED, *OPTIONAL)
) -> dict[str, str]:
    """Return what the list calls columns, by the names that they have here.

    Raises:
        OptionErrors: an option names no column, or one a second time; all faults.
    """
    names: dict[str, str] = {}
    faults = []
    for option in options:
        asked, mark, header = (part.strip() for part in option.partition("="))
        if not mark or not header:
            faults.append(_fault(option, "NAME=HEADER, such as length=Long"))
        elif asked not in known:
            faults.append(_fault(asked, one_of(known, asked, what="columns")))
        elif asked in names:
            faults.append(_fault(f"{asked} a second time", "each column once"))
        else:
            names[asked] = header
    if faults:
        raise OptionErrors(tuple(faults))
    return names


def percentage(text: str) -> Fraction:
    """Return how much more is cut of each piece, per cent.

    Raises:
        OptionErrors: it is no percentage, or too large.
    """
    number = _PERCENT.fullmatch(text.strip())
    percent = Fraction(number.group(1)) if number else None
    if percent is None or percent > MOST_SPARE_PERCENT:
        allowed = f"per cent, from 0 to {MOST_SPARE_PERCENT}"
        raise OptionErrors((OptionFault(option="--spare", found=shown(text), allowed=allowed),))
    return percent


def _fault(found: str, allowed: str) -> OptionFault:
    return OptionFault(option="--column", found=shown(found), allowed=allowed)

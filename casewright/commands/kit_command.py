"""The command that shows kits, and compares one with a list that somebody sent."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from casewright.errors import OptionErrors, OptionFault
from casewright.intake.nearest import one_of
from casewright.job import Job
from casewright.stages.site.kit_stage import kits_of
from casewright.terminal.terminal_text import TextTable, tell, tell_words
from casewright.wording import counted
from parametric.geometry.hand import Hand
from parametric.kit.compare import SAME, Difference, compared
from parametric.kit.kit import Kit
from parametric.kit.set_kit import SetKit, whole_kit
from parametric.steps.joints_in_order import joints_in_order


def show_kit(
    job: Job,
    set_name: str | None,
    hand: Hand | None,
    listed: Mapping[str, float] | None,
) -> bool:
    """Print the kit of a set and hand, or of the whole job, or how a list differs from it.

    Return whether the list is short of anything.

    Raises:
        OptionErrors: no room has that set in that hand.
        DoesNotFit: a deck cannot be cut from the stock, even in pieces.
    """
    kits = kits_of(job)
    chosen = _chosen(kits, set_name, hand)
    one = chosen[0] if len(chosen) == 1 and set_name is not None else None
    kit = whole_kit(chosen) if one is None else one.kit
    tell(_title(job, chosen, one))
    if listed is None:
        kit_table(kit).tell()
        return False
    in_order = None if one is None else joints_in_order(one.assembly)
    differences = tuple(compared(kit, listed, in_order))
    difference_table(differences).tell()
    for difference in differences:
        if difference.runs_out_at:
            tell_words(f"  {difference.key} runs out in {difference.runs_out_at}", hanging=4)
    return any(difference.short for difference in differences)


def kit_table(kit: Kit) -> TextTable:
    """Return the articles with what is needed, spare and packed."""
    table = TextTable()
    table.add_texts("article", "description")
    table.add_numbers("needed", "spare", "packed")
    table.add_texts("unit", "")
    for line in kit.lines:
        table.add_row(
            line.key,
            line.description,
            *(line.unit.shown(value) for value in (line.needed, line.spare, line.packed)),
            line.unit,
            "not supplied" if not line.supplied else "beside the box" if line.loose else "",
        )
    return table


def difference_table(differences: Sequence[Difference]) -> TextTable:
    """Return the articles with what is short and what is over."""
    table = TextTable()
    table.add_texts("article", "description")
    table.add_numbers("needed", "listed", "short", "over")
    for each in differences:
        table.add_row(
            each.key,
            each.description or "not needed",
            rounded(each.needed),
            rounded(each.listed),
            rounded(-each.over) if each.short else "",
            rounded(each.over) if each.over > SAME else "",
        )
    return table


def rounded(value: float) -> str:
    """Return a quantity to one decimal, or whole."""
    return f"{round(value, 1):g}"


def _chosen(kits: Sequence[SetKit], set_name: str | None, hand: Hand | None) -> tuple[SetKit, ...]:
    chosen = tuple(
        kit for kit in kits if set_name in (None, kit.set_name) and hand in (None, kit.hand)
    )
    if chosen:
        return chosen
    names = dict.fromkeys(kit.set_name for kit in kits)
    found = " ".join(word for word in (set_name, f"{hand} hand" if hand else None) if word)
    allowed = one_of(names, set_name or "", what="sets") + ", in a hand that a room has"
    raise OptionErrors((OptionFault(option="--set, --hand", found=found, allowed=allowed),))


def _title(job: Job, chosen: Sequence[SetKit], one: SetKit | None) -> str:
    if one is not None:
        return f"{one.set_name}, {one.hand} hand: for one of {counted(one.rooms, 'room')}"
    rooms = sum(kit.rooms for kit in chosen)
    return f"{job.name}: for {counted(rooms, 'room')}"

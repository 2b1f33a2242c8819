"""Which bars are easily taken for each other: nearly of one length, of one profile."""

from dataclasses import replace

from casewright.stages.site.alike_words import alike_words
from parametric.lists.cut_list import BarPart
from parametric.lists.look_alikes import LOOK_ALIKE_MM, look_alikes
from parametric.stock.lengths import Units
from tests.export.sample_parts import sample_cut_list

(BAR,) = sample_cut_list().bars


def bar(number: str, length_mm: float, material: str = "spruce") -> BarPart:
    return replace(BAR, number=number, length_mm=length_mm, material=material)


def told(*bars: BarPart) -> dict[str, list[str]]:
    return {
        number: [other.number for other in others] for number, others in look_alikes(bars).items()
    }


def test_under_15_mm_apart_they_look_alike_and_at_15_they_do_not() -> None:
    """15 mm: common practice, no source."""
    assert LOOK_ALIKE_MM == 15.0
    listed = bar("L1", 500.0), bar("L2", 514.9), bar("L3", 515.0), bar("L4", 530.0)
    assert told(*listed) == {"L1": ["L2"], "L2": ["L1", "L3"], "L3": ["L2"]}


def test_each_is_warned_of_the_other() -> None:
    listed = [bar(f"L{at}", 300.0 + 7 * at) for at in range(9)]
    found = told(*listed)
    assert all(number in found[other] for number, others in found.items() for other in others)


def test_other_bars_are_told_by_their_look() -> None:
    assert told(bar("L1", 500.0), bar("L2", 500.0, "steel")) == {}


def test_the_warning_says_how_to_tell_them_apart() -> None:
    words = alike_words([bar("L1", 500.0), bar("L2", 493.0), bar("L3", 500.0)], Units.MM)
    assert words["L1"] == "measure it, 500 mm: L2 is 7 mm shorter, L3 is as long, with other holes"
    assert words["L2"] == "measure it, 493 mm: L1 is 7 mm longer, L3 is 7 mm longer"

"""Published cutting-stock questions, against the optimum that an independent program finds."""

import pytest

from nesting.linear.answer import cost
from nesting.linear.solve import solve_bars
from tests.nesting.linear.bar_questions import plain_question
from tests.nesting.linear.independent_models import arc_flow_cost

# Example files carried by the PyPI package pyvpsolver 3.1.4 (BSD licence), in its folder
# webapp/data/examples: vbp/csp.vbp, vbp/bpp.vbp and mvp/vsbpp.mvp.
CUTTING_STOCK = ((1120, 9), (1250, 5), (520, 91), (1066, 18), (1000, 11), (1150, 64))
BIN_PACKING_LENGTHS = (
    *(150, 151, 151, 151, 151, 152, 155, 156, 156, 156, 157, 157, 158, 158, 159, 159, 161, 161),
    *(161, 162, 162, 163, 163, 163, 163, 164, 165, 166, 166, 166, 167, 167, 167, 167, 168, 168),
    *(168, 168, 169, 169, 170, 170, 171, 172, 173, 174, 174, 174, 175, 175, 175, 175, 176, 178),
    *(178, 178, 179, 179, 180, 180, 180, 181, 181, 182, 182, 182, 183, 184, 184, 185, 185, 186),
    *(187, 187, 187, 188, 189, 189, 189, 190, 191, 192, 192, 193, 194, 194, 195, 195, 195, 195),
    *(195, 195, 195, 197, 197, 197, 197, 198, 198, 200),
)
THREE_SIZES_OF_BIN = (
    *(10, 14, 17, 24, 29, 32, 33, 36, 38, 40, 50, 54, 55, 63, 66, 71, 79, 83, 92, 95, 99),
    *(19, 19, 77, 77),
)

# Rolls of a paper machine, 5600 mm wide; 73 rolls are needed. A textbook example, from memory.
PAPER = (
    *((1380, 22), (1520, 25), (1560, 12), (1710, 14), (1820, 18), (1880, 18), (1930, 20)),
    *((2000, 10), (2050, 12), (2100, 14), (2140, 16), (2150, 18), (2200, 20)),
)


def test_the_cutting_stock_example_agrees_with_arc_flow() -> None:
    question = plain_question(CUTTING_STOCK, ((5180, 1.0, None),))
    answer = solve_bars(question)
    assert cost(question, answer) == pytest.approx(arc_flow_cost(question), abs=1e-6)
    assert answer.lower_bound == cost(question, answer)


def test_the_paper_machine_needs_73_rolls() -> None:
    question = plain_question(PAPER, ((5600, 1.0, None),))
    answer = solve_bars(question)
    assert (answer.bars, answer.lower_bound) == (73, 73.0)


def test_the_paper_machine_agrees_with_arc_flow() -> None:
    question = plain_question(PAPER, ((5600, 1.0, None),))
    assert arc_flow_cost(question) == pytest.approx(73.0, abs=1e-6)


def test_the_bin_packing_example_meets_the_bound_that_lengths_prove() -> None:
    question = plain_question([(length, 1) for length in BIN_PACKING_LENGTHS], ((1000, 1.0, None),))
    answer = solve_bars(question)
    assert answer.bars == -(-sum(BIN_PACKING_LENGTHS) // 1000)


def test_three_sizes_of_bin_agree_with_arc_flow() -> None:
    sizes = ((100, 100.0, None), (120, 120.0, None), (150, 150.0, None))
    question = plain_question([(length, 1) for length in THREE_SIZES_OF_BIN], sizes)
    answer = solve_bars(question)
    least = arc_flow_cost(question)
    assert answer.lower_bound <= least + 1e-6
    assert cost(question, answer) == pytest.approx(least, abs=1e-6)


@pytest.mark.parametrize("seed", range(4))
def test_kerf_trim_and_limits_agree_with_arc_flow(seed: int) -> None:
    lengths = [(31 + 17 * ((seed + k) % 5) + 3 * k, 2 + (seed * k) % 4) for k in range(5)]
    bars = ((300, 3.0, None), (220, 2.25, 2), (170, 1.5, 1 + seed))
    question = plain_question(lengths, bars, kerf=3, end_trim=5)
    answer = solve_bars(question)
    assert cost(question, answer) == pytest.approx(arc_flow_cost(question), abs=1e-6)

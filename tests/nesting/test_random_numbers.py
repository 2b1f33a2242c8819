"""Random numbers for compiled code: as published, even, and each state's own."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import chisquare

from nesting.kernels.random_numbers import below, random_state, uniform

MASK = (1 << 64) - 1


def xorshift(state: int) -> tuple[int, int]:
    """One step of xorshift64* in plain whole numbers (Vigna 2016, figure 10)."""
    state ^= state >> 12
    state = (state ^ (state << 25)) & MASK
    state ^= state >> 27
    return state, (state * 2685821657736338717) & MASK


@given(st.integers(0, 2**64 - 1))
def test_the_stream_is_the_published_one(seed):
    state = random_state(seed)
    plain = int(state[0])
    for _ in range(5):
        plain, word = xorshift(plain)
        assert uniform(state) == (word >> 11) / 2**53
        assert int(state[0]) == plain != 0


def test_the_first_state_is_that_of_splitmix():
    # First output of splitmix64 with seed 0: 0xE220A8397B1DCDAF (from memory).
    assert int(random_state(0)[0]) == 0xE220A8397B1DCDAF


@given(st.lists(st.integers(-(2**63), 2**64), min_size=2, max_size=20, unique=True))
def test_seeds_have_states_of_their_own(seeds):
    states = {int(random_state(seed)[0]) for seed in seeds}
    assert len(states) == len({seed % 2**64 for seed in seeds})
    assert 0 not in states


def test_numbers_are_even_and_below_their_limit():
    state = random_state(1)
    drawn = np.bincount([below(state, 7) for _ in range(7_000)])
    assert len(drawn) == 7
    assert chisquare(drawn).pvalue > 0.001

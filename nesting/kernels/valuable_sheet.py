"""The most valuable filling of one sheet for given values of the pieces, by many short climbs.

Each kind is offered in two portions; a climb moves portions in the order of offers, moves copies
from one portion to the other, or changes the rule, and keeps what is not much worse.
"""

import numba

from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.random_numbers import below, uniform
from nesting.kernels.sorting import sort_falling

SLACK = 0.01
"""How much worse, as a share, a step of a climb may be."""


@numba.njit(cache=True, nogil=True)
def valuable_sheets(
    length,
    width,
    free0,
    kinds,
    stages,
    values,
    most,
    moves,
    rng,
    scratch,
    order,
    taken,
    portions,
    keys,
    sorted_keys,
    ranks,
    out,
    best,
    n_best,
    best_value,
):
    """Climb once for each row of `best`; return how many pieces were offered.

    `most` is how many pieces of each kind may lie on the sheet. `best` takes the placements of
    each climb's best filling, `n_best` their number and `best_value` their value.
    """
    spent = 0
    n_kinds = kinds.shape[0]
    for climb in range(best.shape[0]):
        by_density = uniform(rng)
        noise = uniform(rng)
        for k in range(n_kinds):
            area = float(kinds[k, 0]) * kinds[k, 1]
            worth = values[k] / area**by_density
            portions[k] = most[k] if uniform(rng) < 0.5 else below(rng, most[k] + 1)
            keys[k] = worth * (1.0 + noise * (uniform(rng) - 0.5))
            keys[n_kinds + k] = worth * (0.5 + noise * (uniform(rng) - 0.5))
        rule = below(rng, rules_of(stages))
        now = -1.0
        n_best[climb] = 0
        best_value[climb] = 0.0
        for move in range(moves):
            changed = -1
            old_key, old_portion, old_rule = 0.0, 0, rule
            if move > 0:
                pick = uniform(rng)
                changed = below(rng, 2 * n_kinds)
                old_key = keys[changed]
                old_portion = portions[changed % n_kinds]
                if pick < 0.6:
                    keys[changed] = keys[below(rng, 2 * n_kinds)] * (0.9 + 0.2 * uniform(rng))
                elif pick < 0.9:
                    portions[changed % n_kinds] = below(rng, most[changed % n_kinds] + 1)
                else:
                    rule = below(rng, rules_of(stages))
            n_order = write_order(n_kinds, values, most, portions, keys, sorted_keys, ranks, order)
            spent += n_order
            placed = fill(
                length, width, free0, kinds, order, n_order, rule, stages, scratch, out, taken
            )
            value = 0.0
            for p in range(placed):
                value += values[out[p, 0]]
            if value > best_value[climb]:
                best_value[climb] = value
                n_best[climb] = placed
                for p in range(placed):
                    for c in range(4):
                        best[climb, p, c] = out[p, c]
            if value >= now * (1.0 - SLACK * uniform(rng)):
                now = value
            elif changed >= 0:
                keys[changed] = old_key
                portions[changed % n_kinds] = old_portion
                rule = old_rule
    return spent


@numba.njit(cache=True, nogil=True)
def write_order(n_kinds, values, most, portions, keys, sorted_keys, ranks, order):
    """Write the pieces in falling order of their portions' keys; return how many there are."""
    for i in range(2 * n_kinds):
        sorted_keys[i] = keys[i]
        ranks[i] = i
    sort_falling(sorted_keys, ranks, 2 * n_kinds)
    n = 0
    for i in range(2 * n_kinds):
        portion = ranks[i]
        kind = portion % n_kinds
        if values[kind] <= 0.0:
            continue
        copies = portions[kind] if portion < n_kinds else most[kind] - portions[kind]
        for _ in range(copies):
            order[n] = kind
            n += 1
    return n

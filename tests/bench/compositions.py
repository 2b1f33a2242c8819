"""Random compositions, many more than the tests draw: `python -m tests.bench.compositions 500`.

Each is refused with keys that lead to what can be put right, or built in both hands, checked by
everything that needs no solids, and every `--solids` th one modelled, flattened and rebuilt.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterator

from hypothesis import HealthCheck, Phase, given, seed, settings

from parametric.geometry.hand import Hand
from parametric.primitives.deck import DeckTooLarge
from parametric.sets.composition import SetSizes
from parametric.sets.room_set import build_set
from parametric.sets.soundness import unsound
from parametric.solids.common_volumes import common_volumes
from parametric.solids.set_model import model_set
from tests.compositions import BUILT_FROM, compositions
from tests.example_set import ROUTING, TRIM_MM
from tests.parametric.test_compositions import all_findings


def drawn(count: int, first: int) -> Iterator[SetSizes]:
    """Yield so many compositions."""
    found: list[SetSizes] = []

    @seed(first)
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(compositions())
    def look(sizes: SetSizes) -> None:
        found.append(sizes)

    look()
    yield from found[:count]


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("count", type=int, nargs="?", default=500)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--solids", type=int, default=10)
    given_ = asked.parse_args()
    ends: Counter[str] = Counter()
    codes: Counter[str] = Counter()
    overlapping = modelled = built = 0
    for sizes in drawn(given_.count, given_.seed):
        if next(unsound(sizes, BUILT_FROM), None) is not None:
            ends["refused"] += 1
            continue
        try:
            sets = [build_set(sizes, hand, BUILT_FROM, ROUTING, TRIM_MM) for hand in Hand]
        except DeckTooLarge:
            ends["no stock holds a deck"] += 1
            continue
        ends["built"] += 1
        built += 1
        for room_set in sets:
            codes.update(each.code for each in all_findings(room_set) if each.severity == "fail")
        if built % given_.solids == 0:
            for room_set in sets:
                model = model_set(room_set, ROUTING)
                modelled += 1
                overlapping += any(
                    volume > 1.0 for _, volume in common_volumes(model.solids.installed)
                )
    print(dict(ends))
    print(f"sets modelled: {modelled}, with parts that overlap: {overlapping}")
    print("failed findings by code:", dict(codes.most_common()))


if __name__ == "__main__":
    main()

"""A kit list that somebody sent, beside what the joints need."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from parametric.kit.kit import Kit, KitLine

SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One article on both lists or on one: `over` is what is listed beyond what is needed.

    Where it is short, `runs_out_at` names the step and the joint that the last piece on the list
    does not reach, in the order of the work.
    """

    key: str
    description: str
    needed: float
    listed: float
    runs_out_at: str

    @property
    def over(self) -> float:
        """Surplus, or shortage if below 0."""
        return self.listed - self.needed

    @property
    def short(self) -> bool:
        """Whether the list does not hold what the joints need; spares do not count."""
        return self.over < -SAME


def compared(
    kit: Kit, listed: Mapping[str, float], in_order: Mapping[int, str] | None = None
) -> Iterator[Difference]:
    """Yield a difference for each article of the kit, then for what is only on the other list.

    With the joints of a set in the order of the work, each by its place in the assembly and in
    words, its kit's lines can say where an article runs out.
    """
    for line in kit.lines:
        has = listed.get(line.key, 0.0)
        yield Difference(
            key=line.key,
            description=line.description,
            needed=line.needed,
            listed=has,
            runs_out_at=runs_out_at(line, has, in_order or {}),
        )
    known = {line.key for line in kit.lines}
    for key in sorted(listed.keys() - known):
        yield Difference(key=key, description="", needed=0.0, listed=listed[key], runs_out_at="")


def runs_out_at(line: KitLine, listed: float, in_order: Mapping[int, str]) -> str:
    """Return the joint of the line that so many do not reach, in words; empty if they reach all, or
    if the article goes by no joints.
    """
    uses = Counter(line.joints)
    joints = [words for at, words in in_order.items() for _ in range(uses[at])]
    if not joints or listed >= line.needed - SAME:
        return ""
    each = line.needed / len(joints)
    return joints[min(len(joints) - 1, int(listed / each + SAME))]

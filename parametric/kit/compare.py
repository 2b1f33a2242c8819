"""A kit list that somebody sent, beside what the joints need."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from parametric.assembly import Assembly
from parametric.joints import FixedToWall, parts_of
from parametric.kit.kit import Kit, KitLine

SAME = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One article on both lists or on one: `over` is what is listed beyond what is needed.

    Where it is short, `runs_out_at` names the joint, by its parts, that the last piece on the list
    does not reach, in the order of the joints.
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
    kit: Kit, listed: Mapping[str, float], assembly: Assembly | None = None
) -> Iterator[Difference]:
    """Yield a difference for each article of the kit, then for what is only on the other list.

    With the assembly of a set, its kit's lines can say where an article runs out.
    """
    for line in kit.lines:
        has = listed.get(line.key, 0.0)
        yield Difference(
            key=line.key,
            description=line.description,
            needed=line.needed,
            listed=has,
            runs_out_at="" if assembly is None else runs_out_at(line, has, assembly),
        )
    known = {line.key for line in kit.lines}
    for key in sorted(listed.keys() - known):
        yield Difference(key=key, description="", needed=0.0, listed=listed[key], runs_out_at="")


def runs_out_at(line: KitLine, listed: float, assembly: Assembly) -> str:
    """Return the joint of the line that so many do not reach; empty if they reach all, or if the
    article goes by no joints.
    """
    if not line.joints or listed >= line.needed - SAME:
        return ""
    each = line.needed / len(line.joints)
    return place_of(assembly, line.joints[min(len(line.joints) - 1, int(listed / each + SAME))])


def place_of(assembly: Assembly, joint_at: int) -> str:
    """Return the parts that a joint joins, in words."""
    joint = assembly.joints[joint_at]
    first, *others = parts_of(joint)
    if isinstance(joint, FixedToWall):
        others = ["the wall"]
    return f"{first} to {', '.join(others)}"

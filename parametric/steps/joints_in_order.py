"""The joints of a set in the order of the work, each with its step and its parts in words."""

from __future__ import annotations

from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, parts_of
from parametric.steps.order import NoOrder, ordered
from parametric.steps.words import title_of


def joints_in_order(assembly: Assembly) -> dict[int, str]:
    """Return the joints by their places in the assembly's tuple, in the order that they are made.

    Where there is no order of work, they come as they are built, without a step.
    """
    try:
        tasks = ordered(assembly)
    except NoOrder:
        return {at: place_of(assembly, at) for at in range(len(assembly.joints))}
    comes = {part: number for number, task in enumerate(tasks) for part in task.parts}
    # What lies on an angle that comes later is held by it only then.
    made = {
        at: max((number, *(comes[part] for part in parts_of(assembly.joints[at]))))
        for number, task in enumerate(tasks)
        for at in task.joints
    }
    return {
        at: f"step {number + 1}, {title_of(assembly, tasks[number])}: {place_of(assembly, at)}"
        for at, number in sorted(made.items(), key=lambda item: item[1])
    }


def place_of(assembly: Assembly, joint_at: int) -> str:
    """Return the parts that a joint joins, in words."""
    joint = assembly.joints[joint_at]
    first, *others = parts_of(joint)
    if isinstance(joint, FixedToWall):
        others = ["the wall"]
    return f"{first} to {', '.join(others)}"

"""The joints of a set in the order of the work, each with its step and its parts in words."""

from __future__ import annotations

from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, parts_of
from parametric.steps.order import NoOrder, steps_of


def joints_in_order(assembly: Assembly) -> dict[int, str]:
    """Return the joints by their places in the assembly's tuple, in the order that they are made.

    Where there is no order of work, they come as they are built, without a step.
    """
    try:
        steps = steps_of(assembly, str)
    except NoOrder:
        return {at: place_of(assembly, at) for at in range(len(assembly.joints))}
    comes = {part: at for at, step in enumerate(steps) for part in step.parts}
    # What lies on an angle that comes later is held by it only then.
    made = {
        joint: max((at, *(comes[part] for part in parts_of(assembly.joints[joint]))))
        for at, step in enumerate(steps)
        for joint in step.joints
    }
    return {
        joint: f"step {at + 1}, {steps[at].title}: {place_of(assembly, joint)}"
        for joint, at in sorted(made.items(), key=lambda item: item[1])
    }


def place_of(assembly: Assembly, joint_at: int) -> str:
    """Return the parts that a joint joins, in words."""
    joint = assembly.joints[joint_at]
    first, *others = parts_of(joint)
    if isinstance(joint, FixedToWall):
        others = ["the wall"]
    return f"{first} to {', '.join(others)}"

"""What holds a wall screw: wood by NDS, a fixing by the figures given for it, or nobody knows."""

from __future__ import annotations

from parametric.findings.screws import wall_bite_mm
from parametric.joints.joints import FixedToWall
from parametric.stock.amounts import Words, force, length
from parametric.strength.loads import NDS_SPRUCE, Loads
from parametric.strength.wood_screws import NDS, covers, thread_mm, withdrawal_n

TO_AN_ENGINEER = "have an engineer specify the fixing, and give it in the job (walls)"


def lining_mm(joint: FixedToWall, loads: Loads) -> float:
    """Return what the screw goes through before it reaches what holds it."""
    own = joint.wall.lining_mm
    return loads.lining_mm if own is None else own


def wood_mm(joint: FixedToWall, loads: Loads) -> float:
    """Return how thick the blocking or timber is that the screw goes into."""
    own = joint.wall.wood_mm
    return loads.blocking_mm if own is None else own


def reach_mm(joint: FixedToWall, loads: Loads) -> float:
    """Return how far the screw reaches past the lining; below nothing where it ends in it."""
    return wall_bite_mm(joint) - lining_mm(joint, loads)


def thread_in_wood_mm(joint: FixedToWall, loads: Loads) -> float:
    """Return the thread of a wall screw that bites into wood behind the lining."""
    inside_mm = min(reach_mm(joint, loads), wood_mm(joint, loads))
    return max(0.0, min(inside_mm, thread_mm(joint.screw)))


def by_nds(joint: FixedToWall) -> bool:
    """Return whether the rules of NDS say what holds the screw: given figures go before them."""
    return joint.given is None and joint.wall.kind.is_wood and covers(joint.screw)


def pull_held_n(joint: FixedToWall, loads: Loads) -> float | None:
    """Return what is allowed on the screw straight out of the wall, None where nothing says."""
    if joint.given is not None:
        return joint.given.pull_n
    if not by_nds(joint):
        return None
    thread = thread_in_wood_mm(joint, loads)
    return withdrawal_n(loads.blocking_gravity, joint.screw.major_diameter_mm, thread)


def missing(joint: FixedToWall) -> str:
    """Return in words why nothing says it."""
    if joint.wall.kind.is_wood:
        return f"NDS does not cover {joint.screw.description}"
    return (
        f"no allowed load is given for {joint.screw.description} in {joint.wall.kind.words}:"
        " an engineer specifies the fixing"
    )


def depth_in_words(joint: FixedToWall, loads: Loads) -> Words:
    """Return in words what of the screw is held."""
    if by_nds(joint):
        return (" with ", length(thread_in_wood_mm(joint, loads)), " of thread in wood")
    if joint.given is not None:
        return f" in {joint.wall.kind.words}"
    return ""


def source_of_hold(joint: FixedToWall, clause: str) -> str:
    """Return where what is allowed is from: the source of the fixing, or a clause of NDS."""
    return f"{NDS}, {clause}" if joint.given is None else joint.given.source


def held_by(joint: FixedToWall, loads: Loads) -> tuple[Words, ...]:
    """Return in words what the screw is taken to go into."""
    given, kind = joint.given, joint.wall.kind
    if given is not None:
        return (
            f"{given.description}, in {kind.words}",
            (
                force(given.pull_n),
                " allowed straight out and ",
                force(given.shear_n),
                " along the wall, safety inside",
            ),
        )
    if not kind.is_wood:
        return (f"{kind.words}: nothing is known of what holds in it",)
    known = loads.blocking_gravity == Loads().blocking_gravity
    what = "blocking or studs" if kind.wants_blocking else "solid timber, in side grain,"
    return (
        f"{what} of specific gravity {loads.blocking_gravity:.2f}"
        f"{f' ({NDS_SPRUCE})' if known else ''}",
        (
            length(wood_mm(joint, loads)),
            " thick, behind a lining of ",
            length(lining_mm(joint, loads)),
            ", no shims",
        ),
        "duration factor 1.0",
    )

"""Run by the Python that has packingsolver: a question as JSON comes in, an answer goes out.

It imports nothing of this project. One processor core is used, as by the other side.
"""

import json
import os
import sys

import packingsolver.rectangle as peer  # type: ignore[import-not-found] # not in this environment


def run() -> None:
    asked = json.load(sys.stdin)
    os.sched_setaffinity(0, {sorted(os.sched_getaffinity(0))[-1]})
    builder = peer.InstanceBuilder()
    builder.set_objective(peer.Objective.BinPacking)
    length, width = asked["sheet"]
    copies = sum(kind["quantity"] for kind in asked["kinds"])
    builder.add_bin_type(length, width, copies=copies)
    for kind in asked["kinds"]:
        builder.add_item_type(
            kind["length"], kind["width"], copies=kind["quantity"], oriented=not kind["turnable"]
        )
    parameters = peer.OptimizeParameters()
    parameters.time_limit = asked["seconds"]
    parameters.optimization_mode = getattr(peer.OptimizationMode, asked["mode"])
    parameters.messages_to_stdout = False
    solution = peer.optimize(builder.build(), parameters).solution
    bins = [solution.bin(place) for place in range(solution.number_of_different_bins())]
    layouts = [
        {
            "runs": each.copies,
            "items": [(item.item_type_id, item.x, item.y, item.rotate) for item in each.items],
        }
        for each in bins
    ]
    json.dump(layouts, sys.stdout)


if __name__ == "__main__":
    run()

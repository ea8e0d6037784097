"""python -m kitbuilder.packing FILE.json [--name X]: solves the instances of a file, one line of JSON each.

An instance has sheet [width, height], rotate, items [width, height, demand] and, if wanted, gutter and stack; lengths
are whole numbers of any unit, and the answer is in the same unit.
"""

import argparse
import json
import sys
import time
from pathlib import Path
from typing import Any

from kitbuilder.packing.problem import Part, Problem, Solution
from kitbuilder.packing.solve import solve


def problem_of(instance: dict[str, Any]) -> Problem:
    """The instance as a Problem; its unit takes the place of micrometres."""
    width, height = instance["sheet"]
    turn = bool(instance["rotate"])
    parts = tuple(Part(w, h, demand, turn) for w, h, demand in instance["items"])
    return Problem(width, height, parts, gutter_um=instance.get("gutter") or 0, stack=instance.get("stack") or 1)


def answer_of(name: str, solution: Solution, seconds: float) -> dict[str, Any]:
    """The line printed for one instance."""
    layouts = [
        {
            "copies": layout.copies,
            "parts": [
                {
                    "item": slot.part,
                    "x": slot.x_um,
                    "y": slot.y_um,
                    "width": slot.width_um,
                    "height": slot.height_um,
                    "turned": slot.turned,
                }
                for slot in layout.slots
            ],
        }
        for layout in solution.layouts
    ]
    return {
        "name": name,
        "sheets": solution.sheets,
        "lower_bound": solution.lower_bound,
        "bound": solution.bound,
        "strokes": solution.strokes,
        "layouts": layouts,
        "seconds": round(seconds, 3),
    }


def main(arguments: list[str]) -> int:
    """0 when every chosen instance was solved, 1 when there is none of that name or the file cannot be used."""
    parser = argparse.ArgumentParser(prog="python -m kitbuilder.packing", description=__doc__.splitlines()[0])
    parser.add_argument("file", type=Path, help="a JSON list of instances")
    parser.add_argument("--name", help="solve only the instance of this name")
    options = parser.parse_args(arguments)
    try:
        instances = json.loads(options.file.read_text(encoding="utf-8"))
        chosen = [entry for entry in instances if options.name in (None, entry["name"])]
        problems = [(entry["name"], problem_of(entry)) for entry in chosen]
    except (OSError, ValueError, KeyError, TypeError) as error:
        print(f"{options.file}: not a list of instances that can be read ({error})", file=sys.stderr)
        return 1
    if not problems:
        print(f"{options.file}: no instance is named {options.name}", file=sys.stderr)
        return 1
    for name, problem in problems:
        start = time.perf_counter()
        try:
            solution = solve(problem)
        except ValueError as error:
            print(f"{options.file}: {name}: {error}", file=sys.stderr)
            return 1
        print(json.dumps(answer_of(name, solution, time.perf_counter() - start)), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

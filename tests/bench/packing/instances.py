"""Jobs to measure the packing room by: the bench files beside this module, and random kit jobs."""

import json
from dataclasses import dataclass
from pathlib import Path
from random import Random

from kitbuilder.packing.problem import Part, Problem

DATA = Path(__file__).parent / "data"

# Sizes a kit is made of, tenths of a millimetre: today's default letter card, tile and double tile first.
KIT_SIZES = (
    (620, 870), (380, 380), (760, 380), (1900, 450), (1300, 220), (600, 220), (630, 880), (250, 250), (500, 250),
    (900, 500), (600, 700), (1200, 700), (740, 1050), (500, 1500), (1400, 350), (450, 630), (330, 180), (889, 508),
    (1485, 1050), (980, 660), (675, 475), (413, 635), (572, 699), (1013, 287),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Instance:
    """A named problem with the best known number of sheets, if one is known."""

    name: str
    problem: Problem
    best_known: int | None


def from_file(name: str) -> list[Instance]:
    """Instances of data/NAME.json in the order of the file."""
    found = []
    for entry in json.loads((DATA / f"{name}.json").read_text(encoding="utf-8")):
        parts = tuple(Part(w, h, demand, entry["rotate"]) for w, h, demand in entry["items"])
        gutter, stack = entry.get("gutter") or 0, entry.get("stack") or 1
        problem = Problem(*entry["sheet"], parts, gutter_um=gutter, stack=stack)
        found.append(Instance(entry["name"], problem, entry["best_known_bins"]))
    return found


def random_kit_jobs(number: int = 40, seed: int = 20) -> list[Instance]:
    """Kit jobs of 5 to 10 sizes and 20 to 1,500 pieces on A4 or Letter less 5 mm; the first default sizes in each."""
    chance = Random(seed)
    jobs = []
    for index in range(number):
        count = chance.randint(5, 10)
        pieces = round(20 * 75 ** chance.random())  # 20 to 1,500, as many small jobs as large ones
        sheet = chance.choice(((2000, 2870), (2059, 2694)))
        sizes = [*KIT_SIZES[: chance.randint(1, 4)]]
        sizes += chance.sample([size for size in KIT_SIZES if size not in sizes], count - len(sizes))
        shares = [chance.random() + 0.1 for _ in sizes]
        demands = [max(1, round(pieces * share / sum(shares))) for share in shares]
        parts = tuple(Part(*size, demand) for size, demand in zip(sizes, demands, strict=True))
        gutter = chance.choice((0, 0, 0, 30))
        problem = Problem(*sheet, parts, gutter_um=gutter, stack=chance.choice((1, 3, 5, 10)))
        jobs.append(Instance(f"random-{index:02}-{sum(demands)}", problem, None))
    return jobs

"""The free packing library rectpack (Apache-2.0, PyPI), asked with each of its guillotine configurations."""

from itertools import product

import rectpack
from rectpack import guillotine

from kitbuilder.packing.problem import Problem

FITS, SPLITS = ("Bssf", "Baf", "Blsf"), ("Sas", "Las", "Slas", "Llas", "Maxas", "Minas")
ALGORITHMS = tuple(getattr(guillotine, f"Guillotine{fit}{split}") for fit, split in product(FITS, SPLITS))
SORTS = (rectpack.SORT_AREA, rectpack.SORT_SSIDE, rectpack.SORT_LSIDE)


def fewest_sheets_of_sweep(problem: Problem, sorts: tuple[object, ...] = SORTS) -> int:
    """Fewest sheets over all guillotine configurations, first fit, so many sort orders; gutter by inflation.

    rectpack turns all pieces or none; the problem's parts must agree on it.
    """
    turns = {part.may_turn for part in problem.parts}
    assert len(turns) == 1
    best: int | None = None
    for algorithm, sort in product(ALGORITHMS, sorts):
        packer = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline,
            bin_algo=rectpack.PackingBin.BFF,
            pack_algo=algorithm,
            sort_algo=sort,
            rotation=problem.parts[0].may_turn,
        )
        gutter = problem.gutter_um
        packer.add_bin(problem.sheet_width_um + gutter, problem.sheet_height_um + gutter, count=float("inf"))
        for part in problem.parts:
            for _ in range(part.demand):
                packer.add_rect(part.width_um + gutter, part.height_um + gutter)
        packer.pack()
        assert sum(len(sheet) for sheet in packer) == sum(part.demand for part in problem.parts)
        best = len(packer) if best is None else min(best, len(packer))
    assert best is not None
    return best

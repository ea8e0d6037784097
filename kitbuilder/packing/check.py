"""A judge of solutions: replays the cuts on paper and compares what is left with the slots.

It shares no code with the solver; it reads only the data of `problem.py`.
"""

from kitbuilder.packing.problem import Cut, Layout, Problem, Slot, Solution

Rect = tuple[int, int, int, int]


def faults(problem: Problem, solution: Solution) -> tuple[str, ...]:
    """Everything wrong with a solution, in plain words; empty when it is sound."""
    found: list[str] = []
    made = [0] * len(problem.parts)
    for number, layout in enumerate(solution.layouts):
        where = f"layout {number}"
        if layout.copies < 1:
            found.append(f"{where}: {layout.copies} copies")
        found += [f"{where}: {fault}" for fault in slot_faults(problem, layout)]
        found += [f"{where}: {fault}" for fault in cut_faults(problem, layout)]
        for slot in layout.slots:
            made[slot.part] += layout.copies
    for index, part in enumerate(problem.parts):
        if made[index] < part.demand:
            found.append(f"part {index}: {made[index]} slots for {part.demand} wanted")
    sheets = sum(layout.copies for layout in solution.layouts)
    if solution.lower_bound > sheets:
        found.append(f"lower bound {solution.lower_bound} is above the {sheets} sheets used")
    return tuple(found)


def slot_faults(problem: Problem, layout: Layout) -> list[str]:
    """Slots of a wrong size, outside the sheet, overlapping or closer than the gutter."""
    found = []
    for slot in layout.slots:
        part = problem.parts[slot.part]
        upright, turned = (part.width_um, part.height_um), (part.height_um, part.width_um)
        if (slot.width_um, slot.height_um) != (turned if slot.turned else upright):
            found.append(f"{slot} has not the size of its part")
        if slot.turned and not part.may_turn:
            found.append(f"{slot} is turned and may not be")
        right, bottom = slot.x_um + slot.width_um, slot.y_um + slot.height_um
        if slot.x_um < 0 or slot.y_um < 0 or right > problem.sheet_width_um or bottom > problem.sheet_height_um:
            found.append(f"{slot} leaves the sheet")
    for index, one in enumerate(layout.slots):
        found += [
            f"{one} and {other} are too close" for other in layout.slots[index + 1 :] if close(problem, one, other)
        ]
    return found


def close(problem: Problem, one: Slot, other: Slot) -> bool:
    """Whether two slots overlap or lie closer than the gutter in both directions."""
    gap_x = max(one.x_um, other.x_um) - min(one.x_um + one.width_um, other.x_um + other.width_um)
    gap_y = max(one.y_um, other.y_um) - min(one.y_um + one.height_um, other.y_um + other.height_um)
    return gap_x < problem.gutter_um and gap_y < problem.gutter_um


def cut_faults(problem: Problem, layout: Layout) -> list[str]:
    """Cuts that cannot be made, and flats or scraps that are left wrong after the last one."""
    waste = problem.waste
    paper: list[Rect] = [
        (
            -waste.left_um,
            -waste.top_um,
            problem.sheet_width_um + waste.right_um,
            problem.sheet_height_um + waste.bottom_um,
        )
    ]
    blade = problem.blade_um
    if blade is None:
        blade = max(paper[0][2] - paper[0][0], paper[0][3] - paper[0][1])
    found = []
    for cut in layout.cuts:
        if cut.to_um - cut.from_um > blade:
            found.append(f"{cut} is longer than the blade")
        hit = next((rect for rect in paper if from_edge_to_edge(cut, rect)), None)
        if hit is None:
            found.append(f"{cut} does not go from edge to edge of a piece of paper")
            continue
        paper.remove(hit)
        paper += halves(cut, hit)
    slots = {(s.x_um, s.y_um, s.x_um + s.width_um, s.y_um + s.height_um) for s in layout.slots}
    found += [f"the cuts do not free the slot {slot}" for slot in sorted(slots - set(paper))]
    found += [
        f"a flat is left inside the scrap {scrap}"
        for scrap in sorted(set(paper) - slots)
        if any(overlap(scrap, slot) for slot in slots)
    ]
    return found


def from_edge_to_edge(cut: Cut, rect: Rect) -> bool:
    """Whether the cut divides this piece of paper from edge to edge."""
    left, top, right, bottom = rect
    if cut.axis == "x":
        return left < cut.at_um < right and (cut.from_um, cut.to_um) == (top, bottom)
    return top < cut.at_um < bottom and (cut.from_um, cut.to_um) == (left, right)


def halves(cut: Cut, rect: Rect) -> list[Rect]:
    """The two pieces a cut leaves."""
    left, top, right, bottom = rect
    if cut.axis == "x":
        return [(left, top, cut.at_um, bottom), (cut.at_um, top, right, bottom)]
    return [(left, top, right, cut.at_um), (left, cut.at_um, right, bottom)]


def overlap(one: Rect, other: Rect) -> bool:
    """Whether two pieces share area."""
    return max(one[0], other[0]) < min(one[2], other[2]) and max(one[1], other[1]) < min(one[3], other[3])

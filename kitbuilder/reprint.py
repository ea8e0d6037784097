"""Printing again: a pack and a choice in, a small pack out, drawn from the old pack's drawings alone."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from kitbuilder.artwork.fonts import fonts_in
from kitbuilder.diagnostics import stop
from kitbuilder.export.extras import Extras
from kitbuilder.export.pack_folder import WrittenPack, plain_errors, write_pack
from kitbuilder.imposition.division import division_of
from kitbuilder.imposition.flats import Flat, FoldedPage
from kitbuilder.imposition.ganging import gang
from kitbuilder.imposition.offcuts import gang_on_offcuts
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.place import Workplace
from kitbuilder.imposition.press_notes import notes_of, warnings_of
from kitbuilder.imposition.print_files import plan_files, trial_files
from kitbuilder.imposition.sheet_marks import mark_sheets
from kitbuilder.imposition.workplace import back_rules, print_scale_ppm, workplace_of
from kitbuilder.load.definitions import load_press, with_paper
from kitbuilder.load.pack import Pack
from kitbuilder.measure.geometry import Size
from kitbuilder.measure.length import parse_length
from kitbuilder.model.press import Press
from kitbuilder.pick import Choice, pick_rows
from kitbuilder.prep.cautions import BY_NAME

RECORD = "reprints.jsonl"
_SHEET = re.compile(r"(?P<w>\d+(?:\.\d+)?)\s*(?P<unit1>mm|cm|in)?\s*[x×]\s*(?P<h>\d+(?:\.\d+)?)\s*(?P<unit>mm|cm|in)")


@dataclass(frozen=True, slots=True)
class Reprint:
    """The plan of a reprint, and the ids it prints."""

    plan: PackPlan
    ids: tuple[str, ...]


def press_for(root: Path, pack: Pack, choice: Choice, paper: str | None = None) -> Press:
    """Return the family's press with the paper to print on: the one asked for, else its own.

    Whole pages and folded sheets fit only the paper they were made for: they bring it with them.
    """
    files = sorted({int(row["front"]["file"]) for row in pick_rows(pack, choice) if row.get("division")})
    made_for = [str(pack.manifest["files"][number]["paper"]).strip().lower() for number in files]
    press = load_press(root, made_for[0] if made_for else None)
    if paper:
        return with_paper(press, paper)
    if not made_for or press.paper.strip().lower() in made_for:
        return press
    return with_paper(press, made_for[0])


def plan_reprint(
    pack: Pack, choice: Choice, press: Press, offcuts: Sequence[Size] = (), *, trial: bool = False
) -> Reprint:
    """Return the reprint, planned on full sheets of the press's paper, or on the named offcuts."""
    rows = pick_rows(pack, choice)
    sets = {str(each["id"]): each for each in pack.manifest.get("sets", ())}
    plan = plan_of_flats(
        [_flat(row, pack, sets.get(row["set"], {})) for row in rows], pack, press, offcuts, trial=trial
    )
    return Reprint(plan, tuple(row["id"] for row in rows))


def plan_of_flats(
    picked: Sequence[Flat], pack: Pack, press: Press, offcuts: Sequence[Size], *, trial: bool
) -> PackPlan:
    """Return the plan of a small pack that holds just these flats, called after the pack they belong to."""
    flats = _distinct(picked)
    place = replace(workplace_of(press, int(pack.manifest["seed"])), spares=False)
    missing = [f.stock for f in flats if f.stock not in place.stocks]
    if missing:
        # a stock the press no longer knows is printed like card: by hand, one sheet at a time
        place = replace(place, stocks={**place.stocks, **_unknown_stocks(missing)})
    if not offcuts:
        flats = [_part_of_sheet(flat, place) for flat in flats]
    runs = gang_on_offcuts(flats, place, offcuts) if offcuts else gang(flats, place)
    runs = mark_sheets(runs, place, press.cut_lines)
    files = plan_files(runs, back_rules(press))
    return PackPlan(
        name=f"reprint-{pack.manifest['pack']}",
        title=str(pack.manifest.get("title", "Reprint")),
        units=tuple(sorted({f.unit for f in flats})),
        seed=int(pack.manifest["seed"]),
        definitions_sha256=str(pack.manifest["definitions_sha256"]),
        language=str(pack.manifest.get("language", "en")),
        pieces=(),
        flats=tuple(flats),
        runs=runs,
        files=files,
        warnings=warnings_of(runs, press),
        notes=notes_of(runs, (), press),
        trials=trial_files(files) if trial else (),
    )


def _part_of_sheet(flat: Flat, place: Workplace) -> Flat:
    """Return the flat with the part it is of this sheet: a page made for A4 is half an A3.

    Raises:
        ProblemsFound: when a page is no part of it.
    """
    division = division_of(flat.width_um, flat.height_um, place.width_um, place.height_um) if flat.division else 0
    if flat.division and not division:
        raise stop(
            f"{flat.piece_id} is a page for another paper than {place.paper}: {flat.width_um / 1000:g} x "
            f"{flat.height_um / 1000:g} mm",
            "page-of-another-paper",
            "leave --paper out to print it on its own, or add --updated to make it anew for this paper",
        )
    return replace(flat, division=division)


def sheet_sizes(texts: Sequence[str]) -> tuple[Size, ...]:
    """Return the sizes written as 210x120mm or 8.5x4in.

    Raises:
        ProblemsFound: for what is no size.
    """
    sizes = []
    for text in texts:
        found = _SHEET.fullmatch(text.strip().lower())
        if not found:
            raise stop(f"--sheet {text!r} is not a size", "bad-sheet", "write width x height with a unit: 210x120mm")
        unit = found["unit"]
        try:
            size = Size(parse_length(found["w"] + (found["unit1"] or unit)), parse_length(found["h"] + unit))
        except ValueError as error:
            raise stop(
                f"--sheet {text!r}: {error}", "bad-sheet", "write width x height with a unit: 210x120mm"
            ) from None
        if min(size.width.um, size.height.um) < 30_000 or max(size.width.um, size.height.um) > 1_500_000:
            raise stop(f"--sheet {text!r} is no sheet a printer takes", "bad-sheet", "30 mm to 1.5 m a side")
        sizes.append(size)
    return tuple(sizes)


def make_reprint(
    pack: Pack,
    reprint: Reprint,
    press: Press,
    out: Path,
    bitmaps: Mapping[str, bytes] | None = None,
    *,
    replace_old: bool = False,
) -> WrittenPack:
    """Return the reprint's folder, written whole beside the pack, and note it in the pack's reprints.jsonl."""
    fonts = pack.folder / "fonts"
    written = write_pack(
        reprint.plan,
        out,
        fonts_in(fonts),
        {**pack.drawings.bitmaps, **(bitmaps or {})},
        replace_old=replace_old,
        scale_ppm=print_scale_ppm(press),
        extras=Extras(press, fonts_in(fonts), {**pack.drawings.bitmaps, **(bitmaps or {})}).write,
    )
    with plain_errors(pack.folder):
        record_reprint(pack, reprint.ids, written.folder)
    return written


def record_reprint(pack: Pack, ids: Sequence[str], written_to: Path) -> None:
    """Append one line to the pack's reprints.jsonl: the only file a pack gains after it was written."""
    line = json.dumps({"ids": list(ids), "written_to": written_to.name}, ensure_ascii=False)
    with (pack.folder / RECORD).open("a", encoding="utf-8", newline="\n") as record:
        record.write(line + "\n")


def reprinted(pack: Pack) -> tuple[Mapping[str, Any], ...]:
    """Return a row for each time pieces of the pack were printed again, oldest first; damaged lines are left out."""
    path = pack.folder / RECORD
    rows: list[Mapping[str, Any]] = []
    for line in path.read_text(encoding="utf-8").splitlines() if path.is_file() else ():
        try:
            row = json.loads(line)
            rows.append({"ids": [str(i) for i in row["ids"]], "written_to": str(row["written_to"])})
        except (ValueError, KeyError, TypeError):
            continue
    return tuple(rows)


def _flat(row: Mapping[str, Any], pack: Pack, of_set: Mapping[str, Any]) -> Flat:
    front, back = pack.drawings.flats[row["id"]]
    folded = tuple(
        FoldedPage(p["page"], p["side"], p["x_um"], p["y_um"], p["width_um"], p["height_um"], p["quarter_turns"])
        for p in row["pages"] or ()
    )
    return Flat(
        id=row["id"],
        piece_id=row["piece"],
        set_id=row["set"],
        kind=row["kind"],
        unit=row["unit"],
        learner=row["learner"],
        order=tuple(row.get("order", (0, 0))),
        copy=row["copy"],
        stock=row["stock"],
        durable=row["durable"],
        width_um=row["width_um"],
        height_um=row["height_um"],
        front=front,
        back=back,
        may_turn=bool(row.get("may_turn", True)),
        division=int(row.get("division", 0)),
        colour=row.get("colour", ""),
        folded=folded,
        title=row.get("title", ""),
        clear_um=int(row.get("clear_um", 0)),
        binding=str(row.get("binding", "left")),
        make=str(of_set.get("make", "")),
        cautions=tuple(name for name in of_set.get("cautions", ()) if name in BY_NAME),
        laminate=bool(row.get("laminate", False)),
    )


def _distinct(flats: Sequence[Flat]) -> list[Flat]:
    """Return the flats with ids that differ: the second one of `x2` is called `...s1`, like a spare."""
    seen: dict[str, int] = {}
    out = []
    for flat in flats:
        times = seen[flat.id] = seen.get(flat.id, -1) + 1
        out.append(flat if times == 0 else replace(flat, id=f"{flat.id}s{times}", copy=flat.copy + times))
    return out


def _unknown_stocks(names: Sequence[str]) -> dict[str, Any]:
    from kitbuilder.imposition.place import StockPlan
    from kitbuilder.imposition.sheets import TwoSided

    return {name: StockPlan(name, TwoSided.BY_HAND, 1) for name in sorted(set(names))}

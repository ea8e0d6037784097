"""A judge for whole packs: reads manifest.json and the print files, and shares no code with what made them.

`judge_pack(folder)` returns findings, one sentence each; none means that nothing wrong was found. It looks at print
settings, fonts, sizes, words inside their flats, backs behind fronts, cuts, folded booklets, rulers and the counts of
sets and piles.
"""

from __future__ import annotations

import hashlib
import json
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from judge_folding import reading_problems
from judge_paper import Area, back_error, covered, long_edge_is_vertical, point_on_page, replay
from judge_reading import Facts, PageSeen, facts, pages_seen, plain

SLACK_UM = 50  # a twentieth of a millimetre: reading a page back rounds
CLOSE_UM = 2
# ISO 216; ANSI/ASME Y14.1 sizes A and B; legal: US trade size. Millimetres.
PAPERS = {
    "a3": (297, 420), "a4": (210, 297), "a5": (148, 210),
    "letter": (215.9, 279.4), "legal": (215.9, 355.6), "tabloid": (279.4, 431.8),
}  # fmt: skip
# ISO 32000-2, table 147: values of /Duplex
DUPLEX = {
    "no": "Simplex", "by-hand-fronts": "Simplex", "by-hand-backs": "Simplex",
    "long-edge": "DuplexFlipLongEdge", "short-edge": "DuplexFlipShortEdge",
}  # fmt: skip

Row = dict[str, Any]


def judge_pack(folder: Path) -> list[str]:
    """Return what is wrong with the pack in this folder."""
    try:
        manifest = json.loads((folder / "manifest.json").read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        return [f"manifest.json cannot be read: {error}"]
    if manifest.get("format") != "kitbuilder-manifest" or manifest.get("version") != 1:
        return ["manifest.json: not a manifest of version 1"]
    try:
        pack = _Pack(folder, manifest)
    except (OSError, KeyError, ValueError) as error:
        return [f"the print files cannot be read: {error!r}"]
    findings: list[str] = []
    for check in CHECKS:
        try:
            findings += check(pack)
        except (KeyError, IndexError, TypeError) as error:
            findings.append(f"{check.__name__.strip('_')}: the manifest lacks something: {error!r}")
    return findings


class _Pack:
    """The manifest with its pages read, and the flats of each page."""

    def __init__(self, folder: Path, manifest: Row) -> None:
        self.folder = folder
        self.manifest = manifest
        self.files: list[Row] = manifest["files"]
        self.facts: list[Facts] = [facts(folder / f["path"]) for f in self.files]
        self.pages: list[tuple[PageSeen, ...]] = [pages_seen(folder / f["path"]) for f in self.files]
        self.rows: list[Row] = manifest["pieces"]
        self.sheets: list[Row] = manifest["sheets"]
        self.fronts = {(s["file"], s["front_page"]): s for s in self.sheets}
        self.backs = {(s["back_file"], s["back_page"]): s for s in self.sheets if s["back_page"]}
        # (file, page) -> (row, side, area) of what lies there
        self.on_page: dict[tuple[int, int], list[tuple[Row, str, Area]]] = defaultdict(list)
        for row in self.rows:
            for side in ("front", "back"):
                if row[side]:
                    area = covered(row["width_um"], row["height_um"], row[side])
                    self.on_page[row[side]["file"], row[side]["page"]].append((row, side, area))

    def sheet_of(self, file: int, page: int) -> Row | None:
        return self.fronts.get((file, page)) or self.backs.get((file, page))

    def where(self, file: int, page: int) -> str:
        return f"{self.files[file]['path']} page {page}"


def _print_settings(pack: _Pack) -> Iterator[str]:
    for row, fact in zip(pack.files, pack.facts, strict=True):
        name = row["path"]
        said = fact.preferences
        wanted = {"PrintScaling": "None", "Duplex": DUPLEX.get(row["two_sided"], "?"), "PickTrayByPDFSize": True}
        for key, value in wanted.items():
            if said.get(key) != value:
                yield f"{name}: {key} is {said.get(key)!r}, not {value!r}"
        if said.get("NumCopies", 1) != row["copies"]:
            yield f"{name}: NumCopies is {said.get('NumCopies', 1)}, the manifest says {row['copies']}"
        if not fact.title or not fact.language:
            yield f"{name}: has no title or no language"
        for font, embedded in sorted(fact.fonts.items()):
            if not embedded:
                yield f"{name}: the font {font} is not embedded"
        if hashlib.sha256((pack.folder / name).read_bytes()).hexdigest() != row["sha256"]:
            yield f"{name}: is not the file whose SHA-256 the manifest holds"


def _sheets(pack: _Pack) -> Iterator[str]:
    used: Counter[tuple[int, int]] = Counter()
    for sheet in pack.sheets:
        front = (sheet["file"], sheet["front_page"])
        sides = [front, *([(sheet["back_file"], sheet["back_page"])] if sheet["back_page"] else [])]
        used.update(sides)
        for file, page in sides:
            if not 1 <= page <= len(pack.pages[file]):
                yield f"{pack.where(file, page)}: there is no such page"
                continue
            yield from _page_size(pack, sheet, file, page)
        apart = front[1] % 2 == 0 or sides[1:] not in ([], [(front[0], front[1] + 1)])
        if apart and pack.files[front[0]]["two_sided"] in ("long-edge", "short-edge"):
            yield f"{pack.where(*front)}: front and back are not on one sheet of a two-sided file"
    for index, file in enumerate(pack.files):
        if file["pages"] != len(pack.pages[index]):
            yield f"{file['path']}: has {len(pack.pages[index])} pages, the manifest says {file['pages']}"
        for page in range(1, len(pack.pages[index]) + 1):
            if used[index, page] != 1:
                yield f"{pack.where(index, page)}: is a side of {used[index, page]} sheets"


def _page_size(pack: _Pack, sheet: Row, file: int, page: int) -> Iterator[str]:
    seen, boxes = pack.pages[file][page - 1], pack.facts[file].boxes[page - 1]
    where = pack.where(file, page)
    if max(abs(seen.width - sheet["width_um"]), abs(seen.height - sheet["height_um"])) > CLOSE_UM:
        yield f"{where}: is {seen.width:.0f} x {seen.height:.0f} um, the sheet is not"
    if boxes.get("TrimBox") != boxes["MediaBox"]:
        yield f"{where}: the TrimBox is not the sheet"
    named = PAPERS.get(pack.files[file]["paper"].lower())
    if named and sorted(round(v * 1000) for v in named) != sorted((sheet["width_um"], sheet["height_um"])):
        yield f"{where}: the sheet is not of the size {pack.files[file]['paper']}"


def _places(pack: _Pack) -> Iterator[str]:
    for (file, page), flats in sorted(pack.on_page.items(), key=lambda pair: pair[0]):
        sheet = pack.sheet_of(file, page)
        if sheet is None:
            yield f"{pack.where(file, page)}: flats lie on a page that is no side of a sheet"
            continue
        moved = pack.files[file]["back_offset_um"]
        for index, (row, side, area) in enumerate(flats):
            dx, dy = moved if side == "back" else (0, 0)
            slack = _spread(pack.files[file], sheet) if side == "back" else 0
            whole = Area(dx, dy, sheet["width_um"] + dx, sheet["height_um"] + dy)
            if not whole.holds(area, slack):
                yield f"{row['id']}: its {side} does not lie on the sheet"
            if row["stock"] != pack.files[file]["stock"]:
                yield f"{row['id']}: is of {row['stock']}, printed on {pack.files[file]['stock']}"
            for other, _, covers in flats[:index]:
                if area.shared(covers) > 1:  # backs that are spread by a scale round by a micrometre
                    yield f"{pack.where(file, page)}: {row['id']} lies on {other['id']}"


def _spread(file: Row, sheet: Row) -> float:
    return abs(file.get("back_scale_ppm", 0)) * max(sheet["width_um"], sheet["height_um"]) / 2e6 + 1


def _backs(pack: _Pack) -> Iterator[str]:
    by_file: dict[int, list[tuple[Row, float, float]]] = defaultdict(list)
    for row in pack.rows:
        if not row["back"]:
            if row["text"]["back"]:
                yield f"{row['id']}: has words for a back and no back"
            continue
        sheet = pack.fronts.get((row["front"]["file"], row["front"]["page"]))
        if sheet is None or (sheet["back_file"], sheet["back_page"]) != (row["back"]["file"], row["back"]["page"]):
            yield f"{row['id']}: its back is not on the back of its sheet"
            continue
        file = pack.files[row["back"]["file"]]
        moved, scale = complex(*file["back_offset_um"]), file.get("back_scale_ppm", 0)
        upright, across = (back_error(row, sheet, vertical, moved, scale) for vertical in (True, False))
        if file["two_sided"] in ("long-edge", "short-edge"):
            vertical = (file["two_sided"] == "long-edge") == long_edge_is_vertical(sheet)
            if (upright if vertical else across) > CLOSE_UM:
                yield f"{row['id']}: its back lies {(upright if vertical else across) / 1000:.2f} mm from its front"
        elif file["two_sided"] == "by-hand-backs":
            by_file[row["back"]["file"]].append((row, upright, across))
        else:
            yield f"{row['id']}: its back is in a file printed on one side"
    for index, found in by_file.items():  # by hand the printer decides which axis; one file, one axis
        column = min((1, 2), key=lambda c: sum(each[c] > CLOSE_UM for each in found))
        for each in found:
            if each[column] > CLOSE_UM:
                yield f"{each[0]['id']}: its back in {pack.files[index]['path']} is not behind its front"


def _words(pack: _Pack) -> Iterator[str]:
    for file, pages in enumerate(pack.pages):
        for page, seen in enumerate(pages, 1):
            flats = pack.on_page[file, page]
            found: dict[str, list[str]] = defaultdict(list)
            leaning: dict[str, Counter[int]] = defaultdict(Counter)
            for word in seen.words:
                for row, side, area in flats:
                    if area.shared(word) > SLACK_UM:
                        found[row["id"]].append(word.text)
                        leaning[row["id"]][word.turns] += len(word.text)
                        if not area.holds(word, SLACK_UM):
                            yield f"{row['id']}: {word.text[:40]!r} on its {side} crosses the cut"
                if not Area(0, 0, seen.width, seen.height).holds(word, SLACK_UM):
                    yield f"{pack.where(file, page)}: {word.text[:40]!r} runs off the sheet"
            for row, side, _ in flats:
                yield from _said(row, side, found[row["id"]])
                most = leaning[row["id"]].most_common(1)
                if most and not row["pages"] and most[0][0] != row[side]["quarter_turns"] % 4:
                    yield f"{row['id']}: its {side} is turned {most[0][0]} quarters, the manifest says otherwise"
            copied = Counter("".join(w.text for w in seen.words).replace(" ", ""))
            if copied != Counter(pack.facts[file].letters[page - 1]):
                yield f"{pack.where(file, page)}: two readers copy out different letters"


def _said(row: Row, side: str, found: list[str]) -> Iterator[str]:
    wanted = Counter(p for t in row["text"][side] if (p := plain(t)))
    missing, extra = wanted - Counter(found), Counter(found) - wanted
    if missing:
        yield f"{row['id']}: its {side} should say {sorted(missing)[:3]} and does not"
    if extra:
        yield f"{row['id']}: its {side} also says {sorted(extra)[:3]}"


def _cuts(pack: _Pack) -> Iterator[str]:
    layouts = {layout["id"]: layout for layout in pack.manifest["layouts"]}
    used = Counter(sheet["layout"] for sheet in pack.sheets)
    for name, layout in layouts.items():
        if layout["copies"] != used[name]:
            yield f"layout {name}: is on {used[name]} sheets, the manifest says {layout['copies']}"
    replayed: dict[tuple[str, int, int], tuple[list[Area], list[str]]] = {}
    for sheet in pack.sheets:
        key = (sheet["layout"], sheet["width_um"], sheet["height_um"])
        if layouts[sheet["layout"]].get("ready_cut"):
            if layouts[sheet["layout"]]["cuts"]:
                yield f"layout {sheet['layout']}: labels are ready cut, and there are cuts"
            continue
        if key not in replayed:
            replayed[key] = replay(layouts[sheet["layout"]]["cuts"], sheet)
            yield from (f"layout {sheet['layout']}: {wrong}" for wrong in replayed[key][1])
        parts = replayed[key][0]
        for row, side, area in pack.on_page[sheet["file"], sheet["front_page"]]:
            if side == "front" and area not in parts:
                inside = any(depth > 0 for depth in _crossed(layouts[sheet["layout"]]["cuts"], area))
                what = "a cut goes through it" if inside else "the cuts do not set it free"
                yield f"{row['id']}: {what} (layout {sheet['layout']})"


def _crossed(cuts: list[Row], area: Area) -> Iterator[float]:
    """Yield how deep inside the area each cut runs that crosses it."""
    for cut in cuts:
        low, high, first, last = area.left, area.right, area.top, area.bottom
        if cut["axis"] == "y":
            low, high, first, last = first, last, low, high
        if min(cut["to_um"], last) > max(cut["from_um"], first):
            yield min(cut["at_um"] - low, high - cut["at_um"])


def _booklets(pack: _Pack) -> Iterator[str]:
    pieces: dict[str, list[Row]] = defaultdict(list)
    for row in pack.rows:
        if row["pages"]:
            pieces[row["piece"] if row["role"] == "piece" else row["id"]].append(row)
            yield from _words_on_pages(pack, row)
    for rows in pieces.values():
        if rows[0]["role"] == "piece":
            yield from reading_problems(sorted(rows, key=_number_in_piece))


def _number_in_piece(row: Row) -> int:
    tail = row["id"].removeprefix(row["piece"]).lstrip(".")
    return int(tail) if tail.isdigit() else 0


def _words_on_pages(pack: _Pack, row: Row) -> Iterator[str]:
    """Find words that lie across a fold, or that stand another way up than their page."""
    for side in ("front", "back"):
        place = row[side]
        if not place:
            continue
        flat = covered(row["width_um"], row["height_um"], place)
        pages = [(p, _page_area(p, row, place)) for p in row["pages"] if p["side"] == side]
        leaning: dict[int, Counter[int]] = defaultdict(Counter)
        for word in pack.pages[place["file"]][place["page"] - 1].words:
            if flat.shared(word) <= SLACK_UM:
                continue
            home = next((p for p, area in pages if area.holds(word, SLACK_UM)), None)
            if home is None:
                yield f"{row['id']}: {word.text[:40]!r} lies across a fold"
            else:
                leaning[home["page"]][word.turns] += len(word.text)
        for page, _ in pages:
            turns = (page["quarter_turns"] + place["quarter_turns"]) % 4
            if leaning[page["page"]] and leaning[page["page"]].most_common(1)[0][0] != turns:
                yield f"{row['id']}: page {page['page']} is not turned as the manifest says"


def _page_area(page: Row, row: Row, place: Row) -> Area:
    own = covered(page["width_um"], page["height_um"], page)
    corners = [
        point_on_page(x, y, row["width_um"], row["height_um"], place)
        for x, y in ((own.left, own.top), (own.right, own.bottom))
    ]
    xs, ys = [c.real for c in corners], [c.imag for c in corners]
    return Area(min(xs), min(ys), max(xs), max(ys))


def _rulers(pack: _Pack) -> Iterator[str]:
    for file, pages in enumerate(pack.pages):
        for page, seen in enumerate(pages, 1):
            ruled = any("100 mm" in w.text for w in seen.words)
            if ruled and not any(abs(length - 100_000) <= SLACK_UM for length in seen.strokes):
                yield f"{pack.where(file, page)}: speaks of 100 mm, and no line is 100 mm long"


def _counts(pack: _Pack) -> Iterator[str]:
    ids = Counter(row["id"] for row in pack.rows)
    yield from (f"{name}: {count} rows have this id" for name, count in ids.items() if count > 1)
    real = [row for row in pack.rows if row["role"] == "piece"]
    for each in pack.manifest["sets"]:
        rows = [row for row in real if row["set"] == each["id"]]
        counted = (len(rows), len({(row["piece"], row["copy"]) for row in rows}))
        if counted != (each["pieces"], each["things"]):
            yield f"set {each['id']}: has {counted[0]} flats of {counted[1]} things, the manifest says otherwise"
    unknown = {row["set"] for row in real} - {each["id"] for each in pack.manifest["sets"]}
    yield from (f"set {name}: is not in the list of sets" for name in sorted(unknown))
    sheets = sum(run["sheets"] for run in pack.manifest["runs"])
    if sheets != len(pack.sheets):
        yield f"the runs have {sheets} sheets, the list of sheets {len(pack.sheets)}"
    for run in pack.manifest["runs"]:
        if run["sheets"] < run["lower_bound"]:
            yield f"{run['stock']}: {run['sheets']} sheets are fewer than the bound {run['lower_bound']}"


def _piles(pack: _Pack) -> Iterator[str]:
    lying: dict[str, list[Row]] = defaultdict(list)
    for row in pack.rows:
        lying[row["pile"]].append(row)
    known = {pile["id"]: pile for pile in pack.manifest["piles"]}
    yield from (f"pile {name}: is not in the list of piles" for name in sorted(lying.keys() - known.keys()))
    for name, pile in known.items():
        rows = sorted(lying[name], key=lambda row: row["depth"])
        depths = [row["depth"] for row in rows]
        if len(set(depths)) < len(depths):
            yield f"pile {name}: two flats lie at the same depth"
        if {row["set"] for row in rows} != set(pile["holds"]):
            yield f"pile {name}: does not hold the sets that it should"
        spots = {(row["front"]["x_um"], row["front"]["y_um"], row["front"]["quarter_turns"]) for row in rows}
        if len(spots) > 1:
            yield f"pile {name}: its flats do not lie at one place of the layout"


CHECKS: tuple[Callable[[_Pack], Iterator[str]], ...] = (
    _print_settings, _sheets, _places, _backs, _words, _cuts, _booklets, _rulers, _counts, _piles,
)  # fmt: skip

"""The run, told stage by stage: definitions -> jobs -> pieces -> flats -> sheets -> files."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.artwork.fonts import fonts_in
from kitbuilder.artwork.piece import Piece
from kitbuilder.artwork.type_metrics import FontMetrics, metrics
from kitbuilder.compose.box import check_box
from kitbuilder.compose.faces import FaceBook
from kitbuilder.compose.jobs import Job, Wanted, make_jobs, unknown_kind
from kitbuilder.compose.pack_pieces import compose_pieces
from kitbuilder.compose.pen import Workshop
from kitbuilder.compose.picture_book import FamilyBitmap, PictureBook
from kitbuilder.compose.reading import family_reader, reading_problems
from kitbuilder.compose.sources import Sources
from kitbuilder.diagnostics import ProblemLog
from kitbuilder.imposition.flats import Flat
from kitbuilder.imposition.formats import FormatFinder
from kitbuilder.imposition.pack_plan import PackPlan
from kitbuilder.imposition.press_notes import notes_of, warnings_of
from kitbuilder.imposition.print_files import plan_files, trial_files
from kitbuilder.imposition.sheet_marks import mark_sheets
from kitbuilder.imposition.signatures import fold_piece, staple_limit_sheets
from kitbuilder.imposition.workplace import back_rules, print_scale_ppm, workplace_of
from kitbuilder.job_formats import with_formats
from kitbuilder.load.definitions import load_home, with_paper
from kitbuilder.load.family_files import FamilyPicture, definitions_digest, load_pictures
from kitbuilder.load.templates import Templates, load_templates
from kitbuilder.model.home import Home
from kitbuilder.model.press import Press
from kitbuilder.remembering import let_go
from kitbuilder.request import Request, pack_name, units_for_nobody, wanted_units

if TYPE_CHECKING:  # writers load the PDF library and the page's templates: only when something is written
    from kitbuilder.export.extras import Extras
    from kitbuilder.export.pack_folder import WrittenPack


@dataclass(frozen=True, slots=True)
class Family:
    """Everything read from the family's folder, once a run."""

    root: Path
    home: Home
    templates: Templates
    workshop: Workshop
    bitmaps: dict[str, bytes]
    digest: str


@dataclass(slots=True)
class Progress:
    """Told how far the run is; the default tells nobody."""

    stage: Callable[[str], None] = field(default=lambda name: None)


def read_family(request: Request, log: ProblemLog) -> Family:
    """Return the family's definitions, templates, pictures and fonts; raises ProblemsFound with all their problems."""
    home = load_home(request.root, log)
    if request.paper or request.seed is not None:
        home = _overridden(home, request)
    templates = load_templates(request.root, log)
    pictures = load_pictures(request.root, log)
    log.stop_if_any()
    own = {
        name: FamilyBitmap(p.digest, p.format, p.width_px, p.height_px) if isinstance(p, FamilyPicture) else p
        for name, p in pictures.items()
    }
    bitmaps = {p.digest: p.data for p in pictures.values() if isinstance(p, FamilyPicture)}
    fonts = request.root / "fonts"

    @cache  # a face asks for its font at every text; looking into the folders each time is a fifth of a run
    def font(name: str) -> FontMetrics:
        return metrics(name, fonts)

    workshop = Workshop(font, PictureBook(own), log)
    return Family(request.root, home, templates, workshop, bitmaps, definitions_digest(request.root))


def plan_weeks(family: Family, request: Request, progress: Progress | None = None) -> Iterator[PackPlan]:
    """Yield a pack for each week of the request, one after the other."""
    for unit, learners in wanted_units(family.home, request).units:
        codes = tuple(str(learner.code) for learner in learners)
        week = replace(request, first=unit.unit, last=None, weeks=None)
        plan = plan_pack(family, replace(week, learners=codes), progress, more_follow=True)
        yield replace(plan, name=pack_name(week, (unit.unit,)))
    let_go()


def pieces_of(family: Family, wanted: Wanted, tell: Callable[[str], None]) -> tuple[Piece, ...]:
    """Return all pieces that are wanted, numbered; raises ProblemsFound, also for words a child cannot read yet."""
    home, log = family.home, family.workshop.log
    tell("choosing")
    jobs = jobs_of(family, wanted, log)
    tell("composing")
    reader = family_reader(home, log)
    log.extend(reading_problems((unit for unit, _ in wanted.units), reader))
    sources = Sources(home, family.workshop.pictures, reader.reader, format_of=FormatFinder(home.press, ProblemLog()))
    return compose_pieces(jobs, sources, FaceBook(family.templates.faces, family.workshop), family.templates.kinds)


def plan_pack(
    family: Family, request: Request, progress: Progress | None = None, *, more_follow: bool = False
) -> PackPlan:
    """Return the pack, planned down to the last stroke; nothing is written.

    What choosing has learnt about words is let go afterwards, unless `more_follow`.
    """
    from kitbuilder.imposition.ganging import gang  # brings the packing room, which `check` does without

    tell = (progress or Progress()).stage
    home = family.home
    wanted = wanted_units(home, request)
    pieces = pieces_of(family, wanted, tell)
    if not more_follow:
        let_go()  # laying out and writing take the room
    tell("folding")
    flats = flats_of(pieces, home.press)
    tell("laying out sheets")
    place = workplace_of(home.press, home.sequence.seed)
    rules = back_rules(home.press)
    runs = mark_sheets(gang(flats, place), place, home.press.cut_lines)
    files = plan_files(runs, rules)
    units = tuple(unit.unit for unit, _ in wanted.units)
    return PackPlan(
        name=pack_name(request, units),
        title=str(home.sequence.title),
        units=units,
        seed=home.sequence.seed,
        definitions_sha256=family.digest,
        language="en-GB" if home.sequence.accent == "uk" else "en-US",
        pieces=pieces,
        flats=flats,
        runs=runs,
        files=files,
        warnings=warnings_of(runs, home.press),
        notes=tuple(note for note in (units_for_nobody(wanted),) if note) + notes_of(runs, pieces, home.press),
        trials=trial_files(files) if request.trial else (),
    )


def jobs_of(family: Family, wanted: Wanted, log: ProblemLog) -> tuple[Job, ...]:
    """Return who gets what; raises ProblemsFound for unknown kinds, options and impossible sizes."""
    kinds = family.templates.kinds
    default = family.home.sequence.kinds
    for name in (*default, *wanted.only):
        if name not in kinds:
            unknown_kind(name, kinds, log)
    check_box(family.home, kinds, log)
    formats = FormatFinder(family.home.press, log)
    jobs = make_jobs(wanted, kinds, [str(k) for k in default], family.home.sequence.seed, formats, log)
    jobs = tuple(with_formats(job, formats) for job in jobs)
    log.stop_if_any()
    return jobs


def flats_of(pieces: Sequence[Piece], press: Press) -> tuple[Flat, ...]:
    """Return the flats of all pieces, in the order of the pieces."""
    sheet = press.size
    calipers = {str(s.name): s.caliper_um for s in press.stocks}
    flats: list[Flat] = []
    for piece in pieces:
        clear = piece.format.keep_clear
        least = min(clear.left.um, clear.top.um, clear.right.um, clear.bottom.um)
        folded = fold_piece(
            piece,
            sheet.width.um,
            sheet.height.um,
            calipers[piece.stock],
            staple_limit_sheets(calipers[piece.stock]),
            calipers.get(piece.cover_stock),
        )
        flats += (
            replace(flat, clear_um=least, binding=piece.binding, make=piece.make, cautions=piece.cautions)
            for flat in folded
        )
    return tuple(flats)


def make_pack(
    family: Family,
    plan: PackPlan,
    out: Path,
    *,
    replace_old: bool,
    progress: Progress | None = None,
    sitting: int | None = None,
) -> WrittenPack:
    """Return the pack, written whole: print files, guide, preview, manifest, drawings and fonts."""
    from kitbuilder.export.pack_folder import write_pack

    return write_pack(
        plan,
        out,
        fonts_in(family.root / "fonts"),
        family.bitmaps,
        replace_old=replace_old,
        scale_ppm=print_scale_ppm(family.home.press),
        extras=extras_of(family, sitting).write,
        tell=(progress or Progress()).stage,
    )


def extras_of(family: Family, sitting: int | None) -> Extras:
    """Return how this family's guide and preview are written; `sitting` minutes split the work into evenings."""
    from kitbuilder.export.extras import Extras

    kinds = {kind.name: kind.title for kind in family.templates.kinds.values()}
    return Extras(family.home.press, fonts_in(family.root / "fonts"), family.bitmaps, kinds, sitting)


def make_preview(family: Family, plan: PackPlan, out: Path, png: Path | None) -> Path:
    """Return the path of the preview, written without print files; `png` is a folder for sheets as pictures."""
    # the page's and the guide's writers load libraries that packs alone do not need
    from kitbuilder.export.guide_html import guide_html
    from kitbuilder.export.pack_folder import plain_errors
    from kitbuilder.export.preview import write_preview
    from kitbuilder.export.preview_pictures import write_pictures
    from kitbuilder.prep.prepare import prepare

    fonts = fonts_in(family.root / "fonts")
    path = out / f"preview-{plan.name}.html"
    with plain_errors(out):
        out.mkdir(parents=True, exist_ok=True)
        press = family.home.press
        titles = {kind.name: kind.title for kind in family.templates.kinds.values()}
        write_preview(
            plan,
            press,
            path,
            guide_html=guide_html(prepare(plan, press, kinds=titles), plan, fonts),
            bitmaps=family.bitmaps,
            font_files=fonts,
            make_first=command_for(plan),
            kinds=titles,
        )
    if png is not None:
        with plain_errors(png):
            write_pictures(plan, png, fonts, family.bitmaps, family.workshop.font)
    return path


def command_for(plan: PackPlan) -> str:
    """Return the command that makes a plan's pack."""
    first, last = plan.units[0], plan.units[-1]
    if plan.name == f"week-{first:02d}" and first == last:
        return f"kitbuilder week {first}"
    if plan.name == f"term-{first:02d}-{last:02d}":
        return f"kitbuilder term {first}-{last}"
    command = f"kitbuilder week {first}" if plan.name.startswith("week") else f"kitbuilder term {first}-{last}"
    return f"{command} (with the options of this preview)"


def _overridden(home: Home, request: Request) -> Home:
    if request.paper:
        home = replace(home, press=with_paper(home.press, request.paper))
    if request.seed is not None:
        home = replace(home, sequence=home.sequence.model_copy(update={"seed": request.seed}))
    return home

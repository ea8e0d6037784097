"""One measured job in a process of its own: the same synthetic pages by this project, bare reportlab or a typesetter.

    python tests/bench/export_job.py ours|stream|bare|typst PAGES [FILE.pdf]

`ours` writes pages that are already composed; `stream` composes each page when it is asked for, as a year's run does.

Prints one line of JSON: pages, seconds for the writing alone, bytes of the PDF, peak memory of the process in MB.
Three pages in ten are card fronts (nine pictures), three card backs, two fluency grids, one booklet sheet, one tiles.
"""

from __future__ import annotations

import json
import random
import sys
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from io import BytesIO
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from kitbuilder.artwork.frame import Box, Frame, Group, Item, Line, Text  # noqa: E402  # the checkout is found first
from kitbuilder.artwork.frame import Path as Outline  # noqa: E402
from kitbuilder.artwork.outlines import commands_of  # noqa: E402
from kitbuilder.artwork.pictures import find_picture, picture_names, placed  # noqa: E402
from kitbuilder.export.operators import OperatorWriter  # noqa: E402
from kitbuilder.export.pdf import PdfSettings, PrintPage, write_pdf  # noqa: E402
from kitbuilder.export.placing import Placed  # noqa: E402

FONTS = {"Andika": ROOT / "fonts" / "Andika-Regular.ttf", "Andika-Bold": ROOT / "fonts" / "Andika-Bold.ttf"}
WIDE, HIGH = 210_000, 297_000
SYLLABLES = ("ba", "den", "fip", "gom", "hut", "jal", "kes", "lin", "mop", "nug", "pad", "rem", "sit", "tov", "wug")


def word(dice: random.Random) -> str:
    return "".join(dice.choices(SYLLABLES, k=dice.choice((1, 1, 2))))


def card(dice: random.Random, pictures: tuple[str, ...], front: bool) -> Frame:
    text = word(dice)
    items: list[Item] = [Box(3_000, 3_000, 56_000, 81_000, None, "#c0c0c0", 300, 3_000)]
    if front:
        picture = find_picture(dice.choice(pictures))
        assert picture is not None
        items += placed(picture, 11_000, 8_000, 40_000, 40_000)
    items.append(Text(12_000, 66_000, text, "Andika-Bold" if front else "Andika", 12_000))
    items.append(Text(5_000, 82_000, f"03-LC-{text}", "Andika", 2_100, "#808080"))
    return Frame(62_000, 87_000, tuple(items))


def grid(dice: random.Random) -> Frame:
    items: list[Item] = [Line(0, 15_000 + r * 22_000, 190_000, 15_000 + r * 22_000, 200, "#b0b0b0") for r in range(12)]
    for r in range(12):
        items += [Text(4_000 + c * 37_000, 11_000 + r * 22_000, word(dice), "Andika", 8_000) for c in range(5)]
    return Frame(190_000, 277_000, tuple(items))


def story_page(dice: random.Random, pictures: tuple[str, ...]) -> Frame:
    picture = find_picture(dice.choice(pictures))
    assert picture is not None
    lines = [
        Text(10_000, 105_000 + i * 9_000, " ".join(word(dice) for _ in range(4)), "Andika", 6_000) for i in range(3)
    ]
    return Frame(105_000, 148_500, (*placed(picture, 20_000, 12_000, 65_000, 70_000), *lines))


def booklet_flat(dice: random.Random, pictures: tuple[str, ...]) -> Frame:
    return Frame(210_000, 148_500, tuple(Group(x, 0, 0, story_page(dice, pictures)) for x in (0, 105_000)))


def tile(dice: random.Random) -> Frame:
    return Frame(
        38_000,
        38_000,
        (
            Box(2_000, 2_000, 34_000, 34_000, "#eef4e8", "#606060", 400),
            Text(9_000, 26_000, word(dice), "Andika", 11_000),
        ),
    )


def page(number: int, pictures: tuple[str, ...]) -> PrintPage:
    """Return the page of this number: always the same one."""
    dice = random.Random(number)
    nine = [(10_000 + c * 62_000, 10_000 + r * 87_000) for r in range(3) for c in range(3)]
    kind = number % 10
    if kind < 6:
        put = tuple(Placed(card(dice, pictures, kind < 3), x, y) for x, y in nine)
    elif kind < 8:
        put = (Placed(grid(dice), 10_000, 10_000),)
    elif kind == 8:
        put = tuple(Placed(booklet_flat(dice, pictures), 0, y, 0) for y in (0, 148_500))
    else:
        put = tuple(
            Placed(tile(dice), 10_000 + c * 38_000, 10_000 + r * 38_000, r % 2) for r in range(7) for c in range(5)
        )
    return PrintPage(WIDE, HIGH, put, f"A{number}")


def pages(count: int) -> Iterator[PrintPage]:
    pictures = picture_names()[::7]
    return (page(number, pictures) for number in range(count))


def ours(made: Sequence[PrintPage]) -> Callable[[], bytes]:

    def run() -> bytes:
        out = BytesIO()
        write_pdf(made, PdfSettings("Bench", "en-US", "long"), FONTS, {}, out)
        return out.getvalue()

    return run


def stream(count: int) -> Callable[[], bytes]:
    def run() -> bytes:
        out = BytesIO()
        write_pdf(pages(count), PdfSettings("Bench", "en-US", "long"), FONTS, {}, out)
        return out.getvalue()

    return run


def bare(made: Sequence[PrintPage]) -> Callable[[], bytes]:
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    rl_config.useA85 = 0
    writer = OperatorWriter()
    drawn = [
        (
            (page.width_um * 72 / 25_400, page.height_um * 72 / 25_400),
            [
                f"q 0.00283465 0 0 -0.00283465 0 {page.height_um * 72 / 25_400:.4f} cm",
                *(writer.placed(p.frame, p.x_um, p.y_um, p.quarter_turns) for p in page.placed),
                "Q",
            ],
        )
        for page in made
    ]

    def run() -> bytes:
        out = BytesIO()
        for name, path in FONTS.items():
            pdfmetrics.registerFont(TTFont(name, str(path)))
        canvas = Canvas(out, (WIDE * 72 / 25_400, HIGH * 72 / 25_400), initialFontName="Andika", pageCompression=1)
        for size, operators in drawn:
            canvas.setPageSize(size)
            canvas._code.extend(operators)
            canvas.showPage()
        canvas.save()
        return out.getvalue()

    return run


def typst(made: Iterable[PrintPage]) -> Callable[[], bytes]:
    import tempfile

    import typst as typesetter

    folder = Path(tempfile.mkdtemp())
    source = folder / "pages.typ"
    source.write_text("".join(_typst_source(made)), encoding="utf-8")

    def run() -> bytes:
        data: bytes = typesetter.compile(source, font_paths=[str(ROOT / "fonts")], ignore_system_fonts=True)
        return data

    return run


def _typst_source(made: Iterable[PrintPage]) -> Iterator[str]:
    yield "#set page(margin: 0pt)\n"
    yield '#set text(font: "Andika", top-edge: "baseline", bottom-edge: "baseline", kerning: false, ligatures: false)\n'
    for each in made:
        drawn = "".join(_typst_frame(put.frame, put.x_um, put.y_um, put.quarter_turns) for put in each.placed)
        yield f"#page(width: {_mm(each.width_um)}, height: {_mm(each.height_um)})[{drawn}]\n"


def _mm(um: int) -> str:
    return f"{um / 1000:g}mm"


def _typst_frame(frame: Frame, x: int, y: int, turns: int) -> str:
    inside = "".join(_typst_item(item) for item in frame.items)
    block = f"block(width: {_mm(frame.width_um)}, height: {_mm(frame.height_um)})[{inside}]"
    if turns:
        block = f"rotate({-90 * turns}deg, reflow: true, {block})"
    return f"#place(top + left, dx: {_mm(x)}, dy: {_mm(y)}, {block})\n"


def _typst_item(item: Item) -> str:
    if isinstance(item, Text):
        weight = ', weight: "bold"' if item.font.endswith("Bold") else ""
        said = item.text.replace("\\", "\\\\").replace('"', '\\"')
        body = f'text(size: {_mm(item.size_um)}, fill: rgb("{item.colour}"){weight}, "{said}")'
        return f"#place(top + left, dx: {_mm(item.x_um)}, dy: {_mm(item.y_um)}, {body})\n"
    if isinstance(item, Group):
        return _typst_frame(item.frame, item.x_um, item.y_um, item.quarter_turns)
    if isinstance(item, Line):
        ends = f"start: ({_mm(item.x1_um)}, {_mm(item.y1_um)}), end: ({_mm(item.x2_um)}, {_mm(item.y2_um)})"
        return f'#place(top + left, line({ends}, stroke: {_mm(item.width_um)} + rgb("{item.colour}")))\n'
    if isinstance(item, Box):
        fill = f'rgb("{item.fill}")' if item.fill else "none"
        shape = (
            f"width: {_mm(item.width_um)}, height: {_mm(item.height_um)}, radius: {_mm(item.radius_um)}, fill: {fill}"
        )
        stroke = _typst_stroke(item.stroke, item.stroke_um)
        return f"#place(top + left, dx: {_mm(item.x_um)}, dy: {_mm(item.y_um)}, rect({shape}, stroke: {stroke}))\n"
    assert isinstance(item, Outline)
    fill = f'rgb("{item.fill}")' if item.fill else "none"
    stroke = _typst_stroke(item.stroke, item.stroke_um)
    steps = ", ".join(map(_typst_step, commands_of(item.outline)))
    return f"#place(top + left, curve(fill: {fill}, stroke: {stroke}, {steps}))\n"


def _typst_stroke(colour: str | None, width_um: int) -> str:
    return f'{_mm(width_um)} + rgb("{colour}")' if colour and width_um else "none"


def _typst_step(command: tuple[str | int, ...]) -> str:
    numbers = [_mm(int(n)) for n in command[1:]]
    points = ", ".join(f"({numbers[i]}, {numbers[i + 1]})" for i in range(0, len(numbers), 2))
    return {"M": "curve.move", "L": "curve.line", "C": "curve.cubic", "Z": "curve.close"}[
        str(command[0])
    ] + f"({points})"


def peak_mb() -> float:
    import resource  # not on Windows, where this bench does not run

    unit = 1 if sys.platform == "darwin" else 1024  # bytes there, kilobytes here
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit / 1e6


def main() -> None:
    job, count = sys.argv[1], int(sys.argv[2])
    run = stream(count) if job == "stream" else {"ours": ours, "bare": bare, "typst": typst}[job](list(pages(count)))
    before = peak_mb()
    start = time.perf_counter()
    data = run()
    seconds = time.perf_counter() - start
    if len(sys.argv) > 3:
        Path(sys.argv[3]).write_bytes(data)
    print(
        json.dumps({"pages": count, "seconds": seconds, "bytes": len(data), "before_mb": before, "peak_mb": peak_mb()})
    )


if __name__ == "__main__":
    main()

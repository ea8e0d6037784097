"""The page does what it promises, in a real browser: sheets, cuts, piles, layers, size, search, keyboard."""

from __future__ import annotations

from typing import Any

import pytest

from kitbuilder.prep.wording import measure

UP, DOWN, LEFT, RIGHT, TAB, ENTER, SPACE, END, HOME, ESCAPE = (
    "\ue013", "\ue015", "\ue012", "\ue014", "\ue004", "\ue007", "\ue00d", "\ue010", "\ue011", "\ue00c",
)  # fmt: skip  # keys as WebDriver writes them (W3C WebDriver, 17.4.2)


def card_run(shown: Any) -> tuple[dict[str, Any], list[dict[str, Any]]]:
    """Return the last layout that is cut more than once, and its cuts."""
    layout = [each for each in shown.manifest["layouts"] if len(each["cuts"]) > 3][-1]
    return layout, layout["cuts"]


def stack_of(reader: Any, layout: str) -> Any:
    titles = [h for h in reader.all(".stack h3") if h.text.startswith(f"Layout {layout}, stack 1")]
    return titles[0].find_element("xpath", "./ancestor::section[@data-stack]")


def test_it_opens_without_a_word_from_the_browser(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    assert reader.complaints() == []
    assert reader.run("return document.fonts.size") >= 2
    assert reader.until("[...document.fonts].every((f) => f.status === 'loaded')")


def test_it_asks_for_nothing_but_itself(reader: Any, shown: Any) -> None:
    reader.requests()
    reader.open(shown.page)
    reader.run("scrollTo(0, document.body.scrollHeight)")
    reader.until("scrollY > 0")
    asked = [address for address in reader.requests() if not address.startswith("data:")]
    assert asked == [shown.page.as_uri()]


def test_every_sheet_is_there_once_with_its_printed_sides(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    manifest = shown.manifest
    assert len(reader.all("article.sheet")) == len(manifest["sheets"])
    assert len(reader.all(".front .paper svg")) == len(manifest["sheets"])
    assert len(reader.all(".paper svg")) == sum(file["pages"] for file in manifest["files"])
    wheres = reader.run("return [...document.querySelectorAll('figcaption span')].map((s) => s.textContent)")
    pages = [f"{file['path']}, page\u00a0{n}" for file in manifest["files"] for n in range(1, file["pages"] + 1)]
    assert sorted(wheres) == sorted(pages)


def test_a_sheet_has_the_shape_of_its_paper(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    sheet = shown.manifest["sheets"][0]
    box = reader.run("const b = document.querySelector('.paper').getBoundingClientRect(); return [b.width, b.height]")
    assert box[1] / box[0] == pytest.approx(sheet["height_um"] / sheet["width_um"], rel=0.005)


def test_strokes_lie_where_the_manifest_has_them_and_count_in_cutting_order(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    layout, cuts = card_run(shown)
    stack = stack_of(reader, layout["id"])
    lines = reader.run(
        """
        const n = arguments[0].dataset.stack;
        const svg = document.querySelector(`#stack-${n} .front svg`);
        svg.closest('.paper').scrollIntoView({ behavior: 'instant' });
        return [...document.querySelectorAll(`#c${n} [data-s]`)].map((p) => [Number(p.dataset.s), p.getAttribute('d')]);
        """,
        stack,
    )
    expected = []
    for cut in cuts:
        at, start, end = (f"{cut[k] / 1000:g}".replace("0.", ".", 1) if 0 < cut[k] < 1000 else f"{cut[k] / 1000:g}"
                          for k in ("at_um", "from_um", "to_um"))  # fmt: skip
        expected.append([cut["stroke"], f"M{at} {start}V{end}" if cut["axis"] == "x" else f"M{start} {at}H{end}"])
    assert lines == expected
    numbers = reader.run(
        "return [...document.querySelectorAll(`#n${arguments[0].dataset.stack} text`)].map((t) => t.textContent)", stack
    )
    assert numbers == [str(cut["stroke"]) for cut in cuts]


def state(reader: Any, stack: Any) -> dict[str, Any]:
    found: dict[str, Any] = reader.run(
        """
        const n = arguments[0].dataset.stack;
        const steps = (way) => [...document.querySelectorAll(`#c${n} .${way}`)].map((p) => Number(p.dataset.s));
        return { made: steps('made'), now: steps('now'), later: steps('later'),
                 free: document.querySelectorAll(`#p${n} .free`).length,
                 places: document.querySelectorAll(`#p${n} .pl`).length,
                 told: arguments[0].querySelector('.told').textContent,
                 said: arguments[0].querySelector('input').getAttribute('aria-valuetext') };
        """,
        stack,
    )
    return found


def test_the_slider_plays_the_cuts_by_keyboard(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    layout, cuts = card_run(shown)
    stack = stack_of(reader, layout["id"])
    last = max(cut["stroke"] for cut in cuts)
    reader.run("arguments[0].querySelector('input').focus()", stack)
    assert state(reader, stack)["now"] == []
    reader.keys(RIGHT)
    one = state(reader, stack)
    assert set(one["now"]) == {1}
    assert one["made"] == []
    assert one["told"] == one["said"]
    assert one["told"].startswith(f"Stroke 1 of {last}.")
    assert measure(cuts[0]["fence_um"], inches=False) in one["told"].replace("\u00a0", " ")
    reader.keys(RIGHT, RIGHT)
    three = state(reader, stack)
    assert set(three["made"]) == {1, 2}
    assert set(three["now"]) == {3}
    assert min(three["later"]) == 4
    reader.keys(END)
    done = state(reader, stack)
    assert set(done["now"]) == {last}
    assert done["free"] == done["places"] > 0
    reader.keys(HOME)
    assert state(reader, stack)["free"] == 0


def test_the_stroke_being_made_can_be_seen_on_every_sheet_of_the_stack(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    layout, _ = card_run(shown)
    stack = stack_of(reader, layout["id"])

    def picture() -> str:
        paper = stack.find_elements("css selector", ".front .paper")[-1]
        reader.run("arguments[0].scrollIntoView({ block: 'center', behavior: 'instant' })", paper)
        return str(paper.screenshot_as_base64)

    before = picture()
    reader.run("arguments[0].querySelector('input').focus()", stack)
    reader.keys(RIGHT, RIGHT, RIGHT)
    assert picture() != before


def test_play_makes_strokes_by_itself_until_it_is_stopped(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    layout, _ = card_run(shown)
    stack = stack_of(reader, layout["id"])
    button = stack.find_element("css selector", ".play")
    reader.run("arguments[0].focus()", button)
    reader.keys(ENTER)
    assert state(reader, stack)["now"][:1] == [1]
    reader.until("[...document.querySelectorAll('.told')].some((p) => p.textContent.startsWith('Stroke 2 of'))")
    assert button.text == "Stop"
    reader.keys(SPACE)
    assert button.text == "Play the cuts"


def test_a_pile_lights_up_under_the_pointer_with_what_it_holds(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    card = shown.pieces("letter-card")[0]
    for side in ("front", "back") if card["back"] else ("front",):
        at = reader.point_at(card["id"], side)
        assert reader.run("return document.querySelector('.lit')?.dataset.p") == str(at["place"])
        tip = reader.one("#tip").text
        assert card["id"] in tip
        assert f"Pile {card['pile']}" in tip
        reader.keys(ESCAPE)
        assert not reader.one("#tip").is_displayed()


def test_a_pile_lights_up_when_its_name_has_the_focus(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    layout, _ = card_run(shown)
    stack = stack_of(reader, layout["id"])
    stack.find_element("css selector", ".piles summary").click()
    pile = stack.find_elements("css selector", ".pile")[1]
    reader.run("arguments[0].focus()", pile)
    number = stack.get_attribute("data-stack")
    assert reader.run(f"return document.querySelector('#p{number} .lit')?.dataset.p") == "1"
    reader.keys(TAB)
    assert reader.run(f"return document.querySelector('#p{number} .lit')?.dataset.p") != "1"
    reader.run("arguments[0].focus()", pile)
    reader.keys(ENTER)
    assert pile.get_attribute("aria-pressed") == "true"


@pytest.mark.parametrize(
    ("layer", "hidden"),
    [
        ("cuts", ".numbers"),
        ("ids", ".mk"),
        ("edge", ".edge"),
        ("fold", ".fold"),
        ("marks", ".marks"),
        ("backs", ".back"),
    ],
)
def test_layers_are_switched_by_keyboard(reader: Any, shown: Any, layer: str, hidden: str) -> None:
    reader.open(shown.page)
    drawn = f"getComputedStyle(document.querySelector('.sheet {hidden}')).display !== 'none'"
    assert reader.run(f"return {drawn}")
    reader.run("document.querySelector('#layers summary').focus()")
    reader.keys(ENTER)
    reader.run(f"document.querySelector('[data-layer={layer}]').focus()")
    reader.keys(SPACE)
    assert not reader.run(f"return {drawn}")
    reader.keys(SPACE)
    assert reader.run(f"return {drawn}")
    reader.keys(ESCAPE)
    assert reader.run("return document.activeElement.tagName") == "SUMMARY"


def test_sheets_grow_and_what_is_looked_at_stays(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    sheets = "[...document.querySelectorAll('.sheet')]"
    reader.run(f"{sheets}.at(-1).scrollIntoView({{ block: 'center', behavior: 'instant' }})")
    # sheets beside one another come to lie below one another: the first of a row is what stays
    first = reader.run(f"return {sheets}.findIndex((s) => s.getBoundingClientRect().bottom > innerHeight / 3)")
    # where in the sheet, from 0 at its upper edge to 1 at its lower one, the window's upper third ends
    where = (
        f"const b = {sheets}[{first}].getBoundingClientRect(); return [(innerHeight / 3 - b.top) / b.height, b.height]"
    )
    before, low = reader.run(where)
    for _ in range(3):
        reader.one("#larger").click()
    assert reader.one("#zoom").text == "200 %"
    after, high = reader.run(where)
    assert high > 1.7 * low
    assert after == pytest.approx(before, abs=0.05)


def test_a_sheet_wider_than_the_window_scrolls_by_keyboard(reader: Any, shown: Any) -> None:
    reader.open(shown.page, width=390, height=844)
    for _ in range(4):
        reader.one("#larger").click()
    reader.run("document.querySelector('.sides').focus()")
    reader.keys(RIGHT, RIGHT)
    assert reader.until("document.querySelector('.sides').scrollLeft > 0")
    assert reader.run("return document.documentElement.scrollWidth") == 390


def test_on_a_phone_nothing_is_cut_off_at_the_side(reader: Any, shown: Any) -> None:
    reader.open(shown.page, width=390, height=844)
    assert reader.run("return document.documentElement.scrollWidth") == 390
    assert reader.run("return document.querySelector('.paper').getBoundingClientRect().width") > 300


@pytest.mark.parametrize("asked", ["id", "kind", "text"])
def test_search_finds_a_piece_by_id_kind_and_text(reader: Any, shown: Any, asked: str) -> None:
    reader.open(shown.page)
    strip = shown.pieces("sentence-strip")[0]
    words = {"id": strip["id"].lower(), "kind": "sentence strip", "text": strip["text"]["front"][0]}[asked]
    reader.one("#search").send_keys(words)
    hits = reader.all("#results li")
    assert any(strip["id"] in hit.text for hit in hits)
    if asked == "id":
        assert len(hits) == 1
        assert reader.one("#found").text == "1 piece found"


def test_search_says_so_when_there_is_nothing(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    reader.one("#search").send_keys("zzz-none")
    assert reader.one("#found").text == "No piece like that"
    assert not reader.one("#results").is_displayed()


def test_a_found_piece_is_shown_on_its_sheet_by_keyboard(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    card = shown.pieces("letter-card")[-1]
    reader.one("#search").send_keys(card["id"])
    reader.keys(DOWN, DOWN, ENTER)
    at = reader.run(
        """
        const title = document.activeElement.getBoundingClientRect();
        const head = document.activeElement.closest('.stack').querySelector('.stack-head').getBoundingClientRect();
        return [title.top - head.bottom, innerHeight - title.bottom];
        """
    )
    assert min(at) >= 0  # neither behind what stays at the top nor below the window
    assert reader.run("return document.querySelector('.lit') !== null")
    focused = reader.run("return document.activeElement.id")
    assert focused == f"sheet-title-{reader.place(card['id'])['sheet']}"


def test_the_keyboard_meets_the_way_past_everything_first_and_always_sees_where_it_is(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    met = []
    for _ in range(8):
        reader.keys(TAB)
        seen = reader.run(
            """
            const e = document.activeElement, s = getComputedStyle(e), b = e.getBoundingClientRect();
            return [e.id || e.className || e.tagName, s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2,
                    b.top >= 0 && b.bottom <= innerHeight];
            """
        )
        met.append(seen)
    assert met[0][0] == "skip"
    assert [name for name, _, _ in met][1:3] == ["search", "larger"] or met[1][0] == "search"
    assert all(outlined and visible for _, outlined, visible in met), met


def test_without_script_fronts_with_numbered_cuts_are_there(reader: Any, shown: Any) -> None:
    reader.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        reader.open(shown.page)
        papers = reader.all(".front .paper")
        assert len(papers) == len(shown.manifest["sheets"])
        assert papers[0].is_displayed()
        assert not reader.one(".bar").is_displayed()
        assert not reader.one(".player").is_displayed()
        assert papers[0].find_element("css selector", ".numbers").is_displayed()
    finally:
        reader.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def test_nothing_moves_by_itself_for_who_asked_for_less_motion(reader: Any, shown: Any) -> None:
    moving = "getComputedStyle(document.querySelector('.pl')).transitionDuration"
    reader.open(shown.page, calm=True)
    assert reader.run(f"return {moving}") == "0s"
    reader.open(shown.page)
    assert reader.run(f"return {moving}") != "0s"

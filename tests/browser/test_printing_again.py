"""Ticked pieces become a command; the command, copied and run for real, prints those pieces again."""

from __future__ import annotations

import json
import shlex
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[[list[str], Path], str]
SPACE, CONTROL, TAB = "\ue00d", "\ue009", "\ue004"


def copied(reader: Any) -> str:
    """Return what the clipboard holds after the copy button, by pasting it."""
    reader.one("#copy").click()
    assert reader.until("document.getElementById('copied').textContent === 'Copied'")
    reader.one("#search").clear()
    reader.one("#search").send_keys(CONTROL, "v")
    pasted = reader.run("return document.getElementById('search').value")
    assert pasted == reader.run("return document.getElementById('command').value")
    return str(pasted)


def run_copied(command: str, folder: Path, kitbuilder: Run, out: Path) -> list[str]:
    """Run a copied command as a shell would read it; return the ids that were printed."""
    words = shlex.split(command)
    assert words[:2] == ["kitbuilder", "reprint"]
    said = json.loads(kitbuilder([*words[1:], "--json", "--out", str(out)], folder))
    manifest = json.loads((Path(said["folder"]) / "manifest.json").read_bytes())
    return sorted(row["id"] for row in manifest["pieces"])


def tick_found(reader: Any, words: str, which: int = 0) -> None:
    reader.one("#search").clear()
    reader.one("#search").send_keys(words)
    reader.run("document.querySelectorAll('#results input')[arguments[0]].focus()", which)
    reader.keys(SPACE)


def test_a_piece_found_and_ticked_by_keyboard_is_printed_again(
    reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path
) -> None:
    reader.open(shown.page)
    assert not reader.one("#tray").is_displayed()
    card = shown.pieces("letter-card")[0]
    tick_found(reader, card["id"])
    assert reader.one("#tray").is_displayed()
    assert reader.one("#tray-count").text == "1 piece ticked"
    command = copied(reader)
    assert command == f"kitbuilder reprint out/week-03 {card['piece']}"
    assert run_copied(command, shown.home, kitbuilder, tmp_path) == [card["id"]]


def test_clicks_on_fronts_and_backs_tick_pieces_of_several_kinds(
    reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path
) -> None:
    reader.open(shown.page)
    card, tile, strip = (shown.pieces(kind)[1] for kind in ("letter-card", "letter-tile", "sentence-strip"))
    reader.point_at(card["id"], "back" if card["back"] else "front", click=True)
    reader.point_at(tile["id"], click=True)
    reader.point_at(strip["id"], click=True)
    assert reader.one("#tray-count").text == "3 pieces ticked"
    assert run_copied(copied(reader), shown.home, kitbuilder, tmp_path) == sorted(r["id"] for r in (card, tile, strip))
    sheet = reader.place(card["id"])["sheet"]
    assert len(reader.all(f"#sheet-{sheet} .front .ticked rect")) >= 1
    reader.point_at(card["id"], click=True)
    assert reader.one("#tray-count").text == "2 pieces ticked"


def test_the_list_below_a_sheet_ticks_too(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    strip = shown.pieces("sentence-strip")[0]
    sheet = reader.place(strip["id"])["sheet"]
    reader.one(f"#sheet-{sheet} .tick summary").click()
    reader.until(f"document.querySelector('#sheet-{sheet} [data-flat]') !== null")
    reader.one(f"#sheet-{sheet} [data-flat='{strip['id']}']").click()
    assert reader.one("#command").get_attribute("value").endswith(f" {strip['piece']}")


def test_a_whole_set_is_one_word_of_the_command(reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path) -> None:
    reader.open(shown.page)
    cards = shown.pieces("letter-card")
    reader.one("#sets summary").click()
    reader.one(f"[data-set='{cards[0]['set']}']").click()
    command = copied(reader)
    assert command == f"kitbuilder reprint out/week-03 {cards[0]['set']}"
    assert run_copied(command, shown.home, kitbuilder, tmp_path) == sorted(card["id"] for card in cards)


def test_a_set_that_loses_a_tick_is_named_piece_by_piece(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    cards = shown.pieces("letter-card")
    reader.one("#sets summary").click()
    box = reader.one(f"[data-set='{cards[0]['set']}']")
    box.click()
    tick_found(reader, cards[0]["id"])  # it was ticked: this takes the tick away
    words = reader.one("#command").get_attribute("value").split()[3:]
    assert sorted(words) == sorted(card["piece"] for card in cards[1:])
    assert reader.run("return arguments[0].indeterminate", box)


def test_a_booklet_of_several_flats_is_one_piece(reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path) -> None:
    reader.open(shown.page)
    pages = shown.pieces("booklet")
    piece = pages[0]["piece"]
    tick_found(reader, piece)
    command = copied(reader)
    assert command.split()[3:] == [piece]
    ids = sorted(row["id"] for row in pages if row["piece"] == piece)
    assert run_copied(command, shown.home, kitbuilder, tmp_path) == ids


def test_untick_all_empties_the_tray(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    tick_found(reader, shown.pieces("letter-card")[0]["id"])
    reader.one("#untick").click()
    assert not reader.one("#tray").is_displayed()
    assert reader.all(".ticked") == []
    assert reader.run("return document.activeElement.id") == "search"


@pytest.mark.parametrize("folder", ["d'Étagère $HOME", "plain"])
def test_a_pack_moved_elsewhere_is_named_by_its_whole_path(
    reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path, folder: str
) -> None:
    moved = tmp_path / folder / "week-03"
    shutil.copytree(shown.pack, moved)
    reader.open(moved / "preview.html")
    card = shown.pieces("letter-card")[0]
    tick_found(reader, card["id"])
    command = copied(reader)
    assert shlex.split(command)[2] == str(moved)
    assert run_copied(command, tmp_path, kitbuilder, tmp_path / "again") == [card["id"]]


def test_paths_of_windows_are_written_as_windows_reads_them(reader: Any, shown: Any) -> None:
    reader.open(shown.page)
    source = (Path(__file__).parents[2] / "templates" / "preview" / "again.js").read_text(encoding="utf-8")
    body = source[source.index("function packFolder") : source.index("function commandText")]
    script = body.replace("location", "where").replace("page.pack", "'week-03'")
    ask = f"const where = arguments[0]; {script}; const f = packFolder(); return quoted(f.path, f.windows);"

    def named(host: str, path: str) -> str:
        return str(reader.run(ask, {"protocol": "file:", "host": host, "pathname": path}))

    assert named("", "/C:/Users/M%C3%B6we/My%20packs/week-03/preview.html") == '"C:\\Users\\Möwe\\My packs\\week-03"'
    assert named("", "/D:/kits/week-03/preview.html") == "D:\\kits\\week-03"
    assert named("server", "/kits/week-03/preview.html") == "\\\\server\\kits\\week-03"
    assert named("", "/C:/Users/wren/out/week-03/preview.html") == "out/week-03"


def test_a_page_without_its_pack_says_how_to_make_it_first(
    reader: Any, shown: Any, kitbuilder: Run, tmp_path: Path
) -> None:
    said = json.loads(kitbuilder(["preview", "3", "--json", "--home", str(shown.home), "--out", "out"], tmp_path))
    reader.open(tmp_path / said["preview"])
    card = shown.pieces("letter-card")[0]
    tick_found(reader, card["id"])
    assert reader.one("#tray-note").text == "Make the pack first: kitbuilder week 3"
    command = copied(reader)
    assert command == f"kitbuilder reprint out/week-03 {card['piece']}"
    shutil.copytree(shown.pack, tmp_path / "out" / "week-03")
    assert run_copied(command, tmp_path, kitbuilder, tmp_path / "again") == [card["id"]]

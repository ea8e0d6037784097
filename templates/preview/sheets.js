// Sheets: where a piece lies, piles that light up, cuts that play, layers and size.
const page = JSON.parse(document.getElementById("data").textContent);
const root = document.documentElement;
root.classList.add("scripted");
const calm = matchMedia("(prefers-reduced-motion: reduce)");
const [ID, PIECE, SET, TITLE, KIND, UNIT, LEARNER, SHEET, PLACE, SPARE, SAYS] = Array(11).keys();

const one = (selector, inside = document) => inside.querySelector(selector);
const all = (selector, inside = document) => [...inside.querySelectorAll(selector)];
const many = (count, thing) => `${count} ${thing}${count === 1 ? "" : "s"}`;
const kindWords = (kind) => kind.replaceAll("-", " ");

const onSheet = page.sheets.map(() => new Map()); // sheet -> place -> row of page.flats
page.flats.forEach((flat, row) => onSheet[flat[SHEET]].set(flat[PLACE], row));

/** The sheet, place and piece under the pointer; null where nothing lies. */
function under(event) {
  const paper = event.target.closest(".paper");
  if (!paper) return null;
  const sheet = Number(paper.closest(".sheet").id.slice("sheet-".length));
  const [stack, width, height, mirror] = page.sheets[sheet];
  const box = paper.getBoundingClientRect();
  let x = ((event.clientX - box.left) / box.width) * width;
  let y = ((event.clientY - box.top) / box.height) * height;
  if (paper.dataset.side === "back") {
    if (mirror === "x") x = width - x;
    else y = height - y;
  }
  const place = page.stacks[stack].places.findIndex(([px, py, pw, ph]) => x >= px && x < px + pw && y >= py && y < py + ph);
  if (place < 0) return null;
  return { sheet, stack, place, row: onSheet[sheet].get(place) };
}

// One drawing of places serves all sheets of a stack: lighting it there lights the pile on each of them.
const lit = { stack: -1, place: -1 };
function light(stack, place) {
  if (lit.stack === stack && lit.place === place) return;
  one(`#p${lit.stack} [data-p="${lit.place}"]`)?.classList.remove("lit");
  Object.assign(lit, { stack, place });
  if (place >= 0) one(`#p${stack} [data-p="${place}"]`)?.classList.add("lit");
}

const tip = document.getElementById("tip");
function line(text, kind) {
  const part = document.createElement(kind);
  part.textContent = text;
  return part;
}
function showTip(found, event) {
  const [pile, holds, pieces, envelope] = page.stacks[found.stack].piles[found.place];
  const flat = page.flats[found.row];
  const lines = flat ? [line(`${flat[TITLE] || flat[ID]}${flat[SPARE] ? " (spare)" : ""}`, "b"), line(`${kindWords(flat[KIND])} ${flat[ID]}`, "span")] : [];
  lines.push(line(`Pile ${pile}: ${many(pieces, "piece")}, for ${envelope}`, "span"), line(holds, "i"));
  tip.replaceChildren(...lines);
  tip.hidden = false;
  const room = 12;
  const left = Math.min(event.clientX + room, root.clientWidth - tip.offsetWidth - room);
  const below = event.clientY + room + tip.offsetHeight < innerHeight;
  tip.style.left = `${Math.max(room, left)}px`;
  tip.style.top = `${below ? event.clientY + room : Math.max(room, event.clientY - room - tip.offsetHeight)}px`;
}
function dark() {
  tip.hidden = true;
  light(-1, -1);
}

const sheets = document.getElementById("sheets");
sheets.addEventListener("pointermove", (event) => {
  if (event.pointerType === "touch") return;
  const found = under(event);
  if (!found) return event.target.closest(".piles") ? undefined : dark();
  light(found.stack, found.place);
  showTip(found, event);
});
sheets.addEventListener("pointerleave", dark);
addEventListener("scroll", () => { tip.hidden = true; }, { passive: true });
addEventListener("keydown", (event) => {
  if (event.key === "Escape") dark();
});

for (const stack of all(".stack")) {
  const number = Number(stack.dataset.stack);
  const piles = all(".pile", stack);
  const pressed = () => piles.findIndex((pile) => pile.getAttribute("aria-pressed") === "true");
  piles.forEach((pile, place) => {
    for (const kind of ["focus", "pointerenter"]) pile.addEventListener(kind, () => light(number, place));
    for (const kind of ["blur", "pointerleave"]) pile.addEventListener(kind, () => light(number, pressed()));
    pile.addEventListener("click", () => {
      const on = pile.getAttribute("aria-pressed") !== "true";
      piles.forEach((other) => other.setAttribute("aria-pressed", String(on && other === pile)));
      light(number, place);
    });
  });
  const player = one(".player", stack);
  if (player) play(number, stack, player);
}

/** Cuts played stroke by stroke: made ones, the one being made, those to come; freed places are tinted. */
function play(number, stack, player) {
  const [button, slider, told] = [one("button", player), one("input", player), one(".told", player)];
  const last = Number(slider.max);
  let timer = 0;
  function show(step) {
    slider.value = step;
    const words = page.stacks[number].told[step];
    slider.setAttribute("aria-valuetext", words);
    told.textContent = words;
    for (const part of all(`#c${number} [data-s], #n${number} [data-s]`)) {
      const own = Number(part.dataset.s);
      part.classList.toggle("made", own < step);
      part.classList.toggle("now", own === step);
      part.classList.toggle("later", step > 0 && own > step);
    }
    for (const place of all(`#p${number} [data-s]`)) {
      place.classList.toggle("free", step > 0 && Number(place.dataset.s) <= step);
    }
  }
  function pause() {
    clearInterval(timer);
    timer = 0;
    button.textContent = "Play the cuts";
    button.classList.remove("on");
  }
  button.addEventListener("click", () => {
    if (timer) return pause();
    const step = Number(slider.value);
    show(step >= last ? 0 : step + 1);
    button.textContent = "Stop";
    button.classList.add("on");
    timer = setInterval(() => {
      const next = Number(slider.value) + 1;
      if (next <= last) show(next);
      if (next >= last) pause();
    }, calm.matches ? 2500 : 1200);
  });
  slider.addEventListener("input", () => {
    pause();
    show(Number(slider.value));
  });
  if (slider.value !== "0") show(Number(slider.value)); // a browser may keep the slider over a reload
}

for (const box of all("[data-layer]")) {
  const turn = () => document.body.classList.toggle(`no-${box.dataset.layer}`, !box.checked);
  box.addEventListener("change", turn);
  turn();
}
const layers = document.getElementById("layers");
addEventListener("click", (event) => {
  if (!layers.contains(event.target)) layers.open = false;
});
layers.addEventListener("keydown", (event) => {
  if (event.key !== "Escape") return;
  layers.open = false;
  one("summary", layers).focus();
});

const sizes = [0.4, 0.6, 0.8, 1, 1.25, 1.6, 2, 2.5, 3.2, 4, 5];
let size = sizes.indexOf(1);
function resize(by) {
  const next = Math.min(sizes.length - 1, Math.max(0, size + by));
  if (next === size) return;
  size = next;
  // what is looked at stays where it is: heights above it change with the size
  const seen = all(".sheet").find((sheet) => sheet.getBoundingClientRect().bottom > innerHeight / 3);
  const before = seen?.getBoundingClientRect();
  const share = before && (innerHeight / 3 - before.top) / before.height;
  root.style.setProperty("--zoom", sizes[size]);
  document.getElementById("zoom").textContent = `${Math.round(sizes[size] * 100)} %`;
  document.getElementById("smaller").disabled = size === 0;
  document.getElementById("larger").disabled = size === sizes.length - 1;
  if (before && before.top < innerHeight) {
    const after = seen.getBoundingClientRect();
    scrollBy({ top: after.top + share * after.height - innerHeight / 3, behavior: "instant" });
  }
  reachable();
}
document.getElementById("smaller").addEventListener("click", () => resize(-1));
document.getElementById("larger").addEventListener("click", () => resize(1));

/** Sheets wider than the window scroll sideways, by keyboard too. */
function reachable() {
  for (const sides of all(".sides")) {
    if (sides.scrollWidth > sides.clientWidth + 1) {
      sides.tabIndex = 0;
      sides.setAttribute("role", "group");
      sides.setAttribute("aria-label", "Sheet, wider than the window");
    } else sides.removeAttribute("tabindex");
  }
}
const bar = one(".bar");
function fit() {
  root.style.setProperty("--bar", getComputedStyle(bar).position === "sticky" ? `${bar.offsetHeight}px` : "0px");
  reachable();
}
addEventListener("resize", fit);
fit();

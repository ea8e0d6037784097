// Printing again: pieces found and ticked, and the command that prints them.
const ticked = new Set(); // ids of flats
const flatsOf = new Map(); // id of a flat, a piece or a set -> ids of its flats
function belongs(key, id) {
  if (!flatsOf.has(key)) flatsOf.set(key, new Set());
  flatsOf.get(key).add(id);
}
const known = new Map(); // id of a flat -> its row; spares only where there is nothing else
page.flats.forEach((flat, row) => {
  if (flat[SPARE] && known.has(flat[ID])) return;
  if (!flat[SPARE] || !known.has(flat[ID])) known.set(flat[ID], row);
  belongs(flat[PIECE], flat[ID]);
  belongs(`set ${flat[SET]}`, flat[ID]);
});
const setIds = [...new Set(page.flats.map((flat) => flat[SET]))];

const tray = document.getElementById("tray");
const command = document.getElementById("command");
const copied = document.getElementById("copied");

function isTicked(ids) {
  for (const id of ids) if (!ticked.has(id)) return false;
  return ids.size > 0;
}
function tick(ids, on) {
  for (const id of ids) on ? ticked.add(id) : ticked.delete(id);
  refresh();
}

/** What to write behind the pack: whole sets, whole pieces, single flats, in the pack's order. */
function wanted() {
  const words = [];
  const done = new Set();
  const take = (word, ids) => {
    words.push(word);
    ids.forEach((id) => done.add(id));
  };
  for (const id of known.keys()) {
    if (!ticked.has(id) || done.has(id)) continue;
    const flat = page.flats[known.get(id)];
    const inSet = flatsOf.get(`set ${flat[SET]}`);
    const alone = setIds.every((other) => other === flat[SET] || !other.startsWith(`${flat[SET]}-`));
    if (inSet.size > 1 && alone && isTicked(inSet) && flatsOf.get(flat[PIECE]).size < inSet.size) take(flat[SET], inSet);
    else if (isTicked(flatsOf.get(flat[PIECE]))) take(flat[PIECE], flatsOf.get(flat[PIECE]));
    else take(id, [id]);
  }
  return words;
}

/** The pack's folder as one types it: out/NAME, or its whole path when it lies elsewhere. */
function packFolder() {
  if (location.protocol !== "file:") return { path: `out/${page.pack}`, windows: false };
  const parts = decodeURIComponent(location.pathname).split("/").slice(0, -1);
  if (document.getElementById("make-first")) parts.push(page.pack);
  if (parts.at(-2) === "out") return { path: parts.slice(-2).join("/"), windows: false };
  const windows = /^[A-Za-z]:$/.test(parts[1] ?? "") || location.host !== "";
  if (!windows) return { path: parts.join("/"), windows };
  const whole = location.host ? `\\\\${location.host}${parts.join("\\")}` : parts.slice(1).join("\\");
  return { path: whole, windows };
}
function quoted(text, windows) {
  if (/^[\w@%+=:,./\\-]+$/.test(text)) return text;
  return windows ? `"${text}"` : `'${text.replaceAll("'", "'\\''")}'`;
}
function commandText() {
  const folder = packFolder();
  return ["kitbuilder reprint", quoted(folder.path, folder.windows), ...wanted().map((word) => quoted(word, folder.windows))].join(" ");
}

const note = document.getElementById("make-first")
  ? `Make the pack first: ${document.getElementById("make-first").textContent}`
  : "Paste it where you type kitbuilder's commands, in the family's folder.";
document.getElementById("tray-note").textContent = note;

const trayShown = () => root.style.setProperty("--tray", tray.hidden ? "0px" : `${tray.offsetHeight}px`);
function refresh() {
  tray.hidden = ticked.size === 0;
  copied.textContent = "";
  if (ticked.size) {
    const pieces = new Set([...ticked].map((id) => page.flats[known.get(id)][PIECE]));
    document.getElementById("tray-count").textContent = `${many(pieces.size, "piece")} ticked`;
    command.value = commandText();
  }
  trayShown();
  for (const box of all("[data-set]")) sync(box, flatsOf.get(`set ${box.dataset.set}`) ?? new Set());
  for (const box of all("[data-piece]")) sync(box, flatsOf.get(box.dataset.piece));
  for (const box of all("[data-flat]")) sync(box, new Set([box.dataset.flat]));
  drawTicks();
}
function sync(box, ids) {
  box.checked = isTicked(ids);
  box.indeterminate = !box.checked && [...ids].some((id) => ticked.has(id));
}

const SVG = "http://www.w3.org/2000/svg";
function mark(tag, attributes) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}
let marked = new Set();
/** Ticked pieces wear a frame and a tick on their sheets, front and back. */
function drawTicks() {
  const now = new Set(page.flats.filter((flat) => ticked.has(flat[ID])).map((flat) => flat[SHEET]));
  for (const sheet of new Set([...marked, ...now])) {
    for (const paper of all(`#sheet-${sheet} .paper`)) {
      one(".ticked", paper)?.remove();
      if (now.has(sheet)) one("svg", paper).append(ticksOn(sheet, paper.dataset.side === "back"));
    }
  }
  marked = now;
}
function ticksOn(sheet, isBack) {
  const group = mark("g", { class: "ticked" });
  const [stack, sheetWidth, sheetHeight, mirror] = page.sheets[sheet];
  for (const [place, row] of onSheet[sheet]) {
    if (!ticked.has(page.flats[row][ID])) continue;
    let [x, y, width, height] = page.stacks[stack].places[place];
    if (isBack && mirror === "x") x = sheetWidth - x - width;
    if (isBack && mirror === "y") y = sheetHeight - y - height;
    [x, y, width, height] = [x, y, width, height].map((um) => um / 1000);
    group.append(mark("rect", { x, y, width, height }), mark("path", { d: `M${x + width - 10} ${y + 6}l2.4 2.6 4.4-5.4` }));
  }
  return group;
}

sheets.addEventListener("click", (event) => {
  const found = under(event);
  const flat = found && page.flats[found.row];
  if (!flat) return;
  tick([flat[ID]], !ticked.has(flat[ID]));
});
for (const box of all("[data-set]")) {
  box.addEventListener("change", () => tick(flatsOf.get(`set ${box.dataset.set}`) ?? [], box.checked));
}

function choice(attribute, id, ids, words) {
  const label = document.createElement("label");
  const box = document.createElement("input");
  box.type = "checkbox";
  box.dataset[attribute] = id;
  sync(box, ids);
  box.addEventListener("change", () => tick(ids, box.checked));
  const what = document.createElement("span");
  what.append(line(words[0], "b"), line(words[1], "small"));
  label.append(box, what);
  return label;
}

// a sheet's pieces are listed when they are asked for: a term has thousands
for (const list of all(".tick")) {
  list.addEventListener("toggle", () => {
    if (!list.open || one("ul", list)) return;
    const sheet = Number(list.closest(".sheet").id.slice("sheet-".length));
    const items = document.createElement("ul");
    for (const row of onSheet[sheet].values()) {
      const flat = page.flats[row];
      const words = [flat[TITLE] || flat[ID], ` ${kindWords(flat[KIND])} ${flat[ID]}${flat[SPARE] ? " (spare)" : ""}`];
      const item = document.createElement("li");
      item.append(choice("flat", flat[ID], new Set([flat[ID]]), words));
      items.append(item);
    }
    list.append(items);
  });
}

const search = document.getElementById("search");
const found = document.getElementById("found");
const results = document.getElementById("results");
const MOST = 40;
const pieces = [...new Map([...known.values()].reverse().map((row) => [page.flats[row][PIECE], page.flats[row]])).values()].reverse();
const index = pieces.map((flat) => ({
  flat,
  exact: [flat[TITLE], flat[PIECE], flat[ID], flat[SET]].map((text) => text.toLowerCase()),
  text: [flat[PIECE], flat[ID], flat[SET], flat[TITLE], kindWords(flat[KIND]), flat[KIND], `week ${flat[UNIT]}`, flat[LEARNER] ?? "", flat[SAYS]].join(" \n ").toLowerCase(),
}));
function rank(entry, asked, words) {
  if (entry.exact.includes(asked)) return 0;
  if (entry.exact.some((text) => text.startsWith(asked))) return 1;
  const starts = words.every((word) => new RegExp(`(^|[^\\p{L}\\p{N}])${word.replace(/[^\p{L}\p{N}]/gu, "\\$&")}`, "u").test(entry.text));
  return starts ? 2 : 3;
}
function find() {
  const asked = search.value.trim().toLowerCase();
  const words = asked.split(/\s+/).filter(Boolean);
  const hits = words.length
    ? index.filter((entry) => words.every((word) => entry.text.includes(word))).map((entry) => ({ ...entry, rank: rank(entry, asked, words) })).sort((a, b) => a.rank - b.rank)
    : [];
  results.replaceChildren(...hits.slice(0, MOST).map(({ flat }) => hit(flat)));
  results.hidden = hits.length === 0;
  const more = hits.length > MOST ? `, the first ${MOST} are listed` : "";
  found.textContent = words.length ? (hits.length ? `${many(hits.length, "piece")} found${more}` : "No piece like that") : "";
}
function hit(flat) {
  const item = document.createElement("li");
  const where = page.titles[flat[SHEET]];
  const child = flat[LEARNER] ? `, ${flat[LEARNER]}` : "";
  const show = document.createElement("button");
  show.type = "button";
  show.textContent = "Show";
  show.setAttribute("aria-label", `Show ${flat[PIECE]} on ${where}`);
  show.addEventListener("click", () => reveal(flat));
  item.append(choice("piece", flat[PIECE], flatsOf.get(flat[PIECE]), [flat[TITLE] || flat[PIECE], ` ${kindWords(flat[KIND])} ${flat[PIECE]}${child}, ${where.toLowerCase()}`]), show);
  return item;
}
function reveal(flat) {
  const title = document.getElementById(`sheet-title-${flat[SHEET]}`);
  results.hidden = true;
  title.scrollIntoView({ block: "start", behavior: "instant" });
  title.focus({ preventScroll: true });
  light(page.sheets[flat[SHEET]][0], flat[PLACE]);
}
search.addEventListener("input", find);
search.addEventListener("focus", () => { if (results.children.length) results.hidden = false; });
one(".find").addEventListener("keydown", (event) => {
  if (event.key === "Escape") {
    results.hidden = true;
    search.focus();
  }
  if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
  const stops = [search, ...all("input, button", results)];
  const at = stops.indexOf(document.activeElement);
  const next = stops[at + (event.key === "ArrowDown" ? 1 : -1)];
  if (at >= 0 && next && !results.hidden) {
    next.focus();
    event.preventDefault();
  }
});
addEventListener("click", (event) => {
  if (!one(".find").contains(event.target)) results.hidden = true;
});

document.getElementById("copy").addEventListener("click", async () => {
  try {
    await navigator.clipboard.writeText(command.value);
  } catch {
    command.select();
    document.execCommand("copy"); // where a page from disk may not use the clipboard
  }
  copied.textContent = "Copied";
});
document.getElementById("untick").addEventListener("click", () => {
  ticked.clear();
  refresh();
  search.focus();
});
addEventListener("resize", trayShown);
refresh();

// Timeline, strip, tables and remarks: each chooses chords and shows which one is chosen.

/** @param {number} index */
const stripButton = (index) => /** @type {HTMLElement | null} */ (document.querySelector(`#strip [data-chord="${index}"]`));

function startStrip() {
  const strip = byId("strip");
  if (!strip || !page) return;
  for (const chord of strip.querySelectorAll("[data-chord]")) {
    const { d } = page.chords[Number(chord.getAttribute("data-chord"))];
    /** @type {HTMLElement} */ (chord).style.setProperty("--length", String(Math.min(8, d)));
  }
  strip.addEventListener("click", (event) => {
    const chord = /** @type {Element} */ (event.target).closest("[data-chord]");
    if (chord) select(Number(chord.getAttribute("data-chord")), "strip");
  });
  strip.addEventListener("keydown", (event) => arrows(event, (index) => stripButton(index)?.focus(), "strip"));
  strip.addEventListener("scroll", () => showWindow(strip), { passive: true });
  new ResizeObserver(() => showWindow(strip)).observe(strip);
  onSelect.push((index, from) => {
    for (const old of strip.querySelectorAll('[aria-current="true"]')) {
      old.removeAttribute("aria-current");
      old.setAttribute("tabindex", "-1");
    }
    const chosen = stripButton(index);
    if (!chosen) return;
    strip.querySelector('[tabindex="0"]')?.setAttribute("tabindex", "-1");
    chosen.setAttribute("aria-current", "true");
    chosen.setAttribute("tabindex", "0");
    reveal(strip, chosen, from === "strip");
  });
}

/** Scrolls the strip, and only the strip, to a chord. @param {HTMLElement} strip @param {HTMLElement} chord @param {boolean} gently */
function reveal(strip, chord, gently) {
  const [outer, inner] = [strip.getBoundingClientRect(), chord.getBoundingClientRect()];
  if (gently && inner.left > outer.left + 20 && inner.right < outer.right - 20) return;
  if (strip.scrollWidth <= strip.clientWidth) return;
  strip.scrollBy({ left: inner.left - outer.left - outer.width / 3, behavior: motion() });
}

/** Arrow keys, Home and End go along the chords. @param {KeyboardEvent} event @param {(index: number) => void} focus @param {string} from */
function arrows(event, focus, from) {
  const current = /** @type {Element} */ (event.target).closest("[data-chord]");
  if (!current || event.altKey || event.ctrlKey || event.metaKey) return;
  const index = Number(current.getAttribute("data-chord"));
  const steps = { ArrowRight: neighbour(index, 1), ArrowLeft: neighbour(index, -1), Home: neighbour(-1, 1), End: neighbour(page?.chords.length ?? 0, -1) };
  let next = steps[/** @type {keyof typeof steps} */ (event.key)];
  if ((event.key === "Enter" || event.key === " ") && from === "score") next = index;
  if (next === undefined || next < 0) return;
  event.preventDefault();
  select(next, from);
  focus(next);
}

function startScoreKeys() {
  scoreHome?.addEventListener("keydown", (event) => {
    const remark = /** @type {Element} */ (event.target).closest("[data-remark]");
    if (remark && (event.key === "Enter" || event.key === " ")) {
      event.preventDefault();
      chooseRemark(Number(remark.getAttribute("data-remark")));
      return;
    }
    arrows(event, (index) => /** @type {SVGElement | null} */ (scoreHome.querySelector(`[data-chord="${index}"]`))?.focus({ preventScroll: true }), "score");
  });
}

/** Which part of the cue the strip shows, drawn over the timeline. @param {HTMLElement} strip */
function showWindow(strip) {
  const window = byId("overview-window");
  if (!window || !page) return;
  const outer = strip.getBoundingClientRect();
  const seen = [...strip.querySelectorAll("[data-chord]")].filter((chord) => {
    const box = chord.getBoundingClientRect();
    return box.right > outer.left && box.left < outer.right;
  });
  const whole = endOf();
  if (seen.length === 0 || whole === 0) return;
  const [first, last] = [seen[0], seen[seen.length - 1]].map((chord) => page.chords[Number(chord.getAttribute("data-chord"))]);
  window.setAttribute("x", `${(100 * first.t) / whole}%`);
  window.setAttribute("width", `${(100 * (last.t + last.d - first.t)) / whole}%`);
}

function endOf() {
  const last = page?.measures.at(-1);
  return last ? last.t + last.d : 0;
}

function startOverview() {
  const overview = byId("overview");
  if (!overview) return;
  overview.addEventListener("click", (event) => {
    const box = overview.getBoundingClientRect();
    select(chordAt(((event.clientX - box.left) / box.width) * endOf()), "overview");
  });
  onSelect.push((index) => placeLine(page?.chords[index].t ?? 0));
}

/** @param {number} time */
function placeLine(time) {
  const line = byId("overview-place");
  for (const end of ["x1", "x2"]) line?.setAttribute(end, `${(100 * time) / Math.max(1e-6, endOf())}%`);
}

/** Below this confidence a device is not shown, 0 to 1. */
const leastSure = () => Number(/** @type {HTMLSelectElement | null} */ (byId("sure"))?.value ?? 0) / 100;

/** Whether a chord's device is less sure than is asked for. @param {PageChord} chord */
const isUnsure = (chord) => chord.device !== undefined && chord.confidence < leastSure();

/** Devices that are less sure than is asked for look like other chords. @param {Element} inside */
function showSure(inside) {
  for (const shown of inside.querySelectorAll("[data-chord]")) {
    const chord = page?.chords[Number(shown.getAttribute("data-chord"))];
    if (chord) shown.classList.toggle("unsure", isUnsure(chord));
  }
}

function startSure() {
  const [choice, said] = ["sure", "sure-said"].map(byId);
  if (!choice || !page) return;
  const chords = page.chords.filter((chord) => chord.numeral !== "");
  const show = () => {
    for (const view of ["overview", "strip", "score"].map(byId)) if (view) showSure(view);
    const shown = chords.filter((chord) => chord.device && !isUnsure(chord));
    const all = chords.filter((chord) => chord.device).length;
    const length = (/** @type {PageChord[]} */ list) => list.reduce((sum, chord) => sum + chord.d, 0);
    if (said) said.textContent = shown.length === all ? "" : `${shown.length} of ${all} devices; ${percent(length(shown) / length(chords))} of the time.`;
  };
  choice.addEventListener("change", show);
  show();
}

function startTables() {
  for (const table of document.querySelectorAll("table.sortable")) makeSortable(/** @type {HTMLTableElement} */ (table));
  document.addEventListener("click", (event) => {
    const go = /** @type {Element} */ (event.target).closest("[data-time]");
    if (!go) return;
    const remark = go.getAttribute("data-remark");
    if (remark) chooseRemark(Number(remark));
    else {
      document.querySelector(".bench")?.scrollIntoView({ behavior: motion() });
      select(chordAt(Number(go.getAttribute("data-time"))), "table");
    }
  });
}

/** Column heads become buttons that sort; what belongs to the rows elsewhere moves along. @param {HTMLTableElement} table */
function makeSortable(table) {
  const heads = [...(table.tHead?.rows[0].cells ?? [])];
  heads.forEach((head, column) => {
    if (head.dataset.unsorted) return;
    const sort = make("button", { type: "button", class: "sort" });
    sort.append(...head.childNodes, make("span", { class: "order", "aria-hidden": "true" }));
    head.append(sort);
    sort.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending" || (head.classList.contains("n") && head.getAttribute("aria-sort") !== "descending");
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const body = table.tBodies[0];
      const rows = [...body.rows].sort((a, b) => (down ? -1 : 1) * compare(cellValue(a.cells[column]), cellValue(b.cells[column])));
      body.append(...rows);
      const along = byId(table.dataset.moves ?? "");
      if (along) along.append(...rows.map((row) => along.querySelector(`[data-row="${row.dataset.row}"]`)).filter((row) => row !== null));
    });
  });
}

/** @param {HTMLTableCellElement} cell */
const cellValue = (cell) => cell.dataset.value ?? cell.textContent?.trim() ?? "";

/** Numbers by size, names by the alphabet. @param {string} a @param {string} b */
function compare(a, b) {
  const [x, y] = [Number.parseFloat(a), Number.parseFloat(b)];
  return !Number.isNaN(x) && !Number.isNaN(y) ? x - y : a.localeCompare(b, undefined, { numeric: true });
}

/** @param {number} number */
function chooseRemark(number) {
  const remark = page?.remarks.find((r) => r.n === number);
  const item = byId(`remark-${number}`);
  for (const old of document.querySelectorAll(".remark.chosen, .mark.chosen")) old.classList.remove("chosen");
  item?.classList.add("chosen");
  scoreHome?.querySelector(`[data-remark="${number}"]`)?.classList.add("chosen");
  if (!remark) return;
  const inList = item?.contains(document.activeElement) ?? false;
  const chord = page?.chords[chordAt(remark.t)];
  engraving?.show(remark.t, chord && chord.t + chord.d > remark.t ? chord.t + chord.d : remark.t + 1, inList);
  if (!inList) item?.focus({ preventScroll: false });
  selected = chordAt(remark.t);
}

// The engraved score: slices, our labels under the notes, the place of the chosen chord, and the way back from a place to a chord.

/** The engraving library's units are tenths of its pixels. */
const UNIT = 10;

/** More slices than this are engraved when they come into view, not before. */
const MOST_AT_ONCE = 60;
// Width and height of a mark of a remark, with the gap to the next.
const MARK = 22;

class Engraving {
  /** @type {HTMLElement} */ #home;
  /** @type {ScoreSource | null} */ #source = null;
  /** @type {Slice[]} */ #slices = [];
  #width = 0;
  #busy = false;
  /** Resolves when every slice is engraved. @type {Promise<void>} */ done;
  #finish = () => {};

  /** @param {HTMLElement} home */
  constructor(home) {
    this.#home = home;
    this.done = new Promise((resolve) => (this.#finish = resolve));
  }

  /** Unpacks library and score, and starts with what is in view. */
  async start() {
    const code = byId("engraver")?.textContent ?? "";
    const [library, text] = await Promise.all([unpack(code), unpack(byId("score-source")?.textContent ?? "")]);
    const script = document.createElement("script");
    script.textContent = library;
    document.head.append(script);
    script.remove();
    if (typeof opensheetmusicdisplay === "undefined") throw new Error("This browser did not run the engraving library.");
    this.#source = new ScoreSource(text);
    this.#source.withoutLabels = page?.labels ?? false;
    this.#startViews(this.#source);
    this.#cut(this.#source);
    this.#home.addEventListener("scroll", () => this.#next(), { passive: true });
    addEventListener("scroll", () => this.#next(), { passive: true });
    this.#width = this.#home.clientWidth;
    new ResizeObserver(() => this.#resized()).observe(this.#home);
    addEventListener("beforeprint", () => this.#slices.forEach((slice) => this.#engrave(slice)));
    this.#next();
  }

  /** Opens on the reduction where there is one; the full score is a press away. @param {ScoreSource} source */
  #startViews(source) {
    const views = byId("score-views");
    if (!views) return;
    views.hidden = !source.hasReduction;
    if (source.hasReduction) source.view = "reduction";
    const picker = byId("score-parts");
    for (const button of views.querySelectorAll("button")) {
      button.addEventListener("click", () => {
        source.view = /** @type {ScoreSource["view"]} */ (button.dataset.view);
        if (picker) picker.hidden = source.view !== "full";
        for (const other of views.querySelectorAll("button")) other.setAttribute("aria-pressed", String(other === button));
        this.#anew(source);
      });
    }
    for (const { index, name } of source.instruments) {
      const box = /** @type {HTMLInputElement} */ (make("input", { type: "checkbox" }));
      box.addEventListener("change", () => {
        if (box.checked) source.picked.add(index);
        else source.picked.delete(index);
        this.#anew(source);
      });
      picker?.append(make("label", {}, box, ` ${name}`));
    }
  }

  /** Engraves anew what is in view, other staves than before. @param {ScoreSource} source */
  #anew(source) {
    this.#slices = [];
    this.#home.replaceChildren();
    this.#cut(source);
    if (this.#here) this.show(this.#here.from, this.#here.to, true);
    this.#next();
  }

  /** Cuts at phrases, so that each begins a line of its own, into slices that fit a page. @param {ScoreSource} source */
  #cut(source) {
    const most = Math.min(10, Math.max(3, Math.round(26 / source.staves)));
    const starts = new Set((page?.phrases ?? []).map((phrase) => measureOf(phrase.t)));
    const room = `${90 + 62 * source.staves}px`;
    let from = 0;
    for (let m = 1; m <= source.measureCount; m++) {
      const length = m - from;
      if (m < source.measureCount && length < most && !(starts.has(m) && 2 * length >= most)) continue;
      const element = make("div", { class: "slice" });
      this.#home.append(element);
      // So that what is not engraved yet takes about its room, and scrolling goes to where it will stand.
      element.style.minHeight = room;
      const slice = { from, to: m, element, endsPhrase: m === source.measureCount || starts.has(m), systems: [], measures: [], drawn: false, failed: false };
      element.addEventListener("click", (event) => this.#clicked(slice, event));
      this.#slices.push(slice);
      from = m;
    }
  }

  /** Engraves one slice, then gives the page a chance to answer before the next. */
  #next() {
    if (this.#busy) return;
    const pane = this.#home.getBoundingClientRect();
    const near = (/** @type {Slice} */ slice) => {
      const box = slice.element.getBoundingClientRect();
      return box.bottom > pane.top - 200 && box.top < pane.bottom + 200;
    };
    const waiting = this.#slices.filter((slice) => !slice.drawn && !slice.failed);
    const slice = waiting.find(near) ?? (this.#slices.length > MOST_AT_ONCE ? undefined : waiting[0]);
    const state = byId("score-state");
    if (!slice) {
      if (state) state.textContent = this.#slices.some((s) => s.failed) ? "A part of the score could not be engraved; its chords are in the timeline." : "";
      this.#finish();
      return;
    }
    if (state && waiting.length > 3) state.textContent = `Engraving measures ${slice.from + 1} to ${slice.to} of ${this.#slices.at(-1)?.to} …`;
    this.#busy = true;
    setTimeout(() => {
      this.#engrave(slice);
      this.#busy = false;
      this.#next();
    }, 0);
  }

  #resized() {
    const width = this.#home.clientWidth;
    if (width === 0 || Math.abs(width - this.#width) < 24) return;
    this.#width = width;
    for (const slice of this.#slices) slice.drawn = false;
    this.#next();
  }

  /** @param {Slice} slice */
  #engrave(slice) {
    if (slice.drawn || !this.#source) return;
    slice.drawn = true;
    try {
      const document = this.#source.slice(slice.from, slice.to);
      const labels = page?.labels ? labelsIn(slice) : [];
      reserveRoom(document, slice.from, labels);
      slice.element.replaceChildren();
      slice.element.style.minHeight = "";
      const engraver = new opensheetmusicdisplay.OpenSheetMusicDisplay(slice.element, {
        autoResize: false,
        disableCursor: true,
        backend: "svg",
        drawingParameters: "compact",
        drawTitle: false,
        drawCredits: false,
        drawPartNames: true,
        drawMeasureNumbersOnlyAtSystemStart: true,
        drawMetronomeMarks: slice.from === 0,
        stretchLastSystemLine: !slice.endsPhrase,
        autoGenerateMultipleRestMeasuresFromRestMeasures: false,
        defaultFontFamily: getComputedStyle(this.#home).fontFamily.split(",")[0].replaceAll('"', "") || "serif",
      });
      const rules = engraver.EngravingRules;
      rules.resetChordAccidentalTexts(rules.ChordAccidentalTexts, true);
      rules.LyricsHeight = 1.75;
      rules.LyricsYMarginToBottomLine = 0.5;
      rules.VerticalBetweenLyricsDistance = 0.35;
      rules.PageTopMargin = rules.PageTopMarginNarrow = 3;
      rules.PageBottomMargin = 1;
      rules.PageLeftMargin = rules.PageRightMargin = 0.5;
      rules.MinSkyBottomDistBetweenSystems = 4;
      engraver.Zoom = this.#home.clientWidth < 520 ? 0.5 : this.#home.clientWidth < 800 ? 0.72 : 0.82;
      engraver.load(document);
      const lows = makeRoom(engraver, slice, labels);
      engraver.render();
      this.#measure(slice, engraver, lows);
      this.#dress(slice, engraver, labels);
    } catch (error) {
      slice.failed = true;
      slice.element.replaceChildren(make("p", { class: "left-out" }, `Measures ${slice.from + 1} to ${slice.to} could not be engraved.`));
      console.warn(error);
    }
  }

  /** Notes where every measure and every moment stands. @param {Slice} slice @param {any} engraver @param {Map<any, number>} lows */
  #measure(slice, engraver, lows) {
    const systems = new Map();
    slice.systems = [];
    slice.measures = engraver.GraphicSheet.MeasureList.map((/** @type {any[]} */ staves, /** @type {number} */ index) => {
      const all = staves.filter(Boolean);
      const system = all[0].ParentStaffLine.ParentMusicSystem;
      if (!systems.has(system)) {
        const lines = system.StaffLines;
        const [first, last] = [lines[0], lines.at(-1)];
        const box = {
          top: UNIT * first.PositionAndShape.AbsolutePosition.y,
          bottom: UNIT * (last.PositionAndShape.AbsolutePosition.y + last.StaffHeight),
          labels: UNIT * (last.PositionAndShape.AbsolutePosition.y + (lows.get(system) ?? last.StaffHeight)) + 20,
          taken: /** @type {number[]} */ ([]),
          marks: /** @type {{ x: number, row: number }[]} */ ([]),
        };
        systems.set(system, box);
        slice.systems.push(box);
      }
      const start = page?.measures[slice.from + index] ?? { t: 0, d: 4 };
      const left = UNIT * all[0].PositionAndShape.AbsolutePosition.x;
      const right = left + UNIT * all[0].PositionAndShape.Size.width;
      const places = placesIn(all, start.t, (entry) => UNIT * entry.PositionAndShape.AbsolutePosition.x);
      if (places.length === 0) places.push({ t: start.t, x: left + 10 });
      return { t: start.t, end: start.t + start.d, left, right, places: [...places, { t: start.t + start.d, x: right }], system: systems.get(system) };
    });
  }

  /**
   * Draws labels and remarks into the picture.
   * @param {Slice} slice
   * @param {any} engraver
   * @param {Label[]} labels
   */
  #dress(slice, engraver, labels) {
    const svg = slice.element.querySelector("svg");
    if (!svg) return;
    for (const marked of slice.element.querySelectorAll("[id]")) marked.removeAttribute("id");
    if (!svg.hasAttribute("viewBox")) svg.setAttribute("viewBox", `0 0 ${svg.getAttribute("width")} ${svg.getAttribute("height")}`);
    svg.setAttribute("role", "group");
    svg.setAttribute("aria-label", `Score, measures ${page?.measures[slice.from]?.n} to ${page?.measures[slice.to - 1]?.n}`);
    this.#hideReserved(slice, engraver);
    const layer = makeSvg("g", { class: "labels" });
    svg.append(layer);
    // Everything is drawn, then everything is measured, then everything is put in place: measuring between changes would have the
    // browser lay out the picture anew for every label.
    const drawn = labels.map((label) => drawLabel(layer, label)).filter((label) => label !== null);
    const backs = drawn.map(({ text, at }) => (at < 0 ? 0 : text.getSubStringLength(at, 1)));
    const widths = drawn.map(({ text, device }) => Math.max(text.getComputedTextLength(), device?.getComputedTextLength() ?? 0));
    drawn.forEach((label, i) => this.#placeLabel(slice, label, widths[i], backs[i]));
    for (const remark of page?.remarks ?? []) if (remark.m >= slice.from && remark.m < slice.to) this.#remark(slice, layer, remark);
    const drawnIn = [...layer.children];
    const low = Math.max(0, ...drawnIn.map((g) => Number(g.getAttribute("data-bottom")))) + 8;
    const high = Math.min(0, ...drawnIn.map((g) => Number(g.getAttribute("data-top"))));
    const box = svg.viewBox.baseVal;
    if (low > box.height || high < 0) {
      const scale = svg.height.baseVal.value / box.height;
      const height = Math.max(low, box.height) - high;
      svg.setAttribute("height", String(height * scale));
      svg.setAttribute("viewBox", `${box.x} ${high} ${box.width} ${height}`);
    }
    this.#mark(slice);
    showSure(slice.element);
  }

  /** The lyrics that kept room have done their work; where they stand tells how low labels go. @param {Slice} slice @param {any} engraver */
  #hideReserved(slice, engraver) {
    /** @type {Map<System, number>} */
    const lowest = new Map();
    engraver.GraphicSheet.MeasureList.forEach((/** @type {any[]} */ staves, /** @type {number} */ index) => {
      for (const entry of staves.at(-1)?.staffEntries ?? []) {
        for (const lyric of entry.LyricsEntries) {
          const verse = String(lyric.LyricsEntry.VerseNumber);
          if (verse !== NUMERAL_VERSE && verse !== DEVICE_VERSE) continue;
          const node = lyric.GraphicalLabel?.SVGNode;
          if (verse === NUMERAL_VERSE && node) lowest.set(slice.measures[index].system, baselineOf(node));
          node?.remove();
        }
      }
    });
    for (const [system, baseline] of lowest) system.labels = baseline;
  }

  /** @param {Slice} slice @param {DrawnLabel} drawn @param {number} width @param {number} back width of the upper figure */
  #placeLabel(slice, { label, group, text, device, at }, width, back) {
    const place = placeOf(slice, label.t);
    if (!place) return group.remove();
    if (at >= 0) stackFigures(text, at, back);
    const x = place.x - 3;
    // Where chords follow faster than labels have room, the label goes to a line below.
    let row = 0;
    while ((place.system.taken[row] ?? -Infinity) > x - 2) row++;
    place.system.taken[row] = x + width;
    const y = place.system.labels + row * 34;
    text.setAttribute("x", String(x));
    text.setAttribute("y", String(y));
    device?.setAttribute("x", String(x));
    device?.setAttribute("y", String(y + 15));
    group.setAttribute("data-bottom", String(y + (device ? 18 : 6)));
    group.prepend(makeSvg("rect", { class: "hit", x: x - 3, y: y - 16, width: width + 6, height: device ? 35 : 22, rx: 3 }));
  }

  /** @param {Slice} slice @param {Element} layer @param {PageRemark} remark */
  #remark(slice, layer, remark) {
    const place = placeOf(slice, remark.t);
    if (!place) return;
    // A line that is wider than the picture runs out of it; its marks stay at the edge, where they can be pressed.
    const width = slice.element.querySelector("svg")?.viewBox.baseVal.width ?? 0;
    const free = freePlace(place.system, place.x + 5, width > 0 ? width - 12 : Infinity);
    place.system.marks.push(free);
    const [x, y] = [free.x, place.system.top - MARK * (1 + free.row)];
    layer.append(makeSvg("g", { class: `mark ${remark.fault ? "fault" : "notice"}`, role: "button", tabindex: 0, "data-remark": remark.n, "data-top": y - MARK / 2, "aria-label": `Remark ${remark.n}: ${remark.text}` },
      remark.fault ? makeSvg("circle", { cx: x, cy: y, r: 10 }) : makeSvg("rect", { x: x - 9, y: y - 9, width: 18, height: 18, rx: 3 }),
      makeSvg("text", { x, y: y + 4.5, "text-anchor": "middle" }, String(remark.n))));
  }

  /** @type {{from: number, to: number} | null} */ #here = null;

  /**
   * Marks a stretch of time in the score.
   * @param {number} from
   * @param {number} to
   * @param {boolean} scroll whether to bring it into view
   */
  show(from, to, scroll) {
    this.#here = { from, to };
    for (const slice of this.#slices) this.#mark(slice);
    const measure = measureOf(from, true);
    const slice = this.#slices.find((s) => measure >= s.from && measure < s.to);
    if (!slice || !scroll) return;
    this.#engrave(slice);
    const box = slice.element.querySelector(".here")?.getBoundingClientRect() ?? slice.element.getBoundingClientRect();
    const pane = this.#home.getBoundingClientRect();
    if (box.top >= pane.top + 10 && box.bottom <= pane.bottom - 10) return;
    const top = box.top - pane.top - Math.max(20, (pane.height - box.height) / 3);
    // On a long way slices on both sides are engraved and change their heights, so that a slow scroll would end elsewhere.
    this.#home.scrollBy({ top, behavior: Math.abs(top) > pane.height ? "instant" : motion() });
  }

  /** @param {Slice} slice */
  #mark(slice) {
    const svg = slice.element.querySelector("svg");
    if (!svg) return;
    for (const old of svg.querySelectorAll(".here")) old.remove();
    for (const label of svg.querySelectorAll(".label")) {
      const chosen = Number(label.getAttribute("data-chord")) === selected;
      label.classList.toggle("chosen", chosen);
      label.setAttribute("tabindex", chosen ? "0" : "-1");
    }
    if (!this.#here) return;
    /** @type {Map<System, [number, number]>} */
    const spans = new Map();
    for (const measure of slice.measures) {
      const [from, to] = [Math.max(this.#here.from, measure.t), Math.min(this.#here.to, measure.end)];
      if (to - from < 1e-6) continue;
      const [left, right] = [along(measure, from) - 6, to >= measure.end - 1e-6 ? measure.right : along(measure, to) - 6];
      const span = spans.get(measure.system);
      spans.set(measure.system, span ? [Math.min(span[0], left), Math.max(span[1], right)] : [left, right]);
    }
    for (const [system, [left, right]] of spans)
      svg.prepend(makeSvg("rect", { class: "here", x: left, y: system.top - 16, width: Math.max(14, right - left), height: system.labels + 22 - system.top + 16, rx: 5 }));
  }

  /** @param {Slice} slice @param {MouseEvent} event */
  #clicked(slice, event) {
    const target = /** @type {Element} */ (event.target);
    const label = target.closest("[data-chord]");
    const remark = target.closest("[data-remark]");
    if (remark) return chooseRemark(Number(remark.getAttribute("data-remark")));
    if (label) return select(Number(label.getAttribute("data-chord")), "score");
    const svg = slice.element.querySelector("svg");
    const matrix = svg?.getScreenCTM();
    if (!matrix) return;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const distance = (/** @type {System} */ system) => Math.max(0, system.top - 30 - point.y, point.y - system.labels - 24);
    const system = slice.systems.reduce((best, s) => (distance(s) < distance(best) ? s : best));
    const measures = slice.measures.filter((m) => m.system === system);
    const measure = measures.find((m) => point.x < m.right) ?? measures.at(-1);
    if (!measure) return;
    let at = measure.places[0];
    for (const place of measure.places.slice(0, -1)) if (place.x - 8 <= point.x) at = place;
    select(chordAt(at.t), "score");
  }
}

/**
 * Before the engraver places lyrics, tells it how low the notes go wherever a label of ours will stand: labels are wider than the
 * lyrics that keep their room, and some stand where the lowest staff strikes no note.
 * @param {any} engraver
 * @param {Slice} slice
 * @param {Label[]} labels
 * @returns {Map<any, number>} for each system the lowest place above its labels, in units below the lowest staff's top
 */
function makeRoom(engraver, slice, labels) {
  const lows = new Map();
  const calculator = engraver.GraphicSheet.GetCalculator;
  const place = calculator.calculateLyricsPosition.bind(calculator);
  calculator.calculateLyricsPosition = () => {
    for (const system of calculator.musicSystems) {
      const line = system.StaffLines.at(-1);
      /** @type {{from: number, to: number, label: Label}[]} */
      const ranges = [];
      line.Measures.forEach((/** @type {any} */ measure, /** @type {number} */ k) => {
        // A system may end with a measure of its own for a warning key or clef; it holds no time.
        if (!measure.parentSourceMeasure) return;
        const index = slice.from + measure.parentSourceMeasure.measureListIndex;
        const start = page?.measures[index];
        const wanted = labels.filter((label) => label.m === index);
        if (!start || wanted.length === 0) return;
        const left = measure.PositionAndShape.RelativePosition.x;
        const staves = system.StaffLines.map((/** @type {any} */ l) => l.Measures[k]).filter(Boolean);
        const places = placesIn(staves, start.t, (entry) => left + entry.PositionAndShape.RelativePosition.x);
        places.push({ t: start.t + start.d, x: left + measure.PositionAndShape.Size.width });
        for (const label of wanted) {
          const x = along({ left, places }, label.t);
          ranges.push({ from: Math.max(0, x - 0.6), to: x + 0.4 + 0.9 * Math.max(label.numeral.length, 0.7 * label.device.length), label });
        }
      });
      if (ranges.length === 0) continue;
      const sky = line.SkyBottomLineCalculator;
      const low = Math.max(line.StaffHeight, ...ranges.map(({ from, to }) => sky.getBottomLineMaxInRange(from, to)).filter(Number.isFinite));
      lows.set(system, low);
      const alone = !ranges.some(({ label }) => label.reserved);
      for (const { from, to } of ranges) sky.updateBottomLineInRange(from, to, alone ? low + 4 : low);
    }
    place();
  };
  return lows;
}

/**
 * Where each moment of a measure stands, from the left.
 * @param {any[]} staves the measure in every staff
 * @param {number} start time of the measure
 * @param {(entry: any) => number} xOf
 */
function placesIn(staves, start, xOf) {
  /** @type {Map<number, number>} */
  const moments = new Map();
  for (const measure of staves) {
    for (const entry of measure.staffEntries) {
      // The engraver leaves entries without a note of their own, as the place of a label alone, at the measure's left.
      if (entry.PositionAndShape.RelativePosition.x <= 0) continue;
      const t = start + 4 * entry.relInMeasureTimestamp.RealValue;
      moments.set(t, Math.min(moments.get(t) ?? Infinity, xOf(entry)));
    }
  }
  return [...moments].map(([t, x]) => ({ t, x })).sort((a, b) => a.t - b.t);
}

/**
 * The measure that a phrase's start opens: one that starts in the second half of a measure opens the next.
 * @param {number} time
 * @param {boolean} exact whether to take the measure that holds the time
 */
function measureOf(time, exact = false) {
  const index = Math.max(0, indexAt(page?.measures ?? [], time));
  const measure = page?.measures[index];
  return !exact && measure && time - measure.t > measure.d / 2 ? index + 1 : index;
}

/**
 * What stands under the notes of a slice.
 * @param {Slice} slice
 * @returns {Label[]}
 */
function labelsIn(slice) {
  const labels = [];
  for (const [index, chord] of (page?.chords ?? []).entries()) {
    if (chord.numeral === "" || chord.m < slice.from || chord.m >= slice.to) continue;
    const before = page?.chords[neighbour(index, -1)];
    const key = !before || before.key !== chord.key ? `${chord.keyLetter}:` : "";
    labels.push({
      index,
      t: chord.t,
      m: chord.m,
      offset: chord.t - (page?.measures[chord.m].t ?? 0),
      key,
      numeral: (key ? `${key} ` : "") + chord.numeral,
      device: chord.sign ? `${chord.sign} ${chord.code}` : "",
      reserved: false,
    });
  }
  return labels;
}

/** Where the line of a text stands that the engraving library drew. @param {Element} node */
function baselineOf(node) {
  const text = node.localName === "text" ? node : node.querySelector("text");
  return Number(text?.getAttribute("y") ?? 0);
}

/** @param {{left: number, places: {t: number, x: number}[]}} measure @param {number} time */
function along(measure, time) {
  const places = measure.places;
  for (let i = 0; i + 1 < places.length; i++) {
    const [a, b] = [places[i], places[i + 1]];
    if (time < b.t - 1e-6 || i + 2 === places.length) return b.t - a.t < 1e-6 ? a.x : a.x + ((Math.min(time, b.t) - a.t) / (b.t - a.t)) * (b.x - a.x);
  }
  return measure.left;
}

/** @param {Slice} slice @param {number} time */
function placeOf(slice, time) {
  const measure = slice.measures.findLast((m) => m.t <= time + 1e-6);
  return measure ? { x: along(measure, time), system: measure.system } : null;
}

/**
 * The nearest place over a system that no mark has taken: on the beat, above it, then to the right and to the left of it. Two rows hold any
 * number of marks, so that they neither lie on each other nor reach into the system above.
 * @param {System} system @param {number} from @param {number} edge
 * @returns {{ x: number, row: number }}
 */
function freePlace(system, from, edge) {
  const first = Math.min(from, edge);
  for (let column = 0; column < 100; column++) {
    for (const x of column === 0 ? [first] : [first + MARK * column, first - MARK * column]) {
      if (x > edge || x < MARK / 2) continue;
      for (const row of [0, 1]) if (!system.marks.some((mark) => mark.row === row && Math.abs(mark.x - x) < MARK)) return { x, row };
    }
  }
  return { x: first, row: 0 };
}

/**
 * Draws a label, not yet in its place.
 * @param {Element} layer
 * @param {Label} label
 * @returns {DrawnLabel | null}
 */
function drawLabel(layer, label) {
  const chord = page?.chords[label.index];
  if (!chord) return null;
  const group = makeSvg("g", { class: `label ${chord.device ?? "plain"}`, role: "button", tabindex: label.index === selected ? 0 : -1, "data-chord": label.index });
  const key = label.key ? [makeSvg("tspan", { class: "key-letter" }, `${label.key} `)] : [];
  const text = /** @type {SVGTextElement} */ (makeSvg("text", { class: "numeral" }, ...key, chord.numeral));
  const device = chord.sign
    ? /** @type {SVGTextElement} */ (makeSvg("text", { class: "device" }, makeSvg("tspan", { class: "sign" }, chord.sign), ` ${chord.code}`))
    : null;
  group.append(text, ...(device ? [" ", device] : []));
  // What is seen comes first, so that a voice command can call it by that.
  group.setAttribute("aria-label", `${group.textContent}: ${spoken(chord)}`);
  layer.append(group);
  const figures = /[⁰¹²³⁴-⁹][₀-₉]/u.exec(chord.numeral);
  return { label, group, text, device, at: figures ? figures.index + (label.key ? label.key.length + 1 : 0) : -1 };
}

/**
 * Sets the lower figure under the upper one.
 * @param {SVGTextElement} text
 * @param {number} at index of the upper figure
 * @param {number} back its width
 */
function stackFigures(text, at, back) {
  const tail = text.lastChild;
  if (!(tail instanceof Text)) return;
  const upper = at - ((text.textContent?.length ?? 0) - tail.data.length);
  const [head, top, lower, rest] = [tail.data.slice(0, upper), tail.data[upper], tail.data[upper + 1], tail.data.slice(upper + 2)];
  tail.replaceWith(head, makeSvg("tspan", { dy: -3 }, top), makeSvg("tspan", { dx: -back.toFixed(1), dy: 7 }, lower), ...(rest ? [makeSvg("tspan", { dy: -4 }, rest)] : []));
}

const scoreHome = byId("score");
const engraving = scoreHome ? new Engraving(scoreHome) : null;

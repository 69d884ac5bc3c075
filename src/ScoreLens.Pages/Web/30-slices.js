// The score in slices. A long movement engraved whole would freeze the page for seconds; cut at phrases into documents of their
// own, the slice in view is there at once and the others follow while nothing else happens. The score comes cut into measures, as text
// (PageScore.cs), since even to parse a full score whole takes seconds.

/** Verse numbers of the invisible lyrics that keep room for our labels. */
const NUMERAL_VERSE = "901";
const DEVICE_VERSE = "902";

/** Identifier of the part that holds the harmonic reduction, as OwnLabels.cs has it. */
const REDUCTION_PART = "ScoreLens-reduction";

/** What stands before each part and before each measure of it, as PageScore.cs has it. */
const GROUP = "\u001d";
const RECORD = "\u001e";

/** @typedef {{ id: string, measures: string[], staves: number, state: Element[][] | null }} Part */

class ScoreSource {
  /** @type {Document} The document without its parts. */ #head;
  /** @type {Part[]} */ #parts;

  /** What is shown. @type {"reduction" | "highest" | "full"} */ view = "full";
  /** Whether numerals and devices in the score are taken out, since the page draws its own. */ withoutLabels = false;
  /** Indices of the instruments that were picked; none for all. @type {Set<number>} */ picked = new Set();
  #reduction = -1;

  /** @param {string} text */
  constructor(text) {
    const [head, ...parts] = text.split(GROUP);
    this.#head = parseXml(head);
    this.#parts = parts.map((part) => {
      const [id, ...measures] = part.split(RECORD);
      return { id, measures, staves: stavesOf(part), state: null };
    });
    // Room before the staves is scarce.
    const name = this.#head.querySelector(`score-part[id="${REDUCTION_PART}"] > part-name`);
    if (name) name.textContent = "Reduction";
    this.#reduction = this.#parts.findIndex((part) => part.id === REDUCTION_PART);
  }

  get measureCount() {
    return Math.max(0, ...this.#parts.map((part) => part.measures.length));
  }

  /** Whether the score carries a harmonic reduction of ours under the instruments. */
  get hasReduction() {
    return this.#reduction >= 0 && this.#parts.length > 1;
  }

  /** Staves of the parts that are shown. */
  get staves() {
    if (this.view === "highest") return this.#parts[this.#reduction].staves + 1;
    return this.#shown(0, 1).reduce((sum, index) => sum + this.#parts[index].staves, 0);
  }

  /** Names of the instruments with their indices; the reduction is none. */
  get instruments() {
    const list = [...this.#head.querySelectorAll("part-list > score-part")];
    return this.#parts.flatMap(({ id }, index) => {
      const name = list.find((part) => part.id === id);
      return index === this.#reduction ? [] : [{ index, name: (name && childText(name, "part-name")) || `Part ${index + 1}` }];
    });
  }

  /**
   * Indices of the parts that are shown in some measures.
   * @param {number} from
   * @param {number} to
   */
  #shown(from, to) {
    const all = this.#parts.map((_, index) => index);
    if (this.view === "full") return this.picked.size === 0 ? all : all.filter((index) => this.picked.has(index) || index === this.#reduction);
    const highest = this.view === "highest" ? this.#highest(from, to) : -1;
    return all.filter((index) => index === highest || index === this.#reduction);
  }

  /**
   * Index of the part that is the highest for most of some measures, or -1.
   * @param {number} from
   * @param {number} to
   */
  #highest(from, to) {
    /** @type {Map<string, number>} */
    const time = new Map();
    for (const { h, d } of page?.measures.slice(from, to) ?? []) if (h) time.set(h, (time.get(h) ?? 0) + d);
    const [id] = [...time].reduce((best, entry) => (entry[1] > best[1] ? entry : best), ["", 0]);
    return this.#parts.findIndex((part) => part.id === id);
  }

  /**
   * Those of them that have a note in some measures: in a full score the silent staves are left out.
   * @param {number} from
   * @param {number} to
   */
  #sounding(from, to) {
    if (!this.hasReduction) return this.#shown(from, to);
    return this.#shown(from, to).filter((index) => index === this.#reduction
      || this.#parts[index].measures.slice(from, to).some((measure) => /<(pitch|unpitched)\b/.test(measure)));
  }

  /**
   * A document of its own for some measures.
   * @param {number} from
   * @param {number} to index after the last measure
   */
  slice(from, to) {
    const slice = /** @type {Document} */ (this.#head.cloneNode(true));
    const root = slice.documentElement;
    const shown = this.#sounding(from, to);
    const ids = new Set(shown.map((index) => this.#parts[index].id));
    // A brace around staves that are not all there would be drawn around others.
    if (shown.length < this.#parts.length) for (const entry of root.querySelectorAll("part-list > *")) if (!ids.has(entry.id)) entry.remove();
    if (from > 0) shortenNames(root);
    hideMissingNames(root);
    for (const index of shown) {
      const part = parseXml(`<part>${this.#parts[index].measures.slice(from, to).join("")}</part>`).documentElement;
      part.id = this.#parts[index].id;
      const first = part.firstElementChild;
      if (first && from > 0) carryOver(first, this.#inForce(this.#parts[index], from));
      root.append(slice.adoptNode(part));
    }
    if (this.withoutLabels) removeLabels(slice);
    return slice;
  }

  /**
   * Attributes in force where a part's measure begins.
   * @param {Part} part
   * @param {number} measure
   */
  #inForce(part, measure) {
    part.state ??= follow(part.measures);
    return part.state[measure] ?? [];
  }
}

/** @param {string} text */
function parseXml(text) {
  const document = new DOMParser().parseFromString(text, "application/xml");
  if (document.querySelector("parsererror")) throw new Error("The score in this page is not well-formed XML.");
  return document;
}

/**
 * Attributes in force where each measure of a part begins.
 * @param {string[]} measures
 */
function follow(measures) {
  /** @type {Element[][]} */
  const states = [];
  /** @type {Map<string, Element>} */
  const inForce = new Map();
  let state = /** @type {Element[]} */ ([]);
  for (const measure of measures) {
    states.push(state);
    const all = measure.match(/<attributes\b[^>]*(?<!\/)>.*?<\/attributes>/gs);
    if (!all) continue;
    for (const child of parseXml(`<all>${all.join("")}</all>`).querySelectorAll("all > attributes > *")) {
      if (child.localName === "measure-style") continue;
      // A key, time or clef without a number is for every staff.
      const number = child.getAttribute("number");
      if (!number) for (const key of inForce.keys()) if (key.startsWith(child.localName + "/")) inForce.delete(key);
      inForce.set(`${child.localName}/${number ?? ""}`, child);
    }
    state = [...inForce.values()];
  }
  return states;
}

/**
 * Takes out numerals and devices that the program wrote into the score; chord symbols stay. Numerals that others wrote as text of a "none"
 * chord would be engraved as "N.C.".
 * @param {Document} document
 */
function removeLabels(document) {
  for (const level of document.querySelectorAll("lyric > level, direction > level, harmony > level")) {
    const label = level.parentElement;
    if (level.textContent?.startsWith("ScoreLens ") && !label?.querySelector(":scope > root")) label?.remove();
  }
  for (const harmony of document.querySelectorAll("harmony")) {
    const kind = [...harmony.children].find(named("kind"));
    const isText = kind?.textContent?.trim() === "none" && !/^(|N\.?\s?C\.?)$/i.test(kind.getAttribute("text") ?? "");
    if (isText || harmony.querySelector("numeral, function")) harmony.remove();
  }
}

/** @param {string} name */
const named = (name) => (/** @type {Element} */ element) => element.localName === name;

/**
 * @param {Element} parent
 * @param {string} name
 */
const childText = (parent, name) => [...parent.children].find(named(name))?.textContent?.trim() ?? "";

/** The most staves that a part has anywhere. @param {string} part */
const stavesOf = (part) => Math.max(1, ...[...part.matchAll(/<staves\b[^>]*>\s*(\d+)/g)].map((match) => Number(match[1])));

/** In a slice after the first, parts are known: short names keep the staves long. @param {Element} root */
function shortenNames(root) {
  for (const part of root.querySelectorAll("part-list > score-part")) {
    const [name, short] = [[...part.children].find(named("part-name")), childText(part, "part-abbreviation")];
    if (name) name.textContent = root.querySelectorAll("part-list > score-part").length > 2 ? short : "";
    for (const display of part.querySelectorAll("part-name-display, part-abbreviation-display")) display.remove();
  }
}

/** Where a part has no name, nothing stands before its staves: the engraver would invent one from the identifier. @param {Element} root */
function hideMissingNames(root) {
  for (const part of root.querySelectorAll("part-list > score-part")) {
    let name = [...part.children].find(named("part-name"));
    if (!name) {
      name = part.ownerDocument.createElementNS(part.namespaceURI, "part-name");
      part.prepend(name);
    }
    if (!name.textContent?.trim()) name.setAttribute("print-object", "no");
  }
}

const ATTRIBUTE_ORDER = ["divisions", "key", "time", "staves", "part-symbol", "instruments", "clef", "staff-details", "transpose"];

/**
 * Puts what is in force at the start of a slice into its first measure.
 * @param {Element} measure
 * @param {Element[]} inForce
 */
function carryOver(measure, inForce) {
  const document = measure.ownerDocument;
  const namespace = measure.namespaceURI;
  const first = [...measure.children].find((child) => ["attributes", "note", "backup", "forward"].includes(child.localName));
  let attributes = first?.localName === "attributes" ? first : null;
  if (!attributes) {
    attributes = document.createElementNS(namespace, "attributes");
    measure.prepend(attributes);
  }
  const own = new Set([...attributes.children].map((child) => `${child.localName}/${child.getAttribute("number") ?? ""}`));
  for (const child of inForce) {
    if (own.has(`${child.localName}/${child.getAttribute("number") ?? ""}`) || own.has(`${child.localName}/`)) continue;
    const copy = /** @type {Element} */ (child.cloneNode(true));
    if (copy.localName === "time") copy.setAttribute("print-object", "no");
    attributes.append(copy);
  }
  const rank = (/** @type {Element} */ child) => ATTRIBUTE_ORDER.indexOf(child.localName);
  attributes.append(...[...attributes.children].sort((a, b) => rank(a) - rank(b)));
}

/**
 * Gives notes of the lowest staff lyrics as long as our labels, so that the engraver leaves room for them; they are found
 * again by their verse numbers.
 * @param {Document} slice
 * @param {number} from index of its first measure
 * @param {Label[]} labels
 */
function reserveRoom(slice, from, labels) {
  const parts = [...slice.documentElement.children].filter(named("part"));
  const last = parts.at(-1);
  if (!last) return;
  const measures = [...last.children].filter(named("measure"));
  const staff = Math.max(1, ...[...last.querySelectorAll("measure > attributes > staves")].map((staves) => Number(staves.textContent) || 1));
  let divisions = 1;
  measures.forEach((measure, index) => {
    const wanted = labels.filter((label) => label.m === from + index);
    let [time, chordTime] = [0, 0];
    for (const child of [...measure.children]) {
      if (child.localName === "attributes") divisions = Number(childText(child, "divisions")) || divisions;
      else if (child.localName === "backup") time -= Number(childText(child, "duration")) / divisions;
      else if (child.localName === "forward") time += Number(childText(child, "duration")) / divisions;
      else if (child.localName === "note") {
        const isChord = [...child.children].some(named("chord"));
        if (!isChord) chordTime = time;
        const at = isChord ? chordTime : time;
        const carries = ![...child.children].some((c) => ["rest", "grace", "cue"].includes(c.localName));
        if (!isChord && ![...child.children].some(named("grace"))) time += Number(childText(child, "duration")) / divisions;
        const place = carries && !isChord && (Number(childText(child, "staff")) || 1) === staff ? wanted.findIndex((label) => Math.abs(label.offset - at) < 1e-3) : -1;
        if (place < 0) continue;
        const [label] = wanted.splice(place, 1);
        label.reserved = true;
        child.append(lyric(slice, child, NUMERAL_VERSE, label.numeral));
        if (label.device) child.append(lyric(slice, child, DEVICE_VERSE, label.device));
      }
    }
  });
}

/**
 * @param {Document} document
 * @param {Element} note
 * @param {string} verse
 * @param {string} text
 */
function lyric(document, note, verse, text) {
  const element = document.createElementNS(note.namespaceURI, "lyric");
  element.setAttribute("number", verse);
  for (const [name, value] of [["syllabic", "single"], ["text", text]]) {
    const child = document.createElementNS(note.namespaceURI, name);
    child.textContent = value;
    element.append(child);
  }
  return element;
}

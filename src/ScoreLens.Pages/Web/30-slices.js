// The score in slices. A long movement engraved whole would freeze the page for seconds; cut at phrases into documents of their
// own, the slice in view is there at once and the others follow while nothing else happens.

/** Verse numbers of the invisible lyrics that keep room for our labels. */
const NUMERAL_VERSE = "901";
const DEVICE_VERSE = "902";

/** Identifier of the part that holds the harmonic reduction, as OwnLabels.cs has it. */
const REDUCTION_PART = "ScoreLens-reduction";

class ScoreSource {
  /** @type {Document} */ #document;
  /** @type {Element[][]} Measures of each part. */ #parts;
  /** @type {Map<Element, Element[]>} What is in force at the start of a measure. */ #state = new Map();

  /** Whether the reduction is shown alone. */ reduced = false;
  /** Indices of the instruments that were picked; none for all. @type {Set<number>} */ picked = new Set();
  /** @type {string[]} */ #ids = [];
  #reduction = -1;

  /** @param {string} text */
  constructor(text) {
    const document = new DOMParser().parseFromString(text, "application/xml");
    if (document.querySelector("parsererror")) throw new Error("The score in this page is not well-formed XML.");
    this.#document = document.documentElement.localName === "score-timewise" ? partwise(document) : document;
    this.#parts = [...this.#document.documentElement.children].filter(named("part")).map((part) => [...part.children].filter(named("measure")));
    for (const part of this.#parts) this.#follow(part);
    this.#ids = [...this.#document.documentElement.children].filter(named("part")).map((part) => part.id);
    this.#reduction = this.#ids.indexOf(REDUCTION_PART);
  }

  get measureCount() {
    return Math.max(0, ...this.#parts.map((part) => part.length));
  }

  /** Whether the score carries a harmonic reduction of ours under the instruments. */
  get hasReduction() {
    return this.#reduction >= 0 && this.#parts.length > 1;
  }

  /** Staves of all parts that are shown. */
  get staves() {
    return this.#shown.reduce((sum, index) => sum + stavesOf(this.#parts[index]), 0);
  }

  /** Names of the instruments with their indices; the reduction is none. */
  get instruments() {
    const list = [...this.#document.querySelectorAll("part-list > score-part")];
    return this.#ids.flatMap((id, index) => {
      const name = list.find((part) => part.id === id);
      return index === this.#reduction ? [] : [{ index, name: (name && childText(name, "part-name")) || `Part ${index + 1}` }];
    });
  }

  /** Indices of the parts that are shown. */
  get #shown() {
    const all = this.#parts.map((_, index) => index);
    if (this.reduced && this.hasReduction) return [this.#reduction];
    return this.picked.size === 0 ? all : all.filter((index) => this.picked.has(index) || index === this.#reduction);
  }

  /**
   * Those of them that have a note in some measures: in a full score the silent staves are left out.
   * @param {number} from
   * @param {number} to
   */
  #sounding(from, to) {
    if (!this.hasReduction) return this.#shown;
    return this.#shown.filter((index) => index === this.#reduction
      || this.#parts[index].slice(from, to).some((measure) => measure.querySelector("note > pitch, note > unpitched")));
  }

  /**
   * Takes out numerals and devices that the program wrote into the score, since the page draws its own; chord symbols stay.
   * Numerals that others wrote as text of a "none" chord would be engraved as "N.C.".
   */
  removeLabels() {
    for (const level of this.#document.querySelectorAll("lyric > level, direction > level, harmony > level")) {
      const label = level.parentElement;
      if (level.textContent?.startsWith("ScoreLens ") && !label?.querySelector(":scope > root")) label?.remove();
    }
    for (const harmony of this.#document.querySelectorAll("harmony")) {
      const kind = [...harmony.children].find(named("kind"));
      const isText = kind?.textContent?.trim() === "none" && !/^(|N\.?\s?C\.?)$/i.test(kind.getAttribute("text") ?? "");
      if (isText || harmony.querySelector("numeral, function")) harmony.remove();
    }
  }

  /**
   * A document of its own for some measures.
   * @param {number} from
   * @param {number} to index after the last measure
   */
  slice(from, to) {
    const slice = /** @type {Document} */ (this.#document.cloneNode(false));
    const root = /** @type {Element} */ (this.#document.documentElement.cloneNode(false));
    slice.append(root);
    const list = this.#document.documentElement.querySelector(":scope > part-list");
    if (list) root.append(list.cloneNode(true));
    const shown = this.#sounding(from, to);
    const ids = new Set(shown.map((index) => this.#ids[index]));
    // A brace around staves that are not all there would be drawn around others.
    if (shown.length < this.#parts.length) for (const entry of root.querySelectorAll("part-list > *")) if (!ids.has(entry.id)) entry.remove();
    if (from > 0) shortenNames(root);
    hideMissingNames(root);
    [...this.#document.documentElement.children].filter(named("part")).forEach((source, index) => {
      if (!shown.includes(index)) return;
      const part = /** @type {Element} */ (source.cloneNode(false));
      root.append(part);
      const measures = this.#parts[index].slice(from, to);
      measures.forEach((measure, i) => {
        const copy = /** @type {Element} */ (measure.cloneNode(true));
        if (i === 0 && from > 0) carryOver(copy, this.#state.get(measure) ?? []);
        part.append(copy);
      });
    });
    return slice;
  }

  /**
   * Divisions in force where a part's measure begins.
   * @param {Element[]} part
   */
  #follow(part) {
    /** @type {Map<string, Element>} */
    const inForce = new Map();
    for (const measure of part) {
      this.#state.set(measure, [...inForce.values()]);
      for (const attributes of [...measure.children].filter(named("attributes"))) {
        for (const child of attributes.children) {
          if (child.localName === "measure-style") continue;
          // A key, time or clef without a number is for every staff.
          const number = child.getAttribute("number");
          if (!number) for (const key of inForce.keys()) if (key.startsWith(child.localName + "/")) inForce.delete(key);
          inForce.set(`${child.localName}/${number ?? ""}`, child);
        }
      }
    }
  }
}

/** @param {string} name */
const named = (name) => (/** @type {Element} */ element) => element.localName === name;

/**
 * @param {Element} parent
 * @param {string} name
 */
const childText = (parent, name) => [...parent.children].find(named(name))?.textContent?.trim() ?? "";

/** @param {Element[]} part */
function stavesOf(part) {
  let staves = 1;
  for (const measure of part) for (const element of measure.querySelectorAll(":scope > attributes > staves")) staves = Math.max(staves, Number(element.textContent) || 1);
  return staves;
}

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

/** Turns measures of parts into parts of measures. @param {Document} timewise */
function partwise(timewise) {
  const source = timewise.documentElement;
  const document = timewise.implementation.createDocument(source.namespaceURI, "score-partwise", null);
  const root = document.documentElement;
  /** @type {Map<string, Element>} */
  const parts = new Map();
  for (const child of [...source.children]) {
    if (child.localName !== "measure") {
      root.append(document.importNode(child, true));
      continue;
    }
    for (const inner of [...child.children].filter(named("part"))) {
      const id = inner.getAttribute("id") ?? "";
      let part = parts.get(id);
      if (!part) {
        part = document.createElementNS(source.namespaceURI, "part");
        part.setAttribute("id", id);
        parts.set(id, part);
        root.append(part);
      }
      const measure = document.createElementNS(source.namespaceURI, "measure");
      for (const attribute of child.attributes) measure.setAttribute(attribute.name, attribute.value);
      measure.append(...[...inner.childNodes].map((node) => document.importNode(node, true)));
      part.append(measure);
    }
  }
  return document;
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
  const staff = stavesOf(measures);
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

// What every page shares: its data, unpacking, making elements, and finding the chord at a time.

/** @param {string} id */
const byId = (id) => document.getElementById(id);

const dataBlock = byId("data");
/** @type {PageData | null} */
const page = dataBlock ? JSON.parse(dataBlock.textContent ?? "null") : null;

/**
 * Unpacks deflated text in base 64.
 * @param {string} packed
 */
async function unpack(packed) {
  const bytes = Uint8Array.from(atob(packed), (c) => c.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  return new Response(stream).text();
}

/**
 * Makes an element. Text stays text: nothing here can become markup.
 * @param {string} name
 * @param {Record<string, string | number | null>} attributes
 * @param {...(Node | string | null)} children
 */
function make(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  return fill(element, attributes, children);
}

/**
 * @param {string} name
 * @param {Record<string, string | number | null>} attributes
 * @param {...(Node | string | null)} children
 */
function makeSvg(name, attributes = {}, ...children) {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", name), attributes, children);
}

/**
 * @template {Element} T
 * @param {T} element
 * @param {Record<string, string | number | null>} attributes
 * @param {(Node | string | null)[]} children
 */
function fill(element, attributes, children) {
  for (const [key, value] of Object.entries(attributes)) if (value !== null) element.setAttribute(key, String(value));
  element.append(...children.filter((child) => child !== null));
  return element;
}

/**
 * A numeral with its figures above each other.
 * @param {string} numeral
 */
function numeralNode(numeral) {
  const match = /^(.*?)([⁰¹²³⁴-⁹])([₀-₉])(.*)$/u.exec(numeral);
  if (!match) return make("span", { class: "numeral" }, numeral);
  const figures = make("span", { class: "fig" }, make("span", {}, match[2]), make("span", {}, match[3]));
  return make("span", { class: "numeral" }, match[1], figures, match[4]);
}

/** @param {number} share */
const percent = (share) => `${Math.round(100 * share)}\u202f%`;

/**
 * Index of the last element that starts at or before a time, or -1.
 * @param {{t: number}[]} list
 * @param {number} time
 */
function indexAt(list, time) {
  let [low, high] = [-1, list.length - 1];
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (list[middle].t <= time + 1e-6) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * The named chord nearest to a time: the one that sounds there, or else the last one before.
 * @param {number} time
 */
function chordAt(time) {
  if (!page) return -1;
  let index = Math.max(0, indexAt(page.chords, time));
  while (index > 0 && page.chords[index].numeral === "") index--;
  while (index < page.chords.length && page.chords[index].numeral === "") index++;
  return index < page.chords.length ? index : -1;
}

/**
 * A chord for ears that do not see the page.
 * @param {PageChord} chord
 */
function spoken(chord) {
  const device = chord.deviceTitle ? `, ${chord.deviceTitle}` : "";
  return `Measure ${chord.measure}, beat ${chord.beat}: ${chord.numeral} in ${chord.key}${device}`;
}

const reduced = matchMedia("(prefers-reduced-motion: reduce)");
/** @returns {ScrollBehavior} */
const motion = () => (reduced.matches ? "auto" : "smooth");

/** Who wants to know when a chord is chosen. @type {((index: number, from: string) => void)[]} */
const onSelect = [];
let selected = -1;

/**
 * Chooses a chord.
 * @param {number} index
 * @param {string} from where it was chosen, so that this view does not scroll away under the pointer
 */
function select(index, from) {
  if (!page || index < 0 || index >= page.chords.length) return;
  selected = index;
  for (const listener of onSelect) listener(index, from);
}

/**
 * The next named chord from an index in a direction, or -1.
 * @param {number} index
 * @param {number} step
 */
function neighbour(index, step) {
  if (!page) return -1;
  let next = index + step;
  while (page.chords[next]?.numeral === "") next += step;
  return page.chords[next] ? next : -1;
}

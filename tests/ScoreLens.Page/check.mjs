// Opens pages from disk with the network off and checks what a reader would see and do. `npm test`, or `node check.mjs [--shots DIR] [--only chorale,song]`.
// Needs the built command line (dotnet build) and Chromium; says so and exits with 77 where one is absent.
import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { chromium } from "playwright-core";
import { nasty, orchestra, PARTS } from "./orchestra.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const root = resolve(here, "../..");
const shots = process.argv.includes("--shots") ? process.argv[process.argv.indexOf("--shots") + 1] : null;
const only = process.argv.includes("--only") ? process.argv[process.argv.indexOf("--only") + 1].split(",") : null;
const browserPath = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"].find((path) => existsSync(path));
const cli = ["Release", "Debug"].map((c) => join(root, "src/ScoreLens.Cli/bin", c, "net10.0/ScoreLens.Cli.dll"))
  .filter((path) => existsSync(path)).sort((a, b) => statSync(b).mtimeMs - statSync(a).mtimeMs)[0];
if (!browserPath) skip("no Chromium at its usual places");
if (!cli) skip("the command line is not built; run dotnet build first");

const work = mkdtempSync(join(tmpdir(), "scorelens-pages-"));
const axe = readFileSync(join(here, "node_modules/axe-core/axe.min.js"), "utf8");
let failures = 0;
let current = "";

function skip(reason) {
  console.log(`skipped: ${reason}`);
  process.exit(77);
}

function expect(condition, what) {
  if (condition) return;
  failures++;
  console.log(`  FAILED ${current}: ${what}`);
}

const scorelens = (...args) => execFileSync("dotnet", [cli, ...args], { cwd: work, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });

/** Corpus scores are read where they lie; what is absent is reported. */
function corpus(folder, pick) {
  const home = join(root, "../shared/corpus", folder);
  if (!existsSync(home)) return null;
  const works = readdirSync(home).filter((name) => existsSync(join(home, name, "score.mxl"))).sort();
  const name = pick(works, home);
  return name ? join(home, name, "score.mxl") : null;
}

const largest = (works, home) => works.reduce((best, name) => (!best || statSync(join(home, name, "score.mxl")).size > statSync(join(home, best, "score.mxl")).size ? name : best), "");

function annotate(name, source) {
  const out = join(work, name);
  scorelens("annotate", source, "--out", out, "--quiet");
  return join(out, readdirSync(out).find((file) => file.endsWith(".page.html")));
}

function written(name, text) {
  const path = join(work, `${name}.musicxml`);
  writeFileSync(path, text);
  return path;
}

const listen = () => {
  const Real = window.AudioContext;
  window.heard = { contexts: [], notes: 0 };
  window.AudioContext = class extends Real {
    constructor(...args) {
      super(...args);
      window.heard.contexts.push(this);
    }
    createOscillator() {
      window.heard.notes++;
      return super.createOscillator();
    }
  };
};

async function open(browser, file, options = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, offline: true, reducedMotion: "reduce", ...options });
  const page = await context.newPage();
  const troubles = [];
  page.on("console", (message) => message.type() === "error" && troubles.push(message.text()));
  page.on("pageerror", (error) => troubles.push(String(error)));
  page.on("request", (request) => !/^(file|data|blob):/.test(request.url()) && troubles.push(`asked for ${request.url()}`));
  await page.addInitScript(listen);
  const start = Date.now();
  await page.goto(pathToFileURL(file).href);
  return { context, page, troubles, start };
}

const engraved = (page) => page.waitForFunction(() => {
  const slices = document.querySelectorAll(".slice");
  return slices.length > 0 && [...slices].every((slice) => slice.querySelector("svg, .left-out"));
}, null, { timeout: 120000, polling: 50 });

async function accessible(page) {
  await page.evaluate(axe);
  const result = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"] }));
  const serious = result.violations.filter((v) => v.impact === "serious" || v.impact === "critical");
  for (const v of serious) console.log(`    ${v.impact} ${v.id}: ${v.help}\n      ${v.nodes.slice(0, 3).map((n) => n.html.slice(0, 160)).join("\n      ")}`);
  const mild = result.violations.length - serious.length;
  return { serious: serious.length, mild, mildNames: result.violations.filter((v) => !serious.includes(v)).map((v) => v.id) };
}

const overflow = (page) => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

async function shot(page, name) {
  if (!shots) return;
  mkdirSync(shots, { recursive: true });
  await page.screenshot({ path: join(shots, `${name}.png`) });
}

async function print(page, name) {
  const words = [];
  for (const format of ["A4", "Letter"]) {
    const path = join(shots ?? work, `${name}-${format}.pdf`);
    writeFileSync(path, await page.pdf({ format }));
    words.push(execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" }));
  }
  return words;
}

/** Before a system stands what the part is called, and where it has no name or no short one, nothing: the engraving library would say «Instr. P1». */
async function noInventedNames(browser, name, file, expected) {
  current = name;
  const { context, page, troubles } = await open(browser, file);
  await engraved(page);
  const slices = await page.evaluate(() => document.querySelectorAll(".slice").length);
  const names = await page.evaluate(() => [...document.querySelectorAll("#score svg text")].map((text) => text.textContent.trim()).filter((text) => /^Instr|^Piano/.test(text)));
  expect(slices > 1, "the score has no second line to look at");
  expect(names.join() === expected.join(), `names before the staves: ${names.join(", ")}`);
  expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
  console.log(`${name}: names ${names.join(", ") || "none"} in ${slices} slices`);
  await context.close();
}

/** Everything that holds for a page of one cue. */
async function cuePage(browser, name, file, alsoSmall) {
  current = name;
  const size = statSync(file).size;
  expect(size < 4_000_000, `${size} bytes are not under 4 MB`);
  const { context, page, troubles, start } = await open(browser, file);
  const first = await page.evaluate(() => new Promise((done) => {
    new PerformanceObserver((list) => done(list.getEntriesByName("first-contentful-paint")[0]?.startTime)).observe({ type: "paint", buffered: true });
    setTimeout(() => done(NaN), 5000);
  }));
  await engraved(page);
  const whole = Date.now() - start;
  const found = await page.evaluate(() => ({
    chords: document.querySelectorAll("#strip [data-chord]").length,
    labels: document.querySelectorAll("#score .label").length,
    failed: document.querySelectorAll(".slice .left-out").length,
    numerals: [...document.querySelectorAll("#score .label .numeral")].filter((n) => /[IViv]|Ger|Fr|It|N|Cad/.test(n.textContent)).length,
    coloured: document.querySelectorAll("#score .label .sign").length,
    devices: document.querySelectorAll("#strip .chord:not(.plain)").length,
  }));
  console.log(`${name}: ${(size / 1e6).toFixed(2)} MB, first content ${Math.round(first)} ms, whole ${whole} ms (load ${loadavg()[0].toFixed(1)}), ${found.chords} chords, ${found.devices} with a device`);
  expect(found.failed === 0, `${found.failed} slices could not be engraved`);
  expect(found.labels === found.chords && found.numerals === found.chords, `${found.labels} labels, ${found.numerals} numerals in the picture for ${found.chords} chords`);
  expect(found.coloured === found.devices, `${found.coloured} device signs in the picture for ${found.devices} devices`);

  // From the strip to the explanation and the score.
  const middle = Math.floor(found.chords / 2);
  const strip = page.locator("#strip [data-chord]").nth(middle);
  const index = await strip.getAttribute("data-chord");
  await strip.click();
  const numeral = (await strip.locator(".numeral").textContent()).trim();
  expect((await page.locator("#detail .reading .numeral").textContent()).trim() === numeral, "the explanation is not of the chord that was pressed");
  expect((await page.locator("#detail .readings li").count()) >= 1, "no readings with probabilities");
  expect((await page.locator("#score .label.chosen").getAttribute("data-chord")) === index, "the score does not show the chosen chord");
  expect((await page.locator("#score .here").count()) >= 1, "the place is not marked in the score");
  const inPane = await page.evaluate(() => {
    const [pane, mark] = ["#score", "#score .here"].map((s) => document.querySelector(s).getBoundingClientRect());
    return mark.bottom > pane.top && mark.top < pane.bottom;
  });
  expect(inPane, "the place in the score was not scrolled to");

  // From the score back: a press on the staves, beside any label.
  const target = await page.evaluate((i) => {
    const wanted = [...document.querySelectorAll("#score .label")].find((label) => Number(label.getAttribute("data-chord")) > i);
    const label = wanted ?? document.querySelector("#score .label");
    label.scrollIntoView({ block: "center" });
    const box = label.getBoundingClientRect();
    return { index: label.getAttribute("data-chord"), x: box.left + 8, y: box.top - 30 };
  }, Number(index));
  await page.mouse.click(target.x, target.y);
  const chosen = await page.locator("#strip [aria-current]").getAttribute("data-chord");
  expect(chosen === target.index, `a press in the score at chord ${target.index} chose chord ${chosen}`);

  // Each of the first chords stands where its own notes are: a press on its marked place chooses no other.
  for (let i = 0; i < Math.min(40, found.chords); i++) {
    const own = page.locator("#strip [data-chord]").nth(i);
    await own.click();
    const place = await page.evaluate(() => {
      const mark = document.querySelector("#score .here").getBoundingClientRect();
      return { x: mark.left + 6, y: mark.top + 18 };
    });
    await page.mouse.click(place.x, place.y);
    const pressed = await page.locator("#strip [aria-current]").getAttribute("data-chord");
    const wanted = await own.getAttribute("data-chord");
    expect(pressed === wanted, `a press where chord ${wanted} is marked chose chord ${pressed}`);
  }

  // Keys alone.
  await page.locator("#strip [aria-current]").focus();
  await page.keyboard.press("Home");
  const home = Number(await page.locator("#strip [aria-current]").getAttribute("data-chord"));
  await page.keyboard.press("ArrowRight");
  expect(Number(await page.evaluate(() => document.activeElement.getAttribute("data-chord"))) > home, "arrow keys do not go along the strip");
  await page.locator("#score .label.chosen").focus();
  await page.keyboard.press("ArrowRight");
  expect(await page.evaluate(() => document.activeElement.closest("#score .label.chosen") !== null), "arrow keys do not go along the score");

  // Listening.
  for (const what of ["score", "reduction"]) {
    await page.selectOption("#play-what", what);
    const before = await page.evaluate(() => window.heard.notes);
    await page.click("#play");
    await page.waitForFunction((n) => window.heard.notes > n && window.heard.contexts[0].state === "running" && window.heard.contexts[0].currentTime > 0, before, { timeout: 10000 })
      .catch(() => expect(false, `no sound of the ${what}`));
    await page.click("#stop");
  }

  // Only what is sure: doubtful devices look like plain chords, in the strip, the score and the timeline alike.
  const sure = page.locator("#sure");
  if (await sure.count()) {
    for (const percent of ["90", "60", await sure.locator("option").first().getAttribute("value")]) {
      await sure.selectOption(percent);
      const shown = await page.evaluate((least) => {
        const { chords } = JSON.parse(document.querySelector("#data").textContent);
        const wanted = chords.filter((chord) => chord.device && chord.confidence < least).length;
        const signs = [...document.querySelectorAll("#strip .tag .sign, #score .label .sign")].filter((sign) => getComputedStyle(sign).visibility === "hidden").length;
        return { wanted, signs, ticks: document.querySelectorAll("#overview .tick.unsure").length };
      }, Number(percent) / 100);
      expect(shown.signs === 2 * shown.wanted && shown.ticks === shown.wanted, `at ${percent} %, ${shown.wanted} devices are doubtful; ${shown.signs} signs and ${shown.ticks} marks of the timeline are hidden`);
    }
  }

  const axeResult = await accessible(page);
  expect(axeResult.serious === 0, `axe-core finds ${axeResult.serious} serious faults`);
  if (axeResult.mild) console.log(`  axe-core, not serious: ${axeResult.mildNames.join(", ")}`);
  await page.evaluate(() => scrollTo(0, 0));
  await shot(page, `${name}-desktop`);
  const [a4, letter] = await print(page, name);
  for (const [format, text] of [["A4", a4], ["Letter", letter]]) {
    expect(/\bV|\bI|\bi/.test(text) && text.includes("Phrase"), `${format} print has no numerals`);
    expect(text.split("\f").length > 1, `${format} print is empty`);
  }
  console.log(`  prints on ${a4.split("\f").length - 1} pages A4, ${letter.split("\f").length - 1} pages Letter`);
  expect(troubles.length === 0, `console: ${troubles.join(" | ").slice(0, 600)}`);
  await context.close();

  if (!alsoSmall) return;

  // Narrow, zoomed to 200 %, dark.
  for (const [label, options] of [
    ["phone", { viewport: { width: 390, height: 844 }, colorScheme: "dark", hasTouch: true }],
    ["zoomed", { viewport: { width: 640, height: 450 }, deviceScaleFactor: 2 }],
  ]) {
    const small = await open(browser, file, options);
    await engraved(small.page);
    expect((await overflow(small.page)) <= 0, `the ${label} page is wider than its window`);
    const faults = await accessible(small.page);
    expect(faults.serious === 0, `axe-core finds ${faults.serious} serious faults on the ${label} page`);
    await small.page.evaluate(() => document.querySelector(".bench").scrollIntoView());
    await shot(small.page, `${name}-${label}`);
    expect(small.troubles.length === 0, `${label} console: ${small.troubles.join(" | ").slice(0, 300)}`);
    await small.context.close();
  }
}

/** Words of the timeline that lie on one another. */
const overprinted = (page) => page.evaluate(() => {
  const boxes = [...document.querySelectorAll("#overview text")].map((text) => ({ text: text.textContent, box: text.getBoundingClientRect() })).filter(({ box }) => box.width > 0);
  return boxes.flatMap(({ text, box: a }, i) => boxes.slice(i + 1).filter(({ box: b }) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4).map((other) => `${text} on ${other.text}`));
});

/** Milliseconds until the words, the timeline and the reasons are there, by the page's own clock. */
const wordsAfter = (page) => page.evaluate(() => Math.round(performance.getEntriesByName("words")[0].startTime));

/** A full score of 25 parts and 600 measures: it opens on its reduction, engraves what is in view, and shows the full score when asked. */
async function largePage(browser, file) {
  current = "large";
  const size = statSync(file).size;
  expect(size < 3_000_000, `${size} bytes are not under 3 MB`);
  const { context, page, troubles, start } = await open(browser, file);
  await page.waitForSelector("#strip [data-chord]");
  const words = await wordsAfter(page);
  expect((await overprinted(page)).length === 0, `words of the timeline lie on one another: ${(await overprinted(page)).slice(0, 3).join(", ")}`);
  await page.waitForSelector(".slice svg", { timeout: 60000 });
  const picture = Date.now() - start;
  expect((await page.locator("#score-views button[aria-pressed='true']").textContent()) === "Harmonic reduction", "the page does not open on the reduction");
  const state = () => page.evaluate(() => {
    const pane = document.querySelector("#score").getBoundingClientRect();
    const slices = [...document.querySelectorAll(".slice")];
    const seen = slices.filter((s) => s.getBoundingClientRect().bottom > pane.top && s.getBoundingClientRect().top < pane.bottom);
    return { all: slices.length, drawn: slices.filter((s) => s.querySelector("svg")).length, empty: seen.filter((s) => !s.querySelector("svg")).length, failed: document.querySelectorAll(".slice .left-out").length };
  });
  const settled = () => page.waitForFunction(() => {
    const pane = document.querySelector("#score").getBoundingClientRect();
    return [...document.querySelectorAll(".slice")].every((s) => s.querySelector("svg, .left-out") || s.getBoundingClientRect().bottom <= pane.top || s.getBoundingClientRect().top >= pane.bottom);
  }, null, { timeout: 60000, polling: 50 });
  await settled();
  const first = await state();
  expect(first.drawn < first.all, `all ${first.all} slices were engraved, not what is in view`);
  const scrolling = async () => {
    const before = Date.now();
    await page.evaluate(() => { const pane = document.querySelector("#score"); pane.scrollTop = pane.scrollHeight / 2; });
    await settled();
    expect((await state()).empty === 0, "a slice in view is not engraved");
    return Date.now() - before;
  };
  const scrolled = await scrolling();
  const heads = () => page.evaluate(() => [...document.querySelector(".slice svg").querySelectorAll("text")].map((t) => t.textContent.trim()).filter((t) => /^[A-Z][a-z]+/.test(t)));
  await page.evaluate(() => { document.querySelector("#score").scrollTop = 0; });
  await page.locator("#score-views button[data-view='highest']").click();
  await page.waitForSelector(".slice svg", { timeout: 60000 });
  await settled();
  const highest = await page.evaluate(() => JSON.parse(document.querySelector("#data").textContent).measures[0].h);
  const beside = await heads();
  const others = PARTS.filter((name, i) => `P${i + 1}` !== highest && beside.includes(name));
  expect(beside.includes(PARTS[Number(highest.slice(1)) - 1]) && others.length === 0, `the highest part is ${highest}, shown are ${beside.join(", ")}`);
  const before = Date.now();
  await page.locator("#score-views button[data-view='full']").click();
  await page.waitForSelector(".slice svg", { timeout: 60000 });
  await settled();
  const opened = Date.now() - before;
  const full = await state();
  expect(full.failed === 0 && full.all > first.all, `the full score has ${full.all} slices, the reduction ${first.all}, ${full.failed} failed`);
  const scrolledFull = await scrolling();
  await page.evaluate(() => { document.querySelector("#score").scrollTop = 0; });
  // Two instruments are picked: their staves and the reduction's are shown, and no others.
  await page.locator("#score-parts summary").click();
  for (const name of ["Harp", "Violins I"]) await page.locator("#score-parts label", { hasText: new RegExp(`^ ${name}$`) }).locator("input").check();
  await settled();
  const names = await heads();
  expect(names.includes("Harp") && names.includes("Violins I") && !names.includes("Flutes"), `picked are Harp and Violins I, shown are ${names.join(", ")}`);
  await shot(page, "large-full");
  expect(troubles.length === 0, `console: ${troubles.join(" | ").slice(0, 600)}`);
  console.log(`large: ${(size / 1e6).toFixed(2)} MB, words ${words} ms, first picture ${picture} ms, a screenful after scrolling ${scrolled} ms, full score ${opened} ms, a screenful of it after scrolling ${scrolledFull} ms (load ${loadavg()[0].toFixed(1)})`);
  await context.close();
  // Where scrolling moves slowly, a chord far away is brought into view too, and stays there while slices around it are engraved.
  const moving = await open(browser, file, { reducedMotion: "no-preference" });
  await moving.page.waitForSelector(".slice svg", { timeout: 60000 });
  await moving.page.evaluate(() => [...document.querySelectorAll("#strip [data-chord]")].at(-20).click());
  await moving.page.waitForTimeout(2000);
  const inPane = await moving.page.evaluate(() => {
    const [pane, mark] = ["#score", "#score .here"].map((s) => document.querySelector(s)?.getBoundingClientRect());
    return mark !== undefined && mark.bottom > pane.top && mark.top < pane.bottom;
  });
  expect(inPane, "a chord near the end was not scrolled to");
  await moving.context.close();
  const small = await open(browser, file, { viewport: { width: 390, height: 844 }, hasTouch: true });
  await small.page.waitForSelector(".slice svg", { timeout: 60000 });
  expect((await overflow(small.page)) <= 0, "the phone page is wider than its window");
  expect((await overprinted(small.page)).length === 0, `on a phone words of the timeline lie on one another: ${(await overprinted(small.page)).slice(0, 3).join(", ")}`);
  await shot(small.page, "large-phone");
  await small.page.evaluate(() => document.querySelector(".bench").scrollIntoView());
  await shot(small.page, "large-phone-score");
  await small.context.close();
}

/** A page that is watched shows itself anew when its score is saved, at the chord that was chosen. */
async function watchedPage(browser, text) {
  current = "watched";
  const score = written("watched", text);
  const out = join(work, "watched-out");
  const watching = spawn("dotnet", [cli, "watch", score, "--out", out], { cwd: work, stdio: ["ignore", "pipe", "pipe"] });
  try {
    await new Promise((ready, fail) => {
      let said = "";
      watching.stdout.on("data", (data) => (said += data).includes("Watching") && ready());
      watching.on("exit", () => fail(new Error("watch ended by itself")));
    });
    const { context, page, troubles } = await open(browser, join(out, "watched.page.html"));
    await engraved(page);
    await page.locator("#strip [data-chord='15']").click();
    const before = await page.locator(".detail .where").textContent();
    const saved = Date.now();
    writeFileSync(score, text.replace(/<work-title>[^<]*/, "<work-title>Second draft"));
    await page.waitForFunction(() => document.title.startsWith("Second draft"), null, { timeout: 60000 });
    const shown = Date.now() - saved;
    await page.waitForSelector(".detail .where");
    expect((await page.locator(".detail .where").textContent()) === before, `the page was at ${before} and is not any more`);
    expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
    console.log(`watched: shown anew ${shown} ms after the score was saved (load ${loadavg()[0].toFixed(1)})`);
    await context.close();
  } finally {
    watching.removeAllListeners("exit");
    watching.kill("SIGINT");
  }
}

/** The page of other chords: each that can be written is played in its place, and its notes stand beside the old ones. */
async function offersPage(browser, file) {
  current = "offers";
  const { context, page, troubles } = await open(browser, file);
  const buttons = page.locator("td button[data-notes]");
  const count = await buttons.count();
  expect(count >= 3, `${count} offers can be heard`);
  expect((await page.locator(".changes li").first().textContent()).includes("→"), "the notes do not stand beside the old ones");
  const sounds = async (button) => {
    const before = await page.evaluate(() => window.heard.notes);
    await button.click();
    await page.waitForFunction((n) => window.heard.notes > n && window.heard.contexts[0].state === "running", before, { timeout: 10000 })
      .catch(() => expect(false, "an offer makes no sound"));
    await page.click("#offers-stop");
  };
  await sounds(page.locator("p button[data-notes]").first());
  await sounds(buttons.first());
  const carried = await page.$$eval("section:first-of-type button[data-notes]", (all) => all.map((b) => b.dataset.notes));
  expect(new Set(carried).size === carried.length, "two offers of a place sound the same");
  const faults = await accessible(page);
  expect(faults.serious === 0, `axe-core finds ${faults.serious} serious faults`);
  expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
  await shot(page, "offers-desktop");
  await page.setViewportSize({ width: 390, height: 844 });
  expect((await overflow(page)) <= 0, "the phone page is wider than its window");
  await shot(page, "offers-phone");
  console.log(`offers: ${(statSync(file).size / 1e6).toFixed(2)} MB, ${count} chords to be heard`);
  await context.close();
}

/** A production of thirty cues: our own, six times, under names as long as productions give them. */
function thirtyCues() {
  const home = join(work, "thirty-cues");
  mkdirSync(home, { recursive: true });
  const cues = readdirSync(join(root, "testdata/cues")).filter((file) => file.endsWith(".musicxml"));
  for (let reel = 1; reel <= 6; reel++) for (const cue of cues) copyFileSync(join(root, "testdata/cues", cue), join(home, `reel-${reel}-${cue.replace(".musicxml", "-second-version-for-the-large-orchestra.musicxml")}`));
  return home;
}

async function comparison(browser, file, name = "comparison") {
  current = name;
  const { context, page, troubles } = await open(browser, file);
  const rows = await page.locator("tbody tr").count();
  expect(rows >= 2, "no cues to compare");
  expect((await page.locator("#bars li").count()) === rows, "not every cue has a bar");
  const outside = () => page.$$eval("tbody tr td:nth-child(4)", (cells) => cells.map((cell) => Number(cell.dataset.value)));
  await page.locator("thead th:nth-child(4) button").click();
  const down = await outside();
  expect(down.every((v, i) => i === 0 || v <= down[i - 1]), "sorting down does not sort");
  await page.locator("thead th:nth-child(4) button").press("Enter");
  const up = await outside();
  expect(up.every((v, i) => i === 0 || v >= up[i - 1]), "sorting up by key does not sort");
  const [bars, names] = [await page.$$eval("#bars li", (l) => l.map((x) => x.dataset.row)), await page.$$eval("tbody tr", (l) => l.map((x) => x.dataset.row))];
  expect(bars.join() === names.join(), "bars are not sorted along");
  const faults = await accessible(page);
  expect(faults.serious === 0, `axe-core finds ${faults.serious} serious faults`);
  await shot(page, `${name}-desktop`);
  await page.evaluate(() => document.querySelector("table").scrollIntoView());
  await shot(page, `${name}-desktop-table`);
  const [a4] = await print(page, name);
  expect(/%/.test(a4), "print is empty");
  expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
  console.log(`${name}: ${(statSync(file).size / 1e6).toFixed(2)} MB, ${rows} cues`);
  await page.setViewportSize({ width: 390, height: 844 });
  expect((await overflow(page)) <= 0, "the phone page is wider than its window");
  const cut = () => page.$$eval(".table-frame", (frames) => frames.filter((f) => f.scrollWidth > f.clientWidth).length);
  expect((await cut()) === 0, "a column of the table is cut on a phone");
  await shot(page, `${name}-phone`);
  await page.evaluate(() => document.querySelector("#bars").scrollIntoView());
  await shot(page, `${name}-phone-bars`);
  await page.setViewportSize({ width: 1280, height: 900 });
  expect((await cut()) === 0, "a column of the table is cut at 1280 pixels");
  const lines = await page.$$eval(".cue-name, .cards tbody th", (all) => all.filter((e) => e.getClientRects()[0].height > 2.2 * parseFloat(getComputedStyle(e).fontSize) + 16).length);
  expect(lines === 0, `${lines} names of cues take more than one line`);
  await context.close();
}

async function markupStaysText(browser, file) {
  current = "markup";
  const { context, page, troubles } = await open(browser, file);
  await engraved(page);
  await page.waitForTimeout(200);
  const seen = await page.evaluate(() => ({
    hacked: window.hacked ?? 0,
    title: document.querySelector("h1").textContent,
    foreign: [...document.querySelectorAll("img, b:not(.phrase-head b), i")].map((e) => e.outerHTML.slice(0, 120)),
    lyrics: document.querySelector("#score").textContent.includes("<b>bold</b>"),
  }));
  expect(seen.hacked === 0 && seen.foreign.length === 0, `markup in a score became markup of the page: ${seen.hacked} ${seen.foreign.join(" ")}`);
  expect(seen.title.includes("</script><img src=x") && seen.title.includes("<b>bold</b> <!--"), `the title is not shown as text: ${seen.title}`);
  expect(seen.lyrics, "a lyric with markup is not shown as text");
  expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
  console.log("markup in title, words, lyrics and measure numbers stays text");
  await context.close();
}

const evil = '</script><img src=x onerror="window.hacked=1"><b>bold</b>';

/** Marks three of the invented class, and one whose labels, words, file name and task try to be markup. */
function markedClass() {
  const home = join(work, "homework");
  mkdirSync(join(home, "class"), { recursive: true });
  for (const file of ["given.musicxml", "model.musicxml"]) copyFileSync(join(root, "testdata/homework", file), join(home, file));
  const assignment = readFileSync(join(root, "testdata/homework/assignment.yaml"), "utf8");
  writeFileSync(join(home, "assignment.yaml"), assignment.replace(/^title: .*$/m, `title: '${evil}'`));
  for (const name of ["ada", "anton", "ben"]) copyFileSync(join(root, "testdata/homework/class", `${name}.musicxml`), join(home, "class", `${name}.musicxml`));
  const text = evil.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
  let lyrics = 0;
  const nastyXml = readFileSync(join(home, "class/anton.musicxml"), "utf8")
    .replace(/<text>[^<]*<\/text>/g, (all) => (lyrics++ % 6 === 2 ? `<text>${text}</text>` : all))
    .replace(/<part-name>[^<]*/, `<part-name>${text}`);
  writeFileSync(join(home, "class", "<i>eve<i> & co.musicxml"), nastyXml);
  try {
    scorelens("mark", join(home, "class"), "--assignment", join(home, "assignment.yaml"), "--out", join(home, "out"), "--quiet");
  } catch (error) {
    if (error.status !== 1) throw error;
  }
  return join(home, "out");
}

/** Everything that holds for the page that goes back to a student. */
async function feedbackPage(browser, name, file, least) {
  current = `feedback ${name}`;
  const { context, page, troubles } = await open(browser, file);
  await engraved(page);
  const found = await page.evaluate(() => ({
    listed: [...document.querySelectorAll("#remarks li .remark-number")].map((n) => n.textContent.trim()),
    placed: [...document.querySelectorAll("#remarks .go")].map((b) => b.getAttribute("data-remark")),
    marks: [...document.querySelectorAll("#score .mark")].map((m) => m.getAttribute("data-remark")),
    failed: document.querySelectorAll(".slice .left-out").length,
    points: document.querySelectorAll("main table tbody tr").length,
    hacked: window.hacked ?? 0,
    foreign: [...document.querySelectorAll("img, b, i")].map((e) => e.outerHTML.slice(0, 120)),
    title: document.querySelector("h1").textContent,
  }));
  expect(found.failed === 0, `${found.failed} slices could not be engraved`);
  expect(found.listed.length >= least, `${found.listed.length} remarks are listed, not ${least}`);
  expect(found.listed.every((n, i) => n === String(i + 1)), `remarks are numbered ${found.listed.join(" ")}`);
  expect([...found.marks].sort().join() === [...found.placed].sort().join(), `the score has the marks ${found.marks.join(" ")}, the list the places ${found.placed.join(" ")}`);
  expect(found.points > 0, "no table of points");
  expect(found.hacked === 0 && found.foreign.length === 0, `markup of a student became markup of the page: ${found.hacked} ${found.foreign.join(" ")}`);
  expect(found.title === evil, `the title is not shown as text: ${found.title}`);
  if (found.placed.length > 0) {
    // From the list to the score, and from the score to the list, by pointer and by key.
    const last = found.placed.at(-1);
    await page.locator(`#remarks .go[data-remark="${last}"]`).click();
    expect((await page.locator("#score .mark.chosen").getAttribute("data-remark")) === last, `a press on remark ${last} does not show its mark`);
    const inPane = await page.evaluate(() => {
      const [pane, mark] = ["#score", "#score .mark.chosen"].map((s) => document.querySelector(s).getBoundingClientRect());
      return mark.bottom > pane.top && mark.top < pane.bottom;
    });
    expect(inPane, "the mark in the score was not scrolled to");
    const first = found.placed[0];
    await page.locator(`#score .mark[data-remark="${first}"]`).click();
    expect(await page.evaluate((n) => document.getElementById(`remark-${n}`).classList.contains("chosen"), first), `a press on mark ${first} does not choose its remark`);
    await page.locator(`#score .mark[data-remark="${last}"]`).focus();
    await page.keyboard.press("Enter");
    expect(await page.evaluate((n) => document.getElementById(`remark-${n}`).classList.contains("chosen"), last), `Enter on mark ${last} does not choose its remark`);
  }

  const axeResult = await accessible(page);
  expect(axeResult.serious === 0, `axe-core finds ${axeResult.serious} serious faults`);
  await page.evaluate(() => scrollTo(0, 0));
  await shot(page, `feedback-${name}-desktop`);
  for (const text of await print(page, `feedback-${name}`)) {
    expect(text.includes("Points") && text.includes("Remarks"), "print lacks the points or the remarks");
    expect(found.listed.every((n) => new RegExp(`\\b${n}\\b`).test(text)), "print lacks a remark's number");
  }
  expect(troubles.length === 0, `console: ${troubles.join(" | ").slice(0, 600)}`);
  await context.close();

  const small = await open(browser, file, { viewport: { width: 390, height: 844 }, colorScheme: "dark", hasTouch: true });
  await engraved(small.page);
  expect((await overflow(small.page)) <= 0, "the phone page is wider than its window");
  const faults = await accessible(small.page);
  expect(faults.serious === 0, `axe-core finds ${faults.serious} serious faults on the phone page`);
  await shot(small.page, `feedback-${name}-phone`);
  await small.page.evaluate(() => document.querySelector("#remarks").scrollIntoView());
  await shot(small.page, `feedback-${name}-phone-remarks`);
  expect(small.troubles.length === 0, `phone console: ${small.troubles.join(" | ").slice(0, 300)}`);
  await small.context.close();
  console.log(`feedback ${name}: ${found.listed.length} remarks, ${found.marks.length} marks in the score`);
}

/** Six remarks on one beat, in the first measure and in the last: every mark is inside the picture, and none lies on another. */
async function crowdedMarks(browser, file) {
  current = "crowded";
  const html = readFileSync(file, "utf8");
  const remarks = [0, 19].flatMap((t) => Array.from({ length: 6 }, () => t)).map((t, i) => ({ n: i + 1, t, m: t === 0 ? 0 : 4, fault: i % 2 === 0, text: "x" }));
  const crowded = join(work, "crowded.html");
  const changed = html.replace(/"remarks":\[.*?\](?=,"notes")/, () => `"remarks":${JSON.stringify(remarks)}`);
  expect(changed !== html, "the page holds no list of remarks");
  writeFileSync(crowded, changed);
  const { context, page } = await open(browser, crowded);
  await engraved(page);
  const hidden = await page.evaluate(() => {
    const marks = [...document.querySelectorAll("#score .mark")];
    const boxes = marks.map((mark) => ({ mark: mark.querySelector("circle, rect").getBoundingClientRect(), svg: mark.ownerSVGElement.getBoundingClientRect() }));
    const outside = boxes.filter(({ mark, svg }) => mark.top < svg.top - 1 || mark.left < svg.left - 1 || mark.right > svg.right + 1 || mark.bottom > svg.bottom + 1);
    const covered = boxes.flatMap(({ mark: a }, i) => boxes.slice(i + 1).filter(({ mark: b }) =>
      Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1));
    return { marks: marks.length, outside: outside.length, covered: covered.length };
  });
  expect(hidden.marks === 12, `${hidden.marks} of 12 marks are drawn`);
  expect(hidden.outside === 0, `${hidden.outside} marks lie outside the picture`);
  expect(hidden.covered === 0, `${hidden.covered} pairs of marks lie on each other`);
  await shot(page, "crowded");
  await context.close();
  console.log(`crowded: ${hidden.marks} marks, all of them visible`);
}

async function classPage(browser, file) {
  current = "class";
  const { context, page, troubles } = await open(browser, file);
  const links = await page.$$eval("a[href$='.feedback.html']", (all) => all.map((a) => a.href));
  expect(links.length === 4, `${links.length} links to pages of feedback, not 4`);
  for (const link of links) expect(existsSync(fileURLToPath(link)), `${link} leads nowhere`);
  expect((await page.evaluate(() => (window.hacked ?? 0) + document.querySelectorAll("img, i, b:not(td > b)").length)) === 0, "markup of a student became markup of the class's page");
  const faults = await accessible(page);
  expect(faults.serious === 0, `axe-core finds ${faults.serious} serious faults`);
  await shot(page, "class-desktop");
  await page.setViewportSize({ width: 390, height: 844 });
  expect((await overflow(page)) <= 0, "the phone page is wider than its window");
  await shot(page, "class-phone");
  expect(troubles.length === 0, `console: ${troubles.join(" | ")}`);
  console.log(`class: ${links.length} submissions`);
  await context.close();
}

const flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update",
  "--disable-sync", "--autoplay-policy=no-user-gesture-required"];
const browser = await chromium.launch({ executablePath: browserPath, args: flags });
try {
  const cues = [
    ["chorale", corpus("open/chorales", (works) => works[10])],
    ["song", corpus("open/songs", (works) => works.find((w) => /^Wolf/.test(w)) ?? works[0])],
    ["sonata", corpus("noncommercial/sonatas", largest)],
    ["haydn", corpus("open/orchestral", (works) => works[0])],
    ["orchestra", written("orchestra", orchestra())],
  ];
  for (const [name, source] of cues.filter(([name]) => !only || only.includes(name))) {
    if (!source) console.log(`${name}: skipped, the corpus is not at ../shared`);
    else await cuePage(browser, name, annotate(name, source), name === "chorale" || name === "song" || name === "orchestra");
  }
  if (!only || only.includes("large")) await largePage(browser, annotate("large", written("large", orchestra(38, 25))));
  const demo = readFileSync(join(root, "testdata/lamplight.musicxml"), "utf8");
  await watchedPage(browser, demo);
  await noInventedNames(browser, "named", annotate("named", written("named", demo)), ["Piano"]);
  await noInventedNames(browser, "nameless", annotate("nameless", written("nameless", demo.replace(/<part-name>.*?<\/part-name>/, "<part-name/>"))), []);
  await markupStaysText(browser, annotate("nasty", written("nasty", nasty())));
  if (!only || only.includes("offers")) {
    scorelens("reharmonise", join(root, "testdata/lamplight.musicxml"), "--phrase", "1", "--page", "--out", join(work, "offers"), "--quiet");
    await offersPage(browser, join(work, "offers", "lamplight.offers.html"));
  }
  if (!only || only.includes("feedback")) {
    const out = markedClass();
    for (const [name, file, least] of [["ada", "ada", 0], ["ben", "ben", 3], ["nasty", "<i>eve<i> & co", 2]]) await feedbackPage(browser, name, join(out, `${file}.feedback.html`), least);
    await crowdedMarks(browser, join(out, "ben.feedback.html"));
    await classPage(browser, join(out, "class.html"));
  }
  scorelens("compare", join(root, "testdata/cues"), "--out", join(work, "comparison"), "--quiet");
  await comparison(browser, join(work, "comparison", "comparison.page.html"));
  scorelens("compare", thirtyCues(), "--out", join(work, "thirty"), "--quiet");
  await comparison(browser, join(work, "thirty", "comparison.page.html"), "thirty");
} finally {
  await browser.close();
  rmSync(work, { recursive: true, force: true });
}
console.log(failures === 0 ? "All pages hold." : `${failures} checks failed.`);
process.exit(failures === 0 ? 0 : 1);

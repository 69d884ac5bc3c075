// The explanation of the chosen chord.

const RESOLUTIONS = { resolved: "resolves as expected", delayed: "resolves as expected, later", unresolved: "does not resolve as expected" };

/** @param {number} index */
function explain(index) {
  const panel = byId("detail");
  const chord = page?.chords[index];
  if (!panel || !chord || !page) return;
  const next = page.chords[neighbour(index, 1)];
  panel.replaceChildren(
    make("p", { class: "where" }, `Measure ${chord.measure}, beat ${chord.beat} · phrase ${chord.phrase}${chord.place ? ` · ${chord.place}` : ""}`),
    make("p", { class: `reading ${chord.device ?? "plain"}` }, numeralNode(chord.numeral), make("span", { class: "in-key" }, ` in ${chord.key}`)),
    chord.deviceTitle
      ? make("p", { class: `device-line ${chord.device}` }, make("span", { class: "sign", "aria-hidden": "true" }, chord.sign ?? ""), ` ${chord.deviceTitle}`, chord.target ? ` of ${chord.target}` : "")
      : make("p", { class: "device-line plain" }, "belongs to its key"),
    make("p", { class: "reason" }, chord.reason || (chord.deviceTitle ? "" : `Every tone belongs to ${chord.key}.`)),
    list([
      ["Chord", chord.symbol],
      ["Tones", chord.tones.map((tone) => (tone === chord.bass ? `${tone} (bass)` : tone)).join("  ")],
      ["Also sounding", chord.others.join("  ")],
      ["Colour in", chord.colour],
      ["Function", chord.function],
      ["Goes on to", next ? make("span", {}, numeralNode(next.numeral), next.key === chord.key ? "" : ` in ${next.key}`) : "the end"],
      ["Resolution", RESOLUTIONS[/** @type {keyof typeof RESOLUTIONS} */ (chord.resolution)] ?? ""],
      ["May also be", chord.also.join(", ")],
      ["Home key", chord.outsideHome ? "outside the home key too" : "has a place in the home key"],
    ]),
    readings(chord),
    make("p", { class: "steps" },
      button("‹ Before", neighbour(index, -1), "Chord before"),
      button("After ›", neighbour(index, 1), "Chord after"),
      listenButton("Hear it go on", () => hear(index)),
    ),
  );
}

/** @param {[string, string | Node][]} facts */
function list(facts) {
  const dl = make("dl", {});
  for (const [name, value] of facts) if (value) dl.append(make("div", {}, make("dt", {}, name), make("dd", {}, value)));
  return dl;
}

/** The reading and its rivals, with their probabilities. @param {PageChord} chord */
function readings(chord) {
  const rows = [{ key: chord.key, numeral: chord.numeral, p: chord.confidence }, ...chord.runnersUp];
  return make("div", { class: "readings" },
    make("h3", {}, "How sure"),
    make("ul", {}, ...rows.map(({ key, numeral, p }, i) => {
      const bar = makeSvg("svg", { width: "100%", height: 6, "aria-hidden": "true" },
        makeSvg("rect", { class: "ground", width: "100%", height: 6, rx: 3 }),
        makeSvg("rect", { class: i === 0 ? "sure" : "rival", width: `${Math.max(1, 100 * p)}%`, height: 6, rx: 3 }));
      return make("li", {}, make("span", { class: "reading-name" }, numeralNode(numeral), ` in ${key}`), make("span", { class: "n" }, percent(p)), bar);
    })),
    chord.runnersUp.length === 0 ? make("p", { class: "hint" }, "No other reading comes near.") : null);
}

/** @param {string} text @param {number} index @param {string} label */
function button(text, index, label) {
  const element = /** @type {HTMLButtonElement} */ (make("button", { type: "button", "aria-label": label }, text));
  element.disabled = index < 0;
  element.addEventListener("click", () => {
    select(index, "detail");
    // The panel was written anew: the button of the same direction keeps the focus.
    const again = document.querySelector(`#detail button[aria-label="${label}"]:not([disabled])`) ?? byId("detail");
    if (again instanceof HTMLElement) again.focus();
  });
  return element;
}

/** @param {string} text @param {() => void} action */
function listenButton(text, action) {
  const element = make("button", { type: "button", class: "listen" }, make("span", { "aria-hidden": "true" }, "▶ "), text);
  element.addEventListener("click", action);
  return element;
}

/** Plays a chord and the one after it. @param {number} index */
function hear(index) {
  const chord = page?.chords[index];
  const next = page?.chords[neighbour(index, 1)];
  if (chord) listening.play(chord.t, next ? next.t + next.d : chord.t + chord.d, what());
}

const what = () => /** @type {HTMLSelectElement | null} */ (byId("play-what"))?.value ?? "score";

// Puts the parts of a page together.

function startPlayer() {
  const [play, stop, tempo, value, place] = ["play", "stop", "tempo", "tempo-value", "play-place"].map(byId);
  if (!play || !stop || !(tempo instanceof HTMLInputElement) || !page) return;
  play.addEventListener("click", () => listening.play(page.chords[selected]?.t ?? 0, endOf(), what()));
  stop.addEventListener("click", () => listening.stop());
  tempo.addEventListener("input", () => {
    listening.tempo = Number(tempo.value);
    if (value) value.textContent = tempo.value;
  });
  let sounding = -1;
  listening.onPlace = (time) => {
    document.body.classList.toggle("playing", time !== null);
    if (time === null) {
      sounding = -1;
      for (const old of document.querySelectorAll(".chord.sounding")) old.classList.remove("sounding");
      if (place) place.textContent = "";
      return;
    }
    placeLine(time);
    const now = chordAt(time);
    if (now === sounding) return;
    sounding = now;
    const chord = page.chords[now];
    if (!chord) return;
    if (place) place.textContent = `m. ${chord.measure}  ${chord.numeral}`;
    for (const old of document.querySelectorAll(".chord.sounding")) old.classList.remove("sounding");
    const strip = byId("strip");
    const button = stripButton(now);
    button?.classList.add("sounding");
    if (strip && button) reveal(strip, button, true);
    engraving?.show(chord.t, chord.t + chord.d, true);
  };
}

function startEngraving() {
  if (!engraving) return;
  onSelect.push((index, from) => {
    const chord = page?.chords[index];
    if (chord) engraving.show(chord.t, chord.t + chord.d, from !== "score");
  });
  startScoreKeys();
  engraving.start().then(() => {
    const chord = page?.chords[selected];
    if (chord) engraving.show(chord.t, chord.t + chord.d, true);
  }).catch((error) => {
    const state = byId("score-state");
    if (state) state.textContent = `The score could not be engraved: ${error.message}`;
    console.warn(error);
  });
}

startTables();
startOffers();
if (page) {
  startStrip();
  startOverview();
  startSure();
  onSelect.push(explain);
  startPlayer();
  // The first chord with colour stands chosen, so that the page explains itself.
  const first = page.chords.findIndex((chord) => chord.device);
  select(page.labels ? chordAt(first < 0 ? 0 : page.chords[first].t) : -1, "start");
  // For measuring: from here on the words, the timeline and the reasons are there.
  performance.mark("words");
  // First the page itself, then the picture: two frames later what is above has been painted.
  requestAnimationFrame(() => requestAnimationFrame(startEngraving));
}

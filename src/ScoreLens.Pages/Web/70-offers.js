// Other chords, heard in their place: each button carries the notes of its passage.

function startOffers() {
  const stop = byId("offers-stop");
  const state = byId("offers-state");
  if (!stop) return;
  stop.addEventListener("click", () => listening.stop());
  listening.onPlace = (time) => {
    if (time === null && state) state.textContent = "";
  };
  for (const button of document.querySelectorAll("button[data-notes]")) {
    if (!(button instanceof HTMLButtonElement)) continue;
    const { from, to, tempo, notes } = button.dataset;
    button.addEventListener("click", async () => {
      listening.tempo = Number(tempo);
      const own = (await unpack(notes ?? "")).split(",").map(Number);
      await listening.play(Number(from), Number(to), "score", own);
      if (state) state.textContent = button.getAttribute("aria-label") ?? "";
    });
  }
}

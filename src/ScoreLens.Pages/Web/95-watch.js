// A page of a score that is being worked on: asks beside it whether the score was saved again, and then shows itself anew where it was.

const WATCH_EVERY = 700;
const PLACE_KEY = "scorelens-place";

function startWatching() {
  const { watch, stamp } = document.documentElement.dataset;
  if (!watch || !page) return;
  restorePlace();
  /** @type {any} */ (globalThis).scoreLensSaved = (/** @type {string} */ saved) => {
    if (saved === stamp) return;
    try {
      sessionStorage.setItem(PLACE_KEY, JSON.stringify({ t: page.chords[selected]?.t ?? 0, y: scrollY }));
    } catch {
      // A browser that keeps nothing for files shows the page from its start.
    }
    location.reload();
  };
  setInterval(() => {
    const script = document.createElement("script");
    script.src = `${encodeURIComponent(watch)}?${Date.now()}`;
    script.onload = script.onerror = () => script.remove();
    document.head.append(script);
  }, WATCH_EVERY);
}

function restorePlace() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(PLACE_KEY) ?? "null");
    if (!kept) return;
    sessionStorage.removeItem(PLACE_KEY);
    select(chordAt(kept.t), "start");
    scrollTo({ top: kept.y });
  } catch {
    // The same: from the start.
  }
}

startWatching();

// An invented score for twenty parts or more: a chord progression with its keys, spread over an orchestra. Enough bars and staves to be
// what an arranger opens, and nothing of anybody's music.

export const PARTS = ["Piccolo", "Flutes", "Oboes", "English Horn", "Clarinets", "Bass Clarinet", "Bassoons", "Horns 1 2", "Horns 3 4", "Trumpets",
  "Trombones", "Bass Trombone", "Tuba", "Harp", "Celesta", "Violins I", "Violins II", "Violas", "Cellos", "Basses",
  "Organ", "Piano", "Solo Violin", "Solo Cello", "Second Basses"];

/** Progressions in C major; the last chord of each is held. Pitches from the bass up. */
const BARS = [
  ["C3", "E4", "G4", "C5"], ["A2", "E4", "A4", "C5"], ["D3", "F4", "A4", "D5"], ["G2", "F4", "B4", "D5"],
  ["C3", "E4", "G4", "C5"], ["E3", "D4", "G#4", "B4"], ["A2", "E4", "A4", "C5"], ["F#2", "D4", "A4", "C5"],
  ["G2", "D4", "G4", "B4"], ["Ab2", "C4", "F#4", "C5"], ["G2", "E4", "G4", "C5"], ["G2", "D4", "F4", "B4"],
  ["C3", "E4", "G4", "C5"], ["F2", "C4", "Ab4", "C5"], ["C3", "E4", "G4", "C5"], ["C3", "C4", "E4", "G4"],
];

/**
 * @param {number} times how often the sixteen bars are played
 * @param {number} count number of parts, 20 to 25
 */
export function orchestra(times = 6, count = 20) {
  const names = PARTS.slice(0, count);
  const bars = Array.from({ length: times }, () => BARS).flat();
  const list = names.map((name, i) => `<score-part id="P${i + 1}"><part-name>${name}</part-name><part-abbreviation>${abbreviation(name)}</part-abbreviation></score-part>`);
  const parts = names.map((_, i) => {
    const low = [5, 6, 11, 12, 18, 19, 23, 24].includes(i);
    const measures = bars.map((bar, m) => {
      const attributes = m > 0 ? "" : `<attributes><divisions>2</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time>${low ? "<clef><sign>F</sign><line>4</line></clef>" : "<clef><sign>G</sign><line>2</line></clef>"}</attributes>`;
      return `<measure number="${m + 1}">${attributes}${voice(i, m, bar, low)}</measure>`;
    });
    return `<part id="P${i + 1}">${measures.join("")}</part>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><work><work-title>Harbour at First Light</work-title></work><part-list>${list.join("")}</part-list>${parts.join("")}</score-partwise>`;
}

/** What one part plays of a bar: long notes, quarters or eighths, by its place in the score. */
function voice(part, measure, bar, low) {
  const tone = part === 19 || part === 12 || part === 11 || part === 24 ? bar[0] : low ? bar[part % 2] : bar[1 + (part % 3)];
  if (part < 3 && measure % 8 < 4) return note(null, 8, "whole");
  if (part % 4 === 3) return note(tone, 4, "half") + note(tone, 4, "half");
  if (part === 13 || part === 16) return [0, 1, 2, 3, 2, 1, 2, 3].map((k) => note(bar[1 + (k % 3)], 1, "eighth")).join("");
  if (part === 15) return [3, 2, 3, 1].map((k) => note(bar[k], 2, "quarter")).join("");
  return note(tone, 8, "whole");
}

function note(pitch, duration, type) {
  if (!pitch) return `<note><rest measure="yes"/><duration>${duration}</duration></note>`;
  const [, step, sign, octave] = /^([A-G])([#b]?)(\d)$/.exec(pitch);
  const alter = sign === "#" ? "<alter>1</alter>" : sign === "b" ? "<alter>-1</alter>" : "";
  return `<note><pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch><duration>${duration}</duration><voice>1</voice><type>${type}</type></note>`;
}

const abbreviation = (name) => name.split(" ").map((word) => word.slice(0, word.length > 3 ? 3 : undefined)).join(" ");

/** A short song whose title, words and part names try to be markup. */
export function nasty() {
  const evil = "&lt;/script&gt;&lt;img src=x onerror=&quot;window.hacked=1&quot;&gt;&lt;b&gt;bold&lt;/b&gt;";
  const chords = ["C4", "F4", "G4", "C4"];
  const measures = chords.map((pitch, m) => `<measure number="${m === 2 ? "&lt;i&gt;3" : m + 1}">${m ? "" : "<attributes><divisions>1</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes>"}<direction><direction-type><words>${evil}</words></direction-type></direction><note><pitch><step>${pitch[0]}</step><octave>4</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type><lyric><text>${evil}</text></lyric></note></measure>`);
  return `<?xml version="1.0" encoding="UTF-8"?><score-partwise version="4.0"><work><work-title>${evil} &lt;!--</work-title></work><part-list><score-part id="P1"><part-name>${evil}</part-name></score-part></part-list><part id="P1">${measures.join("")}</part></score-partwise>`;
}

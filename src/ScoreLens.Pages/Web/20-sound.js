// Listening: a small synthesiser of our own. Two detuned voices a note through a soft filter; no samples.

class Listening {
  /** @type {AudioContext | null} */ #audio = null;
  /** @type {GainNode | null} */ #out = null;
  /** @type {number[] | null} */ #notes = null;
  #timer = 0;
  #frame = 0;
  #session = 0;

  /** Quarter notes a minute. */ tempo = 84;
  /** @type {(time: number | null) => void} */ onPlace = () => {};

  get isPlaying() {
    return this.#timer !== 0;
  }

  /** State of the audio output, for checks: "running" while it sounds. */
  get state() {
    return this.#audio?.state ?? "none";
  }

  /**
   * Plays from one time to another.
   * @param {number} from
   * @param {number} to
   * @param {string} what "score" or "reduction"
   * @param {number[] | null} own onset, duration and MIDI number of every note, where it is not the page's own score
   */
  async play(from, to, what, own = null) {
    this.stop();
    const session = ++this.#session;
    const audio = (this.#audio ??= new AudioContext());
    await audio.resume();
    const events = what === "score" ? await this.#scoreEvents(from, to, own) : this.#reductionEvents(from, to);
    if (session !== this.#session || events.length === 0) return;
    const out = (this.#out = audio.createGain());
    out.gain.value = 0.7;
    const limiter = audio.createDynamicsCompressor();
    out.connect(limiter).connect(audio.destination);

    // The tempo can change while it plays: `base` is the music's time at `start` of the clock.
    let [base, start, tempo, next] = [from, audio.currentTime + 0.08, this.tempo, 0];
    const clock = () => base + ((audio.currentTime - start) * tempo) / 60;
    const schedule = () => {
      if (tempo !== this.tempo) [base, start, tempo] = [clock(), audio.currentTime, this.tempo];
      const until = clock() + (0.3 * tempo) / 60;
      for (; next < events.length && events[next].t < until; next++) {
        const { t, d, midi, level } = events[next];
        this.#sound(midi, start + ((t - base) * 60) / tempo, (d * 60) / tempo, level);
      }
      if (clock() > to + 0.2) this.stop();
    };
    const show = () => {
      this.onPlace(Math.max(from, clock()));
      this.#frame = requestAnimationFrame(show);
    };
    schedule();
    this.#timer = window.setInterval(schedule, 60);
    this.#frame = requestAnimationFrame(show);
  }

  stop() {
    this.#session++;
    if (this.#timer) clearInterval(this.#timer);
    cancelAnimationFrame(this.#frame);
    this.#timer = 0;
    if (this.#out && this.#audio) {
      const out = this.#out;
      out.gain.setTargetAtTime(0, this.#audio.currentTime, 0.03);
      setTimeout(() => out.disconnect(), 300);
      this.#out = null;
    }
    this.onPlace(null);
  }

  /**
   * @param {number} midi
   * @param {number} at
   * @param {number} length in seconds
   * @param {number} level
   */
  #sound(midi, at, length, level) {
    const [audio, out] = [this.#audio, this.#out];
    if (!audio || !out) return;
    const begin = Math.max(at, audio.currentTime);
    const end = begin + Math.max(0.09, length * 0.96);
    const frequency = 440 * 2 ** ((midi - 69) / 12);
    const gain = audio.createGain();
    const filter = audio.createBiquadFilter();
    filter.type = "lowpass";
    filter.frequency.setValueAtTime(Math.min(9000, frequency * 6), begin);
    filter.frequency.exponentialRampToValueAtTime(Math.min(4000, frequency * 2.5), begin + 0.6);
    gain.gain.setValueAtTime(0, begin);
    gain.gain.linearRampToValueAtTime(level, begin + 0.012);
    gain.gain.exponentialRampToValueAtTime(level * 0.45, begin + 0.5);
    gain.gain.setTargetAtTime(0, end, 0.06);
    filter.connect(gain).connect(out);
    for (const [type, detune] of /** @type {[OscillatorType, number][]} */ ([["triangle", -3], ["sine", 4]])) {
      const oscillator = audio.createOscillator();
      oscillator.type = type;
      oscillator.frequency.value = frequency;
      oscillator.detune.value = detune;
      oscillator.connect(filter);
      oscillator.start(begin);
      oscillator.stop(end + 0.4);
    }
  }

  /**
   * @param {number} from
   * @param {number} to
   * @param {number[] | null} own
   */
  async #scoreEvents(from, to, own) {
    const notes = own ?? (this.#notes ??= (await unpack(page?.notes ?? "")).split(",").map(Number));
    const events = [];
    for (let i = 0; i + 2 < notes.length; i += 3) {
      const [t, d, midi] = [notes[i], notes[i + 1], notes[i + 2]];
      // What began before is struck again at the start, so that the passage is whole.
      if (t + d <= from + 1e-6 || t >= to - 1e-6) continue;
      const begin = Math.max(t, from);
      events.push({ t: begin, d: Math.min(t + d, to) - begin, midi, level: 0.13 });
    }
    return events.sort((a, b) => a.t - b.t);
  }

  /**
   * Bass and a close chord above it; each upper voice moves to the nearest tone.
   * @param {number} from
   * @param {number} to
   */
  #reductionEvents(from, to) {
    const events = [];
    let [bass, centre] = [45, 62];
    for (const chord of page?.chords ?? []) {
      if (chord.numeral === "" || chord.bassClass === undefined || chord.bassClass === null) continue;
      bass = nearest(chord.bassClass, bass, 36, 55);
      const upper = chord.pitchClasses.map((pitchClass) => nearest(pitchClass, centre, 55, 74));
      centre = Math.round(0.5 * centre + (0.5 * upper.reduce((sum, midi) => sum + midi, 0)) / upper.length);
      centre = Math.min(66, Math.max(60, centre));
      if (chord.t + chord.d <= from + 1e-6 || chord.t >= to - 1e-6) continue;
      const begin = Math.max(chord.t, from);
      const length = Math.min(chord.t + chord.d, to) - begin;
      for (const midi of new Set([bass, ...upper])) events.push({ t: begin, d: length, midi, level: midi === bass ? 0.2 : 0.13 });
    }
    return events;
  }
}

/**
 * The pitch of a class that lies nearest to another pitch, inside a range.
 * @param {number} pitchClass
 * @param {number} centre
 * @param {number} low
 * @param {number} high
 */
function nearest(pitchClass, centre, low, high) {
  const around = [-24, -12, 0, 12, 24].map((octave) => pitchClass + 12 * Math.floor(centre / 12) + octave);
  const inside = around.filter((midi) => midi >= low && midi <= high);
  return (inside.length ? inside : around).reduce((best, midi) => (Math.abs(midi - centre) < Math.abs(best - centre) ? midi : best));
}

const listening = new Listening();

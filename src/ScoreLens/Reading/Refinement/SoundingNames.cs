using ScoreLens.Sonorities;
using ScoreLens.Theory;

namespace ScoreLens.Reading.Refinement;

/// <summary>
/// Names what sounds where it plainly contradicts the numeral: "a chord is what is played" (common practice). Believed is only a complete
/// chord with almost nothing besides, or the numeral's own chord with a member a semitone off on the same letter. A fifth that is altered
/// changes no name.
/// </summary>
internal sealed class SoundingNames : IRefinement
{
    public IReadOnlyList<ChordReading> Apply(IReadOnlyList<ChordReading> chords, RefinementContext context) =>
        context.Sonorities.Count == 0 ? chords : [.. chords.Select(c => c.Numeral is null ? c : new Span(c, context).Named())];

    // One chord with what sounds while it lasts.
    private sealed class Span
    {
        private readonly ChordReading _chord;
        private readonly Key _key;
        private readonly RefinementContext _context;
        private readonly IReadOnlyDictionary<Tone, double> _times;
        private readonly IReadOnlyList<Tone> _own;
        private readonly ChordQuality _quality;

        public Span(ChordReading chord, RefinementContext context)
        {
            (_chord, _key, _context) = (chord, chord.Key, context);
            _times = TonesInTime.Of(context.Sonorities, chord.Onset, chord.End);
            (_own, _quality) = (chord.Numeral!.Tones(chord.Key), chord.Numeral.Quality);
        }

        private ReadingSettings Settings => _context.Settings;

        public ChordReading Named()
        {
            if (ChordSound.AlteredFifthOf(_own, _quality, _key, _times, Settings) is not null) return _chord;
            if ((Contradicting() ?? Variant()) is not { } heard) return _chord;
            // Between two chords of the key, which of them an expert hears is the search's question; colour is not.
            if (Diatonic.Contains(_key, _chord.Numeral!) && Diatonic.Contains(_key, heard.Tones)) return _chord;
            // Respelled so that the root is near the key: a simplified spelling must not hide the degree.
            var root = heard.Root.NearestTo(_key.Tonic);
            if (heard.Quality.IsAugmentedSixth()) root = (heard.Tones[0].NearestTo(_key.Tonic) is var low && low.Fifths
                + 10 <= Tone.MaxFifths) ? low + 10 : heard.Root;
            return NameInKey.Of(_key, root, heard.Quality, heard.Inversion) is { } named ? _chord with { Numeral = named } : _chord;
        }

        // The chord that plainly sounds where the numeral's tones do not: complete, almost nothing besides, each of its tones
        // there for long, and either most of the numeral's time unexplained, or a tone from outside the key added or missing.
        private SoundingChord? Contradicting()
        {
            if (SoundingChord.Identify(_context.Sonorities, _chord.Onset, _chord.End, Settings) is not { IsComplete: true } heard
                || heard.Fit < Settings.PlainFit) return null;
            if (heard.Tones.All(Has) && _own.All(t => heard.Tones.Any(t.IsEnharmonicWith))) return null;
            var times = heard.Tones.Select(Time).ToArray();
            if (times.Min() < Settings.LeastTimeOfMember * times.Max()) return null;
            var covered = _times.Where(p => Has(p.Key)).Sum(p => p.Value) / _times.Values.Sum();
            // A seventh on the numeral's own root, there as long as the rest: a passing note is not.
            var addsColour = heard.Tones[0].IsEnharmonicWith(_own[0]) && _own.All(t => heard.Tones.Any(t.IsEnharmonicWith))
                && heard.Tones.Any(t => !_key.Contains(t)) && times.Min() >= Settings.LeastTimeOfColour * times.Max();
            var unheard = _own.Where(t => !_key.Contains(t)).ToArray();
            var isUnheard = unheard.Length > 0 && unheard.All(t => Time(t) <= 0);
            // A member of the triad that never sounds for a beat and more, and another tone there instead: Ab Cb Eb is no bVI with its C
            // left out. But a dominant with a ninth may leave out its root.
            var isReplaced = _chord.Duration >= 1 && _own.Take(3).Any(t => Time(t) <= 0) && heard.Tones.Any(t => !Has(t))
                && !(_quality.HasMajorThird() && heard.Tones[0].IsEnharmonicWith(_own[1]));
            return addsColour || covered <= Settings.MostlyElsewhere || isUnheard || isReplaced ? heard : null;
        }

        // Of a tone and the same letter a semitone off, the chord's is the one that sounds twice as long: Ab Cb Eb is no bVI, however the
        // chord is broken and the melody decorated, and a C that hangs over at first changes nothing.
        private SoundingChord? Variant()
        {
            if (_chord.Duration < 1 || _quality.IsAugmentedSixth()) return null;
            var longest = _own.Max(Time);
            // A seventh beside its chord's own only passes.
            Tone[] heard = [.. _own.Select((tone, member) => member < 3 ? Instead(tone, longest) : tone)];
            if (heard.SequenceEqual(_own) || heard.Count(t => Time(t) > 0) < 3) return null;
            foreach (var root in heard)
                foreach (var quality in Enum.GetValues<ChordQuality>())
                {
                    int[] members = [.. quality.Members()];
                    if (quality.IsAugmentedSixth() || members.Length != heard.Length
                        || !heard.All(t => members.Contains(t - root))) continue;
                    var bass = heard[Math.Min(_chord.Numeral!.Inversion, heard.Length - 1)];
                    return new SoundingChord(root, quality, Array.IndexOf(members, bass - root), 1, true, true);
                }

            return null;
        }

        // The semitone above or below on the same letter, where it and not the tone itself sounds; a double accidental may be written as a
        // simple one, which over a root of the key is more likely another degree.
        private Tone Instead(Tone tone, double longest)
        {
            var itself = Time(tone);
            var isVague = !_key.Contains(_own[0]);
            foreach (var fifths in (int[])[-7, 7])
            {
                if (tone.Fifths + fifths is < Tone.MinFifths or > Tone.MaxFifths) continue;
                var other = tone + fifths;
                var time = _times.Where(p => p.Key == other || (isVague && IsDouble(other) && p.Key.IsEnharmonicWith(other)))
                    .Sum(p => p.Value);
                if (!Has(other) && time >= Settings.VariantTime * longest && time >= 2 * itself) return other;
            }

            return tone;
        }

        private static bool IsDouble(Tone tone) => Math.Abs(tone.Alteration) > 1;

        private bool Has(Tone tone) => _own.Any(tone.IsEnharmonicWith);

        private double Time(Tone tone) => _times.Where(p => p.Key.IsEnharmonicWith(tone)).Sum(p => p.Value);
    }
}

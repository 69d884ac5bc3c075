using System.Globalization;

namespace ScoreLens.Theory;

/// <summary>The figures over one bass note, completed as the thoroughbass books complete them.</summary>
/// <param name="Intervals">Number above the bass, its sign, and whether the chord must have it.</param>
internal sealed record Figures(IReadOnlyList<(int Number, string Sign, bool IsNeeded)> Intervals)
{
    /// <summary>Reads figures such as <c>6 4</c>, <c>#6</c>, <c>#</c>, <c>4 2</c>; null where one of them is no figure.</summary>
    public static Figures? Parse(string text)
    {
        var written = new Dictionary<int, string>();
        foreach (var word in text.Split([' ', ',', '\n'], StringSplitOptions.RemoveEmptyEntries))
        {
            var digits = string.Concat(word.Where(char.IsAsciiDigit));
            var sign = string.Concat(word.Where(c => !char.IsAsciiDigit(c)));
            if (sign is not ("" or "#" or "b" or "n" or "+" or "##" or "bb")) return null;
            // An accidental alone belongs to the third.
            var number = digits.Length == 0 ? 3 : int.Parse(digits, CultureInfo.InvariantCulture);
            if (number is < 2 or > 13 || (digits.Length == 0 && sign.Length == 0)) return null;
            written[number] = sign;
        }

        // Abbreviations: C. P. E. Bach, Versuch II, and any harmony handbook's table of figures (from memory).
        int[] implied =
        [
            .. written.ContainsKey(2) && !written.ContainsKey(5) && !written.ContainsKey(7) ? [4, 6] : Array.Empty<int>(),
            .. written.ContainsKey(4) && written.ContainsKey(3) ? [6] : Array.Empty<int>(),
            .. written.ContainsKey(6) && !written.ContainsKey(4) && !written.ContainsKey(2) ? [3] : Array.Empty<int>(),
            .. !written.ContainsKey(6) && !written.ContainsKey(2) && !(written.ContainsKey(4) && written.ContainsKey(3)) ? [5]
                : Array.Empty<int>(),
            .. !written.ContainsKey(6) && !written.ContainsKey(4) && !written.ContainsKey(2) ? [3] : Array.Empty<int>(),
        ];
        var intervals = written.Select(f => (f.Key, f.Value, f.Key != 8))
            .Concat(implied.Distinct().Where(n => !written.ContainsKey(n)).Select(n => (n, "", n == 3)));
        return new Figures([.. intervals.OrderByDescending(i => i.Item1)]);
    }

    /// <summary>Reads figures over a bass; a raised fourth alone is the tritone of 6 4 2 (C. P. E. Bach, Versuch II; from
    /// memory).</summary>
    public static Figures? Over(string text, Tone bass, int signature) =>
        Parse(text) is not { } figures ? null
        : figures.Intervals is [(5, "", false), (4, { Length: > 0 } sign, _)] && ToneAbove(bass, 4, sign, signature) - bass == 6
            ? Parse(text + " 2")
            : figures;

    /// <summary>The tone a number of letters above the bass: by the key signature, or with the figure's own sign.</summary>
    public static Tone ToneAbove(Tone bass, int number, string sign, int signature)
    {
        var letter = "CDEFGAB"[(bass.Step + number - 1) % 7];
        // An octave repeats the bass, accidental and all.
        if (sign.Length == 0 && (number - 1) % 7 == 0) return bass;
        var natural = Tone.Of(letter);
        var byKey = Tone.Of(letter, (int)Math.Floor((signature - natural.Fifths + 5) / 7.0));
        if (sign == "+" && byKey.Fifths + 7 > Tone.MaxFifths) return byKey;
        return sign switch
        {
            "#" => Tone.Of(letter, 1),
            "##" => Tone.Of(letter, 2),
            "b" => Tone.Of(letter, -1),
            "bb" => Tone.Of(letter, -2),
            "n" => natural,
            "+" => byKey + 7,
            _ => byKey,
        };
    }

    /// <summary>The same figures with one number taken for another, without its sign; null where they do not have it.</summary>
    public Figures? Without(int number, int instead) => !Intervals.Any(i => i.Number == number) ? null
        : new Figures([.. Intervals.Where(i => i.Number != number && i.Number != instead).Append((instead, "", true))]);

    /// <summary>The tones over a bass, from the top figure down, the bass last.</summary>
    public IReadOnlyList<Tone> TonesOver(Tone bass, int signature) =>
        [.. Intervals.Select(i => ToneAbove(bass, i.Number, i.Sign, signature)).Append(bass).Distinct()];

    /// <summary>The triad, seventh chord or augmented sixth that has just these tones over a bass; null where there is none.</summary>
    public (Tone Root, ChordQuality Quality, int Inversion)? ChordOver(Tone bass, int signature)
    {
        var tones = TonesOver(bass, signature).ToHashSet();
        foreach (var quality in Enum.GetValues<ChordQuality>())
        {
            var members = quality.Members().ToArray();
            for (var inversion = 0; inversion < members.Length; inversion++)
            {
                var root = bass.Fifths - members[inversion];
                if (members.Append(0).Any(m => root + m is < Tone.MinFifths or > Tone.MaxFifths)) continue;
                if (tones.SetEquals(members.Select(m => new Tone(root + m)))) return (new Tone(root), quality, inversion);
            }
        }

        return null;
    }
}

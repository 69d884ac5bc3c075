namespace ScoreLens.Reading.Model;

/// <summary>
/// The tones of numerals above the tonic. Tones are bits in the order of the line of fifths, of which twelve steps make the same
/// sound. Immutable.
/// </summary>
internal sealed class NumeralTones
{
    /// <summary>How many sounds an octave has.</summary>
    public const int Sounds = 12;

    // The bit of the tonic: tones reach from 30 fifths below it to 33 above, more than any score spells.
    private const int Origin = 30;

    private readonly ulong[] _tones;
    private readonly int[][] _sounds;
    private readonly ILookup<uint, int>[] _bySounds;

    /// <param name="classes">The numerals.</param>
    /// <param name="ofMode">The numbers of those of major keys, then of minor keys.</param>
    public NumeralTones(NumeralClass[] classes, IEnumerable<int[]> ofMode)
    {
        int[][] members = [.. classes.Select(c => c.Members.ToArray().Select(m => c.Root + m).ToArray())];
        _tones = [.. members.Select(tones => tones.Aggregate(0UL, (all, tone) => all | Bit(tone)))];
        _sounds = [.. members.Select(tones => tones.Select(SoundOf).ToArray())];
        _bySounds = [.. ofMode.Select(list => list.ToLookup(entry => SoundsOf(_tones[entry])))];
    }

    /// <summary>The bit of a tone.</summary>
    public static ulong Bit(int fifths) => 1UL << (fifths + Origin);

    /// <summary>The tones of which bits are set, as if the tone at a place on the line of fifths were the tonic.</summary>
    public static ulong AboveTonic(ulong tones, int tonic) => tonic >= 0 ? tones >> tonic : tones << -tonic;

    /// <summary>One of twelve sounds; from 30 fifths below up, as few as any score spells.</summary>
    public static int SoundOf(int fifths) => (fifths + (6 * Sounds)) % Sounds;

    /// <summary>The sounds of tones, as twelve bits.</summary>
    public static uint SoundsOf(ulong tones)
    {
        ulong sounds = 0;
        for (; tones != 0; tones >>= Sounds) sounds |= tones;
        return (uint)(sounds & ((1UL << Sounds) - 1));
    }

    /// <summary>The tones of a numeral, as bits.</summary>
    public ulong Of(int entry) => _tones[entry];

    /// <summary>The sounds of a numeral's members above the tonic, in the order of its quality's members.</summary>
    public ReadOnlySpan<int> MembersOf(int entry) => _sounds[entry];

    /// <summary>
    /// The numerals of a mode that have all of some sounds, given as twelve bits, and no others, in the order of their list.
    /// </summary>
    public IEnumerable<int> With(uint sounds, int mode) => _bySounds[mode][sounds];
}

using ScoreLens.Theory;

namespace ScoreLens.Marking.PartWriting;

/// <summary>How two voices go from one pair of notes to the next; the upper voice is the one that is named first.</summary>
/// <param name="UpperFrom">Where the upper voice comes from.</param>
/// <param name="UpperTo">Where it goes.</param>
/// <param name="LowerFrom">Where the lower voice comes from.</param>
/// <param name="LowerTo">Where it goes.</param>
/// <param name="Onset">When the second pair sounds together.</param>
internal sealed record PairMotion(LineNote UpperFrom, LineNote UpperTo, LineNote LowerFrom, LineNote LowerTo, Fraction Onset)
{
    /// <summary>The interval of the first pair, the lower pitch first.</summary>
    public Interval First => Interval.Between(LowerFrom.Pitch, UpperFrom.Pitch).Size;

    /// <summary>The interval of the second pair, the lower pitch first.</summary>
    public Interval Second => Interval.Between(LowerTo.Pitch, UpperTo.Pitch).Size;

    public Interval Upper => Interval.Between(UpperFrom.Pitch, UpperTo.Pitch);

    public Interval Lower => Interval.Between(LowerFrom.Pitch, LowerTo.Pitch);

    /// <summary>Both voices move the same way.</summary>
    public bool IsSimilar => Upper.Direction != 0 && Upper.Direction == Lower.Direction;

    public bool IsContrary => Upper.Direction != 0 && Upper.Direction == -Lower.Direction;

    public IReadOnlyList<LineNote> Notes => [UpperFrom, UpperTo, LowerFrom, LowerTo];

    /// <summary>The motions of every pair of voices in which both strike a new note together, without rest or phrase end between.</summary>
    public static IEnumerable<PairMotion> Of(VoicedProgression progression)
    {
        for (var i = 1; i < progression.Moments.Count; i++)
        {
            var (from, to) = (progression.Moments[i - 1], progression.Moments[i]);
            for (var upper = 0; upper < progression.Voices.Count; upper++)
            {
                for (var lower = upper + 1; lower < progression.Voices.Count; lower++)
                {
                    if (Moving(progression, from, to, upper) is { } u && Moving(progression, from, to, lower) is { } l)
                        yield return new PairMotion(u.From, u.To, l.From, l.To, to.Onset);
                }
            }
        }
    }

    /// <summary>
    /// The motions of every pair of voices from one pair of chord notes to the next, where only moments with a note foreign to
    /// the chord lie between and neither voice has another chord note.
    /// </summary>
    public static IEnumerable<MotionAround> AroundNonChordNotes(VoicedProgression progression)
    {
        for (var upper = 0; upper < progression.Voices.Count; upper++)
        {
            for (var lower = upper + 1; lower < progression.Voices.Count; lower++)
            {
                Moment? last = null;
                foreach (var moment in progression.Moments)
                {
                    if (moment.Notes[upper] is not { } u || moment.Notes[lower] is not { } l)
                    {
                        last = null;
                        continue;
                    }

                    if (!progression.IsChordNote(u, moment) || !progression.IsChordNote(l, moment)) continue;
                    if (last is not null && last.Index < moment.Index - 1 && !progression.IsPhraseBetween(last.Onset, moment.Onset))
                    {
                        var motion = new PairMotion(last.Notes[upper]!, u, last.Notes[lower]!, l, moment.Onset);
                        var between = progression.Moments.Skip(last.Index + 1).Take(moment.Index - last.Index - 1)
                            .SelectMany(m => new[] { (Note: m.Notes[upper]!, Moment: m), (Note: m.Notes[lower]!, Moment: m) })
                            .Where(p => !motion.Notes.Contains(p.Note)).ToArray();
                        if (!between.Any(p => progression.IsChordNote(p.Note, p.Moment) && motion.Notes.All(n => n.Pitch != p.Note.Pitch)))
                        {
                            yield return new MotionAround(
                                motion,
                                between.Any(p => p.Note.Pitch != (p.Note.Voice == upper ? motion.UpperFrom : motion.LowerFrom).Pitch),
                                between.Any(p => p.Note.Pitch == (p.Note.Voice == upper ? u : l).Pitch),
                                between.Select(p => p.Note.Voice).Distinct().Count() > 1,
                                progression.ChordOf(last) is { } from && progression.ChordOf(moment) is { } to
                                    && (from == to || from.IsSameHarmonyAs(to)));
                        }
                    }

                    last = moment;
                }
            }
        }
    }

    private static (LineNote From, LineNote To)? Moving(VoicedProgression progression, Moment from, Moment to, int voice) =>
        from.Notes[voice] is { } f && to.Notes[voice] is { } t && t.Onset == to.Onset && f != t && progression.IsConnected(f, t) ? (f, t)
            : null;
}

/// <summary>A motion from chord notes to chord notes with notes foreign to the chord between them.</summary>
/// <param name="Motion">From the last pair before to the first pair after.</param>
/// <param name="IsStruckBetween">Whether a voice has a note of its own between; false where one is only held or struck again, a
/// suspension.</param>
/// <param name="IsAnticipated">Whether a note between anticipates where its voice goes.</param>
/// <param name="AreBothMoving">Whether both voices have notes of their own between: then it is not one non-chord note that stands
/// there.</param>
/// <param name="IsOneHarmony">Whether both pairs belong to one harmony.</param>
internal sealed record MotionAround(PairMotion Motion, bool IsStruckBetween, bool IsAnticipated, bool AreBothMoving, bool IsOneHarmony);

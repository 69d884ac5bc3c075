using ScoreLens.Marking;
using ScoreLens.Marking.Labels;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Sonorities;
using ScoreLens.TestKit.Corpus;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Marking;

/// <summary>
/// The experts' numerals of the analysed works, written into the scores in five habits of notation; and of sixty open works of the
/// corpus where it is at hand.
/// </summary>
public sealed class CorpusLabelTests
{
    private static readonly (string Folder, int Works)[] Choice =
        [("open/chorales", 25), ("open/songs", 15), ("open/textbooks", 15), ("open/keyboard", 5)];

    // Read once for all habits.
    private static readonly Lazy<IReadOnlyList<ReferenceWork>> Works =
        new(() => [.. CorpusWorks.In(CorpusWorks.Vendored).Select(ReferenceWork.Load)]);

    public static TheoryData<string> Habits => [.. NumeralHabit.All.Select(h => h.Name)];

    [Theory]
    [MemberData(nameof(Habits))]
    public void Expert_numerals_are_read_back_and_earn_full_marks_against_themselves(string name) =>
        CheckReadBack(Works.Value, 31, NumeralHabit.All.Single(h => h.Name == name));

    [Fact]
    public void Numerals_of_sixty_works_of_the_corpus_are_read_back_in_every_habit()
    {
        var corpus = SharedFiles.At("corpus");
        var works = Choice.SelectMany(c => ReferenceWork.In(corpus, c.Folder).Take(c.Works)).ToArray();
        foreach (var habit in NumeralHabit.All) CheckReadBack(works, 60, habit);
    }

    private static void CheckReadBack(IReadOnlyList<ReferenceWork> works, int count, NumeralHabit habit)
    {
        Assert.Equal(count, works.Count);
        foreach (var work in works)
        {
            var chords = Distinct(work);
            var score = Labelled(work.Score, habit.Write(chords));
            var labels = StudentLabels.Read(score, chords[0].Key);

            Assert.Equal(chords.Count, labels.Labels.Count);
            foreach (var (chord, label) in chords.Zip(labels.Labels))
                Assert.True(label.Meanings.Any(m => IsSame(m, chord)),
                    $"{work.Name}: '{label.Text}' at {label.Onset} was read as [{string.Join("; ", label.Meanings)}], not "
                        + $"{chord.Numeral} in {chord.Key}.");
            var marks = LabelCheck.Run(score, SonorityFinder.Find(score), labels, work.Reading, true, LabelMarking.Default);
            Assert.Equal([], marks.Marks.Where(m => m.Lost > 0).Select(m => $"{work.Name} {m.Place}: {m.Written} for {m.Expected}"));
            Assert.Equal(chords.Count, marks.Demanded);
        }
    }

    [Theory]
    [MemberData(nameof(Habits))]
    public void Every_changed_numeral_is_found_and_named_and_nothing_else(string name)
    {
        var habit = NumeralHabit.All.Single(h => h.Name == name);
        var random = new Random(6);
        var changes = 0;
        foreach (var work in Works.Value)
        {
            var chords = Distinct(work);
            var changed = new Dictionary<Fraction, string>();
            var written = chords.Select(chord =>
            {
                if (random.Next(5) != 0 || Changed(chord, random) is not { } other) return chord;
                changed[chord.Onset] = habit.WriteNumeral(chord.Key, other);
                return chord with { Numeral = other };
            }).ToList();
            changes += changed.Count;
            var score = Labelled(work.Score, habit.Write(written));
            var labels = StudentLabels.Read(score, chords[0].Key);

            var marks = LabelCheck.Run(score, SonorityFinder.Find(score), labels, work.Reading, true, LabelMarking.Default);

            var found = marks.Marks.Where(m => m.Remark is { Severity: Severity.Fault }).ToList();
            Assert.Equal(changed.Keys.Order(), found.Select(m => m.Onset));
            Assert.All(found, m =>
            {
                Assert.True(m.Lost > 0);
                Assert.StartsWith("wrong-", m.Remark!.Kind.Name(), StringComparison.Ordinal);
                Assert.Contains(changed[m.Onset], m.Remark.Text, StringComparison.Ordinal);
            });
        }

        Assert.True(changes > 300, $"Only {changes} numerals were changed.");
    }

    // A label for each change of chord, as a student writes them.
    private static List<ChordReading> Distinct(ReferenceWork work)
    {
        var distinct = new List<ChordReading>();
        foreach (var chord in work.Reading.Chords.Where(c => c.Numeral is not null))
        {
            if (distinct.Count > 0 && distinct[^1] is var last && last.End == chord.Onset && last.Key == chord.Key
                && last.Numeral == chord.Numeral)
                distinct[^1] = last with { Duration = chord.End - last.Onset };
            else distinct.Add(chord);
        }

        return distinct;
    }

    private static Score Labelled(Score score, IEnumerable<ScoreText> labels) => score with
    {
        // Verses stay: they must not be taken for numerals.
        Texts = [.. score.Texts.Where(t => t.Kind == ScoreTextKind.Lyric && t.Line is "1" or "").Concat(labels).OrderBy(t => t.Onset)],
    };

    private static bool IsSame(LabelMeaning meaning, ChordReading chord) =>
        meaning.Key == chord.Key
        && meaning.Numeral.Root(meaning.Key) == chord.Numeral!.Root(chord.Key)
        && meaning.Numeral.Quality == chord.Numeral.Quality
        && meaning.Numeral.Inversion == chord.Numeral.Inversion;

    /// <summary>Another numeral that sounds different, by its tones and its bass; null where the change does not sound.</summary>
    private static Numeral? Changed(ChordReading chord, Random random)
    {
        var numeral = chord.Numeral!;
        Numeral other;
        if (numeral.Kind != NumeralKind.Plain) other = new Numeral(2, ChordQuality.Minor);
        else
        {
            var members = numeral.Quality.Members().Length;
            other = random.Next(3) switch
            {
                0 => new Numeral((numeral.Degree % 7) + 1, numeral.Quality, numeral.Inversion, numeral.Alteration, numeral.Target),
                1 => new Numeral(numeral.Degree, numeral.Quality, (numeral.Inversion + 1) % members, numeral.Alteration, numeral.Target),
                _ => new Numeral(
                    numeral.Degree, numeral.Quality is ChordQuality.Major or ChordQuality.DominantSeventh ? ChordQuality.Minor
                        : ChordQuality.Major, Math.Min(numeral.Inversion, 2),
                    numeral.Alteration, numeral.Target),
            };
        }

        return Sound(other) == Sound(numeral) ? null : other;

        string Sound(Numeral n) => $"{n.Bass(chord.Key).PitchClass}: "
            + $"{string.Join(' ', n.Tones(chord.Key).Select(t => t.PitchClass).Order())}";
    }
}

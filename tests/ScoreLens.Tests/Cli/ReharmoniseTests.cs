using System.Text.Json;
using ScoreLens.Notation;
using ScoreLens.Notation.MusicXml;
using ScoreLens.Reharmonising.Writing;
using ScoreLens.Tests.Annotation;
using ScoreLens.Theory;
using Xunit;

using static ScoreLens.Tests.Cli.ScratchFolder;

namespace ScoreLens.Tests.Cli;

public sealed class ReharmoniseTests
{
    private static readonly string Score = Path.Combine(Places.TestData, "lamplight.musicxml");

    [Fact]
    public void Alternatives_for_a_place_are_listed_with_device_smoothness_balance_and_reason()
    {
        var (status, output, error) = Run("reharmonise", Score, "--at", "9", "--top", "2");
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("measure 9, beat 1: instead of IV in F major, which is Bb", output, StringComparison.Ordinal);
        Assert.Matches(@" 1  \S+ +\S+ +\S+ +\d common, \d+ semitones; experts \d+ %; phrase \S+ % -> \S+ % (within|above|below), cue ",
            output);
        Assert.Contains("the melody's", output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_table_has_its_columns_and_the_ranks_in_order()
    {
        var (status, output, _) = Run("reharmonise", Score, "--at", "9", "--csv", "--top", "3");
        Assert.Equal(0, status);
        var lines = output.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(string.Join(',', AlternativeTable.Columns), lines[0]);
        Assert.Equal(["lamplight,9,1,F major,IV,1,", "lamplight,9,1,F major,IV,2,"], lines[1..3]
            .Select(l => string.Concat(l.Split(',')[..6].Select(c => c + ","))));
        Assert.InRange(lines.Length, 3, 4);
    }

    [Fact]
    public void Json_says_the_same_with_null_for_what_is_empty()
    {
        var (_, output, _) = Run("reharmonise", Score, "--phrase", "2", "--json", "--top", "1");
        using var json = JsonDocument.Parse(output);
        Every.Item(json.RootElement.EnumerateArray(), e => Assert.Equal(AlternativeTable.Columns, e.EnumerateObject().Select(p => p.Name)));
        Assert.Contains(json.RootElement.EnumerateArray(), e => e.GetProperty("device").ValueKind == JsonValueKind.Null);
        Every.Item(json.RootElement.EnumerateArray(), e => Assert.InRange(e.GetProperty("score").GetDouble(), 0, 1));
    }

    [Theory]
    [InlineData("experts", "experts", -1)]
    [InlineData("smoothness", "semitones", 1)]
    public void A_list_is_sorted_as_asked_and_the_choice_counts_in_that_order(string order, string column, int sign)
    {
        using var folder = new ScratchFolder();
        using var json = JsonDocument.Parse(Run("reharmonise", Score, "--at", "10", "--sort", order, "--json").Output);
        var rows = json.RootElement.EnumerateArray().ToArray();
        Assert.True(rows.Length > 3);
        var values = rows.Select(r => sign * r.GetProperty(column).GetDouble()).ToArray();
        Assert.Equal(values.Order(), values);
        var chosen = rows.First(r => r.GetProperty("obstacle").ValueKind == JsonValueKind.Null);
        var (status, output, error) = Run("reharmonise", Score, "--at", "10", "--sort", order, "--apply",
            chosen.GetProperty("rank").GetRawText(), "--out", folder.At("out"));
        Assert.Equal((0, ""), (status, error));
        Assert.Contains($": {chosen.GetProperty("numeral").GetString()} (", output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_device_filters_the_list_and_keeps_the_ranks()
    {
        var (_, all, _) = Run("reharmonise", Score, "--at", "9", "--csv", "--top", "99");
        var (_, some, _) = Run("reharmonise", Score, "--at", "9", "--csv", "--top", "99", "--device", "diatonic");
        var lines = some.Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        Assert.InRange(lines.Length, 2, all.Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length - 1);
        Every.Item(lines[1..], l => Assert.Equal("", l.Split(',')[8]));
        Every.Item(lines[1..], l => Assert.Contains(l, all, StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_place_the_best_of_each_phrase_are_listed()
    {
        var (status, output, _) = Run("reharmonise", Score, "--top", "1");
        Assert.Equal(0, status);
        Assert.Equal(3, output.Split('\n').Count(l => l.StartsWith("phrase ", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_best_of_a_phrase_are_those_that_are_read_back_as_they_were_promised()
    {
        var score = Path.Combine(Places.TestData, "cues", "1m1-morning-at-vell.musicxml");
        var all = Rows("reharmonise", score, "--phrase", "1", "--json", "--top", "99", "--all").Where(r => r.Obstacle is null).ToArray();
        Assert.Contains(all, r => r.ReadAs is not null);
        Assert.DoesNotContain(Rows("reharmonise", score, "--phrase", "1", "--json", "--top", "99"), r => r.ReadAs is not null);
        var best = all.Where(r => r is { ReadAs: null, GoesOn: true }).OrderByDescending(r => r.Score).DistinctBy(r =>
            r.Place).Take(3).ToArray();
        Assert.Equal(3, best.Length);
        var places = all.Select(r => r.Place).ToHashSet();
        Assert.Equal(best.OrderBy(b => Array.FindIndex(all, a => a.Place == b.Place)), Rows("reharmonise", score, "--json")
            .Where(r => places.Contains(r.Place)));

        static IEnumerable<(string Place, string Numeral, double Score, string? ReadAs, string? Obstacle,
            bool GoesOn)> Rows(params string[] args)
        {
            using var json = JsonDocument.Parse(Run(args).Output);
            return [.. json.RootElement.EnumerateArray().Select(e => (
                $"{e.GetProperty("measure")}:{e.GetProperty("beat")}", e.GetProperty("numeral").GetString()!, e.GetProperty("score")
                    .GetDouble(),
                e.GetProperty("read_as").GetString(), e.GetProperty("obstacle").GetString(),
                e.GetProperty("resolution").GetString() is null or "resolved"))];
        }
    }

    [Fact]
    public void The_chosen_alternative_is_written_as_a_score_and_as_MIDI_and_the_input_stays()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var before = File.ReadAllBytes(score);
        var (status, output, error) = Run("reharmonise", score, "--at", "10", "--apply", "1");
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("measure 10, beat 1", output, StringComparison.Ordinal);
        Assert.Equal(["song.musicxml", "song.scorelens/song.before.reharmonised.mid", "song.scorelens/song.reharmonised.mid",
            "song.scorelens/song.reharmonised.musicxml"], folder.Files());
        Assert.Equal(before, File.ReadAllBytes(score));
        var (old, written) = (ScoreFile.Parse(before).Score.Notes, ScoreFile.Load(folder.At("song.scorelens", "song.reharmonised.musicxml"))
            .Score.Notes);
        Assert.Equal(old.Count, written.Count);
        var changed = old.Zip(written).Where(n => n.First != n.Second).ToArray();
        Assert.NotEmpty(changed);
        Every.Item(changed, n => Assert.InRange(n.First.Onset.ToDouble(), 36, 37.99));
        var midi = ScoreFile.Load(folder.At("song.scorelens", "song.reharmonised.mid")).Score.Notes;
        Assert.Equal(written.Select(n => n.Pitch.Midi).Distinct().Order(), midi.Select(n => n.Pitch.Midi).Distinct().Order());
        Assert.Equal((0, "", ""), Run("reharmonise", score, "--at", "10", "--apply", "1", "--quiet"));
    }

    [Fact]
    public void Several_choices_are_written_at_once_and_each_says_how_it_is_read_with_all_of_them_in_the_score()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var (status, output, error) = Run("reharmonise", score, "--apply", "9=1,10=1,3=1");
        Assert.Equal((0, ""), (status, error));
        Assert.Equal(["measure 3, beat 1", "measure 9, beat 1", "measure 10, beat 1"],
            output.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(l => l.Split(", ")[1] + ", " + l.Split(", ")[2].Split(':')[0]));
        var (old, written) = (ScoreFile.Load(score).Score.Notes, ScoreFile.Load(folder.At("song.scorelens", "song.reharmonised.musicxml"))
            .Score.Notes);
        Assert.Equal([3, 9, 10], old.Zip(written).Where(n => n.First != n.Second).Select(n => 1 + (int)(n.First.Onset.ToDouble() / 4))
            .Distinct().Order());
        // Before and after, to compare by ear.
        Assert.Equal(old.Select(n => n.Pitch.Midi).Distinct().Order(),
            ScoreFile.Load(folder.At("song.scorelens", "song.before.reharmonised.mid"))
            .Score.Notes.Select(n => n.Pitch.Midi).Distinct().Order());
    }

    [Theory]
    [InlineData("Violoncellos")]
    [InlineData("violonc")]
    [InlineData("4")]
    public void The_part_that_is_named_as_the_melody_keeps_its_notes(string part)
    {
        var score = Path.Combine(Places.TestData, "cues", "2m1-the-storm-stair.musicxml");
        var (status, output, _) = Run("reharmonise", score, "--at", "5", "--melody", part);
        Assert.Equal(0, status);
        // By default the violins have it, and the cellos go over to the bass of the new chord.
        Assert.Contains("C2 is the melody's in the bass, where Ab has Ab.", output, StringComparison.Ordinal);
        Assert.DoesNotContain("the melody's in the bass", Run("reharmonise", score, "--at", "5").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reduction_is_added_where_the_notes_are_to_stay_and_no_character_of_them_changes()
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var (status, output, error) = Run("reharmonise", score, "--at", "10", "--apply", "1", "--onto", "reduction");
        Assert.Equal((0, ""), (status, error));
        Assert.Contains("in a reduction under the score, whose notes stay", output, StringComparison.Ordinal);
        var text = File.ReadAllText(folder.At("song.scorelens", "song.reharmonised.musicxml"));
        var part = File.ReadAllText(score);
        part = part[part.IndexOf("<part id", StringComparison.Ordinal)..(part.IndexOf("</part>", StringComparison.Ordinal) + 7)];
        Assert.Contains(part, text, StringComparison.Ordinal);
        var written = ScoreFile.Parse(System.Text.Encoding.UTF8.GetBytes(text)).Score;
        Assert.Equal(["Piano", "Reduction"], written.Parts.Select(p => p.Name));
        Assert.Equal(2, written.Parts[1].Staves);
        // The first offer there.
        using var offers = JsonDocument.Parse(Run("reharmonise", score, "--at", "10", "--json").Output);
        var numeral = Numeral.Parse(offers.RootElement[0].GetProperty("numeral").GetString()!);
        Assert.Equal(numeral.Tones(Key.Parse("F major")).Select(t => t.PitchClass).Order(),
            written.Notes.Where(n => n.Part == 1 && n.Onset == 36).Select(n =>
            n.Pitch.Tone.PitchClass).Distinct().Order());
        Assert.Empty(MusicXmlSchema.Faults(MusicXmlDocument.Parse(System.Text.Encoding.UTF8.GetBytes(text)).Source));
    }

    [Fact]
    public void A_melody_alone_takes_the_new_chord_in_a_reduction_under_it()
    {
        using var folder = new ScratchFolder();
        var path = folder.At("tune.musicxml");
        File.WriteAllText(path, Tune);
        Assert.Equal(0, Run("reharmonise", path, "--at", "2", "--apply", "1", "--onto", "reduction").Status);
        Assert.Equal(2, ScoreFile.Load(folder.At("tune.scorelens", "tune.reharmonised.musicxml")).Score.Parts.Count);
    }

    [Theory]
    [InlineData("--phrase 1 --more-colour", "phrase 1: 12.5 % of the time outside the key; wanted are 20-30 %")]
    [InlineData("--measures 1-4", "measures 1 to 4: 12.5 % of the time outside the key; wanted are 20-30 %")]
    [InlineData("--phrase 1 --less-colour --band 0-5", "phrase 1: 12.5 % of the time outside the key; wanted are 0-5 %")]
    public void A_set_for_a_passage_says_what_it_does_and_how_to_write_it(string options, string heading)
    {
        using var folder = new ScratchFolder();
        var score = folder.Score("song.musicxml");
        var (status, output, error) = Run(["reharmonise", score, .. options.Split(' ')]);
        Assert.Equal((0, ""), (status, error));
        Assert.Contains(heading, output, StringComparison.Ordinal);
        var together = System.Text.RegularExpressions.Regex.Match(output,
            @"together: 12.5 % -> (?<after>\S+) %, (?<verdict>.+); to write them: (?<options>--apply .+)");
        Assert.True(together.Success, output);
        // What is promised together is what is read where it is written so.
        Assert.Equal(0, Run(["reharmonise", score, .. together.Groups["options"].Value.Split(' '), "--quiet", "--out",
            folder.At("new")]).Status);
        var written = CueAnalysis.Of(ScoreFile.Load(folder.At("new", "song.reharmonised.musicxml")).Score);
        var share = 100 * ScoreLens.Density.Shares.Between(written.Chords, 0, written.Phrases[0].End).OutsideTime.ToDouble();
        Assert.Equal(double.Parse(together.Groups["after"].Value, System.Globalization.CultureInfo.InvariantCulture), share, 0.1);
    }

    [Fact]
    public void What_would_be_read_as_another_chord_is_counted_and_listed_on_request()
    {
        var score = Path.Combine(Places.TestData, "cues", "1m1-morning-at-vell.musicxml");
        using var json = JsonDocument.Parse(Run("reharmonise", score, "--phrase", "1", "--all", "--json", "--top", "99").Output);
        var other = json.RootElement.EnumerateArray().First(e => e.GetProperty("read_as").ValueKind != JsonValueKind.Null
            && e.GetProperty("device").ValueKind != JsonValueKind.Null);
        var place = $"{other.GetProperty("measure")}:{other.GetProperty("beat")}";
        Assert.Contains("that would be read as another chord where", Run("reharmonise", score, "--at", place).Output,
            StringComparison.Ordinal);
        Assert.Contains("Written into the score it is read as", Run("reharmonise", score, "--at", place, "--all", "--top", "99").Output,
            StringComparison.Ordinal);
    }

    [Fact]
    public void An_annotated_score_loses_its_labels_and_a_MIDI_file_gives_MIDI_alone()
    {
        using var folder = new ScratchFolder();
        Run("annotate", folder.Score("song.musicxml"), "--quiet", "--out", folder.At("out"));
        Assert.Equal(0, Run("reharmonise", folder.At("out", "song.annotated.musicxml"), "--at", "10", "--apply", "1", "--quiet", "--out",
            folder.At("new")).Status);
        Assert.DoesNotContain(ScoreFile.Load(folder.At("new", "song.annotated.reharmonised.musicxml"), Annotations.WithOwnLabels)
            .Score.Texts, t => t.LineName == "analysis");
        Assert.Equal(0, Run("reharmonise", folder.At("new", "song.annotated.reharmonised.mid"), "--at", "10", "--apply", "1", "--quiet",
            "--out", folder.At("midi")).Status);
        Assert.Equal(["midi/song.annotated.reharmonised.before.reharmonised.mid", "midi/song.annotated.reharmonised.reharmonised.mid"],
            folder.Files()
            .Where(f => f.StartsWith("midi/", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_melody_alone_is_an_error_that_says_so_and_writes_nothing()
    {
        using var folder = new ScratchFolder();
        var path = folder.At("tune.musicxml");
        File.WriteAllText(path, Tune);
        var (status, output, error) = Run("reharmonise", path, "--at", "2", "--apply", "1");
        Assert.Equal((3, ""), (status, output));
        Assert.Contains("tune.musicxml: measure 2, beat 1", error, StringComparison.Ordinal);
        Assert.Contains("nothing but the melody sounds here", error, StringComparison.Ordinal);
        Assert.Equal(["tune.musicxml"], folder.Files());
    }

    [Theory]
    [InlineData("--device nonsense", "is none of")]
    [InlineData("--top 0", "is not a number from 1")]
    [InlineData("--apply 1", "--apply needs --at")]
    [InlineData("--at 3 --phrase 1", "not both")]
    [InlineData("--at 3 --apply 9=1", "not both")]
    [InlineData("--apply 9=x", "'9=x' is neither a number from 1 nor a numeral nor a place with one")]
    [InlineData("--apply 9=1,9:2=1", "--apply: measure 9, beat 1 is given twice")]
    [InlineData("--melody Harp", "there is no part 'Harp'; the parts are 1 Piano")]
    [InlineData("--csv --json", "not both")]
    [InlineData("--sort loudness", "--sort: 'loudness' is none of best, experts, smoothness, dose.")]
    [InlineData("--more-colour --less-colour", "not both")]
    [InlineData("--measures 3-4 --at 3", "not both")]
    [InlineData("--measures 3", "'3' is not a range such as 9-12")]
    [InlineData("--measures 4-3", "measure 3 comes before measure 4")]
    [InlineData("--onto reduction", "--onto needs --apply")]
    [InlineData("--at 99", "there is no measure 99")]
    [InlineData("--phrase 99", "there is no phrase 99; the phrases are 1 to 3")]
    [InlineData("--at 10 --apply 99", "--apply 99: what is offered has the ranks 1, ")]
    [InlineData("--at 10 --apply 1 --device modal-mixture", "--apply 1: what is offered has the rank")]
    [InlineData("--at 10 --apply 1 --device neapolitan", "--apply 1: nothing is offered in measure 10, beat 1.")]
    [InlineData("--at x:y", "is not a place")]
    public void A_wrong_command_line_says_what_is_wrong(string options, string message)
    {
        var (status, output, error) = Run(["reharmonise", Score, .. options.Split(' ')]);
        Assert.Equal((2, ""), (status, output));
        Assert.Contains(message, error, StringComparison.Ordinal);
    }

    private const string Tune = """
        <?xml version="1.0"?>
        <score-partwise version="4.0">
          <part-list><score-part id="P1"><part-name>Flute</part-name></score-part></part-list>
          <part id="P1">
            <measure number="1">
              <attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>
              <note><pitch><step>C</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>half</type></note>
              <note><pitch><step>E</step><octave>5</octave></pitch><duration>2</duration><voice>1</voice><type>half</type></note>
            </measure>
            <measure number="2">
              <note><pitch><step>B</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type></note>
              <note><pitch><step>G</step><octave>4</octave></pitch><duration>2</duration><voice>1</voice><type>half</type></note>
            </measure>
            <measure number="3">
              <note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>whole</type></note>
            </measure>
          </part>
        </score-partwise>
        """;
}

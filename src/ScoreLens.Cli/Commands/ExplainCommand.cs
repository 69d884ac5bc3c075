using System.CommandLine;
using System.Globalization;
using System.Text;
using ScoreLens.Cli.Shared;
using ScoreLens.Density;
using ScoreLens.Devices;
using ScoreLens.Keys;
using ScoreLens.Notation;
using ScoreLens.Reading;
using ScoreLens.Theory;
using ScoreLens.Wording;

namespace ScoreLens.Cli.Commands;

/// <summary>One place of a score: the reading, its reasons, and the runner-up readings with their probabilities.</summary>
internal static class ExplainCommand
{
    public static Command Create()
    {
        var scores = new ScoreOptions();
        var clock = new ClockOption();
        var at = PlaceOption.Create(required: true);
        var keys = KeysOption.Create();
        var command = new DocumentedCommand(
            "explain",
            "Explains how one place of a score is read, with the reasons and the next best readings.",
            "explain song.musicxml --at 12:3",
            "explain cue.musicxml --at B+3",
            "explain cue.musicxml --at 01:02:10:00 --start 01:02:03:12 --frames 24 --tempo 96");
        scores.AddTo(command, writes: false);
        command.Add(at);
        command.Add(keys);
        clock.AddTo(command);
        command.SetAction(parse =>
        {
            var session = new Session(parse, scores);
            session.ForEach(
                input => Explain(session, input, parse.GetRequiredValue(at)!, parse.GetValue(keys), clock.Of(parse)), session.Output.Write);
            return session.Status;
        });
        return command;
    }

    private static string Explain(Session session, ScoreInput input, ScorePlace place, KeyRule keys, ClockOptions clock)
    {
        var score = ScoreFile.Load(input.Path, cancellationToken: session.Stopped).Score;
        session.SayUnfollowed(input, score, clock);
        // A movement that the file has not is said before a place in it is looked for.
        session.Chosen(score);
        if (!place.TryFind(score, session.Movement, clock, out var onset, out var problem)) throw new UsageException(problem);
        var analysis = session.Analyse(score, keys);
        var text = new StringBuilder();
        text.AppendLine(CultureInfo.InvariantCulture, $"{input.Path}, {Place(score, onset)}");
        var chord = analysis.Chords.LastOrDefault(c => c.Reading.Onset <= onset && c.Reading.End > onset);
        if (chord?.Reading.Numeral is not { } numeral)
        {
            text.AppendLine("  No chord can be named here.");
            return text.ToString();
        }

        var (reading, key) = (chord.Reading, chord.Reading.Key);
        var sounding = analysis.Sonorities.LastOrDefault(s => s.Onset <= onset && s.End > onset);
        Line("sounding", sounding is null || sounding.Notes.Count == 0 ? "nothing" : string.Join(' ', sounding.Notes.Select(n => n.Pitch)));
        Line("chord", $"{numeral} in {key}, which is {ChordName.Of(key, numeral)}: {string.Join(' ', numeral.Tones(key))}");
        if (reading.Written is { } written) Line(written.Figures is null ? "symbol" : "figures",
            $"{written.Figures ?? written.ToString()}{(written.Figures == "" ? "none, a triad on the bass" : "")}: "
                + $"{string.Join(' ', written.Tones)}");
        if (reading.Disagrees is { } instead)
            Line("disagrees", reading.Written is null ? $"the score writes {instead} here" : $"the notes here are {instead}");
        var here = ChordRow.Of(analysis, clock).First(r => r.Chord == chord);
        if (here.Rehearsal.Length > 0) Line("rehearsal", here.Rehearsal);
        if (here.Time.Length > 0) Line("time", here.Time);
        if (here.Colour.Count > 0) Line("colour", ColourText.Of(here.Colour));
        foreach (var pedal in PedalText.Of(here)) Line("pedal", pedal);
        Line("from", $"{Place(score, reading.Onset)}, for {reading.Duration} quarter notes");
        foreach (var rule in Enum.GetValues<KeyRule>().Where(r => r != keys))
            if (Under(analysis, rule, onset) is { } other && (other.Key, other.Numeral) != (key, numeral))
                Line($"by {rule.Name()}", $"{other.Numeral} in {other.Key}");
        Line("home key", analysis.HomeKeyAt(onset) + (chord.OutsideHome ? "; the chord lies outside it" : ""));
        if (chord.Function != HarmonicFunction.None) Line("function", chord.Function.Name());
        if (chord.Device is { } device) Line("device", device.Name() + (chord.Target is null ? "" : $" of {chord.Target}"));
        if (chord.Also.Count > 0) Line("also", string.Join(", ", chord.Also.Select(d => d.Name())));
        if (chord.Resolution != Resolution.None) Line("resolution", chord.Resolution.Name());
        if (chord.Reason is { } reason) Line("reason", ReasonText.Of(reason));
        Line("confidence", ShareText.WholePercent(reading.Confidence));
        foreach (var next in reading.RunnersUp) Line("or else",
            $"{next.Numeral} in {next.Key}, {ShareText.WholePercent(next.Probability)}");
        return text.ToString();

        void Line(string name, string value) => text.AppendLine(CultureInfo.InvariantCulture, $"  {name,-11} {value}");
    }

    // The reading of the same place by another rule of keys.
    private static ChordReading? Under(CueAnalysis analysis, KeyRule rule, Fraction onset) =>
        analysis.Under(rule).Reading.Chords.LastOrDefault(c => c.Onset <= onset && c.End > onset);

    private static string Place(Score score, Fraction onset)
    {
        var measure = score.MeasureAt(onset);
        var movement = score.Movements.Count > 1 ? $"movement {measure.Movement}, " : "";
        return $"{movement}measure {measure.Number}, beat {measure.BeatAt(onset)}";
    }
}

using static ScoreLens.Notation.MusicXml.MusicXmlNumbers;

namespace ScoreLens.Notation.MusicXml;

/// <summary>
/// Takes a <see cref="Score"/> from a MusicXML document, versions 1.0 to 4.0, partwise or timewise. docs/musicxml.md says
/// of every element whether it is read.
/// </summary>
internal static class MusicXmlReader
{
    /// <summary>Reads the score of a document.</summary>
    /// <param name="document">The document.</param>
    /// <param name="options">How it is read; null for the usual way, without labels that ScoreLens wrote.</param>
    /// <param name="cancellationToken">Gives the reading up.</param>
    /// <exception cref="ScoreFormatException">The document is not a score, or a number in it cannot be read.</exception>
    /// <exception cref="OperationCanceledException">The reading was given up.</exception>
    public static Score Read(
        MusicXmlDocument document, ScoreReadOptions? options = null, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(document);
        try
        {
            return new ScoreBuilder(document.Layout, options ?? ScoreReadOptions.Default)
                .Score(document.Limits, cancellationToken);
        }
        catch (OverflowException e)
        {
            throw new ScoreFormatException("Its times are too large or too finely divided to be reckoned exactly.", inner: e);
        }
    }

    private sealed class ScoreBuilder(MusicXmlLayout layout, ScoreReadOptions options)
    {
        private readonly List<Note> _notes = [];
        private readonly List<Rest> _rests = [];
        private readonly List<ChordSymbol> _symbols = [];
        private readonly List<ScoreText> _texts = [];
        private readonly List<TempoMark> _tempos = [];

        public Score Score(ScoreLimits limits, CancellationToken cancellationToken)
        {
            if (layout.PartIds.Count == 0) throw new ScoreFormatException("The score has no part.");
            var head = ScoreHead.Of(layout.Root);
            var unpitched = Enumerable.Range(0, layout.PartIds.Count).Select(IsUnpitched).ToArray();
            var signatures = KeySignatures.Of(layout, unpitched, head.IsConcertScore);
            cancellationToken.ThrowIfCancellationRequested();
            var measures = MeasureGrid.Of(layout, signatures);
            var parts = new List<Part>();
            for (var part = 0; part < layout.PartIds.Count; part++)
            {
                var reader = new PartReader(part, layout, measures, head, options);
                reader.Read(cancellationToken);
                _notes.AddRange(reader.Notes);
                _rests.AddRange(reader.Rests);
                _symbols.AddRange(reader.Symbols);
                _texts.AddRange(reader.Texts);
                _tempos.AddRange(reader.Tempos);
                var id = layout.PartIds[part];
                parts.Add(new Part(part, id, head.NameOf(id), reader.Staves, unpitched[part] || reader.IsPercussionOnly)
                {
                    IsTransposing = reader.IsTransposing,
                });
            }

            if (measures.MaxBy(m => m.Length) is { } longest) limits.Check(measures[^1].End, $"measure {longest.Number}");
            limits.Check(_notes);
            return new Score(
                head.Title,
                parts,
                measures,
                [.. _notes.OrderBy(n => n.Onset).ThenBy(n => n.Part).ThenBy(n => n.Staff)],
                [.. _symbols.OrderBy(s => s.Onset)],
                [.. _texts.OrderBy(t => t.Onset).ThenBy(t => t.Part)],
                [.. _rests.OrderBy(r => r.Onset).ThenBy(r => r.Part)])
            {
                Tempos = [.. _tempos.DistinctBy(t => t.Onset).OrderBy(t => t.Onset)],
            };
        }

        private bool IsUnpitched(int part)
        {
            var any = false;
            for (var measure = 0; measure < layout.MeasuresOf(part); measure++)
            {
                foreach (var placed in layout.Contents(part, measure))
                {
                    if (placed.Element.Name.LocalName != "note") continue;
                    if (Child(placed.Element, "pitch") is not null) return false;
                    any |= Child(placed.Element, "unpitched") is not null;
                }
            }

            return any;
        }
    }
}

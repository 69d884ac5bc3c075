namespace ScoreLens.Marking.PartWriting.Species;

/// <summary>A rule of two-part counterpoint in species, over or under a cantus firmus.</summary>
internal abstract class SpeciesRule : PartWritingRule
{
    /// <inheritdoc/>
    public override string Source =>
        "Fux, Gradus ad Parnassum (1725), first book; Jeppesen, Counterpoint; Salzer and Schachter, Counterpoint in Composition (from "
            + "memory).";

    internal sealed override IEnumerable<Fault> Find(VoicedProgression progression) =>
        TwoVoices.Of(progression) is { } voices ? Find(voices) : [];

    internal abstract IEnumerable<Fault> Find(TwoVoices voices);
}

namespace ScoreLens.Marking.Facts;

/// <summary>
/// What a remark states, as data; <see cref="Wording.RemarkWords"/> makes the sentences. A closed set: one record a shape of statement.
/// </summary>
internal abstract record RemarkFacts;

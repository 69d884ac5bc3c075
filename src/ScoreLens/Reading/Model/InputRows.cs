namespace ScoreLens.Reading.Model;

/// <summary>Rows of numbers inside an array: a part of the input of a <see cref="PackedMatrix"/>.</summary>
/// <param name="Array">Where they lie.</param>
/// <param name="Start">Where the first row starts.</param>
/// <param name="Stride">From one row to the next.</param>
/// <param name="Count">Numbers of a row that are taken.</param>
internal readonly record struct InputRows(float[] Array, int Start, int Stride, int Count)
{
    /// <summary>Rows that lie one after the other and are taken whole.</summary>
    public InputRows(float[] array, int start, int count)
        : this(array, start, count, count)
    {
    }
}

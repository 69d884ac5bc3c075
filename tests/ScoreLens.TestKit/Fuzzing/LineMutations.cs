namespace ScoreLens.TestKit.Fuzzing;

/// <summary>Changes a text line by line and cell by cell: tables and assignment files.</summary>
internal static class LineMutations
{
    private const int MostChanges = 5;

    /// <summary>Changes a text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="separators">What parts the cells of a line.</param>
    /// <param name="random">The random numbers.</param>
    public static string Apply(string text, string separators, Random random)
    {
        var lines = text.Split('\n').ToList();
        var changes = random.Next(1, MostChanges + 1);
        for (var i = 0; i < changes && lines.Count > 0; i++)
        {
            var at = random.Next(lines.Count);
            switch (random.Next(9))
            {
                case 0:
                    lines.RemoveAt(at);
                    break;
                case 1:
                    lines.Insert(at, lines[at]);
                    break;
                case 2:
                    var moved = lines[at];
                    lines.RemoveAt(at);
                    lines.Insert(random.Next(lines.Count + 1), moved);
                    break;
                case 3:
                    lines[at] = new string(' ', random.Next(6)) + lines[at].TrimStart();
                    break;
                case 4:
                    lines[at] = lines[at][..random.Next(lines[at].Length + 1)];
                    break;
                case 5:
                    lines[at] = lines[at].Insert(random.Next(lines[at].Length + 1), Nonsense.Value(random));
                    break;
                default:
                    lines[at] = Cell(lines[at], separators, random);
                    break;
            }
        }

        return string.Join('\n', lines);
    }

    // Another value in one cell of the line.
    private static string Cell(string line, string separators, Random random)
    {
        var separator = separators[random.Next(separators.Length)];
        var cells = line.Split(separator);
        var at = random.Next(cells.Length);
        cells[at] = random.Next(2) == 0 ? Nonsense.Near(cells[at].Trim(), random) : Nonsense.Value(random);
        return string.Join(separator, cells);
    }
}

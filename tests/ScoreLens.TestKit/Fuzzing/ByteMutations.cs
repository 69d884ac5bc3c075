namespace ScoreLens.TestKit.Fuzzing;

/// <summary>Changes a file as bytes: values, stretches that are dropped, doubled or moved, and where it ends.</summary>
internal static class ByteMutations
{
    private const int MostChanges = 6;

    public static byte[] Apply(byte[] source, Random random)
    {
        var bytes = source.ToList();
        var changes = random.Next(1, MostChanges + 1);
        for (var i = 0; i < changes && bytes.Count > 0; i++)
        {
            var at = random.Next(bytes.Count);
            var length = Math.Min(random.Next(1, 40), bytes.Count - at);
            switch (random.Next(8))
            {
                case 0:
                    bytes.RemoveRange(at, length);
                    break;
                case 1:
                    bytes.InsertRange(at, bytes.GetRange(at, length));
                    break;
                case 2:
                    var moved = bytes.GetRange(at, length);
                    bytes.RemoveRange(at, length);
                    bytes.InsertRange(random.Next(bytes.Count + 1), moved);
                    break;
                case 3 when random.Next(4) == 0:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 4:
                    bytes[at] = unchecked((byte)(bytes[at] + (random.Next(2) == 0 ? 1 : -1)));
                    break;
                case 5:
                    bytes[at] = ((byte[])[0, 1, 0x7F, 0x80, 0xFF, 0x90, 0xF0])[random.Next(7)];
                    break;
                default:
                    bytes[at] = (byte)random.Next(256);
                    break;
            }
        }

        return [.. bytes];
    }
}

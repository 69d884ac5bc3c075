using System.CommandLine;
using System.Globalization;
using System.Text;

namespace ScoreLens.Cli.Shared;

/// <summary>
/// One of several equal shares of the inputs, so that a scheduler can run one large job on many machines: number 1 to <paramref
/// name="Count"/>. An input's share depends on its name alone, so that it stays the same when others come or go.
/// </summary>
/// <param name="Number">Which share, from 1.</param>
/// <param name="Count">How many there are.</param>
internal sealed record Shard(int Number, int Count)
{
    /// <summary>The option <c>--shard</c>.</summary>
    public static Option<Shard?> Option() => new("--shard")
    {
        Description = "Only one of N equal shares of the inputs, chosen by their names, as 3/16: for running a large folder on several "
            + "machines.",
        HelpName = "K/N",
        CustomParser = result =>
        {
            var text = result.Tokens[0].Value;
            if (text.Split('/') is [var first, var second]
                && int.TryParse(first, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
                && int.TryParse(second, NumberStyles.None, CultureInfo.InvariantCulture, out var count)
                && number >= 1 && number <= count) return new Shard(number, count);
            result.AddError($"--shard: '{text}' is not a share such as 3/16, the third of sixteen.");
            return null;
        },
    };

    /// <summary>Whether an input of this name, with the folders that it was found in, falls into this share.</summary>
    public bool Holds(string name)
    {
        // FNV-1a with 64 bits (Fowler, Noll, Vo; RFC 9923), the same on every machine; string hashes differ from run to run.
        var hash = 14695981039346656037UL;
        foreach (var value in Encoding.UTF8.GetBytes(name.Replace('\\', '/'))) hash = unchecked((hash ^ value) * 1099511628211UL);
        // Its low bits depend on the low bits of the text alone; the last step of MurmurHash3 (Appleby) mixes all of them.
        hash = unchecked((hash ^ (hash >> 33)) * 0xff51afd7ed558ccdUL);
        hash = unchecked((hash ^ (hash >> 33)) * 0xc4ceb9fe1a85ec53UL);
        hash ^= hash >> 33;
        return (int)(hash % (ulong)Count) == Number - 1;
    }
}

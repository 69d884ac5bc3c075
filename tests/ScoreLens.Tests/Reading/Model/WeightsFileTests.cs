using System.Buffers.Binary;
using System.Diagnostics;
using System.Text.Json;
using ScoreLens.Reading.Model;
using ScoreLens.Theory;
using Xunit;

namespace ScoreLens.Tests.Reading.Model;

/// <summary>The weights file: what Python writes the library reads, both by the names of weights-format.json.</summary>
public sealed class WeightsFileTests
{
    private static readonly string Format = Path.Combine(Places.Root, "src", "ScoreLens", "Reading", "Model", "weights-format.json");
    private static readonly string Weights = Path.Combine(Places.Root, "src", "ScoreLens", "Reading", "Model", "weights.bin");

    // A network of one feature a plane: the weight of every feature is its number in the file, that of every factor likewise.
    private const string Writer = """
        import json, sys
        sys.path.insert(0, sys.argv[1])
        import weights_format as w
        width = len(w.FORMAT['planes']) * w.FORMAT['places'] + len(w.FORMAT['scalars'])
        vocabulary = [['major', 0, None, 'major', 0], ['minor', 2, 1, 'dominant-seventh', 3]]
        outputs = 5 * w.FORMAT['places'] + 1 + len(w.FORMAT['qualities']) + 4 + 2 + 2
        sizes = dict(front=1, hidden=1, layers=1, beat_layers=1)
        first = [[n % 120 for n in range(width - 1)] + [127]]
        arrays = {'first.weight': first, 'first.bias': [0.5], 'last.bias': [float(n) for n in range(outputs)]}
        w.write(sys.argv[2], vocabulary, [(sizes, arrays)])
        header, networks = w.read(sys.argv[2])
        w.check(header)
        assert networks == [(sizes, arrays)], networks
        """;

    [Fact]
    public void Format_names_what_the_library_counts()
    {
        using var format = JsonDocument.Parse(File.ReadAllText(Format));
        var root = format.RootElement;
        Assert.Equal(ModelFormat.Version, root.GetProperty("version").GetInt32());
        Assert.Equal(SonorityFeatures.Places, root.GetProperty("places").GetInt32());
        Assert.Equal(ModelFormat.Planes, Strings(root, "planes"));
        Assert.Equal(ModelFormat.Scalars, Strings(root, "scalars"));
        Assert.Equal(ModelFormat.Modes, Strings(root, "modes"));
        Assert.Equal(ModelFormat.Qualities, Strings(root, "qualities"));
        Assert.Equal(ModelFormat.Factors, Strings(root, "factors"));
        Assert.Equal(SonorityFeatures.Width, (ModelFormat.Planes.Count * SonorityFeatures.Places) + ModelFormat.Scalars.Count);
    }

    [Fact]
    public void Library_reads_what_the_trainer_writes()
    {
        var path = Path.GetTempFileName();
        try
        {
            Python(Writer, Path.Combine(Places.Root, "src", "ScoreLens.Training"), path);
            var file = WeightsFile.Parse(File.ReadAllBytes(path));
            Assert.Equal(
                [
                    new NumeralClass(Mode.Major, 0, null, ChordQuality.Major, 0),
                    new NumeralClass(Mode.Minor, 2, 1, ChordQuality.DominantSeventh, 3),
                ],
                file.Vocabulary);
            var network = Assert.Single(file.Networks);
            var first = file.Matrix(network, "first.weight");
            Assert.Equal(SonorityFeatures.Width, first.Inputs);
            Assert.Equal([1f], first.Scales);
            Assert.Equal([.. Enumerable.Range(0, first.Inputs - 1).Select(n => (sbyte)(n % 120)), 127], first.Numbers);
            Assert.Equal([0.5f], file.Vector(network, "first.bias"));
            var last = file.Vector(network, "last.bias");
            Assert.Equal([.. Enumerable.Range(0, last.Length).Select(n => (float)n)], last);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Names_of_a_file_may_stand_in_any_order()
    {
        var file = WeightsFile.Parse(Reheaded(h => h
            .Replace("\"major\",\"minor\"", "\"minor\",\"major\"", StringComparison.Ordinal)
            .Replace("\"sounding\",\"struck\"", "\"struck\",\"sounding\"", StringComparison.Ordinal)
            .Replace("\"cue-texture\",\"under-fermata\"", "\"under-fermata\",\"cue-texture\"", StringComparison.Ordinal)
            .Replace("\"italian-sixth\",\"french-sixth\"", "\"french-sixth\",\"italian-sixth\"", StringComparison.Ordinal)));
        var plain = WeightsFile.Parse(File.ReadAllBytes(Weights));
        var (weights, plainWeights) = (file.Matrix(file.Networks[0], "first.weight").Numbers,
            plain.Matrix(plain.Networks[0], "first.weight").Numbers);
        const int Width = SonorityFeatures.Places;
        Assert.Equal(plainWeights[..Width], weights[Width..(2 * Width)]);
        Assert.Equal(plainWeights[Width..(2 * Width)], weights[..Width]);
        Assert.Equal(plainWeights[SonorityFeatures.Width - 1], weights[SonorityFeatures.Width - 2]);
        var (last, plainLast) = (file.Vector(file.Networks[0], "last.bias"), plain.Vector(plain.Networks[0], "last.bias"));
        Assert.Equal(plainLast[..Width], last[Width..(2 * Width)]);
        var italian = NumeralVocabulary.FirstQuality + (int)ChordQuality.ItalianSixth;
        Assert.Equal(plainLast[italian], last[italian + 1]);
        Assert.Equal(plainLast[^1], last[^1]);
    }

    [Fact]
    public void Feature_that_a_file_does_not_name_weighs_nothing()
    {
        var file = WeightsFile.Parse(Reheaded(h => h.Replace(",\"under-fermata\"", "", StringComparison.Ordinal)));
        Assert.Equal(0, file.Matrix(file.Networks[0], "first.weight").Numbers[SonorityFeatures.Width - 1]);
    }

    [Theory]
    [InlineData("\"struck\"", "\"stricken\"")]
    [InlineData("\"dominant-seventh\"", "\"ninth\"")]
    [InlineData("\"places\":35", "\"places\":36")]
    public void Name_that_the_library_does_not_know_is_refused(string name, string other) =>
        Assert.Throws<InvalidDataException>(() => WeightsFile.Parse(Reheaded(h => h.Replace(name, other, StringComparison.Ordinal))));

    [Fact]
    public void Another_version_is_refused()
    {
        var bytes = File.ReadAllBytes(Weights);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(4), ModelFormat.Version + 1);
        Assert.Contains("version", Assert.Throws<InvalidDataException>(() => WeightsFile.Parse(bytes)).Message, StringComparison.Ordinal);
    }

    private static byte[] Reheaded(Func<string, string> change)
    {
        var bytes = File.ReadAllBytes(Weights);
        var length = BinaryPrimitives.ReadInt32LittleEndian(bytes.AsSpan(8));
        var before = System.Text.Encoding.UTF8.GetString(bytes, 12, length);
        var header = change(before);
        Assert.NotEqual(before, header);
        var text = System.Text.Encoding.UTF8.GetBytes(header);
        var size = new byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(size, text.Length);
        return [.. bytes[..8], .. size, .. text, .. bytes[(12 + length)..]];
    }

    private static IEnumerable<string> Strings(JsonElement root, string name) =>
        root.GetProperty(name).EnumerateArray().Select(e => e.GetString()!);

    private static void Python(string script, params string[] arguments)
    {
        var start = new ProcessStartInfo("python3", ["-c", script, .. arguments]) { RedirectStandardError = true };
        Process? process;
        try
        {
            process = Process.Start(start);
        }
        catch (System.ComponentModel.Win32Exception)
        {
            process = null;
        }

        if (process is null) Assert.Skip("python3 is not installed");
        using (process)
        {
            var error = process!.StandardError.ReadToEnd();
            process.WaitForExit();
            Assert.True(process.ExitCode == 0, error);
        }
    }
}

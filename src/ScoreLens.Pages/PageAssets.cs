using System.IO.Compression;
using System.Reflection;
using System.Security.Cryptography;
using System.Text;

namespace ScoreLens.Pages;

/// <summary>The style sheet, the scripts and, where it was built in, the engraving library that pages carry.</summary>
internal sealed class PageAssets
{
    private const string Prefix = "ScoreLens.Pages.";

    private static readonly Lazy<PageAssets> Built = new(() => new PageAssets(typeof(PageAssets).Assembly));

    private PageAssets(Assembly assembly)
    {
        string[] all = [.. assembly.GetManifestResourceNames().Where(n => n.StartsWith(Prefix, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal)];
        Style = string.Concat(all.Where(n => n.EndsWith(".css", StringComparison.Ordinal)).Select(n => Read(assembly, n)));
        var scripts = all.Where(n => n.EndsWith(".js", StringComparison.Ordinal)).Select(n => Read(assembly, n));
        Script = "(() => {\n\"use strict\";\n" + string.Concat(scripts) + "})();\n";
        if (!all.Contains(Prefix + "engraver.deflate")) return;
        using var packed = Open(assembly, Prefix + "engraver.deflate");
        using var bytes = new MemoryStream();
        packed.CopyTo(bytes);
        bytes.Position = 0;
        using var unpacked = new DeflateStream(bytes, CompressionMode.Decompress);
        EngraverHash = Hash(SHA256.HashData(unpacked));
        Engraver = Convert.ToBase64String(bytes.ToArray());
        Notices = Read(assembly, Prefix + "engraver.notices.txt");
    }

    /// <summary>The assets of this build of the library.</summary>
    public static PageAssets Current => Built.Value;

    public string Style { get; }

    public string Script { get; }

    /// <summary>The engraving library, deflated, in base 64; null where the build had no npm.</summary>
    public string? Engraver { get; }

    /// <summary>How a content security policy names the engraving library, else empty.</summary>
    public string EngraverHash { get; } = "";

    /// <summary>The licences of what the engraving library is made of, as they demand to be given; else empty.</summary>
    public string Notices { get; } = "";

    /// <summary>How a content security policy names an inline script or style.</summary>
    public static string Hash(string text) => Hash(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    /// <summary>Text, deflated, in base 64, as the page's scripts unpack it.</summary>
    public static string Pack(string text)
    {
        using var packed = new MemoryStream();
        using (var deflate = new DeflateStream(packed, CompressionLevel.Optimal,
            leaveOpen: true)) deflate.Write(Encoding.UTF8.GetBytes(text));
        return Convert.ToBase64String(packed.ToArray());
    }

    private static string Hash(byte[] sha256) => $"'sha256-{Convert.ToBase64String(sha256)}'";

    private static Stream Open(Assembly assembly, string name) =>
        assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The library was built without its resource {name}.");

    private static string Read(Assembly assembly, string name)
    {
        using var reader = new StreamReader(Open(assembly, name), Encoding.UTF8);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}

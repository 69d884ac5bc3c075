using System.IO.Compression;
using ScoreLens.Notation.MusicXml;

namespace ScoreLens.Output.Annotation;

/// <summary>Writes a score back into the kind of file that it came from.</summary>
internal static class ScorePackage
{
    /// <summary>The bytes of the file: plain XML, or the package with only the score in it replaced.</summary>
    public static byte[] Bytes(MusicXmlDocument document)
    {
        if (document.Package is not { } package) return document.Source;
        var memory = new MemoryStream();
        memory.Write(package);
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
        {
            var entry = zip.GetEntry(document.ScorePath)!;
            var written = entry.LastWriteTime;
            using (var stream = entry.Open())
            {
                stream.SetLength(0);
                stream.Write(document.Source);
            }

            // The same labels in the same score give the same bytes, whenever they are written.
            entry.LastWriteTime = written;
        }

        return memory.ToArray();
    }
}

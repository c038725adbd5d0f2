using System.Reflection;
using ScottPlot;
using SkiaSharp;

namespace Chamber.Service.Plots;

/// <summary>DejaVu Sans, embedded: a machine may have no fonts at all, and then text would silently be missing.</summary>
internal static class PlotFonts
{
    public const string Family = "DejaVu Sans";

    private static readonly Lazy<bool> Registered = new(Register);

    /// <summary>Makes the family known to the plots; the first call does it.</summary>
    public static void Use() => _ = Registered.Value;

    /// <summary>The font file.</summary>
    public static byte[] Bytes(bool bold)
    {
        using var stream = Open(bold);
        using var memory = new MemoryStream();
        stream.CopyTo(memory);
        return memory.ToArray();
    }

    private static Stream Open(bool bold)
    {
        var assembly = Assembly.GetExecutingAssembly();
        var name = assembly.GetManifestResourceNames()
            .Single(name => name.EndsWith(bold ? "DejaVuSans-Bold.ttf" : "DejaVuSans.ttf", StringComparison.Ordinal));
        return assembly.GetManifestResourceStream(name)!;
    }

    private static bool Register()
    {
        Fonts.FontResolvers.Insert(0, new Resolver());
        Fonts.Default = Family;
        return true;
    }

    private sealed class Resolver : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) => fontName == Family ? Load(bold) : null;

        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            CreateTypeface(fontName, weight >= FontWeight.SemiBold, false);

        private static SKTypeface Load(bool bold)
        {
            using var data = SKData.CreateCopy(Bytes(bold));
            return SKTypeface.FromData(data);
        }
    }
}

using ScottPlot;

namespace Chamber.Service.Plots;

/// <summary>Writes a picture in the form that its file name asks for.</summary>
internal static class PictureFile
{
    /// <exception cref="BadInputException">It is neither .png nor .svg, or cannot be written.</exception>
    public static void Write(string path, Plot plot)
    {
        switch (Path.GetExtension(path).ToLowerInvariant())
        {
            case ".png":
                OutputFiles.Write(path, () => File.WriteAllBytes(path, PlotStyle.Png(plot, PlotSize.Page)));
                break;
            case ".svg":
                OutputFiles.Write(path, () => File.WriteAllText(path, PlotStyle.Svg(plot, PlotSize.Page)));
                break;
            default:
                throw new BadInputException($"{path}: a picture is written as .png or .svg.");
        }
    }
}

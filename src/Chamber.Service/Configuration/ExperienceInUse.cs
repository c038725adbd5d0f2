using System.Security.Cryptography;
using Chamber.Core.Crops;
using Chamber.Core.Forecasts.Learning;
using Chamber.Core.Forecasts.Together;
using Chamber.Storage.Moving;

namespace Chamber.Service.Configuration;

/// <summary>What other homes have given to this one: experience.json in the data directory.</summary>
/// <param name="Homes">Those that gave.</param>
/// <param name="Own">The name under which this home gives; null when it never did.</param>
internal sealed record ExperienceInUse(IReadOnlyList<HomeExperience> Homes, string? Own = null)
{
    private const int LengthUnit = 1_000_000;

    /// <summary>What is kept; nothing where there is no file yet.</summary>
    /// <exception cref="BadInputException">The file cannot be used; the message names the place in it.</exception>
    public static ExperienceInUse Of(DataDirectory data) =>
        File.Exists(data.Experience) && Read(data.Experience) is var kept ? new(kept.Homes, kept.Own) : new([]);

    /// <summary>The same; of a file that cannot be used nothing.</summary>
    public static ExperienceInUse OfOrNothing(DataDirectory data)
    {
        try
        {
            return Of(data);
        }
        catch (BadInputException)
        {
            return new([]);
        }
    }

    /// <summary>The homes in a file that was given.</summary>
    /// <exception cref="BadInputException">It cannot be used; the message names the place in it.</exception>
    public static IReadOnlyList<HomeExperience> Given(string path) => Read(path).Homes;

    /// <summary>Writes a file to give away.</summary>
    /// <exception cref="BadInputException">It cannot be written.</exception>
    public static void Write(string path, HomeExperience home) =>
        OutputFiles.Write(path, () => File.WriteAllText(path, new ExperienceFile([home]).Write()));

    /// <summary>The same with a name under which this home gives.</summary>
    public ExperienceInUse Named() => Own is null
        ? this with { Own = RandomNumberGenerator.GetHexString(ExperienceFile.NameLength, lowercase: true) } : this;

    /// <summary>Keeps it in the data directory.</summary>
    /// <exception cref="BadInputException">It cannot be written.</exception>
    public void Keep(DataDirectory data)
    {
        data.Make();
        var text = new ExperienceFile(Homes) { Own = Own }.Write();
        OutputFiles.Write(data.Experience, () => WholeFile.Write(data.Experience, text, ownerOnly: true));
    }

    /// <summary>What other homes have taught together; this home's own share is never among them. Null for nothing.</summary>
    public SharedKnowledge? Learn() => SharedFit.Of([.. Homes.Where(home => home.Home != Own)], CropCatalog.Shipped);

    /// <summary>The same for a home that must go on: a broken file teaches nothing.</summary>
    /// <param name="data">Where the file is.</param>
    /// <param name="leaveOut">Is told what is left out, and why.</param>
    public static SharedKnowledge? LearnOrNothing(DataDirectory data, Action<string, string> leaveOut)
    {
        try
        {
            return Of(data).Learn();
        }
        catch (BadInputException problem)
        {
            leaveOut("experience.json", problem.Message + " Until it is right, nothing that other homes gave counts: take it again, or "
                + "chamber experience forget");
            return null;
        }
    }

    private static ExperienceFile Read(string path)
    {
        try
        {
            return new FileInfo(path) is { Exists: true, Length: > ExperienceFile.LengthMax }
                ? throw new BadInputException(
                    $"{path} is longer than {ExperienceFile.LengthMax / LengthUnit} MB: it is no file of experience.")
                : ExperienceFile.Read(File.ReadAllText(path));
        }
        catch (FormatException problem)
        {
            throw new BadInputException($"{path}: {problem.Message}", problem);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }
}

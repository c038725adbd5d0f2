using System.Diagnostics;

namespace Chamber.Fuzz;

/// <summary>Bad input by seed to one reader: each is used, or refused by its one kind of error. It ends at the first that is
/// neither.</summary>
internal sealed class Fuzzing(string reader)
{
    private readonly Mutation mutation = new(reader);
    private readonly Coverage? coverage = Coverage.OfBuild();
    private readonly Stopwatch clock = new();

    public string Reader => reader;

    /// <summary>How many inputs were given, how many of them could be used, and how many reached something new.</summary>
    public int Given { get; private set; }

    public int Used { get; private set; }

    public IEnumerable<byte[]> Found => mutation.Found;

    /// <summary>Branches taken, by the class of how often; null where nothing is instrumented.</summary>
    public int? Branches => coverage?.Seen;

    public TimeSpan Elapsed => clock.Elapsed;

    /// <summary>What it is reading, or read last.</summary>
    public byte[] Input { get; private set; } = [];

    /// <summary>What an input led to that is no answer; null where there was none.</summary>
    public string? Failure { get; private set; }

    /// <summary>Gives it so many inputs, or fewer where one fails.</summary>
    public void Run(int inputs)
    {
        using var readers = new Readers();
        var read = readers.Of(reader);
        clock.Start();
        for (; Given < inputs && Failure is null; Given++)
        {
            Input = mutation.Of(Given);
            Coverage.Begin();
            try
            {
                Used += read(Input) ? 1 : 0;
            }
            catch (Exception problem) when (Readers.IsAnswer(problem))
            {
                Failure = problem.Message.Length > 0 ? null : $"seed {Given}: refused without a word";
            }
            catch (Exception problem)
            {
                Failure = $"seed {Given}: {problem}";
            }

            if (coverage?.IsNew() == true)
            {
                mutation.Keep(Input);
            }
        }

        clock.Stop();
    }
}

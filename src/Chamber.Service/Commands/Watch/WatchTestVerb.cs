using System.CommandLine;
using Chamber.Core.Alerts.Scripts;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using NodaTime;

namespace Chamber.Service.Commands.Watch;

/// <summary>Plays stories about a home on the watch, with the limits and crops of this home.</summary>
internal static class WatchTestVerb
{
    private const long LengthMax = 4_000_000;

    public static Verb Create()
    {
        var files = new Argument<string[]>("file") { Description = "Scripts, as docs/alerts.md describes them.",
            Arity = ArgumentArity.OneOrMore };
        return new Verb("watch-test", "Plays scripts of readings and expected alerts with your own limits.", "chamber watch-test mat.watch",
            "chamber watch-test *.watch --json") { files }
            .Does(invocation =>
            {
                var limits = invocation.Settings.WatchLimits();
                var answers = invocation.Parse.GetValue(files)!.Select(
                    file => StoryAnswer.Of(file, WatchScript.Parse(file, Read(file), limits, invocation.Catalog.Find).Run())).ToList();
                invocation.Answer(answers, screen => Show(screen, answers));
                return answers.TrueForAll(answer => answer.Passed) ? ExitCode.Done : ExitCode.Failed;
            });
    }

    private static void Show(Screen screen, List<StoryAnswer> answers)
    {
        foreach (var answer in answers)
        {
            screen.Headline(answer.Expectations == 0 ? $"{answer.File}: it expects nothing, so nothing was tested. How: docs/alerts.md"
                : answer.Passed
                ? $"{answer.File}: as expected, {answer.Expectations} of {answer.Expectations}."
                : $"{answer.File}: NOT as expected, {answer.Expectations - answer.Failures.Count} of {answer.Expectations}.");
            foreach (var failure in answer.Failures)
            {
                screen.Say("   " + failure.Message);
            }
        }
    }

    private static string Read(string file)
    {
        try
        {
            return new FileInfo(file).Length <= LengthMax
                ? File.ReadAllText(file)
                : throw new BadInputException($"{file} is larger than {LengthMax / 1_000_000} MB: split the script.");
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            throw new BadInputException($"{file} cannot be read: {FileFault.Of(problem)}", problem);
        }
    }

    /// <summary>How one story went.</summary>
    private sealed record StoryAnswer(string File, bool Passed, int Expectations, IReadOnlyList<WatchScriptFailure> Failures,
        IReadOnlyList<StoryAlert> Alerts)
    {
        public static StoryAnswer Of(string file, WatchScriptResult result) => new(
            file,
            result.Failures.Count == 0,
            result.Expectations,
            result.Failures,
            [.. result.Alerts.Select(alert => new StoryAlert(Choice.Word(alert.Kind), alert.Subject.Name, Choice.Word(alert.Severity),
                alert.Since, alert.OpenedAt, alert.ClosedAt))]);
    }

    private sealed record StoryAlert(string Condition, string Subject, string Severity, Instant Since, Instant OpenedAt, Instant? ClosedAt);
}

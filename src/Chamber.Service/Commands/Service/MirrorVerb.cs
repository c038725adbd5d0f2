using System.Globalization;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;
using Chamber.Service.Mirror;
using Spectre.Console;

namespace Chamber.Service.Commands.Service;

/// <summary>How far the outward copy of the history is behind, and filling it up now.</summary>
internal static class MirrorVerb
{
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(500);

    public static Verb Create()
    {
        var verb = new Verb("mirror", "Shows how far the copy on the other server is behind.", "chamber mirror", "chamber mirror --json",
            "chamber mirror fill") { Fill() };
        return verb.Does(invocation => Show(invocation, Status(invocation, Require(invocation))));
    }

    private static Verb Fill() =>
        new Verb("fill", "Sends everything the copy lacks, with a progress bar, or shows how far the running service has got.",
            "chamber mirror fill")
            .Does(async invocation =>
            {
                var mirror = Require(invocation);
                await WithProgress(invocation, Status(invocation, mirror), async tell =>
                {
                    using var hold = SendingHold.TryTake(invocation.Data.MirrorLock);
                    await (hold is null ? Follow(invocation, mirror, tell) : Send(invocation, mirror, tell));
                });
                Show(invocation, Status(invocation, mirror));
            });

    private static MirrorSettings Require(Invocation invocation) => invocation.Settings.Mirror
        ?? throw new BadInputException($"There is no mirror. Name the server in {invocation.Data.Settings}: \"mirror\": {{ \"url\": "
            + $"\"http://192.168.1.10:8086\", \"bucket\": \"chamber\", \"tokenFile\": \"mirror-token.txt\" }}");

    private static MirrorStatus Status(Invocation invocation, MirrorSettings mirror)
    {
        using var hold = SendingHold.TryTake(invocation.Data.MirrorLock);
        return MirrorStatus.Of(invocation.Store, MirrorCursor.Load(invocation.Store, mirror.Target()), invocation.Now,
            isSending: hold is null);
    }

    private static async Task Send(Invocation invocation, MirrorSettings mirror, Action<MirrorStatus> tell)
    {
        using var server = new MirrorServer(mirror, invocation.Data);
        var pump = new MirrorPump(invocation.Store, mirror, server.SendAsync, new(invocation.Store, () => invocation.Home),
            new(invocation.Data), invocation.Clock);
        while (true)
        {
            var step = await pump.StepAsync(invocation.Cancel);
            if (step.Trouble is { } trouble)
            {
                throw new IOException(
                    $"The copy could not be filled: {trouble} What was sent stays sent; run it again to go on from there.");
            }

            if (!pump.HasMore)
            {
                return;
            }

            tell(MirrorStatus.Of(invocation.Store, pump.Cursor, invocation.Now, isSending: true));
        }
    }

    private static async Task Follow(Invocation invocation, MirrorSettings mirror, Action<MirrorStatus> tell)
    {
        for (var status = Load(); !status.IsUpToDate; status = Load())
        {
            tell(status);
            await Task.Delay(Glance, TimeProvider.System, invocation.Cancel);
        }

        MirrorStatus Load() =>
            MirrorStatus.Of(invocation.Store, MirrorCursor.Load(invocation.Store, mirror.Target()), invocation.Now, isSending: true);
    }

    // What is folded from readings takes longer to make than readings take to send, so it has its own bar.
    private static async Task WithProgress(Invocation invocation, MirrorStatus before, Func<Action<MirrorStatus>, Task> work)
    {
        if (invocation.Json || !invocation.Screen.IsTerminal)
        {
            await work(_ => { });
            return;
        }

        await invocation.Screen.Console.Progress()
            .Columns(new TaskDescriptionColumn { Alignment = Justify.Left }, new ProgressBarColumn(), new PercentageColumn(),
                new RemainingTimeColumn())
            .AutoClear(true)
            .StartAsync(async bars =>
            {
                var readings = bars.AddTask("Readings", maxValue: Math.Max(1, before.Unsent));
                var hours = bars.AddTask("Warm-hours, forecasts", maxValue: Math.Max(1, before.Hours));
                await work(status =>
                {
                    readings.Value = Math.Max(readings.Value, readings.MaxValue - status.Unsent);
                    hours.Value = Math.Max(hours.Value, hours.MaxValue - status.Hours);
                });
            });
    }

    private static void Show(Invocation invocation, MirrorStatus status) => invocation.Answer(status, screen =>
    {
        screen.Headline(Headline(status));
        screen.Say(string.Create(CultureInfo.InvariantCulture,
            $"{status.SentLines:#,0} lines sent{(status.SentAt is { } at ? $", the last {invocation.Show(at)}" : string.Empty)}."));
        if (status.SetAside > 0)
        {
            screen.Warn(string.Create(CultureInfo.InvariantCulture,
                $"{status.SetAside:#,0} lines were refused for good; see {invocation.Data.MirrorRefused}"));
        }

        screen.Aside(status.IsSending ? "The service is sending." : status.IsUpToDate ? "It stays so while the service runs."
            : "Nothing is being sent: start the service, or run chamber mirror fill");
    });

    private static string Headline(MirrorStatus status) => status switch
    {
        { IsUpToDate: true } => $"The copy at {status.Target} is up to date.",
        { Behind: { } behind } =>
            string.Create(CultureInfo.InvariantCulture,
            $"The copy at {status.Target} is {DurationText.Show(behind)} behind: {status.Unsent:#,0} readings wait in the journal."),
        _ => string.Create(CultureInfo.InvariantCulture, $"The copy at {status.Target} has every reading; warm-hours, suitability and "
            + $"forecasts of {status.Hours:#,0} hours are still to be sent."),
    };
}

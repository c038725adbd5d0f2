using System.Globalization;
using Chamber.Service.Configuration;
using Chamber.Service.Mirror;
using Chamber.Service.Words;
using Spectre.Console;

namespace Chamber.Service.Commands;

/// <summary>How far the outward copy of the history is behind, and filling it up now.</summary>
internal static class MirrorVerb
{
    private static readonly TimeSpan Glance = TimeSpan.FromMilliseconds(500);

    public static Verb Create()
    {
        var verb = new Verb("mirror", "How far the outward copy of the history is behind.", "chamber mirror", "chamber mirror --json", "chamber mirror fill") { Fill() };
        return verb.Does(invocation => Show(invocation, Status(invocation, Require(invocation))));
    }

    private static Verb Fill() =>
        new Verb("fill", "Sends everything that the copy has not got yet, with a progress bar; where the service is at it, shows how far it has come.", "chamber mirror fill")
            .Does(async invocation =>
            {
                var mirror = Require(invocation);
                var unsent = Math.Max(1, Status(invocation, mirror).Unsent);
                await WithProgress(invocation, async bar =>
                {
                    using var hold = MirrorHold.TryTake(invocation.Data);
                    void Tell(MirrorCursor cursor) => bar(1 - Math.Min(1.0, (double)invocation.Store.Journal.Unread(cursor.Mark()).Rows / unsent));
                    await (hold is null ? Follow(invocation, mirror, Tell) : Send(invocation, mirror, Tell));
                });
                Show(invocation, Status(invocation, mirror));
            });

    private static MirrorSettings Require(Invocation invocation) => invocation.Settings.Mirror
        ?? throw new BadInputException($"There is no mirror. Name the server in {invocation.Data.Settings}: \"mirror\": {{ \"url\": \"http://192.168.1.10:8086\", \"bucket\": \"chamber\", \"tokenFile\": \"mirror-token.txt\" }}");

    private static MirrorStatus Status(Invocation invocation, MirrorSettings mirror)
    {
        using var hold = MirrorHold.TryTake(invocation.Data);
        return MirrorStatus.Of(invocation.Store, MirrorCursor.Load(invocation.Store, mirror.Target()), invocation.Now, isSending: hold is null);
    }

    private static async Task Send(Invocation invocation, MirrorSettings mirror, Action<MirrorCursor> tell)
    {
        using var server = new MirrorServer(mirror, invocation.Data);
        var pump = new MirrorPump(invocation.Store, mirror, server.SendAsync, new(() => invocation.Home), new(invocation.Data), invocation.Clock);
        while (true)
        {
            var step = await pump.StepAsync(invocation.Cancel);
            if (step.Trouble is { } trouble)
            {
                throw new IOException($"The copy could not be filled: {trouble} What was sent stays sent; the same command goes on from there.");
            }

            if (!pump.HasMore)
            {
                return;
            }

            tell(pump.Cursor);
        }
    }

    private static async Task Follow(Invocation invocation, MirrorSettings mirror, Action<MirrorCursor> tell)
    {
        for (var cursor = Load(); invocation.Store.Journal.Unread(cursor.Mark()).Rows > 0; cursor = Load())
        {
            tell(cursor);
            await Task.Delay(Glance, TimeProvider.System, invocation.Cancel);
        }

        MirrorCursor Load() => MirrorCursor.Load(invocation.Store, mirror.Target());
    }

    private static async Task WithProgress(Invocation invocation, Func<Action<double>, Task> work)
    {
        if (invocation.Json || !invocation.Screen.IsTerminal)
        {
            await work(_ => { });
            return;
        }

        await invocation.Screen.Console.Progress()
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .AutoClear(true)
            .StartAsync(async bars =>
            {
                var bar = bars.AddTask("History to the mirror", maxValue: 1);
                await work(done => bar.Value = done);
            });
    }

    private static void Show(Invocation invocation, MirrorStatus status) => invocation.Answer(status, screen =>
    {
        screen.Headline(status.Unsent == 0
            ? $"The copy at {status.Target} is up to date."
            : string.Create(CultureInfo.InvariantCulture, $"The copy at {status.Target} is {DurationText.Show(status.Behind!.Value)} behind: {status.Unsent:#,0} readings wait in the journal."));
        screen.Say(string.Create(CultureInfo.InvariantCulture, $"{status.SentLines:#,0} lines sent{(status.SentAt is { } at ? $", the last {invocation.Show(at)}" : string.Empty)}."));
        if (status.SetAside > 0)
        {
            screen.Warn(string.Create(CultureInfo.InvariantCulture, $"{status.SetAside:#,0} lines were refused for good; see {invocation.Data.MirrorRefused}"));
        }

        screen.Aside(status.IsSending ? "The service is sending." : "Nothing is sending now: start the service, or chamber mirror fill");
    });
}

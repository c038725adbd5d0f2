using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using Chamber.Mqtt.Intake;
using Chamber.Testing;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace Chamber.Service.Tests.Mqtt;

/// <summary>What becomes of a message that the store will not take, and of everything that came before and after it. Readings, times and
/// counts are invented.</summary>
public sealed class PutAsideTests
{
    private const string Topic = "chamber/shelf/reading";

    // Real waits between tries, only short ones.
    private static readonly IntakeOptions Hasty =
        new() { RetryWaitMin = TimeSpan.FromMilliseconds(1), RetryWaitMax = TimeSpan.FromMilliseconds(2) };

    [Fact]
    public async Task Behind_a_real_broker_only_unstorable_messages_are_set_aside()
    {
        int[] bad = [0, 123, 124, 499];
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig(options: Hasty);
        rig.Log.Expect("CommitFailed").Expect("PutAside");
        rig.BeforeCommit = Refusing(reading => bad.Any(number => Number(reading) == SubscriberTests.Number(number)));
        await rig.Join(SubscriberTests.Address(mosquitto));

        await mosquitto.PublishLines(Topic, SubscriberTests.Numbered(0, 500));
        await mosquitto.Publish(Topic, SubscriberTests.Numbered(500, 1).Single());

        await rig.Until(() => rig.Temperatures.Contains(SubscriberTests.Number(500)));
        Assert.Equal(Enumerable.Range(0, 501).Except(bad).Select(SubscriberTests.Number), rig.Temperatures);
        Assert.Equal(
            bad.Select(number => (RefusalReason.NotStored, Topic, "shelf", SubscriberTests.Number(number))),
            rig.Refusals.Select(refusal => (refusal.Reason, refusal.Source, refusal.Probe?.Text ?? string.Empty,
                Math.Round(Decoding.Own(refusal.Raw).Readings.Single().Temperature!.Value.Celsius, 3))));
        Assert.All(rig.Refusals, refusal => Assert.Contains("record the values", refusal.Fix, StringComparison.Ordinal));
        Assert.Equal(bad.Length, rig.Intake.Metrics.Refused[RefusalReason.NotStored]);

        // Also they are acknowledged: a batch is, before the next one is committed.
        await mosquitto.Publish(Topic, SubscriberTests.Numbered(501, 1).Single());
        await rig.Until(() => rig.Temperatures.Contains(SubscriberTests.Number(501)));
        Assert.InRange(rig.Intake.Metrics.Acknowledged, 501, 502);
        var said = rig.Log.Lines.Where(line => line.Event.Name == "PutAside").Select(line => line.Message).ToList();
        Assert.Equal(bad.Length, said.Count);
        Assert.StartsWith($"The message on {Topic} could not be stored and is set aside, so that the others can go on. This one not. ",
            said[0], StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_condition_of_the_store_is_waited_out_and_nothing_is_set_aside()
    {
        await using var mosquitto = await Mosquitto.Start();
        await using var rig = new IntakeRig(options: Hasty);
        rig.Log.Expect("CommitFailed");
        var failures = 10 * new IntakeOptions().TriesMax;
        rig.BeforeCommit = _ => Interlocked.Decrement(ref failures) >= 0 ? throw new IOException("No space left on device")
            : Task.CompletedTask;
        await rig.Join(SubscriberTests.Address(mosquitto));

        await mosquitto.PublishLines(Topic, SubscriberTests.Numbered(0, 30));

        await rig.Until(() => rig.Temperatures.Count == 30);
        Assert.Empty(rig.Refusals);
        Assert.Contains(rig.Log.Lines, line => line.Event.Name == "CommitsAgain");
        Assert.Null(rig.Intake.Metrics.LastFailure);
    }

    [Fact]
    public async Task A_message_set_aside_keeps_only_its_plain_letters()
    {
        await using var rig = new IntakeRig(options: Hasty);
        rig.Log.Expect("CommitFailed").Expect("PutAside");
        rig.BeforeCommit = batch => batch.Refusals.Any(refusal => refusal.Raw.Contains('°', StringComparison.Ordinal))
            ? throw new ArgumentException("Not in this file.") : Task.CompletedTask;

        await rig.Intake.PostAsync(new(Decoding.Message(Topic, "21.5 °C\0\\")), TestContext.Current.CancellationToken);

        await rig.Until(() => rig.Refusals.Count == 1);
        Assert.Equal((RefusalReason.NotStored, @"21.5 \xC2\xB0C\x00\x5C"), (rig.Refusals[0].Reason, rig.Refusals[0].Raw));
    }

    [Fact]
    public async Task While_the_store_cannot_say_whether_a_probe_is_known_its_message_waits()
    {
        var failures = 12;
        await using var rig = new IntakeRig(options: Hasty,
            decoder: new() { AcceptsProbe = _ => Interlocked.Decrement(ref failures) >= 0
            ? throw new IOException("No such disk.") : true });
        rig.Log.Expect("DecodingWaits");

        await rig.Intake.PostAsync(new(Decoding.Message(Topic, """{"temperature": 21.5}""")), TestContext.Current.CancellationToken);
        await rig.Intake.PostAsync(new(Decoding.Message(Topic, """{"temperature": 22.5}""")), TestContext.Current.CancellationToken);

        await rig.Until(() => rig.Temperatures.Count == 2);
        Assert.Equal([21.5, 22.5], rig.Temperatures);
        Assert.Empty(rig.Refusals);
    }

    [Fact]
    public async Task A_message_over_which_the_decoder_stumbles_is_put_aside_too()
    {
        await using var rig = new IntakeRig(options: Hasty,
            decoder: new() { AcceptsProbe = probe => probe.Text == "odd"
            ? throw new InvalidOperationException("A fault of ours.") : true });
        rig.Log.Expect("PutAside");

        await rig.Intake.PostAsync(new(Decoding.Message("chamber/odd/reading", """{"temperature": 21.5}""")),
            TestContext.Current.CancellationToken);
        await rig.Intake.PostAsync(new(Decoding.Message(Topic, """{"temperature": 22.5}""")), TestContext.Current.CancellationToken);

        await rig.Until(() => rig.Temperatures.Count == 1);
        Assert.Equal("chamber/odd/reading", Assert.Single(rig.Refusals).Source);
    }

    /// <summary>Whichever messages the store refuses, and whenever it is out of order in between: each is stored once, in order, or put
    /// aside once.</summary>
    [Property(MaxTest = 200)]
    public async Task Each_message_is_stored_or_put_aside_and_none_twice(PositiveInt count, int seed)
    {
        var messages = 1 + count.Get % 40;
        var random = new Random(seed);
        var bad = Enumerable.Range(0, messages).Where(_ => random.Next(4) == 0).ToHashSet();
        await using var rig =
            new IntakeRig(options: new() { RetryWaitMin = TimeSpan.Zero, Linger = TimeSpan.Zero, BatchLengthMax = 16, TriesMax = 2 });
        rig.Log.Expect("CommitFailed").Expect("PutAside");
        var refusing = Refusing(reading => bad.Contains((int)Number(reading)));
        rig.BeforeCommit = batch => random.Next(5) == 0 ? throw new IOException("For now.") : refusing(batch);

        for (var number = 0; number < messages; number++)
        {
            await rig.Intake.PostAsync(
                new(Decoding.Message(Topic, FormattableString.Invariant($"{{\"temperature\": {number}}}"),
                receivedAt: Decoding.Now + NodaTime.Duration.FromSeconds(number))), TestContext.Current.CancellationToken);
        }

        await rig.Until(() => rig.Temperatures.Count + rig.Refusals.Count == messages);
        Assert.Equal(Enumerable.Range(0, messages).Where(number => !bad.Contains(number)),
            rig.Temperatures.Select(celsius => (int)celsius));
        Assert.Equal(bad.Order().Select(number => FormattableString.Invariant($"{{\"temperature\": {number}}}")),
            rig.Refusals.Select(refusal => refusal.Raw));
        Assert.Equal(messages, rig.Intake.Metrics.Committed);
    }

    private static Func<DecodedBatch, Task> Refusing(Func<Reading, bool> isBad) =>
        batch => batch.Readings.Any(isBad) ? throw new InvalidOperationException("This one not.") : Task.CompletedTask;

    private static double Number(Reading reading) => Math.Round(reading.Temperature!.Value.Celsius, 3);
}

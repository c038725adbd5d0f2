using System.CommandLine;
using Chamber.Service.Checks;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Notify;
using Chamber.Service.Workers;

namespace Chamber.Service.Commands.Watch;

/// <summary>Proves a channel by sending a notice through it now.</summary>
internal static class NotifyTestVerb
{
    public static Verb Create()
    {
        var channel = new Argument<string?>("channel") { Description = "Which: email, webhook, webPush, or mqtt for the broker. Default: "
            + "all that are set up.", Arity = ArgumentArity.ZeroOrOne };
        return new Verb("notify-test", "Sends a test notice now, and says what failed and what to do.", "chamber notify-test",
            "chamber notify-test email") { channel }
            .Does(async invocation =>
            {
                if (invocation.Parse.GetValue(channel) == "mqtt")
                {
                    return await Mqtt(invocation);
                }

                using var channels = NoticeParts.Channels(invocation.Context);
                var asked = ChannelProof.Choose(channels.All(), invocation.Parse.GetValue(channel));
                var composer = NoticeComposer.For(invocation.Settings, invocation.Data);
                var proofs = await ChannelProof.TryAsync(asked, composer, invocation.Now, invocation.Cancel);
                invocation.Answer(proofs, screen =>
                {
                    foreach (var proof in proofs)
                    {
                        screen.Headline(proof.Good ? $"{proof.Channel}: the test was accepted." : $"{proof.Channel}: {proof.Reason}");
                    }
                });
                return proofs.All(proof => proof.Good) ? ExitCode.Done : ExitCode.Failed;
            });
    }

    private static async Task<int> Mqtt(Invocation invocation)
    {
        var finding = (await BrokerFindings.Broker(invocation.Settings, invocation.Data, invocation.Cancel))[0];
        var proof = new ChannelProof("mqtt", finding.Good, finding.Good ? "" : finding.Line);
        invocation.Answer(new[] { proof }, screen => screen.Headline($"mqtt: {finding.Line}."));
        return proof.Good ? ExitCode.Done : ExitCode.Failed;
    }
}

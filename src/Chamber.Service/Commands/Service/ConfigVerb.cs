using System.Text.Json;
using Chamber.Service.Commands.Terminal;
using Chamber.Service.Configuration;

namespace Chamber.Service.Commands.Service;

/// <summary>Shows the settings in force, those of the file and of the environment together with the defaults.</summary>
internal static class ConfigVerb
{
    public static Verb Create() => new("config", "Settings of chamber.json.", "chamber config show") { Show(), Schema() };

    private static Verb Show() =>
        new Verb("show", "Prints the settings in force, as chamber.json would say them, without secrets.", "chamber config show")
            .Does(invocation =>
            {
                var settings = invocation.Settings;
                var shown = settings with
                {
                    Home = settings.Home with { Zone = invocation.Zone },
                    Broker = settings.Broker with { Password = Hidden(settings.Broker.Password) },
                    Notices = Hidden(settings.Notices),
                    Club = settings.Club is { } club ? club with { Password = Hidden(club.Password) } : null,
                    Mirror = settings.Mirror is { } mirror ? mirror with { Token = Hidden(mirror.Token) } : null,
                    Telemetry = settings.Telemetry is { } telemetry ? telemetry with { Token = Hidden(telemetry.Token) } : null,
                };
                invocation.CommandContext.Out.WriteLine(JsonSerializer.Serialize(shown, SettingsText.Options));
            });

    private static Verb Schema() =>
        new Verb("schema", "Prints the JSON Schema of chamber.json, for an editor that checks while you write.",
            "chamber config schema")
            .Does(invocation => invocation.CommandContext.Out.Write(SettingsSchema.Text()));

    private static NoticeOptions Hidden(NoticeOptions notices) => notices with
    {
        Email = notices.Email is { } email ? email with { Password = Hidden(email.Password) } : null,
        Webhook = notices.Webhook is { } webhook ? webhook with { Secret = Hidden(webhook.Secret) } : null,
    };

    // Long enough to be a secret of any kind, so that what was shown can be read back.
    private static string? Hidden(string? secret) => secret is null ? null : "(set, but not shown)";
}

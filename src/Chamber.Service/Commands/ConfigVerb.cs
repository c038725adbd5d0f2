using System.Text.Json;
using Chamber.Service.Configuration;

namespace Chamber.Service.Commands;

/// <summary>Shows the settings in force, those of the file and of the environment together with the defaults.</summary>
internal static class ConfigVerb
{
    public static Verb Create() => new("config", "Settings of chamber.json.", "chamber config show") { Show() };

    private static Verb Show() =>
        new Verb("show", "Prints the settings in force, without secrets, in the form of chamber.json.", "chamber config show")
            .Does(invocation =>
            {
                var settings = invocation.Settings;
                var shown = settings with
                {
                    Home = settings.Home with { Zone = invocation.Zone },
                    Broker = settings.Broker with { Password = settings.Broker.Password is null ? null : "(set)" },
                };
                invocation.Around.Out.WriteLine(JsonSerializer.Serialize(shown, SettingsText.Options));
            });
}

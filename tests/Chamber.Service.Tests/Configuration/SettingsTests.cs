using System.Text.Json;
using Chamber.Core.Climate;
using Chamber.Service.Configuration;
using Chamber.Service.Tests.Commands;
using Chamber.Testing;
using NodaTime;

namespace Chamber.Service.Tests.Configuration;

/// <summary>Settings are invented.</summary>
public class SettingsTests
{
    private static readonly string Cases = SourceTree.Path("tests", "cases", "settings");

    public static TheoryData<string> BadFiles =>
        [.. Directory.EnumerateFiles(Path.Combine(Cases, "bad"), "*.json").Select(path => Path.GetFileNameWithoutExtension(path))
            .Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(BadFiles))]
    public async Task A_bad_settings_file_is_told_in_one_line_with_file_key_and_fix(string name)
    {
        using var folder = new TempFolder();
        folder.Write("chamber.json",
            await File.ReadAllTextAsync(Path.Combine(Cases, "bad", name + ".json"), TestContext.Current.CancellationToken));
        var expected = await File.ReadAllTextAsync(Path.Combine(Cases, "bad", name + ".txt"), TestContext.Current.CancellationToken);

        var outcome = await InProcess.Run("config", "show", "--data", folder.Path);

        Assert.Equal(new Outcome(2, string.Empty, expected),
            outcome with { Error = outcome.Error.Replace(folder.Path, "DIR", StringComparison.Ordinal) });
    }

    [Fact]
    public void A_part_that_says_nothing_is_as_if_it_was_left_out()
    {
        var made = Parts(typeof(Settings)).ToList();
        Assert.True(made.Count > 15);
        Assert.All(made, type => Assert.Equal(
            JsonSerializer.Serialize(Activator.CreateInstance(type), type, SettingsText.Options),
            JsonSerializer.Serialize(JsonSerializer.Deserialize("{}", type, SettingsText.Options), type, SettingsText.Options)));
    }

    // Without it the JSON library compiles its way through the settings at every start.
    [Fact]
    public void How_settings_are_read_is_made_while_compiling() => Assert.All(Parts(typeof(Settings)), type =>
        Assert.Same(((System.Text.Json.Serialization.Metadata.IJsonTypeInfoResolver)new SettingsContext())
            .GetTypeInfo(type, SettingsText.Options)!.OriginatingResolver!.GetType(),
            SettingsText.Options.GetTypeInfo(type).OriginatingResolver!.GetType()));

    private static IEnumerable<Type> Parts(Type whole) => whole.GetProperties().Where(property => property.CanWrite)
        .Select(property => property.PropertyType)
        .SelectMany(type => type.IsGenericType ? type.GetGenericArguments() : [type])
        .Where(type => type.IsClass && type.Namespace is { } space && space.StartsWith("Chamber", StringComparison.Ordinal)
            && type.GetConstructor([]) is not null)
        .SelectMany(Parts).Append(whole).Distinct();

    [Fact]
    public void Without_a_file_the_defaults_are_in_force()
    {
        using var folder = new TempFolder();
        var settings = SettingsFile.Load(new(folder.Path), []);
        Assert.True(settings.Broker.Own);
        Assert.Equal("127.0.0.1", Assert.Single(settings.Broker.Listen).Address);
        Assert.Null(settings.QuietHours);
    }

    [Fact]
    public void The_sample_file_says_the_defaults()
    {
        using var folder = new TempFolder();
        var defaults = SettingsFile.Load(new(folder.Path), []);
        folder.Write("chamber.json", File.ReadAllText(SourceTree.Path("config", "chamber.jsonc")));
        var sample = SettingsFile.Load(new(folder.Path), []);
        Assert.Equal(JsonSerializer.Serialize(defaults with { Broker = defaults.Broker with { Listen = [new() { Port = 1883 }] } },
            SettingsText.Options), JsonSerializer.Serialize(sample, SettingsText.Options));
    }

    [Fact]
    public void The_environment_wins_over_the_file()
    {
        using var folder = new TempFolder();
        folder.Write("chamber.json", """{ "broker": { "own": false, "host": "box" }, /* ours */ "units": "F", }""");
        var settings = SettingsFile.Load(new(folder.Path),
            [new("CHAMBER_BROKER__PORT", "1885"), new("CHAMBER_QUIET_HOURS__FROM", "21:30"), new("CHAMBER_DATA", "ignored")]);
        Assert.Equal(("box", 1885, TemperatureScale.Fahrenheit), (settings.Broker.Host, settings.Broker.Port, settings.Units));
        Assert.Equal(new LocalTime(21, 30), settings.QuietHours?.From);
    }

    [Fact]
    public void A_bad_variable_is_named()
    {
        using var folder = new TempFolder();
        var problem = Assert.Throws<BadInputException>(() => SettingsFile.Load(new(folder.Path), [new("CHAMBER_LIMITS__PROBES", "many")]));
        Assert.Equal("CHAMBER_LIMITS__PROBES: limits.probes must be a whole number.", problem.Message);
    }

    [Fact]
    public async Task What_is_shown_can_be_read_back_and_has_no_secret()
    {
        using var folder = new TempFolder();
        folder.Write("chamber.json",
            """{ "broker": { "own": false, "host": "box", "user": "u", "password": "s3cret" }, "notices": { "email": { "host": "m", "from": "a@b.c", "to": ["a@b.c"], "user": "u", "password": "s3cret-mail" }, "webhook": { "url": "http://x/", "secret": "s3cret-of-the-webhook" } }, "mirror": { "url": "http://box:8086", "token": "s3cret-of-the-mirror" }, "home": { "zone": "Europe/Berlin" } }""");
        var outcome = await InProcess.Run("config", "show", "--data", folder.Path);
        Assert.DoesNotContain("s3cret", outcome.Out, StringComparison.Ordinal);

        folder.Write("chamber.json", outcome.Out);
        Assert.Equal("Europe/Berlin", SettingsFile.Load(new(folder.Path), []).Home.Zone?.Id);
    }
}

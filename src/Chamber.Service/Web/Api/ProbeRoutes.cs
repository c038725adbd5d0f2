using Chamber.Core.Climate;
using Chamber.Core.Spots;
using Chamber.Service.Home;
using Chamber.Service.Home.Answers;
using Chamber.Service.Home.Writing;
using Chamber.Service.Web.Views;
using NodaTime;

namespace Chamber.Service.Web.Api;

/// <summary>Probes: what they said, where they stand; thermometers that somebody reads.</summary>
internal static class ProbeRoutes
{
    public static void Map(RouteGroupBuilder reads, RouteGroupBuilder writes)
    {
        writes.MapPost("/readings", (PageHome page, ReadRequest read) =>
            page.WriteAsync((home, now) => new HandReadings(home, now).Write(read)))
            .WithTags("Probes").WithName("WriteReading").WithSummary("Writes down a thermometer that somebody read.");
        reads = reads.MapGroup("/probes").WithTags("Probes");
        writes = writes.MapGroup("/probes").WithTags("Probes");
        reads.MapGet("", (PageHome page) => ProbeList.Read(page.Read())).WithName("Probes")
            .WithSummary("Every probe: what it said last, where it stands, how much was refused of it.");
        reads.MapGet("/heard", (PageHome page, string? since) => Heard(page, since))
            .WithName("ProbesHeard")
                .WithSummary("Probes that have spoken since a time (the last 10 minutes by default), the newest first; those that stand "
                + "nowhere are the new ones.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        reads.MapGet("/{probe}", (PageHome page, string probe) => One(page, probe)).WithName("Probe").WithSummary("One probe.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        reads.MapGet("/{probe}/readings", (PageHome page, string probe, string? from, string? to, int? points) =>
            Readings(page, probe, from, to, points))
            .WithName("ProbeReadings").WithSummary("What a probe measured over time, thinned to about so many points.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        writes.MapPut("/{probe}", (PageHome page, string probe, ProbeRequest asked) => SaveAsync(page, probe, asked)).WithName("SaveProbe")
            .WithSummary("Sets up a probe, or changes the one of this name.");
        writes.MapPut("/{probe}/unit", (PageHome page, ProbeUnits units, string probe, UnitRequest unit) =>
            TellUnitAsync(page, units, probe, unit))
            .WithName("TellProbeUnit").WithSummary("Says in which unit a probe sends its temperature, whatever its topic declares.");
        writes.MapPut("/{probe}/spot", (PageHome page, string probe, MoveRequest to) => MoveAsync(page, probe, to)).WithName("MoveProbe")
            .WithSummary("Says that a probe stands on a spot.");
        writes.MapDelete("/{probe}/spot", (PageHome page, string probe, string? at) => LiftAsync(page, probe, at)).WithName("LiftProbe")
            .WithSummary("Says that a probe no longer stands anywhere.");
    }

    private static List<ProbeAnswer> Heard(PageHome page, string? since)
    {
        var home = page.Read();
        var from = since is null ? page.Now - Duration.FromMinutes(10) : home.TimeOf(since, page.Now, "since");
        return [.. ProbeList.Read(home).Where(probe => probe.At >= from).OrderByDescending(probe => probe.At)];
    }

    private static ProbeAnswer One(PageHome page, string name) =>
        ProbeList.Read(page.Read()).FirstOrDefault(probe => probe.Probe.Text == name) ?? throw Unknown(name);

    private static SeriesAnswer Readings(PageHome page, string name, string? from, string? to, int? points)
    {
        var probe = One(page, name).Probe;
        var when = SpotRoutes.Span(page, from, to, Duration.FromDays(1));
        var gap = page.Read().Ledger.Probe(probe)?.Probe.MaxGap ?? Probe.DefaultMaxGap;
        return TemperatureSeries.Of(ThinnedTrace.Of(page.Read().Ledger.Readings.Temperatures(probe, when), gap, when,
            TemperatureSeries.Parts(SpotRoutes.Points(points))), when);
    }

    private static async Task<ProbeAnswer> SaveAsync(PageHome page, string name, ProbeRequest asked)
    {
        var id = Id(name);
        await page.WriteAsync((home, now) => new HomeSpots(home, now).Save(id, asked));
        return await page.AskAsync(() => One(page, name));
    }

    private static async Task<StationAnswer> MoveAsync(PageHome page, string name, MoveRequest to)
    {
        var id = Id(name);
        var station = await page.WriteAsync((home, now) => new HomeSpots(home, now).Move(id, to));
        return new(station.Probe, station.Spot, station.When.Start, null);
    }

    private static Task<StationAnswer> LiftAsync(PageHome page, string name, string? at)
    {
        var id = Id(name);
        return page.WriteAsync((home, now) =>
        {
            var stood = home.Ledger.Stations.LastOrDefault(station => station.Probe == id && !station.When.HasEnd)
                ?? throw BadInputException.Contradicts($"Probe \"{name}\" stands nowhere.");
            return new StationAnswer(id, stood.Spot, stood.When.Start, new HomeSpots(home, now).Lift(id, new(at)));
        });
    }

    private static async Task<UnitRequest> TellUnitAsync(PageHome page, ProbeUnits units, string name, UnitRequest unit)
    {
        var scale = TemperatureScales.TryParse(unit.Unit, out var parsed) ? parsed
            : throw BadInputException.In("unit", $"unit: \"{unit.Unit}\" is not a unit: write C or F.");
        var (id, told) = (Id(name), scale == TemperatureScale.Fahrenheit ? DeclaredUnit.Fahrenheit : DeclaredUnit.Celsius);
        await page.WriteAsync((home, now) => ProbeUnits.Choose(home.Writing(now).Choose, id, told));
        units.Tell(id, told);
        return new(scale == TemperatureScale.Fahrenheit ? "F" : "C");
    }

    private static ProbeId Id(string name) => BadInputException.In("probe", () => new ProbeId(name));

    private static BadInputException Unknown(string name) =>
        BadInputException.Unknown($"There is no probe \"{name}\": set it up first, or let it speak once.");
}

/// <summary>In which unit a probe speaks.</summary>
/// <param name="Unit">C or F.</param>
internal sealed record UnitRequest(string Unit);

/// <summary>A stay of a probe on a spot.</summary>
internal sealed record StationAnswer(ProbeId Probe, SpotId Spot, Instant From, Instant? To);

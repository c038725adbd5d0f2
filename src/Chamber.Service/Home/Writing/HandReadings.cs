using Chamber.Core.Climate;
using Chamber.Core.Spots;
using NodaTime;

namespace Chamber.Service.Home.Writing;

/// <summary>Records thermometers that somebody read: the same for the command line, the page and the API.</summary>
internal sealed class HandReadings(HomeReader home, Instant now)
{
    // Between two looks at a thermometer lie hours; half a day without one is a gap.
    private static readonly Duration HandReadGap = Duration.FromHours(12);

    // What is kept is rounded.
    private const double SameCelsius = 0.02;

    /// <exception cref="BadInputException">The value, the place or the time cannot be; nothing was written.</exception>
    public ReadAnswer Write(ReadRequest read)
    {
        var at = home.PastOf(read.At, now);
        BadInputException.In("at", () => Core.Bounds.Age.Require(now - at));
        var (probe, spot, isNew) = BadInputException.In("where", () => ProbeOf(read.Where));
        var reading = Judge(probe, at, read);
        RefuseOther(reading, read);
        if (isNew)
        {
            home.Writing(now).SetUp.Save(new ProbeEntry(new(probe, read.Measures ?? Measurand.Air, HandReadGap), HandRead: true));
        }

        if (spot is { } chosen && HangsThereFrom(probe, chosen, at) is { } from)
        {
            home.Writing(now).SetUp.Put(probe, chosen, from);
        }

        var result = AtHand.Of(home.Store.AppendAsync([reading], [], []));
        return new(reading.Probe, spot, reading.MeasuredAt, reading.Temperature, reading.Humidity, result.Inserted + result.Filled > 0);
    }

    // What is in the journal stays: a value typed again for the same moment would be dropped without a word.
    private void RefuseOther(Reading reading, ReadRequest read)
    {
        var where = read.Where;
        var at = reading.MeasuredAt;
        if (home.Ledger.Readings.Whole(reading.Probe, new(at, at + Duration.FromMilliseconds(1))).FirstOrDefault() is
            { Temperature: { } known } && reading.Temperature is { } typed && Math.Abs(known.Celsius - typed.Celsius) > SameCelsius)
        {
            var (from, next) = (TimeText.Typed(at, home.Zone), TimeText.Typed(at + Duration.FromMinutes(1), home.Zone));
            throw new BadInputException($"{home.Scale.Show(known)} was recorded on {where} for {TimeText.Show(at, home.Zone, now)} already.")
            {
                Kind = BadInputKind.Contradicts,
                Field = "temperature",
                Hint = $"If that was a slip: chamber set-aside {reading.Probe} --from \"{from}\" --to \"{next}\" and then: chamber read "
                    + $"{where} {read.Temperature} --when \"{next}\"",
            };
        }
    }

    /// <summary>Whether nobody has read a thermometer on this spot before.</summary>
    public bool IsFirst(SpotId spot) => ProbeOf(spot.Text).IsNew;

    private (ProbeId Probe, SpotId? Spot, bool IsNew) ProbeOf(string name)
    {
        var ledger = home.Ledger;
        var named = ledger.Spots.FirstOrDefault(found => string.Equals(found.Id.Text, name, StringComparison.OrdinalIgnoreCase));
        if (Core.Identifier.IsValid(name) && ledger.Probe(new(name)) is { } known)
        {
            // A thermometer that was read under the name of a spot before that spot was set up hangs there.
            return (known.Probe.Id, known.HandRead && !Stands(known.Probe.Id) ? named?.Id : null, false);
        }

        if (named is null)
        {
            RefuseSlip(name, ledger.Spots.Select(spot => spot.Id.Text).Concat(ledger.Probes.Select(entry => entry.Probe.Id.Text)));
            return (new ProbeId(name), null, true);
        }

        var handRead = ledger.Probes.Where(entry => entry.HandRead).Select(entry => entry.Probe.Id).ToHashSet();
        var here = ledger.Stations
            .FirstOrDefault(station => station.Spot == named.Id && !station.When.HasEnd && handRead.Contains(station.Probe));
        return (here?.Probe ?? new ProbeId(Cut($"thermometer-{named.Id}")), named.Id, here is null);
    }

    // A slip of the finger would make its own thermometer, and the reading would count for no spot.
    private static void RefuseSlip(string name, IEnumerable<string> known)
    {
        if (Core.NearNames.Question(name, known) is { Length: > 0 } question)
        {
            throw BadInputException.Unknown($"There is no \"{name}\".{question}",
                $"For a thermometer of that name: chamber probe add {name} --hand-read");
        }
    }

    private static string Cut(string name) => name.Length <= Core.Identifier.LengthMax ? name : name[..Core.Identifier.LengthMax];

    private Reading Judge(ProbeId probe, Instant at, ReadRequest read)
    {
        var raw = new RawReading();
        var unit = read.Temperature.TrimEnd().EndsWith("F", StringComparison.OrdinalIgnoreCase) ? DeclaredUnit.Fahrenheit
            : DeclaredUnit.Celsius;
        var value = BadInputException.In("temperature", () => TemperatureText.Parse(read.Temperature));
        raw.Set(unit == DeclaredUnit.Fahrenheit ? value.Fahrenheit : value.Celsius, unit);
        if (read.Humidity is { } percent)
        {
            raw.Set(percent is > 0 and <= 100 ? percent
                : throw BadInputException.In("humidity", $"\"{percent}\" is not a relative humidity: write a percent from 1 to 100."),
                DeclaredUnit.HumidityPercent);
        }

        var previous = home.Ledger.Readings.Latest(now).GetValueOrDefault(probe)?.Temperature is { } last
            ? new TemperatureSample(last.At, last.Value).NoLaterThan(now) : (TemperatureSample?)null;
        var refusals = new List<Refusal>();
        var millisecond = Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());
        var reading = raw.Screen(new(probe, millisecond, now, ClockSource.Payload, "read", previous, read.Sure), refusals);
        return refusals is [var first, ..] ? throw Refused(first, read, unit) : reading;
    }

    private static BadInputException Refused(Refusal first, ReadRequest read, DeclaredUnit unit) => first.Reason == RefusalReason.OtherUnit
        ? new($"{read.Temperature} looks like {(unit == DeclaredUnit.Celsius ? "°F" : "°C")}: write the unit that the thermometer "
            + $"shows.") { Field = "temperature", MayBeRight = true,
            Hint = "If it is right anyway, add --sure." }
        : BadInputException.In("temperature", $"{first.Raw} is not a value that a thermometer in a home shows: look again.");

    private bool Stands(ProbeId probe) => home.Ledger.Stations.Any(station => station.Probe == probe);

    // A reading says that the thermometer hung there by then, also one from before the first; null where that is known.
    private Instant? HangsThereFrom(ProbeId probe, SpotId spot, Instant at) =>
        home.Ledger.Stations.Where(station => station.Probe == probe).MinBy(station => station.When.Start) is not { } first
            ? FirstRead(probe, at) : first.Spot == spot && at < first.When.Start ? at : null;

    private Instant FirstRead(ProbeId probe, Instant at) =>
        home.Ledger.Readings.Temperatures(probe, new(null, null)).Select(sample => sample.At).Append(at).Min();
}

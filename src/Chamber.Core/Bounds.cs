using System.Reflection;
using NodaTime;

namespace Chamber.Core;

/// <summary>
/// The bounds of every number, text and length of time that comes in: by command line, page, API, import, settings or a restored file.
/// They are far beyond what a home has; without them one slip of a finger costs memory and time without end. Where no
/// source is named they are this project's own choice.
/// </summary>
public static class Bounds
{
    /// <summary>A forecast holds a chance for each count: 10,000 seeds take 0.1 MB of them, a hundred million 1.6 GB.</summary>
    public static readonly Bound Seeds = new("the seeds of a batch", 1, 10_000, "",
        "a home sows no more at once; write a larger sowing down as several batches");

    /// <summary>Begonia, the smallest of the garden, has about 70,000 seeds a gram (from memory, no source): a packet holds less than ten
    /// grams.</summary>
    public static readonly Bound SeedsOfLot =
        new("the seeds of a lot", 0, 1_000_000, "", "count or estimate the packet, and write a sack down as several lots");

    /// <summary>Fisher's exact test looks at every split of the two.</summary>
    public static readonly Bound SeedsCounted =
        new("the seeds of a count", 1, 10_000, "", "laboratories test 400; beyond thousands a count tells nothing more");

    public static readonly Bound Plants = new("the plants that are wanted", 1, 10_000, "", "a home plants no more; split it");

    public static readonly Bound SeedsOfCell =
        new("the seeds of a cell", 1, 100, "", "they crowd each other long before; sow fewer in each");

    public static readonly Bound Containers =
        new("the containers of a batch", 1, 1_000, "", "no home has room for more; record trays as one container each");

    public static readonly Bound Depth = new("the depth of a sowing", 0, 200, "mm", "write the millimetres of mix above the seed");

    public static readonly Bound Room = new("the containers that a spot has room for", 1, 1_000, "", "count the trays or pots that fit");

    public static readonly Bound LightRoom = new("the pots that fit in the light", 1, 10_000, "", "count the pots that fit");

    public static readonly Bound LotYear = new("the year of a lot", 1900, 2200, "",
        "write it with four digits, as it stands on the packet");

    public static readonly Bound Price = new("a price", 0, 1_000_000, "", "write what it cost, in your own money");

    public static readonly Bound Share = new("a share", 0, 1, "", "write 0.8 or 80%");

    public static readonly Bound Amount = new("an amount of harvest", 0.001, 1_000_000, "", "take a smaller or larger unit");

    public static readonly Bound Litres = new("litres of mix", 0, 10_000, "L", "that is ten cubic metres; write what you use");

    public static readonly Bound PotLitres = new("the litres of mix in a container", 0, 100, "L", "a cut milk carton holds 0.5");

    public static readonly Bound Watts = new("the power of mat and lamp", 0, 5_000, "W",
        "a household socket gives no more; write what stands on them");

    public static readonly Bound HeatHours = new("the hours that mat and lamp run", 0, 8_784, "h", "a year has no more");

    /// <summary>The coldest air on the ground: -89.2 °C, Vostok 1983 (World Meteorological Organization). The upper end is beyond what any
    /// probe of a home survives.</summary>
    public static readonly Bound Celsius = new("a temperature", -90, 150, "°C",
        "no home or garden has it; look at the number and its unit");

    internal const double ReadCelsiusMin = -40;

    internal const double ReadCelsiusMax = 125;

    /// <summary>What is kept of a temperature that came in: beyond it no cheap probe measures.</summary>
    public static readonly Bound ReadCelsius = new("a temperature that a probe says", ReadCelsiusMin, ReadCelsiusMax, "°C",
        "look at the probe and its unit");

    public static readonly Bound ReadHumidity = new("a relative humidity", 0, 100, "%", "look at the probe");

    public static readonly Bound ReadBattery = new("the charge of a battery", 0, 100, "%", "look at the probe");

    public static readonly Bound WarmerBy = new("how much warmer a spot is taken to be", -20, 20, "K",
        "no mat is turned up or down by more");

    public static readonly Bound OffsetKelvins =
        new("what is added to a probe's temperature", -20, 20, "K", "a probe that is further off is broken; replace it");

    public static readonly Bound HumidityPoints =
        new("what is added to a probe's humidity", -50, 50, "points", "a probe that is further off is broken; replace it");

    public static readonly Bound RawMoisture = new("a raw moisture value", -1_000_000, 1_000_000, "", "look at what the probe sends");

    public static readonly Bound HalfWarmHours =
        new("the warm-hours until half are up", 1, 100_000, "°C·h", "the slowest seeds need some ten thousand; look at the unit");

    /// <summary>Computers count seconds from 1970 on; a clock that says so was never set.</summary>
    public static readonly Bound Year = new("a year", 1970, 2200, "", "write it with four digits, as 2027-05-17");

    public static readonly Bound DaysAhead = new("days ahead", 0, 400, "", "nothing is planned further than a year ahead");

    /// <summary>Ten years: no seed is worth a longer record of one batch, and everything that is summed up by the hour stays
    /// small.</summary>
    public static readonly TimeBound Age = new("how long ago it was", Duration.Zero, Duration.FromDays(3653),
        "look at the year; what is older helps nobody now");

    public static readonly Bound CropsAtOnce = new("crops at once", 1, 100, "", "ask for fewer at a time");

    public static readonly Bound ExperienceHomes = new("the homes of a file of experience", 1, 2_000, "", "take fewer homes at a time");

    public static readonly Bound ExperienceBatches =
        new("the batches that one home gives", 0, 120, "", "a home counts for no more with more; give the newest");

    public static readonly Bound ExperienceShift = new("how much longer than the table says, as ln of the warm-hours", -1.5, 1.5, "",
        "a batch that takes five times as long was hardly measured right; leave it out");

    public static readonly Bound ExperienceDoubt = new("the doubt of that, as a standard deviation", 0.01, 1, "",
        "fewer looks say nothing, and no batch says more");

    public static readonly Bound ExperiencePerKelvin =
        new("what a kelvin of the base does", -2, 2, "/K", "write it as a share: 0.06 is 6 %");

    public static readonly Bound ExperienceTable =
        new("the warm-hours of a table", 1, 1_000_000, "°C·h", "write what the table says of the crop");

    public static readonly Bound ExperienceLot = new("the number of a lot in a file of experience", 1, 120, "", "number them from 1");

    public static readonly Bound SeedYears = new("the age of seed in years", 0, 50, "", "write whole years");

    public static readonly Bound TrialCelsius = new("the temperature of a trial", -10, 60, "°C",
        "no trial of seed is that cold or hot; Fahrenheit is written with its unit, as 68F");

    public static readonly Bound TrialDays = new("days since the sowing", 0, 3_650, "", "look at the unit");

    public static readonly Bound TrialCount = new("the seeds of a row", 0, 1_000_000, "", "write a whole number");

    public static readonly Bound TrialRows = new("the rows of a file of trials", 1, 100_000, "", "add up counts of the same interval");

    public static readonly Bound NotebookLines = new("the lines of a notebook", 1, 5_000, "", "split it by year");

    public static readonly Bound LinesSkipped = new("lines before the header", 0, 10_000, "", "open the file and count them");

    public static readonly Bound RefusalsShown = new("the refusals to show", 1, 10_000, "", "older ones are counted, and no longer kept");

    public static readonly Bound EntriesShown =
        new("the entries to show", 1, 100_000, "", "ask for the history of one thing, or take them all out: chamber export --all");

    public static readonly Bound ChartPoints = new("the points of a chart", 2, 10_000, "", "no screen has more");

    public static readonly Bound DemoSpeed =
        new("how fast the demo runs", 1, 600, "", "write how many of its seconds pass in one of yours");

    public static readonly Bound Port = new("a port", 1, 65_535, "", "write a whole number, such as 1883");

    public static readonly TimeBound MaxGap = new("the longest silence that is no gap", Duration.FromSeconds(1), Duration.FromDays(30),
        "name it so that a probe that fell silent is noticed, such as 2h");

    public static readonly TimeBound Listening = new("how long to listen", Duration.FromSeconds(1), Duration.FromHours(1),
        "a sensor that speaks more rarely is heard at its next message, and kept messages at once");

    public static readonly TimeBound Quiet = new("how long an alert is quiet", Duration.FromMinutes(1), Duration.FromDays(30),
        "say it again when it is over");

    public static readonly TimeBound Maintenance = new("maintenance", Duration.FromSeconds(1), Duration.FromDays(7),
        "no alert would be given for too long; enter it again when it is over");

    /// <summary>Above it no danger would be reported: hot water scalds from about 50 °C on (common practice, no source).</summary>
    public static readonly Bound LimitCelsius = new("a limit of alerts in °C", 5, 70, "°C", "beyond it no alert would be in time");

    public static readonly Bound LimitKelvins = new("a limit of alerts in K", 0.05, 30, "K", "beyond it no alert would be in time");

    /// <summary>Moisture in percent of a probe's own soaked reading can pass 100.</summary>
    public static readonly Bound LimitPercent = new("a limit of alerts in %", 0.1, 150, "%", "beyond it no alert would be in time");

    public static readonly Bound LimitHours = new("a limit of alerts in hours", 0.05, 720, "h", "beyond it no alert would be in time");

    public static readonly TimeBound LimitHold = new("how long something holds before an alert opens or closes", Duration.FromSeconds(1),
        Duration.FromDays(30), "beyond it no alert would be in time");

    public static readonly Bound QueuedMessages =
        new("messages that wait to be stored", 100, 1_000_000, "", "each takes memory; the default is 16,384");

    public static readonly Bound PayloadBytes =
        new("the payload of a message", 64, 1_000_000, "bytes", "a reading takes some hundred; the default is 65,536")
        {
            Reason = "too-large",
        };

    public static readonly Bound Probes = new("the probes of a home", 1, 4_096, "", "the default is 500")
        {
            Reason = "unknown-probe",
        };

    public static readonly Bound BackupsDaily = new("daily backups", 1, 366, "", "the default is 7");

    public static readonly Bound BackupsWeekly = new("weekly backups", 0, 520, "", "the default is 4");

    public static readonly Bound BatchLines = new("the lines of a request", 1, 50_000, "", "more takes memory here and there");

    public static readonly Bound StopWaitingBelow =
        new("the chance of one more seedling at which to give up", 0.001, 0.5, "", "the default is 0.05");

    public static readonly TimeBound TimeAhead = new("how far ahead a message's own time may lie", Duration.Zero, Duration.FromDays(1),
        "more than a day is a clock that is set wrong; the default is 10min")
        {
            Reason = "future-time",
        };

    public static readonly TimeBound TimeBehind =
        new("how far back a message's own time may lie", Duration.FromMinutes(1), Duration.FromDays(3653), "the default is 31d")
        {
            Reason = "bad-time",
        };

    public static readonly TimeBound ReadingsKept =
        new("how long every reading is kept", Duration.FromDays(30), Duration.FromDays(36_525), "surveys and reviews need 30d at least");

    public static readonly TimeBound AlertsKept = new("how long closed alerts are kept", Duration.FromDays(1), Duration.FromDays(36_525),
        "the default is 800d");

    public static readonly TimeBound SentEvery = new("how often something is sent", Duration.FromSeconds(1), Duration.FromHours(1),
        "write it as 10s or 1min");

    /// <summary>Client id, user, password and will of a home's sensors take a few hundred bytes.</summary>
    public static readonly Bound BrokerConnect = new("a packet to the own broker from who is not let in yet", 0, 8_192, "bytes",
        "the connection is ended; shorten client id, user, password and will")
        {
            Broker = "packet",
        };

    public static readonly Bound BrokerPacket =
        new("a packet to the own broker from who is let in", 0, 262_144, "bytes",
            "the connection is ended; pictures and the like go by another broker")
        {
            Broker = "packet",
        };

    public static readonly Bound BrokerClients =
        new("clients of the built-in broker at one time", 0, 1_000, "", "a further one is told that the server is busy")
        {
            Broker = "clients",
        };

    public static readonly Bound ConnectionsOfAddress =
        new("connections to the own broker from one address", 0, 200, "", "a further one is ended; look what connects again and again")
        {
            Broker = "connections",
        };

    public static readonly Bound RetainedMessages =
        new("messages that the own broker retains", 0, 1_000, "", "a further one is passed on and not kept")
        {
            Broker = "retained",
        };

    public static readonly Bound RetainedBytes =
        new("all messages that the own broker retains", 0, 4_194_304, "bytes", "a further one is passed on and not kept")
        {
            Broker = "retained",
        };

    public static readonly Bound BrokerSubscriptions =
        new("subscriptions of a client of the own broker", 0, 100, "", "a further one is refused; subscribe with + or #")
        {
            Broker = "subscriptions",
        };

    public static readonly Bound BrokerSessions =
        new("sessions that the own broker keeps", 0, 1_000, "", "the one left longest ago is ended for a further one")
        {
            Broker = "sessions",
        };

    public static readonly TimeBound SessionKept = new("how long the own broker keeps the session of a client that has gone",
        Duration.Zero, Duration.FromDays(1), "it is ended; the client subscribes again")
        {
            Broker = "sessions",
        };

    public static readonly Bound BrokerWaiting =
        new("messages that wait at the own broker for clients that have gone", 0, 16_777_216, "bytes", "a further one does not wait")
        {
            Broker = "waiting bytes",
        };

    public static readonly Bound ReaderWaiting =
        new("messages that wait at the own broker for one client that does not read", 0, 1_048_576, "bytes", "a further one does not wait")
        {
            Broker = "waiting bytes",
        };

    public static readonly Bound ReadersWaiting =
        new("messages that wait at the own broker for all clients that do not read", 0, 67_108_864, "bytes", "a further one does not wait")
        {
            Broker = "waiting bytes",
        };

    public static readonly Bound UnmappedTopics = new("topics without a mapping that leave a trace in the refusals after a start", 0, 1_000,
        "", "further ones leave none; chamber listen shows what speaks");

    /// <summary>A home of thirty sensors says 1 MiB an hour; cameras and the like say more.</summary>
    public static readonly Bound UnmappedBytes = new("what is listened to in an hour for topics without a mapping at a joined broker", 0,
        16_777_216, "bytes", "it rests for the rest of the hour; mapped topics are not concerned");

    public static readonly TextBound BrokerTopic = new("a topic at the own broker", 1_000)
    {
        Broker = "topic",
    };

    public static readonly Bound PasswordTries =
        new("wrong passwords to the own broker from one address within a minute", 0, 20, "", "it is not listened to for the rest of it")
        {
            Broker = "password tries",
        };

    /// <summary>The largest body that a person or program sends here is a plan for a season.</summary>
    public static readonly Bound RequestBody = new("the body of a request to the page", 0, 262_144, "bytes",
        "it is refused (413) before it is read");

    public static readonly Bound SignInBody = new("the body of a request to sign in", 0, 8_192, "bytes",
        "it is refused (413) before it is read");

    public static readonly Bound PageConnections = new("connections to the page at one time", 0, 300, "", "a further one is ended");

    public static readonly Bound Photos = new("the photos of a batch", 0, 200, "", "remove one first; one a day is plenty");

    /// <summary>Phones write 3 to 12 MB (from memory, no source).</summary>
    public static readonly Bound PhotoBytes = new("the file of a photo", 1, 20_000_000, "bytes", "send a smaller photo");

    /// <summary>A small file can claim any size: one of these takes 240 MB while it is read.</summary>
    public static readonly Bound PhotoPixels = new("the pixels of a photo", 1, 60_000_000, "", "send a smaller photo");

    public static readonly TextBound PhotoName = new("the name of a photo", 60);

    public static readonly TextBound ShownName = new("a name to show", 60);

    public static readonly TextBound Note = new("a note", 1_000);

    public static readonly TextBound Variety = new("a variety", 100);

    public static readonly TextBound Treatment = new("a treatment", 200);

    public static readonly TextBound Source = new("a source", 500);

    public static readonly TextBound Dish = new("the name of a dish", 60);

    public static readonly TextBound PersonName = new("the name of a person or program", 60);

    /// <summary>Longer ones protect no better, and hashing takes time with their length.</summary>
    public static readonly TextBound Password = new("a password", 200);

    /// <summary>RFC 3986 has no bound; browsers and servers take some thousand characters.</summary>
    public static readonly TextBound Address = new("an address", 2_000);

    /// <summary>Every bound with its name, for documentation and tests.</summary>
    public static IReadOnlyList<(string Name, object Bound)> All { get; } =
        [.. typeof(Bounds).GetFields(BindingFlags.Public | BindingFlags.Static).Select(field => (field.Name, field.GetValue(null)!))];
}

using System.Diagnostics.CodeAnalysis;
using System.Text.Json;
using Chamber.Core.Climate;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// SenML JSON (RFC 8428, Jennings, Shelby, Arkko, Keranen &amp; Bormann 2018). Records are resolved as section 4.6 says: base
/// values hold until replaced, names and values are joined to them, and a time below 2^28 s is relative to now.
/// Records of one probe and time become one reading.
/// </summary>
internal sealed class SenmlReader(SenmlNames names, bool unitConfirmed) : PayloadReader
{
    private const int RecordsMax = 1024;
    private const int VersionMax = 10;

    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 8 };

    // Reused: a decoder belongs to one thread.
    private readonly List<Gathered> gathered = [];

    public override void Read(in IncomingMessage message, ProbeMemory? probe, DecodingContext context, DecodedBatch into)
    {
        using var document = JsonDocument.Parse(message.Payload, Strict);
        gathered.Clear();
        var fault = Fault(document.RootElement);
        if (fault is not null)
        {
            into.Refuse(message, probe?.Id, RefusalReason.Malformed, fault);
            return;
        }

        var @base = SenmlBase.First;
        foreach (var record in document.RootElement.EnumerateArray())
        {
            fault = @base.TryRead(record, VersionMax);
            if (fault is not null)
            {
                into.Refuse(message, probe?.Id, RefusalReason.Malformed, fault);
                return;
            }

            Gather(record, @base, message, probe, context, into);
        }

        foreach (var one in gathered)
        {
            context.Emit(one.Raw, one.Time, unitConfirmed, message, one.Probe, into);
        }
    }

    private static string? Fault(JsonElement root)
    {
        if (root.ValueKind != JsonValueKind.Array)
        {
            return "SenML is a JSON array of records.";
        }

        return root.GetArrayLength() > RecordsMax ? $"Send at most {RecordsMax} records at a time." : null;
    }

    private void Gather(
        JsonElement record, in SenmlBase @base, in IncomingMessage message, ProbeMemory? topicProbe, DecodingContext context,
            DecodedBatch into)
    {
        if (SenmlBase.CarriesNoValue(record))
        {
            return;
        }

        var name = @base.NameOf(record);
        if (!names.TryResolve(name, topicProbe, context.Probes, out var probe, out var meaning))
        {
            into.Refuse(message, topicProbe?.Id, null, RefusalReason.UnknownProbe, name,
                "No mapping knows this SenML name: add it to the names of the mapping, with its probe and quantity.");
        }
        else if (!TryUnit(@base.UnitOf(record) ?? meaning.Unit, meaning.Quantity, out var unit))
        {
            into.Refuse(message, probe.Id, meaning.Quantity is { } declared ? Fixes.NameOf(declared) : null, RefusalReason.UnknownUnit,
                record.GetRawText());
        }
        else if (!@base.TryValue(record, out var number, out var reason))
        {
            RefuseField(message, probe, unit.Quantity, reason, record.GetRawText(), into);
        }
        else
        {
            Add(probe, @base.TimeOf(record, message.ReceivedAt), number, unit);
        }
    }

    private static bool TryUnit(string? code, Quantity? quantity, [NotNullWhen(true)] out DeclaredUnit? unit) =>
        quantity is { } declared ? DeclaredUnit.TryParse(code, declared, out unit) : DeclaredUnit.TryParse(code, out unit);

    private void Add(ProbeMemory probe, PayloadTime time, double number, DeclaredUnit unit)
    {
        // Newest first: the records of one moment stand together.
        for (var index = gathered.Count - 1; index >= Math.Max(0, gathered.Count - 16); index--)
        {
            if (gathered[index].Probe == probe && gathered[index].Time == time)
            {
                var one = gathered[index];
                one.Raw.Set(number, unit);
                gathered[index] = one;
                return;
            }
        }

        var first = new Gathered { Probe = probe, Time = time };
        first.Raw.Set(number, unit);
        gathered.Add(first);
    }

    private struct Gathered
    {
        public required ProbeMemory Probe;
        public required PayloadTime Time;
        public RawReading Raw;
    }
}

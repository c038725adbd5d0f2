using Chamber.Core;
using Chamber.Core.Climate;
using Json.Pointer;

namespace Chamber.Mqtt.Decoding;

/// <summary>Where a topic leads: to a reader and mostly a probe, or to a reason.</summary>
internal sealed record TopicRoute(PayloadReader? Reader, ProbeMemory? Probe, RefusalReason? Refused = null);

/// <summary>A mapping that is known to be right.</summary>
internal sealed class CompiledMapping(TopicPattern pattern, PayloadReader reader, TopicMapping mapping)
{
    public TopicPattern Pattern { get; } = pattern;

    public TopicRoute Route(ReadOnlySpan<char> level, ProbeRegister probes)
    {
        var name = mapping.Probe ?? level.ToString();
        if (mapping.Probes?.TryGetValue(name, out var other) == true)
        {
            name = other;
        }

        if (name.Length == 0 && mapping.Form == PayloadForm.Senml)
        {
            return new(reader, null);
        }

        return probes.TryGet(name, out var probe) ? new(reader, probe) : new(null, null, RefusalReason.UnknownProbe);
    }

    public static CompiledMapping? Compile(TopicMapping mapping, Action<string> fault)
    {
        var faults = 0;
        void Say(string text)
        {
            faults++;
            fault(text);
        }

        if (!TopicPattern.TryParse(mapping.Topic, out var pattern, out var error))
        {
            Say(error);
            return null;
        }

        CheckProbe(mapping, pattern, Say);
        PayloadReader? reader = mapping.Form switch
        {
            PayloadForm.Json => CompileJson(mapping, Say),
            PayloadForm.Senml => CompileSenml(mapping, pattern, Say),
            PayloadForm.Number => CompileNumber(mapping, Say),
            _ => new ChamberJsonReader(mapping.UnitConfirmed),
        };
        return faults == 0 && reader is not null ? new(pattern, reader, mapping) : null;
    }

    private static void CheckProbe(TopicMapping mapping, TopicPattern pattern, Action<string> say)
    {
        if (mapping.Probe is null && !pattern.NamesProbe && mapping.Form != PayloadForm.Senml)
        {
            say("nothing names the probe: write {probe} for a level of the topic, or give \"probe\"");
        }

        if (mapping.Probe is not null && pattern.NamesProbe)
        {
            say("the probe is named twice: by {probe} in the topic and by \"probe\"");
        }

        foreach (var name in (mapping.Probes?.Values ?? []).Append(mapping.Probe).OfType<string>())
        {
            CheckIdentifier(name, say);
        }
    }

    private static void CheckIdentifier(string name, Action<string> say)
    {
        if (!Identifier.IsValid(name))
        {
            say($"\"{name}\" cannot name a probe: use 1 to {Identifier.LengthMax} letters, digits, '-', '_' or '.', starting with a "
                + $"letter or digit");
        }
    }

    private static PointerReader CompileJson(TopicMapping mapping, Action<string> say)
    {
        var fields = new List<PointerField>();
        void Add(FieldMapping? field, Quantity quantity)
        {
            if (field is not null && ParsePointer(field.JsonPointer, say) is { } pointer
                && ParseUnit(field.Unit, quantity, say) is { } unit)
            {
                fields.Add(new(pointer, unit));
            }
        }

        Add(mapping.Temperature, Quantity.Temperature);
        Add(mapping.Humidity, Quantity.Humidity);
        Add(mapping.Moisture, Quantity.Moisture);
        Add(mapping.Battery, Quantity.Battery);
        if (mapping is { Temperature: null, Humidity: null, Moisture: null, Battery: null })
        {
            say("give \"temperature\", \"humidity\", \"moisture\" or \"battery\" with its pointer and unit");
        }

        var time = mapping.Time is null ? null : ParsePointer(mapping.Time.JsonPointer, say);
        return new(fields, time, mapping.Time?.Form ?? default, mapping.UnitConfirmed);
    }

    private static SenmlReader? CompileSenml(TopicMapping mapping, TopicPattern pattern, Action<string> say)
    {
        if (mapping.Names is not { Count: > 0 })
        {
            say("give \"names\": what each SenML name stands for");
            return null;
        }

        foreach (var (text, name) in mapping.Names)
        {
            var spelled = text.Contains("{probe}", StringComparison.Ordinal);
            if (name.Probe is null && !spelled && !pattern.NamesProbe && mapping.Probe is null)
            {
                say($"nothing names the probe of \"{text}\": give \"probe\", or write {{probe}} in the name or the topic");
            }

            if (name.Probe is not null)
            {
                CheckIdentifier(name.Probe, say);
            }

            if (name is { Unit: not null, Quantity: { } quantity })
            {
                ParseUnit(name.Unit, quantity, say);
            }
        }

        return new(new(mapping.Names), mapping.UnitConfirmed);
    }

    private static NumberReader? CompileNumber(TopicMapping mapping, Action<string> say)
    {
        if (mapping.Quantity is not { } quantity)
        {
            say("give \"quantity\": temperature, humidity, moisture or battery");
            return null;
        }

        return ParseUnit(mapping.Unit, quantity, say) is { } unit ? new(unit, mapping.UnitConfirmed) : null;
    }

    private static JsonPointer? ParsePointer(string? text, Action<string> say)
    {
        if (text is not null && JsonPointer.TryParse(text, out var pointer))
        {
            return pointer;
        }

        say($"\"{text}\" is no JSON Pointer (RFC 6901): write /member/0/member, with ~1 for / and ~0 for ~");
        return null;
    }

    private static DeclaredUnit? ParseUnit(string? text, Quantity quantity, Action<string> say)
    {
        if (DeclaredUnit.TryParse(text, quantity, out var unit))
        {
            return unit;
        }

        say($"\"{text}\" is no unit of {Fixes.NameOf(quantity)}: declare {DeclaredUnit.CodesFor(quantity)}");
        return null;
    }
}

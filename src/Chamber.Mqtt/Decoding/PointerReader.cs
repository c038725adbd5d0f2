using System.Text;
using System.Text.Json;
using Chamber.Core.Climate;
using Json.Pointer;

namespace Chamber.Mqtt.Decoding;

/// <summary>
/// Any JSON, by a JSON Pointer (RFC 6901, Bryan, Zyp &amp; Nottingham 2013) for each quantity. A field that is not there is no
/// fault, since sensors report what changed; a message in which none of them is there is refused.
/// </summary>
internal sealed class PointerReader(IReadOnlyList<PointerField> fields, JsonPointer? timePointer, TimeForm timeForm, bool unitConfirmed)
    : PayloadReader
{
    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 16 };

    public override void Read(in IncomingMessage message, ProbeMemory? probe, DecodingContext context, DecodedBatch into)
    {
        using var document = JsonDocument.Parse(message.Payload, Strict);
        var raw = default(RawReading);
        var found = false;
        foreach (var field in fields)
        {
            if (field.Pointer.Evaluate(document.RootElement) is not { } element)
            {
                continue;
            }

            found = true;
            if (FieldText.TryNumber(element, out var number, out var reason))
            {
                raw.Set(number, field.Unit);
            }
            else
            {
                RefuseField(message, probe!, field.Unit.Quantity, reason, element.GetRawText(), into);
            }
        }

        if (!found)
        {
            into.Refuse(message, probe!.Id, RefusalReason.Missing,
                "None of the fields that the mapping names is in the payload: correct their JSON Pointers.");
            return;
        }

        context.Emit(raw, ReadTime(document.RootElement), unitConfirmed, message, probe!, into);
    }

    private PayloadTime ReadTime(JsonElement root)
    {
        if (timePointer is not { } pointer || pointer.Evaluate(root) is not { } element)
        {
            return PayloadTime.None;
        }

        return element.ValueKind switch
        {
            JsonValueKind.String when timeForm == TimeForm.Rfc3339 => PayloadTime.FromText(Encoding.UTF8.GetBytes(element.GetString()!)),
            _ when timeForm != TimeForm.Rfc3339 && FieldText.TryNumber(element, out var number, out _) =>
                PayloadTime.FromNumber(number, timeForm),
            _ => PayloadTime.Unreadable(element.GetRawText()),
        };
    }
}

/// <summary>One quantity in a JSON payload.</summary>
internal readonly record struct PointerField(JsonPointer Pointer, DeclaredUnit Unit);

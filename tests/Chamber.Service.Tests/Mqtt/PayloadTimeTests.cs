using System.Text;
using Chamber.Core.Climate;
using Chamber.Mqtt.Decoding;
using NodaTime;
using NodaTime.Text;

namespace Chamber.Service.Tests.Mqtt;

public sealed class PayloadTimeTests
{
    /// <summary>The five examples of RFC 3339 (Klyne &amp; Newman, 2002), section 5.8, and what that section says they are.</summary>
    [Theory]
    [InlineData("1985-04-12T23:20:50.52Z", "1985-04-12T23:20:50.52Z")]
    [InlineData("1996-12-19T16:39:57-08:00", "1996-12-20T00:39:57Z")]
    [InlineData("1990-12-31T23:59:60Z", "1991-01-01T00:00:00Z")]
    [InlineData("1990-12-31T15:59:60-08:00", "1991-01-01T00:00:00Z")]
    [InlineData("1937-01-01T12:00:27.87+00:20", "1937-01-01T11:40:27.87Z")]
    [InlineData("2026-11-25t10:00:00z", "2026-11-25T10:00:00Z")]
    [InlineData("2026-11-25 10:00:00+05:30", "2026-11-25T04:30:00Z")]
    [InlineData("2024-02-29T00:00:00.123456789012Z", "2024-02-29T00:00:00.123456789Z")]
    public void A_time_by_RFC_3339_is_read(string text, string utc)
    {
        Assert.True(Rfc3339.TryParse(Encoding.UTF8.GetBytes(text), out var instant));
        Assert.Equal(InstantPattern.ExtendedIso.Parse(utc).Value, instant);
    }

    [Theory]
    [InlineData("")]
    [InlineData("2026-11-25")]
    [InlineData("2026-11-25T10:00:00")]
    [InlineData("2026-11-25T10:00:00.Z")]
    [InlineData("2026-11-25T10:00Z")]
    [InlineData("2026-13-25T10:00:00Z")]
    [InlineData("2025-02-29T10:00:00Z")]
    [InlineData("2026-11-25T24:00:00Z")]
    [InlineData("2026-11-25T10:60:00Z")]
    [InlineData("2026-11-25T10:00:61Z")]
    [InlineData("2026-11-25T10:00:00+0100")]
    [InlineData("2026-11-25T10:00:00+01:60")]
    [InlineData("2026-11-25T10:00:00ZZ")]
    [InlineData("20261125T100000Z..........")]
    [InlineData("0000-01-01T00:00:00Z")]
    [InlineData("0001-01-01T00:00:00+00:01")]
    [InlineData("9999-12-31T23:59:59-00:01")]
    [InlineData("9999-12-31T23:59:60Z")]
    public void Another_text_is_no_time(string text) => Assert.False(Rfc3339.TryParse(Encoding.UTF8.GetBytes(text), out _));

    [Theory]
    [InlineData("\"2026-11-25T09:59:00Z\"", "2026-11-25T09:59:00Z")]
    [InlineData("\"2026-11-25T10:09:59Z\"", "2026-11-25T10:09:59Z")]
    [InlineData("\"2026-10-26T10:00:00Z\"", "2026-10-26T10:00:00Z")]
    [InlineData("1795600740", "2026-11-25T09:59:00Z")]
    [InlineData("1795600740.5", "2026-11-25T09:59:00.5Z")]
    [InlineData("1795600740500", "2026-11-25T09:59:00.5Z")]
    public void A_believable_time_of_the_payload_is_the_time_of_the_reading(string at, string measured)
    {
        var batch = Decoding.Own($$"""{"temperature": 21, "at": {{at}}}""");

        var reading = Assert.Single(batch.Readings);
        Assert.Empty(batch.Refusals);
        Assert.Equal((InstantPattern.ExtendedIso.Parse(measured).Value, ClockSource.Payload), (reading.MeasuredAt, reading.Clock));
    }

    [Theory]
    [InlineData("\"2026-11-25T10:10:01Z\"", RefusalReason.FutureTime)]
    [InlineData("\"1970-01-01T00:12:00Z\"", RefusalReason.BadTime)]
    [InlineData("\"2000-01-01T00:00:00Z\"", RefusalReason.BadTime)]
    [InlineData("720", RefusalReason.BadTime)]
    [InlineData("0", RefusalReason.BadTime)]
    [InlineData("-5", RefusalReason.BadTime)]
    [InlineData("1795600740500000000", RefusalReason.BadTime)]
    [InlineData("1e300", RefusalReason.BadTime)]
    [InlineData("1e999", RefusalReason.BadTime)]
    [InlineData("253402300799", RefusalReason.BadTime)]
    [InlineData("253402300799.9", RefusalReason.BadTime)]
    [InlineData("253402300799999", RefusalReason.BadTime)]
    [InlineData("\"9999-12-31T23:59:59Z\"", RefusalReason.BadTime)]
    [InlineData("\"9999-12-31T23:59:59.999999999Z\"", RefusalReason.BadTime)]
    [InlineData("\"9999-12-31T23:59:60Z\"", RefusalReason.BadTime)]
    [InlineData("\"9999-12-31T23:59:59-23:59\"", RefusalReason.BadTime)]
    [InlineData("\"0001-01-01T00:00:00+23:59\"", RefusalReason.BadTime)]
    [InlineData("\"2026-11-25T09:59:00\"", RefusalReason.BadTime)]
    [InlineData("\"yesterday\"", RefusalReason.BadTime)]
    [InlineData("\"1795600740\"", RefusalReason.BadTime)]
    [InlineData("true", RefusalReason.BadTime)]
    [InlineData("{\"s\": 1}", RefusalReason.BadTime)]
    public void Another_time_is_refused_and_the_reading_counts_from_its_arrival(string at, RefusalReason reason)
    {
        var batch = Decoding.Own($$"""{"temperature": 21, "at": {{at}}}""");

        var reading = Assert.Single(batch.Readings);
        Assert.Equal((Decoding.Now, ClockSource.Arrival), (reading.MeasuredAt, reading.Clock));
        Assert.Equal(("at", reason), (batch.OneRefusal().Quantity, batch.OneRefusal().Reason));
    }

    [Theory]
    [InlineData("")]
    [InlineData(", \"at\": null")]
    [InlineData(", \"at\": \"1970-01-01T00:12:00Z\"")]
    public void A_retained_message_without_a_believable_time_is_last_known_only(string at)
    {
        var batch = Decoding.Own($$"""{"temperature": 21{{at}}}""", retained: true);

        Assert.Empty(batch.Readings);
        Assert.Equal(21, Assert.Single(batch.LastKnown).Temperature!.Value.Celsius);
        Assert.Contains(batch.Refusals, refusal => refusal.Reason == RefusalReason.RetainedWithoutTime);
    }

    [Fact]
    public void A_retained_message_with_its_own_time_is_a_reading_like_any_other()
    {
        var batch = Decoding.Own("""{"temperature": 21, "at": "2026-11-25T03:00:00Z"}""", retained: true);

        Assert.Equal(Instant.FromUtc(2026, 11, 25, 3, 0), Assert.Single(batch.Readings).MeasuredAt);
        Assert.Empty(batch.LastKnown);
    }

    [Fact]
    public void Late_and_out_of_order_readings_keep_their_own_times_to_the_millisecond()
    {
        var decoder = new MessageDecoder(TopicMap.Default);
        string[] times = ["10:00:00.1239Z", "08:00:00Z", "09:00:00Z", "08:00:00Z"];

        var batch = decoder.Decode(
            [.. times.Select(time => Decoding.Message("chamber/shelf/reading", $$"""{"temperature": 21, "at": "2026-11-25T{{time}}"}"""))]);

        Assert.Equal(
            ["2026-11-25T10:00:00.123Z", "2026-11-25T08:00:00Z", "2026-11-25T09:00:00Z", "2026-11-25T08:00:00Z"],
            batch.Readings.Select(reading => InstantPattern.ExtendedIso.Format(reading.MeasuredAt)));
    }
}

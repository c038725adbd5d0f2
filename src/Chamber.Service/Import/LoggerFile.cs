using System.Globalization;
using System.Text;
using Chamber.Core.Climate;
using CsvHelper;
using NodaTime;

namespace Chamber.Service.Import;

/// <summary>What a file needs to know of its surroundings.</summary>
/// <param name="Home">The zone of times without one.</param>
/// <param name="Now">Readings after this and a little are refused.</param>
/// <param name="Probe">The probe, when no column names it.</param>
/// <param name="UnitConfirmed">Somebody said that the units are right.</param>
internal sealed record LoggerContext(DateTimeZone Home, Instant Now, ProbeId? Probe, bool UnitConfirmed);

/// <summary>A logger's file, read line by line: memory does not grow with its length.</summary>
internal sealed class LoggerFile : IDisposable
{
    private const int BufferSize = 1 << 16;
    private const int LineLengthMax = 1 << 20;
    private static readonly Duration Ahead = Duration.FromMinutes(10);
    private static readonly Refusal[] NoRefusals = [];

    private readonly string path;
    private readonly CsvLayout layout;
    private readonly LoggerContext context;
    private readonly FileStream file;
    private readonly CsvReader reader;
    private readonly CsvColumns columns;
    private readonly CsvTime time;
    private readonly NumberFormatInfo numbers;
    private readonly Dictionary<ProbeId, TemperatureSample> last = [];
    private bool isOnFirst;
    private int? width;

    private LoggerFile(string path, CsvLayout layout, LoggerContext context, FileStream file)
    {
        this.path = System.IO.Path.GetFileName(path);
        this.layout = layout;
        this.context = context;
        this.file = file;
        time = new(layout, context.Home);
        numbers = new() { NumberDecimalSeparator = layout.Decimal, NumberGroupSeparator = " " };
        reader = Reader(file, layout);
        columns = Columns();
    }

    /// <summary>How much of the file has been read, 0 to 1.</summary>
    public double Progress => file.Length == 0 ? 1 : (double)file.Position / file.Length;

    /// <exception cref="BadInputException">The file or its layout cannot be used.</exception>
    public static LoggerFile Open(string path, CsvLayout layout, LoggerContext context)
    {
        FileStream? file = null;
        try
        {
            file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, BufferSize);
            return new(path, layout, context, file);
        }
        catch (Exception problem)
        {
            file?.Dispose();
            throw problem is IOException or UnauthorizedAccessException
                ? new BadInputException($"{path} cannot be read: {FileFault.Of(problem)}", problem)
                : problem;
        }
    }

    /// <summary>The names of columns from which nothing is taken.</summary>
    public IReadOnlyList<string> UnusedColumns => columns.Unused;

    /// <summary>Every line after the header; empty lines are passed over.</summary>
    public IEnumerable<LoggerLine> Lines()
    {
        for (var more = isOnFirst || reader.Read(); more; more = reader.Read())
        {
            if (!IsEmpty())
            {
                yield return Read(reader.LineNumber + layout.Skip);
            }
        }
    }

    public void Dispose()
    {
        reader.Dispose();
        file.Dispose();
    }

    private bool IsEmpty()
    {
        for (var i = 0; i < reader.FieldCount; i++)
        {
            if (!reader.IsEmpty(i))
            {
                return false;
            }
        }

        return true;
    }

    private LoggerLine Read(long number)
    {
        if (Surplus(number) is { } surplus)
        {
            return new(number, null, [surplus]);
        }

        var refusals = NoRefusals;
        var line = new LineReader(this, number);
        return line.Read(ref refusals) is { IsEmpty: false } reading
            ? new(number, reading, refusals)
            : new(number, null, refusals);
    }

    // 25,1 between commas would be read as 25, and every later column as its neighbour.
    private Refusal? Surplus(long number)
    {
        var named = width ??= layout.Header ? reader.Headers.Count : reader.FieldCount;
        if (!Enumerable.Range(named, Math.Max(0, reader.FieldCount - named)).Any(index => !reader.IsEmpty(index)))
        {
            return null;
        }

        var raw = string.Join(" | ", Enumerable.Range(0, reader.FieldCount).Select(reader.GetString));
        return new(context.Now, $"{path}:{number}", context.Probe, null, RefusalReason.Malformed,
            raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax],
            $"The line has {reader.FieldCount} values and the file {named} columns: put a value that contains the separator in quotes, "
                + "such as \"25,1\", or use another separator.");
    }

    private static CsvReader Reader(FileStream file, CsvLayout layout)
    {
        var text = new StreamReader(file, Encoding.UTF8, detectEncodingFromByteOrderMarks: true, BufferSize);
        for (var i = 0; i < layout.Skip; i++)
        {
            text.ReadLine();
        }

        return CsvReader.Create(text, new CsvReaderOptions
        {
            Separator = layout.Separator,
            HasHeader = layout.Header,
            TrimWhitespace = true,
            TrackLineNumbers = true,

            // One stray quote must not swallow the rest of the file.
            AllowLineBreaksInQuotes = false,
            MaxRecordSize = LineLengthMax,
            BufferSize = BufferSize,
        });
    }

    private CsvColumns Columns()
    {
        if (!layout.Header)
        {
            isOnFirst = reader.Read();
            return CsvColumns.Find(layout, new string[reader.FieldCount], path);
        }

        reader.ReadHeader();
        return reader.Headers.Count > 0
            ? CsvColumns.Find(layout, reader.Headers, path)
            : throw new BadInputException($"{path} is empty.");
    }

    /// <summary>Reads one line into a reading.</summary>
    private readonly struct LineReader(LoggerFile file, long number)
    {
        public Reading? Read(ref Refusal[] refusals)
        {
            if (Probe(ref refusals) is not { } probe || At(probe, ref refusals) is not { } at)
            {
                return null;
            }

            var raw = new RawReading();
            var none = true;
            foreach (var (index, unit) in file.columns.Quantities)
            {
                none &= !Set(ref raw, index, unit, probe, ref refusals);
            }

            if (none)
            {
                return refusals.Length > 0 ? null
                    : Refuse(probe, null, RefusalReason.Missing, string.Empty, "The line holds no number.", ref refusals);
            }

            file.last.TryGetValue(probe, out var previous);
            var origin = new ReadingOrigin(probe, at, file.context.Now, ClockSource.Payload, Source,
                file.last.ContainsKey(probe) ? previous : null, file.context.UnitConfirmed);
            var judged = new List<Refusal>();
            var reading = raw.Screen(origin, judged);
            refusals = judged.Count == 0 ? refusals : [.. refusals, .. judged];
            if (reading.Temperature is { } temperature)
            {
                file.last[probe] = new(at, temperature);
            }

            return reading;
        }

        private string Source => $"{file.path}:{number}";

        private string? Field(int index) => index < file.reader.FieldCount ? file.reader.GetString(index) : null;

        private ProbeId? Probe(ref Refusal[] refusals)
        {
            if (file.columns.Probe is not { } index)
            {
                return file.context.Probe ?? throw new BadInputException(
                    $"{file.path} does not say which probe it comes from: add --probe NAME, or --column probe=NAME.");
            }

            var name = Field(index) ?? string.Empty;
            if (Core.Identifier.IsValid(name))
            {
                return new ProbeId(name);
            }

            Refuse(null, "probe", RefusalReason.Malformed, name,
                "A probe's name has 1 to 48 letters, digits, '-', '_' or '.'.", ref refusals);
            return null;
        }

        private Instant? At(ProbeId probe, ref Refusal[] refusals)
        {
            var text = Field(file.columns.At[0]) ?? string.Empty;
            if (file.columns.At.Length > 1)
            {
                text = $"{text} {Field(file.columns.At[1])}";
            }

            var (at, reason, fix) = file.time.Read(text, file.context.Now + Ahead);
            if (at is null)
            {
                Refuse(probe, "at", reason, text, fix, ref refusals);
            }

            return at;
        }

        private bool Set(ref RawReading raw, int index, DeclaredUnit unit, ProbeId probe, ref Refusal[] refusals)
        {
            var text = Field(index);
            if (string.IsNullOrEmpty(text))
            {
                return false;
            }

            if (double.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent,
                file.numbers, out var number))
            {
                raw.Set(number, unit);
                return true;
            }

            var comma = file.layout.Decimal == "." && text.Contains(',', StringComparison.Ordinal);
            var isWord = SentinelValues.IsWordForNothing(text);
            Refuse(
                probe,
                Fixes.NameOf(unit.Quantity),
                isWord ? RefusalReason.Missing : RefusalReason.Malformed,
                text,
                isWord ? "The sensor reported no value." : comma
                    ? "If the comma is a decimal sign, say so: --decimal , or \"decimal\": \",\"." : "That is not a number.",
                ref refusals);
            return false;
        }

        private Reading? Refuse(ProbeId? probe, string? quantity, RefusalReason reason, string raw, string fix, ref Refusal[] refusals)
        {
            var cut = raw.Length <= Refusal.RawLengthMax ? raw : raw[..Refusal.RawLengthMax];
            refusals = [.. refusals, new(file.context.Now, Source, probe, quantity, reason, cut, fix)];
            return null;
        }
    }
}

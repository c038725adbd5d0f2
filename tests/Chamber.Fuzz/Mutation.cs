using System.Text;

namespace Chamber.Fuzz;

/// <summary>Bad input made from the samples of tests/cases/fuzz: one seed gives one input. Half of the steps bend bytes, half keep to the
/// structure (<see cref="TextSteps"/>, <see cref="PacketSteps"/>), so that what is bent gets past the first look.</summary>
internal sealed class Mutation
{
    private const int LengthMax = 8192;
    private const int SamplesMax = 20_000;

    // What readers stumble over: signs of the forms, text that is none.
    private static readonly byte[][] Stones = [.. new[]
    {
        "1e999", "-1e999", "NaN", "1e-400", "0.1e1", "1_0", "1,5", "9999-12-31T23:59:59-23:59", "0001-01-01T00:00:00+23:59", "null", "true",
        "{", "}", "[", "]", "\"", ",", ":", ";", "\\u0000", "\\uD800", "\0", "\r\n", "\t", "#", "+", "/", "..", "%00", "°", "\u202e",
        "\ufeff", "\U0001F331", "$SYS", new string('a', 300), new string('[', 200), new string('9', 400), "{\"a\":", "\"\":", "'", "`",
        "C", "F", "K", "µ",
    }.Select(Encoding.UTF8.GetBytes), [0xff], [0xc0, 0x80], [0xed, 0xa0, 0x80], [0xff, 0xff, 0xff, 0x7f], [0x80, 0x80, 0x80, 0x80, 0x01]];

    private readonly List<byte[]> samples;
    private readonly IStructuredSteps? structure;
    private readonly int given;

    /// <param name="file">The file of samples.</param>
    /// <param name="further">Samples that another test has.</param>
    public Mutation(string file, params IEnumerable<string> further)
    {
        samples = [.. Samples.Of(file), .. further.Select(Encoding.UTF8.GetBytes), .. Samples.Found(file)];
        given = samples.Count;
        structure = Path.GetExtension(file) == ".txt" ? new TextSteps(samples) : file == "dns.hex" ? null : new PacketSteps();
    }

    /// <summary>Inputs that reached something new, in order of finding.</summary>
    public IEnumerable<byte[]> Found => samples.Skip(given);

    /// <summary>Makes an input a sample too, so that the next are made from it; beyond 20,000 no more are kept.</summary>
    public void Keep(byte[] input)
    {
        if (samples.Count < SamplesMax)
        {
            samples.Add(input);
        }
    }

    /// <summary>The input of a seed. The first seeds give the samples as they are.</summary>
    public byte[] Of(int seed)
    {
        if (seed < given)
        {
            return samples[seed];
        }

        var random = new Random(seed);
        List<byte> bytes = [.. samples[random.Next(samples.Count)]];
        for (var steps = random.Next(2) == 0 ? 1 : 2 + random.Next(5); steps > 0; steps--)
        {
            if (structure is null || random.Next(2) == 0)
            {
                Step(bytes, random);
            }
            else
            {
                structure.Step(bytes, random);
            }

            // What a step repeats grows with what the one before it has repeated.
            if (bytes.Count > LengthMax)
            {
                bytes.RemoveRange(LengthMax, bytes.Count - LengthMax);
            }
        }

        return [.. bytes];
    }

    private void Step(List<byte> bytes, Random random)
    {
        var at = random.Next(bytes.Count + 1);
        var length = Math.Min(random.Next(1, 16), bytes.Count - at);
        switch (random.Next(8))
        {
            case 0 when length > 0:
                bytes[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1 when length > 0:
                bytes[at] = (byte)random.Next(256);
                break;
            case 2:
                bytes.RemoveRange(at, length);
                break;
            case 3:
                bytes.InsertRange(at, bytes.GetRange(at, length));
                break;
            case 4:
                bytes.RemoveRange(at, bytes.Count - at);
                break;
            case 5:
                var other = samples[random.Next(samples.Count)];
                bytes.InsertRange(at, other[random.Next(other.Length + 1)..]);
                break;
            case 6:
                bytes.RemoveRange(at, length);
                bytes.InsertRange(at, Stones[random.Next(Stones.Length)]);
                break;
            default:
                bytes.InsertRange(at, Stones[random.Next(Stones.Length)]);
                break;
        }
    }
}

/// <summary>Steps that keep to the structure of a kind of input.</summary>
internal interface IStructuredSteps
{
    /// <summary>Changes an input by one step.</summary>
    void Step(List<byte> bytes, Random random);
}

using System.Globalization;
using Chamber.Core;
using Chamber.Service.Photos;
using Chamber.Testing;

namespace Chamber.Service.Tests.Faults;

/// <summary>Photos that are small as files and large when they are opened, several at once: tests/cases/faults/photos.csv.</summary>
[Trait(Tier.Name, Tier.Whole)]
public sealed class PhotoFaultTests
{
    public static TheoryData<string, int, int, int, int, string> Cases => [.. FaultCases.Of("photos.csv").Select(line =>
        (line[0], Number(line[1]), Number(line[2]), Number(line[3]), Number(line[4]), line[5]))];

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_small_file_of_many_pixels_takes_memory_once(string fault, int width, int height, int atOnce, int most, string told)
    {
        var file = Bounds.PhotoPixels.Holds((double)width * height) || width == 0 ? SomePhoto.PlainPng(width, height)
            : SomePhoto.PngThatClaims((uint)width);
        Assert.InRange(file.Length, 1, 500_000);
        ForgetPeak();
        var before = Peak();
        var answers = await Task.WhenAll(Enumerable.Range(0, atOnce).Select(_ => Task.Run(() => Answer(file))));
        Assert.All(answers, answer => Assert.Contains(told.Length > 0 ? told : "kept", answer, StringComparison.Ordinal));
        Assert.True(Peak() - before < most, $"{fault}: {Peak() - before} MB more");
    }

    private static string Answer(byte[] file)
    {
        try
        {
            return PhotoImage.Of(file).Photo.Length > 0 ? "kept" : "empty";
        }
        catch (BadInputException problem)
        {
            return problem.Message;
        }
    }

    // proc(5): 5 begins the peak of resident memory again.
    private static void ForgetPeak() => File.WriteAllText("/proc/self/clear_refs", "5");

    private static int Peak() => Number(File.ReadLines("/proc/self/status")
        .Single(line => line.StartsWith("VmHWM:", StringComparison.Ordinal)).Split(' ', StringSplitOptions.RemoveEmptyEntries)[^2]) / 1024;

    private static int Number(string text) => int.Parse(text, CultureInfo.InvariantCulture);
}

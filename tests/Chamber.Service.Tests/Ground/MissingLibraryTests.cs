using System.Runtime.InteropServices;

namespace Chamber.Service.Tests.Ground;

/// <summary>A library that is not there, by the runtime's own exceptions; the message with a dependency is in the form of .NET 10 on
/// Debian 12.</summary>
public sealed class MissingLibraryTests
{
    private const string OfDependency = """
        Unable to load shared library 'libSkiaSharp' or one of its dependencies. In order to help diagnose loading problems, consider using a tool like strace. If you're using glibc, consider setting the LD_DEBUG environment variable:
        libfontconfig.so.1: cannot open shared object file: No such file or directory
        /usr/lib/chamber/liblibSkiaSharp.so: cannot open shared object file: No such file or directory
        /usr/lib/chamber/libSkiaSharp: cannot open shared object file: No such file or directory
        """;

    [Fact]
    public void A_part_of_the_program_that_is_gone_is_named_with_the_fix()
    {
        var missing = Assert.Throws<DllNotFoundException>(
            () => NativeLibrary.Load("chamber-none", typeof(MissingLibraryTests).Assembly, null));
        var said = MissingLibrary.Of(new TypeInitializationException("Some.Type", missing));
        Assert.StartsWith("A part of the program is missing or broken: libchamber-none.so in ", said, StringComparison.Ordinal);
        Assert.Contains("Install Chamber again", said, StringComparison.Ordinal);
        Assert.DoesNotContain("\n", said, StringComparison.Ordinal);
    }

    [Fact]
    public void A_library_of_the_machine_is_named_with_its_package() => Assert.Equal(
        "The library libfontconfig.so.1 is missing on this machine; libSkiaSharp needs it. On Debian: apt install libfontconfig1",
        MissingLibrary.Of(new TypeInitializationException("SkiaSharp.SKObject", new DllNotFoundException(OfDependency))));

    [Fact]
    public void A_managed_part_is_named_too() => Assert.StartsWith("A part of the program is missing or broken: Ical.Net.dll.",
        MissingLibrary.Of(new FileNotFoundException("Could not load file or assembly 'Ical.Net, Version=5.0.0.0, Culture=neutral, "
            + "PublicKeyToken=null'. The system cannot find the file specified.")), StringComparison.Ordinal);

    [Fact]
    public void Another_trouble_is_told_by_its_own_words() =>
        Assert.Null(MissingLibrary.Of(new InvalidOperationException("out of paper", new FileNotFoundException("no such photo"))));
}

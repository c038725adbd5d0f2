using System.Numerics;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Chamber.Fuzz;

/// <summary>
/// Which branches a call takes, where eng/fuzz has instrumented the assemblies: each branch then counts in a map of 64 kB, as AFL's
/// technical notes describe it. In an ordinary build there is none.
/// </summary>
internal sealed class Coverage
{
    private const string Instrument = "SharpFuzz.Common.dll";
    private const int Size = 65536;

    // Pinned: instrumented code writes to its address.
    private static readonly byte[] Map = GC.AllocateArray<byte>(Size, pinned: true);

    private readonly byte[] seen = new byte[Size];

    private Coverage()
    {
    }

    /// <summary>Branches seen so far, each in the classes of how often it was taken.</summary>
    public int Seen { get; private set; }

    /// <summary>Null where nothing is instrumented.</summary>
    public static Coverage? OfBuild() => IsInstrumented ? new() : null;

    private static bool IsInstrumented { get; set; }

    public static void Begin() => Array.Clear(Map);

    /// <summary>Whether the call since <see cref="Begin"/> took a branch that none took before, or took one more or less often by a class:
    /// 1, 2, 4 and so on.</summary>
    public bool IsNew()
    {
        var before = Seen;
        for (var at = Next(0); at >= 0; at = Next(at + 1))
        {
            var often = (byte)(1 << BitOperations.Log2(Map[at]));
            Seen += (seen[at] & often) == 0 ? 1 : 0;
            seen[at] |= often;
        }

        return Seen > before;
    }

    private static int Next(int from)
    {
        var found = Map.AsSpan(from).IndexOfAnyExcept((byte)0);
        return found < 0 ? -1 : from + found;
    }

    // Before anything instrumented runs, which would write nowhere.
#pragma warning disable CA2255 // This assembly is an application.
    [ModuleInitializer]
#pragma warning restore CA2255
    internal static void Prepare()
    {
        var path = Path.Combine(AppContext.BaseDirectory, Instrument);
        if (!File.Exists(path))
        {
            return;
        }

        Assembly.LoadFrom(path).GetType("SharpFuzz.Common.Trace", throwOnError: true)!.GetField("SharedMem")!
            .SetValue(null, Marshal.UnsafeAddrOfPinnedArrayElement(Map, 0));
        IsInstrumented = true;
    }
}

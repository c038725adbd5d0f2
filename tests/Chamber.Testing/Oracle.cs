namespace Chamber.Testing;

/// <summary>Programs outside the project that compute reference values.</summary>
public static class Oracle
{
    /// <summary>What an R script prints (Debian's r-base-core, with r-cran-survival).</summary>
    public static async Task<string> R(string script) =>
        (await RunningProgram.Run("Rscript", ["--vanilla", "-"], script)).Succeeded();

    /// <summary>What a Python script prints, with SciPy at hand (Debian's python3-scipy, so Debian's Python).</summary>
    public static async Task<string> SciPy(string script) =>
        (await RunningProgram.Run("/usr/bin/python3", ["-"], script)).Succeeded();
}

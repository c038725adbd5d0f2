namespace Chamber.Testing;

/// <summary>Programs outside the project that compute reference values.</summary>
public static class Oracle
{
    /// <summary>A sum over a dense grid takes seconds, and minutes where everything else wants the cores too.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(5);

    /// <summary>What an R script prints (Debian's r-base-core, with r-cran-survival and r-cran-spc).</summary>
    public static async Task<string> R(string script) =>
        (await RunningProgram.Run("Rscript", ["--vanilla", "-"], script, patience: Patience)).Succeeded();

    /// <summary>What a Python script prints, with SciPy at hand (Debian's python3-scipy, so Debian's Python).</summary>
    public static async Task<string> SciPy(string script) =>
        (await RunningProgram.Run("/usr/bin/python3", ["-"], script, patience: Patience)).Succeeded();

    /// <summary>What a Python script prints, with a browser of services at hand (Debian's python3-zeroconf).</summary>
    public static async Task<string> Zeroconf(string script) =>
        (await RunningProgram.Run("/usr/bin/python3", ["-"], script, patience: Patience)).Succeeded();

    /// <summary>What jsonschema for Python (Debian's python3-jsonschema) finds wrong in a list of documents by a schema; empty when
    /// nothing.</summary>
    public static async Task<string> JsonSchema(string schemaPath, string documentsPath) =>
        (await RunningProgram.Run("/usr/bin/python3", ["-", schemaPath, documentsPath], """
        import json, sys
        from jsonschema import Draft202012Validator
        schema, documents = (json.load(open(path)) for path in sys.argv[1:])
        Draft202012Validator.check_schema(schema)
        for document in documents:
            for fault in Draft202012Validator(schema).iter_errors(document):
                print(fault.json_path, fault.message)
        """)).Succeeded();
}

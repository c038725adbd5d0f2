namespace Chamber.Service.Access;

/// <summary>Which requests are a program's.</summary>
internal static class ApiPath
{
    public static bool IsApi(PathString path) => path.StartsWithSegments("/api") || path.StartsWithSegments("/openapi");
}

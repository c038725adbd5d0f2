namespace Chamber.Service.Web.Views;

/// <summary>A temperature as somebody types it into a field: with a point or a comma, with its unit or without.</summary>
/// <param name="Number">The number, with a point.</param>
/// <param name="Unit">C or F; null when none was typed.</param>
public readonly record struct TypedTemperature(string Number, string? Unit)
{
    public static TypedTemperature Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var typed = text.Trim().Replace("℃", "C", StringComparison.Ordinal).Replace("℉", "F", StringComparison.Ordinal);
        var unit = typed is [.., 'C' or 'c'] ? "C" : typed is [.., 'F' or 'f'] ? "F" : null;
        var number = unit is null ? typed : typed[..^1];
        return new(number.Trim().TrimEnd('°').TrimEnd().Replace(',', '.'), unit);
    }

    /// <summary>As it is parsed, with its own unit or else this one.</summary>
    public string With(string unit) => $"{Number}{Unit ?? unit}";
}

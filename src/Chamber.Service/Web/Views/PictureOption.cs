namespace Chamber.Service.Web.Views;

/// <summary>One answer to a question that is asked in pictures.</summary>
/// <param name="Value">What it stands for.</param>
/// <param name="Scene">Which picture.</param>
/// <param name="Label">The word under it.</param>
/// <param name="Hint">A few more words; may be empty.</param>
public sealed record PictureOption<T>(T Value, string Scene, string Label, string Hint = "");

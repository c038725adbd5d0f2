using System.Collections;
using System.Globalization;

namespace Chamber.Core.Batches;

/// <summary>The marks on a photo, in order of their numbers; equal when each mark is. As text: "1 0.25 0.5; 2 0.75 0.5".</summary>
public sealed class PhotoMarks : IReadOnlyList<PhotoMark>, IEquatable<PhotoMarks>
{
    private const int Digits = 4;

    private readonly PhotoMark[] marks;

    /// <param name="marks">One for each seedling; kept to a ten-thousandth of the side.</param>
    /// <exception cref="BatchRefusedException">A number stands twice or is below 1, or a mark lies outside the photo.</exception>
    public PhotoMarks(IEnumerable<PhotoMark> marks)
    {
        this.marks = [.. marks.OrderBy(mark => mark.Seedling).Select(Rounded)];
        foreach (var mark in this.marks)
        {
            BatchRules.Refuse(mark.Seedling < 1, $"A mark has the number {mark.Seedling}: count from 1.", "marks");
            BatchRules.Refuse(mark.X is not (>= 0 and <= 1) || mark.Y is not (>= 0 and <= 1),
                $"Mark {mark.Seedling} lies outside the photo: its place is two shares from 0 to 1.", "marks");
        }

        var twice = this.marks.Zip(this.marks.Skip(1)).FirstOrDefault(pair => pair.First.Seedling == pair.Second.Seedling).First.Seedling;
        BatchRules.Refuse(twice > 0, $"Two marks have the number {twice}: one seedling has one mark.", "marks");
    }

    /// <summary>Nothing is marked.</summary>
    public static PhotoMarks None { get; } = new([]);

    /// <inheritdoc/>
    public int Count => marks.Length;

    /// <inheritdoc/>
    public PhotoMark this[int index] => marks[index];

    /// <summary>Reads what <see cref="ToString"/> writes.</summary>
    /// <exception cref="FormatException">It is not of that form.</exception>
    public static PhotoMarks Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        try
        {
            return new(text.Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Select(One));
        }
        catch (BatchRefusedException refused)
        {
            throw new FormatException(refused.Message, refused);
        }
    }

    /// <inheritdoc/>
    public bool Equals(PhotoMarks? other) => other is not null && marks.AsSpan().SequenceEqual(other.marks);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as PhotoMarks);

    /// <inheritdoc/>
    public override int GetHashCode() => marks.Aggregate(marks.Length, HashCode.Combine);

    /// <inheritdoc/>
    public override string ToString() =>
        string.Join("; ", marks.Select(mark => string.Create(CultureInfo.InvariantCulture, $"{mark.Seedling} {mark.X} {mark.Y}")));

    /// <inheritdoc/>
    public IEnumerator<PhotoMark> GetEnumerator() => marks.AsEnumerable().GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    private static PhotoMark Rounded(PhotoMark mark) =>
        mark with { X = Math.Round(mark.X, Digits), Y = Math.Round(mark.Y, Digits) };

    private static PhotoMark One(string text)
    {
        var parts = text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return parts.Length == 3 && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && double.TryParse(parts[1], NumberStyles.Float, CultureInfo.InvariantCulture, out var x)
            && double.TryParse(parts[2], NumberStyles.Float, CultureInfo.InvariantCulture, out var y)
            ? new(number, x, y)
            : throw new FormatException($"\"{text}\" is no mark: write its number and its place, as in 1 0.25 0.5.");
    }
}

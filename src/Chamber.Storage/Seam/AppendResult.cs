using Chamber.Core.Climate;

namespace Chamber.Storage.Seam;

/// <summary>What became of the readings of one append.</summary>
/// <param name="Inserted">So many were new.</param>
/// <param name="Filled">So many added a quantity to a reading that was there.</param>
/// <param name="Duplicates">So many said nothing new.</param>
/// <param name="Refused">So many were of a probe beyond the bound; they stand among the refusals.</param>
/// <param name="Changed">The new readings and the filled ones, whole, as the journal now has them: this is what a fold has to take
/// in.</param>
public sealed record AppendResult(int Inserted, int Filled, int Duplicates, int Refused, IReadOnlyList<Reading> Changed);

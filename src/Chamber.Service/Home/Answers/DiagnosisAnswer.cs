using Chamber.Core.Diagnosis;

namespace Chamber.Service.Home.Answers;

/// <summary>A diagnosis for programs.</summary>
/// <param name="Phase">How far the batch has come.</param>
/// <param name="Cause">The cause that explains most.</param>
/// <param name="Blame">Whose doing it was.</param>
/// <param name="Sentence">The answer in one sentence with the number that decides it.</param>
/// <param name="Advice">What to do now; empty when nothing.</param>
/// <param name="NextTime">What to do differently next time; empty when nothing.</param>
/// <param name="Evidence">Every cause that has evidence, in the order in which they are looked for.</param>
/// <param name="Lost">How many of the seeds sown make no plant, as far as is known now.</param>
/// <param name="Losses">The same by what they are lost to; they add up to it.</param>
internal sealed record DiagnosisAnswer(
    BatchPhase Phase,
    CauseKind Cause,
    Blame Blame,
    string Sentence,
    string Advice,
    string NextTime,
    IReadOnlyList<CauseKind> Evidence,
    double Lost,
    IReadOnlyList<LossPartAnswer> Losses)
{
    public static DiagnosisAnswer? Of(BatchDiagnosis? diagnosis) => diagnosis is null ? null : new(
        diagnosis.Phase,
        diagnosis.Cause.Kind,
        diagnosis.Blame,
        diagnosis.Sentence,
        diagnosis.Advice,
        diagnosis.NextTime,
        [.. diagnosis.Evidence.Select(cause => cause.Kind)],
        diagnosis.Loss.Seeds,
        [.. diagnosis.Loss.Parts.Select(part => new LossPartAnswer(part.Kind, part.Seeds))]);
}

/// <summary>A part of a loss.</summary>
/// <param name="To">What to.</param>
/// <param name="Seeds">How many of the seeds sown.</param>
internal sealed record LossPartAnswer(LossKind To, double Seeds);

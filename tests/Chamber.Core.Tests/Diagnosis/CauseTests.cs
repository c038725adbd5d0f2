using Chamber.Core.Diagnosis;

namespace Chamber.Core.Tests.Diagnosis;

/// <summary>The closed set of causes: each has a name, words, and can be reached.</summary>
public class CauseTests
{
    private static readonly Type[] Causes = [.. typeof(Cause).Assembly.GetTypes().Where(type => type.IsSubclassOf(typeof(Cause)))];

    [Fact]
    public void There_is_one_cause_of_each_name()
    {
        Assert.All(Causes, type => Assert.True(type.IsSealed));
        Assert.Equal(Enum.GetValues<CauseKind>().Order(), Causes.Select(Made).Select(cause => cause.Kind).Order());
        Assert.All(typeof(Cause).GetConstructors(), constructor => Assert.Fail("A cause from outside would not be known here."));
    }

    [Fact]
    public void Every_cause_is_put_into_words_in_every_phase()
    {
        foreach (var cause in Causes.Select(Made))
        {
            Assert.NotEmpty(DiagnosisWords.Why(cause.Kind));
            foreach (var phase in Enum.GetValues<BatchPhase>())
            {
                var sentence = DiagnosisWords.Sentence(BatchDiagnosisTests.Good with { Phase = phase }, cause);
                Assert.True(sentence.EndsWith('.') && !char.IsLower(sentence[0]), sentence);
                Assert.Equal(phase == BatchPhase.Over, DiagnosisWords.Advice(cause, phase).Length == 0);
            }
        }
    }

    [Theory]
    [InlineData("TooHot", CauseKind.TooHot)]
    [InlineData("weak lot", CauseKind.WeakLot)]
    [InlineData("ColdSpot", CauseKind.TooCold)]
    [InlineData("wrongTemperature", CauseKind.TooHot)]
    [InlineData("3", null)]
    [InlineData("", null)]
    [InlineData(null, null)]
    public void Names_are_read_also_those_of_earlier_versions(string? text, CauseKind? kind) => Assert.Equal(kind, CauseKinds.Read(text));

    private static Cause Made(Type type)
    {
        var constructor = type.GetConstructors().Single(one => one.IsPublic);
        return (Cause)constructor.Invoke(
            [.. constructor.GetParameters()
            .Select(parameter => parameter.ParameterType == typeof(string) ? null : Activator.CreateInstance(parameter.ParameterType))]);
    }
}

using Chamber.Core.Forecasts;
using Chamber.Core.Forecasts.BeforeSowing;

namespace Chamber.Service.Home;

/// <summary>A forecast on one of the home's spots, or the one line that says why there is none.</summary>
internal static class SpotForecast
{
    public static EmergenceForecast Of(HomeReader home, NodaTime.Instant now, CropQuestion question, string name)
    {
        var spot = BadInputException.In("spot", () => home.RequireSpot(name));
        return home.At(now).Forecasts.OnSpot(question, spot.Id)
            ?? throw new BadInputException(
                $"{spot.Id} has not been measured through a whole day yet, so nothing can be said.") { Field = "spot",
                Kind = BadInputKind.Contradicts, Hint = $"Until then: chamber forecast --crop {question.Crop.Id} --at 22C" };
    }
}

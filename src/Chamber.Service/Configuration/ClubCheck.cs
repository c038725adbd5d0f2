namespace Chamber.Service.Configuration;

/// <summary>What may stand under <c>club</c>.</summary>
internal static class ClubCheck
{
    private const int HomeLengthMax = 40;

    public static IEnumerable<SettingsProblem> Of(ClubSettings? club)
    {
        if (club is null)
        {
            yield break;
        }

        if (string.IsNullOrWhiteSpace(club.Host))
        {
            yield return new("club.host", "is missing: name the club's broker, such as \"club.example\".");
        }
        else if (HostName.WhyNot(club.Host, "club.port", "club.example") is { } host)
        {
            yield return new("club.host", host);
        }

        if (club.Home.Length is 0 or > HomeLengthMax || club.Home[0] == '-'
            || !club.Home.All(letter => char.IsAsciiLetterLower(letter) || char.IsAsciiDigit(letter) || letter == '-'))
        {
            yield return new("club.home",
                $"is this home's name in the club, such as \"mill-lane-4\": 1 to {HomeLengthMax} small letters, digits and hyphens. Ask "
                + "the club's keeper for it.");
        }

        if (Core.Bounds.SentEvery.WhyNot(club.Every) is { } every)
        {
            yield return new("club.every", every);
        }
    }
}

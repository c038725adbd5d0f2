namespace Chamber.Service.Boards;

/// <summary>The boards that are ready made: three on the history that the mirror sends, one on the service's own metrics.</summary>
internal static class BoardList
{
    public static IReadOnlyList<Board> In(TemperatureScale units)
    {
        var scale = new BoardScale(units);
        return [HomeBoard.Make(scale), SpotBoard.Make(scale), BatchBoard.Make(scale), ServiceBoard.Make(scale)];
    }
}

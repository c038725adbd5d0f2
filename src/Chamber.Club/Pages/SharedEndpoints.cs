using Chamber.Service.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Routing;

namespace Chamber.Club.Pages;

/// <summary>
/// Styles, scripts and API, which are the same under every home's address: made once, since compiling the API's routes once more for each
/// site took most of what a site costs. They take what a request wants from the services of the site that has it; those that they were made
/// with belong to no home, and are never asked.
/// </summary>
internal sealed class SharedEndpoints : IAsyncDisposable
{
    private readonly WebApplication app;

    public SharedEndpoints(ClubParts club)
    {
        app = HomeSite.Build(new(0, "no-home", People.Role.Guest), club, new(), new(Store.SettingRows.Of(null), null), null);
        app.MapHomeParts(isAtHome: false);
        Source = new([.. ((IEndpointRouteBuilder)app).DataSources.SelectMany(source => source.Endpoints)]);
    }

    public DefaultEndpointDataSource Source { get; }

    public ValueTask DisposeAsync() => app.DisposeAsync();
}

using Microsoft.AspNetCore.Components;

namespace Chamber.Service.Web.Views;

/// <summary>
/// A thing that can be renamed on its own page. The address follows through the browser, which takes a moment: until it has arrived, and
/// when the name is taken back before that, the page is the same under each name that the thing has had on it.
/// </summary>
internal sealed class NamedPage(NavigationManager addresses, string folder)
{
    private readonly List<string> names = [];

    /// <summary>What an address is about.</summary>
    /// <param name="name">The name in the address.</param>
    /// <param name="find">Finds a thing by its present name.</param>
    public T? Find<T>(string name, Func<string, T?> find)
        where T : class =>
        find(name) ?? (names.Contains(name) ? names.Select(find).LastOrDefault(one => one is not null) : null);

    /// <summary>It has another name from now on.</summary>
    public void Rename(string from, string to)
    {
        Put(from);
        Follow(to);
    }

    /// <summary>Something was taken back; it may have been the name.</summary>
    public void Settle(string name)
    {
        if (names.Count > 0)
        {
            Follow(name);
        }
    }

    private void Follow(string name)
    {
        if (names[^1] != name)
        {
            Put(name);
            addresses.NavigateTo($"{folder}/{name}");
        }
    }

    private void Put(string name)
    {
        names.Remove(name);
        names.Add(name);
    }
}

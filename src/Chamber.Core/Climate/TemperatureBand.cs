namespace Chamber.Core.Climate;

/// <summary>A closed range of temperatures, low to high. The default value is 0 °C to 0 °C.</summary>
public readonly record struct TemperatureBand
{
    /// <exception cref="ArgumentException">Low lies above high.</exception>
    public TemperatureBand(Temperature low, Temperature high)
    {
        if (low > high)
        {
            throw new ArgumentException($"A band runs from low to high; {low} to {high} does not.");
        }

        Low = low;
        High = high;
    }

    public Temperature Low { get; }

    public Temperature High { get; }

    /// <summary>Both ends belong to the band.</summary>
    public bool Contains(Temperature temperature) => temperature >= Low && temperature <= High;
}

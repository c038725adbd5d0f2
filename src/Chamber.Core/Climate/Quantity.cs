namespace Chamber.Core.Climate;

/// <summary>What a reading can hold. The names in lower case are those of payload fields and of <see cref="Refusal.Quantity"/>.</summary>
public enum Quantity
{
    /// <summary>Temperature of the probe's measurand.</summary>
    Temperature,

    /// <summary>Relative humidity of the air.</summary>
    Humidity,

    /// <summary>Media moisture in the probe's own raw scale.</summary>
    Moisture,

    /// <summary>Battery charge.</summary>
    Battery,
}

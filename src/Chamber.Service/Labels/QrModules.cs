using QRCoder;

namespace Chamber.Service.Labels;

/// <summary>An address as a QR code.</summary>
internal static class QrModules
{
    /// <summary>Modules row by row with the quiet zone. Medium error correction: a label gets wet and muddy (ISO/IEC 18004).</summary>
    public static bool[][] Of(Uri address)
    {
        using var generator = new QRCodeGenerator();
        using var code = generator.CreateQrCode(address.AbsoluteUri, QRCodeGenerator.ECCLevel.M);
        return [.. code.ModuleMatrix.Select(row => row.Cast<bool>().ToArray())];
    }
}

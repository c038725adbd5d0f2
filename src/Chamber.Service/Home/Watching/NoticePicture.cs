namespace Chamber.Service.Home.Watching;

/// <summary>A picture with what it shows in words, for those who cannot see it.</summary>
internal sealed record NoticePicture(byte[] Png, string Alt);

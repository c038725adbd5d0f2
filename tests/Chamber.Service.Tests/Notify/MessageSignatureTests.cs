using Chamber.Service.Notify;

namespace Chamber.Service.Tests.Notify;

public class MessageSignatureTests
{
    // RFC 9421 (Backman, Richer, Sporny, 2024), appendix B.2.5 "Signing a Request Using hmac-sha256"; key from appendix B.1.5.
    [Fact]
    public void The_example_of_RFC_9421_gives_its_printed_signature()
    {
        var key = Convert.FromBase64String("uzvJfB4u3N0Jy4T7NZ75MDVcr8zSTInedJtkgcu46YW4XByzNJjxBdtjUkdJPBtbmHhIDi6pcl8jsasjlTMtDQ==");

        var signature = MessageSignature.Compute(
            [("date", "Tue, 20 Apr 2021 02:07:55 GMT"), ("@authority", "example.com"), ("content-type", "application/json")],
            "(\"date\" \"@authority\" \"content-type\");created=1618884473;keyid=\"test-shared-secret\"",
            key);

        Assert.Equal("pxcQw6G3AjtMBQjwo8XzkZf/bws5LelbaMk5rGIGtE8=", signature);
    }
}

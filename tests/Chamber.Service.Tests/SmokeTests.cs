namespace Chamber.Service.Tests;
public class SmokeTests { [Fact] public void One() => Assert.Equal(2, 1 + 1); }

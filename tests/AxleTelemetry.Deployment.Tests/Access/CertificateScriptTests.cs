namespace AxleTelemetry.Deployment.Tests.Access;

public sealed class CertificateScriptTests
{
    [Fact]
    public async Task Nothing_is_written_over_and_keys_are_their_owners()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Authority.Make();
        await authority.Do("device", "demo/RT-01");
        foreach (var again in (string[][])[["authority"], ["broker", "localhost"], ["device", "demo/RT-01"]])
        {
            var (code, said) = await authority.Ask(again);
            Assert.True(code == 2 && said.Contains("already", StringComparison.Ordinal), said);
        }

        if (OperatingSystem.IsWindows()) return;
        foreach (var key in Directory.GetFiles(authority.Folder, "*.key", SearchOption.AllDirectories)) Assert.Equal((key, UnixFileMode.UserRead | UnixFileMode.UserWrite), (key, File.GetUnixFileMode(key)));
    }

    [Theory]
    [InlineData("device", "RT-01")]
    [InlineData("device", "demo/RT+01")]
    [InlineData("device", "demo/RT-01/frame")]
    [InlineData("device", "demo/#")]
    [InlineData("program", "demo/RT-01")]
    [InlineData("program", "../service")]
    [InlineData("broker", "a,DNS:b")]
    [InlineData("revoke", "demo/RT-09")]
    [InlineData("renew", "demo/RT-01")]
    public async Task What_is_no_name_here_is_refused_with_what_would_be_right(params string[] what)
    {
        Authority.SkipUnlessPossible();
        using var authority = await Authority.Make();
        var (code, said) = await authority.Ask(what);
        Assert.True(code == 2, said);
        Assert.StartsWith("certificates.sh: ", said, StringComparison.Ordinal);
        Assert.DoesNotContain("openssl", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_issued_is_listed_with_its_end_and_whether_it_counts()
    {
        Authority.SkipUnlessPossible();
        using var authority = await Authority.Make();
        await authority.Do("device", "demo/RT-01");
        await authority.Do("device", "demo/RT-02");
        await authority.Do("revoke", "demo/RT-02");
        var (_, said) = await authority.Ask("list");
        Assert.Collection(said.Split('\n'), line => Assert.Matches(@"^valid +until 20\d\d-\d\d-\d\d  localhost$", line), line => Assert.Matches(@"^valid .* demo/RT-01$", line), line => Assert.Matches(@"^revoked .* demo/RT-02$", line));
    }
}

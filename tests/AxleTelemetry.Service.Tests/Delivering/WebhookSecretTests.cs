using System.Text;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Delivering;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Signatures as Standard Webhooks 1.0.0 has them.</summary>
public sealed class WebhookSecretTests
{
    // The example of the standard and of its reference libraries (github.com/standard-webhooks/standard-webhooks, spec and libraries' tests).
    [Fact]
    public void The_example_of_the_standard_is_signed_as_it_says() => Assert.Equal(
        "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
        WebhookSecret.Read(new Secret("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"))!.Sign("msg_p5jXN8AQM9LWM0D4loKWxJek", 1_614_265_330, Encoding.UTF8.GetBytes("{\"test\": 2432232314}")));

    [Theory]
    [InlineData("MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw")]
    [InlineData("whsec_")]
    [InlineData("whsec_c2hvcnQ=")]
    [InlineData("whsec_not base64 at all, whatever else")]
    public void What_is_no_secret_is_refused(string text) => Assert.Null(WebhookSecret.Read(new Secret(text)));

    [Fact]
    public void Its_text_shows_nothing() => Assert.DoesNotContain("MfKQ", $"{WebhookSecret.Read(new Secret("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw"))}");
}

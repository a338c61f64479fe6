namespace AxleTelemetry.Service.Serving;

/// <summary>Why a request was not answered, as RFC 9457 has it.</summary>
internal static class Problem
{
    /// <summary>A parameter or field that cannot be taken.</summary>
    /// <param name="field">Its name.</param>
    /// <param name="value">The value as it came.</param>
    /// <param name="right">What would be right.</param>
    public static IResult Field(string field, string? value, string right) => Results.Problem(
        title: "A parameter cannot be taken.",
        detail: $"'{field}' is '{Messages.Refusals.Excerpt.Of((value ?? "").AsSpan())}'. Right would be: {right}.",
        statusCode: StatusCodes.Status400BadRequest,
        extensions: new Dictionary<string, object?> { ["field"] = field, ["value"] = value, ["right"] = right });

    public static IResult NotFound(string what) => Of(StatusCodes.Status404NotFound, "There is no such thing.", what);

    public static IResult Of(int status, string title, string detail) => Results.Problem(title: title, detail: detail, statusCode: status);

    /// <summary>The journal takes nothing now: to be tried again.</summary>
    public static IResult Unavailable(string why) => Of(StatusCodes.Status503ServiceUnavailable, "Nothing can be entered now.", why);
}

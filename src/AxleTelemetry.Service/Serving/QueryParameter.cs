namespace AxleTelemetry.Service.Serving;

/// <summary>A parameter that an address takes after its question mark: for the reader of requests and for the OpenAPI document alike.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Text">What it means and what is right.</param>
/// <param name="IsRequired">It must be there.</param>
internal sealed record QueryParameter(string Name, string Text, bool IsRequired = false)
{
    public static QueryParameter Fleet { get; } = new("fleet", "Only this fleet.");

    public static QueryParameter Vehicle { get; } = new("vehicle", "Only the vehicle of this id; 'fleet' is needed beside it.");

    public static QueryParameter From { get; } = new("from", "Beginning of the span, RFC 3339: 2026-03-02T06:00:00Z.");

    public static QueryParameter To { get; } = new("to", "End of the span, RFC 3339: 2026-03-02T18:00:00Z.");

    public static QueryParameter After { get; } = new("after", "'next' of the page before.");

    public static QueryParameter Limit(int usual, int most) => new("limit", $"Most entries in a page: 1 to {most}, {usual} where none is given.");
}

/// <summary>The parameters of one address.</summary>
internal sealed record QueryParameters(IReadOnlyList<QueryParameter> All);

internal static class QueryParameterRoutes
{
    /// <summary>Says which parameters an address takes. Any other is refused: a misspelt filter must not look like an answer to all.</summary>
    public static RouteHandlerBuilder Takes(this RouteHandlerBuilder route, params QueryParameter[] parameters)
    {
        route.WithMetadata(new QueryParameters(parameters));
        return route.AddEndpointFilter((context, next) =>
        {
            foreach (var (name, values) in context.HttpContext.Request.Query)
            {
                if (parameters.All(p => p.Name != name))
                    return ValueTask.FromResult<object?>(Problem.Field(name, values.ToString(), parameters.Length == 0 ? "no parameter" : $"one of {string.Join(", ", parameters.Select(p => p.Name))}"));
                if (values.Count > 1) return ValueTask.FromResult<object?>(Problem.Field(name, values.ToString(), "one value"));
            }

            var missing = parameters.FirstOrDefault(p => p.IsRequired && string.IsNullOrEmpty(context.HttpContext.Request.Query[p.Name]));
            return missing is null ? next(context) : ValueTask.FromResult<object?>(Problem.Field(missing.Name, null, missing.Text));
        });
    }
}

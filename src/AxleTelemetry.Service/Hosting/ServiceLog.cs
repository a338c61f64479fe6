namespace AxleTelemetry.Service.Hosting;

/// <summary>Every line of the log, one for each change of state. Numbers by area: 1xx start and stop, 2xx receiving, 3xx shards, 4xx configuration, 5xx pages and metrics. No secrets, but the first link.</summary>
internal static partial class ServiceLog
{
    [LoggerMessage(100, LogLevel.Information, "Pages and the interface for programs are at {Address}.")]
    public static partial void Serving(this ILogger log, string address);

    [LoggerMessage(101, LogLevel.Information, "The broker inside listens on {Address}.")]
    public static partial void BrokerListens(this ILogger log, string address);

    [LoggerMessage(102, LogLevel.Information, "Stopped.")]
    public static partial void Stopped(this ILogger log);

    // The one secret that the log ever holds, for whoever sets the service up: it is used once, within a day, and only while there is no administrator.
    [LoggerMessage(103, LogLevel.Information, "There is no administrator yet. Become the first by this link, once, within 24 hours: {Link}")]
    public static partial void FirstAdministrator(this ILogger log, string link);

    [LoggerMessage(104, LogLevel.Error, "{Why} Start again once there is room; messages are taken all the same.")]
    public static partial void NoFirstAdministrator(this ILogger log, string why);

    [LoggerMessage(105, LogLevel.Error, "The token of commands on this machine cannot be written into {Directory}: until the next start 'resume' cannot ask this service.")]
    public static partial void NoCommandToken(this ILogger log, string directory);

    [LoggerMessage(200, LogLevel.Information, "{Shard}: {Notice}")]
    public static partial void Receiving(this ILogger log, string shard, string notice);

    [LoggerMessage(201, LogLevel.Warning, "{Shard}: {Notice}")]
    public static partial void NotReceiving(this ILogger log, string shard, string notice);

    [LoggerMessage(300, LogLevel.Information, "{Shard}: {Notice}")]
    public static partial void ShardChanged(this ILogger log, string shard, string notice);

    [LoggerMessage(301, LogLevel.Error, "{Shard}: {Notice}")]
    public static partial void ShardTroubled(this ILogger log, string shard, string notice);

    [LoggerMessage(400, LogLevel.Information, "{Sentence}")]
    public static partial void ConfigurationTaken(this ILogger log, string sentence);

    [LoggerMessage(401, LogLevel.Warning, "{Sentence}")]
    public static partial void ConfigurationKept(this ILogger log, string sentence);

    [LoggerMessage(500, LogLevel.Error, "A request for {Path} failed by a fault of ours.")]
    public static partial void RequestFailed(this ILogger log, Exception failed, string path);

    [LoggerMessage(501, LogLevel.Warning, "The figures for the metrics could not be taken.")]
    public static partial void FiguresFailed(this ILogger log, Exception failed);

    [LoggerMessage(502, LogLevel.Warning, "What the pages show could not be looked at.")]
    public static partial void SightFailed(this ILogger log, Exception failed);
}

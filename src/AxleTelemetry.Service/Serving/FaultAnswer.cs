using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Serving;

/// <summary>A fault of ours is logged with its trace and answered without it.</summary>
internal sealed class FaultAnswer(RequestDelegate next, ILogger log)
{
    public async Task InvokeAsync(HttpContext http)
    {
        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            // Who asked has left.
        }
        catch (BadHttpRequestException bad) when (!http.Response.HasStarted)
        {
            await Problem.Of(bad.StatusCode, "The request cannot be read.", bad.Message).ExecuteAsync(http);
        }
        catch (ShardNotRunningException ended) when (!http.Response.HasStarted)
        {
            await Problem.Of(StatusCodes.Status503ServiceUnavailable, "Not running.", ended.Message).ExecuteAsync(http);
        }
        catch (Exception failed) when (!http.Response.HasStarted && failed is not OutOfMemoryException)
        {
            log.RequestFailed(failed, http.Request.Path);
            await Problem.Of(StatusCodes.Status500InternalServerError, "A fault of ours.", "It is in the log of the service.").ExecuteAsync(http);
        }
    }
}

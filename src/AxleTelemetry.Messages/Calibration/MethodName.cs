using AxleTelemetry.Domain.Calibration;

namespace AxleTelemetry.Messages.Calibration;

/// <summary>The words for weighing methods in files and tables.</summary>
public static class MethodName
{
    /// <summary>All words, for a person.</summary>
    public const string All = "platform, axle or dynamic";

    /// <summary>The method of a word; <c>null</c> for another word.</summary>
    public static WeighingMethod? Parse(string word) => word switch
    {
        "platform" => WeighingMethod.FullPlatform,
        "axle" => WeighingMethod.AxleByAxle,
        "dynamic" => WeighingMethod.Dynamic,
        _ => null,
    };

    /// <summary>The word of a method.</summary>
    public static string Of(WeighingMethod method) => method switch
    {
        WeighingMethod.FullPlatform => "platform",
        WeighingMethod.AxleByAxle => "axle",
        WeighingMethod.Dynamic => "dynamic",
        _ => throw new ArgumentOutOfRangeException(nameof(method), method, "A weighing method without a word."),
    };
}

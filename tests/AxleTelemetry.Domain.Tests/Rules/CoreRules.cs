using System.Reflection;
using System.Runtime.CompilerServices;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Tests.Rules;

/// <summary>What the core must never know: a clock, a task, the outside world; and what in it may change after it was made.</summary>
public sealed class CoreRules
{
    private static readonly Assembly Core = typeof(Lane).Assembly;

    private static readonly string[] Banned =
        ["System.Threading", "System.IO", "System.Net", "System.Diagnostics.Stopwatch", "System.TimeProvider", "System.Random", "System.Console"];

    /// <summary>State of a lane and of its estimate, of what follows a fleet's lanes, and what keeps things that can be derived anew; everything else is fixed once made.</summary>
    private static readonly HashSet<Type> MayChange =
    [
        typeof(LaneState), typeof(AxleReport), typeof(ConditionState), typeof(WindowState), typeof(LoadState), typeof(MotionState),
        typeof(AccountState), typeof(CurveState), typeof(PlaceState), typeof(Domain.Running.UnitTally), typeof(Domain.Running.AxleTally),
        typeof(SensorState), typeof(Domain.Findings.EpisodeState), typeof(PayloadEstimate), typeof(KnownErrors), typeof(BodyPayload),
        typeof(ByteWriter), typeof(ByteReader), typeof(Correction), typeof(LaneHistory), typeof(LaneRecorder), typeof(LaneTrack), typeof(LoadChange),
        typeof(ReadingStream), typeof(ReadingStream.Held), typeof(ReadingStream.Archived), typeof(RecentReadings), typeof(SnapshotShelf),
        typeof(FleetHistory), typeof(FleetLedger), typeof(LooseTrailer), typeof(Domain.Vehicles.KeptRow<>),
    ];

    [Fact]
    public void No_signature_of_the_core_knows_clock_task_or_world()
    {
        foreach (var type in Core.GetTypes().Where(t => t.GetCustomAttribute<CompilerGeneratedAttribute>() is null))
        {
            foreach (var used in Used(type))
            {
                var name = used.FullName ?? used.Name;
                Assert.False(Banned.Any(b => name.StartsWith(b, StringComparison.Ordinal)), $"{type.FullName} uses {name}");
            }
        }
    }

    [Fact]
    public void Only_the_state_of_a_lane_changes_after_it_was_made()
    {
        var changing = Core.GetTypes()
            .Where(t => !t.IsEnum && !t.IsInterface && t.GetCustomAttribute<CompilerGeneratedAttribute>() is null && !t.Name.Contains('<'))
            .Where(t => !t.IsNestedPrivate && t.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly).Any(f => !f.IsInitOnly))
            .Where(t => t.GetProperties().All(IsInit) && t.GetFields(BindingFlags.Instance | BindingFlags.Public | BindingFlags.NonPublic).Any(Writable) || t.GetProperties().Any(p => !IsInit(p)))
            .Where(t => !MayChange.Contains(t));
        Assert.Empty(changing.Select(t => t.FullName));
    }

    [Fact]
    public void The_core_references_the_framework_only() =>
        Assert.All(Core.GetReferencedAssemblies(), a => Assert.StartsWith("System.", a.Name, StringComparison.Ordinal));

    private static bool IsInit(PropertyInfo property) => property.SetMethod is not { } set
        || set.ReturnParameter.GetRequiredCustomModifiers().Contains(typeof(IsExternalInit));

    private static bool Writable(FieldInfo field) => !field.IsInitOnly && !field.Name.StartsWith('<');

    private static IEnumerable<Type> Used(Type type)
    {
        const BindingFlags all = BindingFlags.Instance | BindingFlags.Static | BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.DeclaredOnly;
        var types = type.GetFields(all).Select(f => f.FieldType)
            .Concat(type.GetMethods(all).SelectMany(m => m.GetParameters().Select(p => p.ParameterType).Append(m.ReturnType)))
            .Concat(type.GetConstructors(all).SelectMany(c => c.GetParameters().Select(p => p.ParameterType)));
        return types.SelectMany(t => t.IsGenericType ? t.GetGenericArguments().Append(t) : [t]);
    }
}

using AxleTelemetry.Storage.Tests;
using AxleTelemetry.Storage.Tests.Crashing;

if (args is [CommitLoop.Argument, var directory]) return CommitLoop.Run(directory);
return args.Any(a => a is "--server" or "--internal-msbuild-node")
    ? await Xunit.MicrosoftTestingPlatform.TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions)
    : await Xunit.Runner.InProc.SystemConsole.ConsoleRunner.Run(args);

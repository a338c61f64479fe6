return AxleTelemetry.Service.Commands.Root.Run(args);

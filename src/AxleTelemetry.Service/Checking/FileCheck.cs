namespace AxleTelemetry.Service.Checking;

/// <summary>Checks a file of whatever kind.</summary>
internal static class FileCheck
{
    public static CheckedFile Run(string name)
    {
        if (Read(name, out var unreadable) is not { } text) return new CheckedFile(name, "", "", [unreadable!]);
        foreach (var kind in FileKind.All)
        {
            if (!kind.Recognises(text)) continue;
            var (subject, problems) = kind.Check(text);
            return new CheckedFile(name, kind.Name, subject, problems);
        }

        var known = string.Join("; ", FileKind.All.Select(k => $"{k.Name} ({k.KnownBy})"));
        return new CheckedFile(name, "", "", [new FileProblem { Kind = "UnknownKind", Found = "none of the kinds of file known here", Right = $"Known are {known}." }]);
    }

    private static FileText? Read(string name, out FileProblem? problem)
    {
        problem = null;
        try
        {
            var length = new FileInfo(name).Length;
            if (length <= FileText.MostBytes) return new FileText(File.ReadAllBytes(name));
            problem = new FileProblem { Kind = "TooLarge", Found = $"{length} bytes", Right = $"A file has at most {FileText.MostBytes} bytes." };
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            problem = new FileProblem { Kind = "Unreadable", Found = "a file that cannot be read", Right = unreadable.Message };
        }

        return null;
    }
}

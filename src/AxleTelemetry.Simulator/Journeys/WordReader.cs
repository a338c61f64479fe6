using System.Globalization;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>Reads one line word by word. The first thing that is wrong is kept; after it nothing means anything.</summary>
internal sealed class WordReader(string line)
{
    private readonly string[] _words = line.Split([' ', '\t', ','], StringSplitOptions.RemoveEmptyEntries);
    private int _next;

    public string? Problem { get; private set; }

    public bool AtEnd => _next >= _words.Length;

    /// <summary>Takes the word if it comes next.</summary>
    public bool Take(string word)
    {
        if (AtEnd || _words[_next] != word) return false;
        _next++;
        return true;
    }

    public void Expect(string word)
    {
        if (!Take(word)) Refuse($"'{word}' expected, not {Shown()}.");
    }

    public string Word(string what)
    {
        if (!AtEnd) return _words[_next++];
        Refuse($"{what} is missing.");
        return "";
    }

    /// <summary>One of several words, as what it stands for.</summary>
    public T OneOf<T>(params ReadOnlySpan<(string Word, T Value)> known)
    {
        foreach (var (word, value) in known)
            if (Take(word))
                return value;
        var words = new List<string>();
        foreach (var (word, _) in known) words.Add(word);
        Refuse($"Unknown word {Shown()}; known here: {string.Join(", ", words)}.");
        return default!;
    }

    public double Number(string what)
    {
        var word = Word(what);
        if (double.TryParse(word, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)) return value;
        if (word.Length > 0) Refuse($"{what}: '{word}' is no number.");
        return 0;
    }

    public double Kilograms() => Measure("A mass", ("t", 1000), ("kg", 1));

    public double Metres() => Measure("A distance", ("km", 1000), ("m", 1));

    public double MetresPerSecond() => Measure("A speed", ("km/h", 1 / 3.6));

    public double Seconds() => Measure("A time", ("h", 3600), ("min", 60), ("s", 1));

    public double Fraction() => Measure("A part", ("%", 0.01));

    public double Kilopascals() => Measure("A pressure", ("kPa", 1));

    public void End()
    {
        if (!AtEnd) Refuse($"Nothing expected after this, but there is {Shown()}.");
    }

    public void Refuse(string problem) => Problem ??= problem;

    private double Measure(string what, params ReadOnlySpan<(string Unit, double Factor)> units) => Number(what) * OneOf(units);

    private string Shown() => AtEnd ? "the end of the line" : $"'{_words[_next]}'";
}

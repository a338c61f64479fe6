namespace AxleTelemetry.Domain.Places;

/// <summary>A country by its code of ISO 3166-1 alpha-2. <c>default</c>: none.</summary>
public readonly record struct Country : IComparable<Country>
{
    private readonly ushort _letters;

    private Country(ushort letters) => _letters = letters;

    /// <summary>The code in capitals; empty for none.</summary>
    public string Code => IsNone ? "" : string.Create(2, _letters, static (to, letters) => (to[0], to[1]) = ((char)(letters >> 8), (char)(letters & 0xFF)));

    /// <summary>True for no country.</summary>
    public bool IsNone => _letters == 0;

    /// <summary>The code as a number, for state and storage; 0 for none.</summary>
    public ushort Number => _letters;

    /// <summary>The country of a number that <see cref="Number"/> gave.</summary>
    public static Country FromNumber(ushort number) => new(number);

    /// <summary>Reads two letters of either case.</summary>
    /// <returns>False where it is anything else.</returns>
    public static bool TryFrom(string? code, out Country country)
    {
        country = default;
        if (code is not { Length: 2 } || !char.IsAsciiLetter(code[0]) || !char.IsAsciiLetter(code[1])) return false;
        country = new Country((ushort)(char.ToUpperInvariant(code[0]) << 8 | char.ToUpperInvariant(code[1])));
        return true;
    }

    /// <summary>Reads two letters.</summary>
    /// <exception cref="FormatException">It is anything else.</exception>
    public static Country From(string code) =>
        TryFrom(code, out var country) ? country : throw new FormatException($"'{code}' is no country: two letters of ISO 3166-1, such as AT.");

    /// <summary>By code.</summary>
    public int CompareTo(Country other) => _letters.CompareTo(other._letters);

    /// <inheritdoc/>
    public override string ToString() => Code;
}

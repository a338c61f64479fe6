namespace AxleTelemetry.Storage.Rows;

/// <summary>What a row is, in a code that only its writer understands. Kinds of inputs, history, telling and refusals are numbered apart.</summary>
public readonly record struct RowKind(int Code);

/// <summary>The stream an input came by, in a code that only its writer understands.</summary>
public readonly record struct StreamCode(int Code);

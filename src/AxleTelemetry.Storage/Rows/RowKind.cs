namespace AxleTelemetry.Storage.Rows;

/// <summary>What a row is, in a code that only its writer understands. Kinds of inputs, history, telling, refusals and checkpoints are numbered apart.</summary>
/// <remarks>Kind 0 of history is for the rows that come all the time: it alone is not listed across vehicles, and so costs no index for that.</remarks>
public readonly record struct RowKind(int Code);

/// <summary>The stream an input came by, in a code that only its writer understands.</summary>
public readonly record struct StreamCode(int Code);

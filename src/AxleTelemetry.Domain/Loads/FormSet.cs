using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Loads;

/// <summary>
/// The sums that the limits of one configuration weigh. Law, papers and ratings weigh the same axle, and every country's law weighs what another's does: each
/// sum is there once for a map, and is worked out once for all limits on it.
/// </summary>
internal sealed class FormSet
{
    private readonly ImmutableArray<LinearForm> _forms;
    private readonly ImmutableArray<ushort> _of;
    private readonly ImmutableArray<double[]?> _scales;

    /// <summary>Derives the sums of a map; where a sum is a single row, the map's own numbers serve.</summary>
    public FormSet(LoadMap map, ImmutableArray<FormWanted> wanted)
    {
        Wanted = wanted;
        var (forms, first, of) = (ImmutableArray.CreateBuilder<LinearForm>(), new List<ImmutableArray<double>>(), ImmutableArray.CreateBuilder<ushort>(wanted.Length));
        foreach (var (weights, _) in wanted)
        {
            var at = first.FindIndex(w => w.AsSpan().SequenceEqual(weights.AsSpan()));
            if (at < 0)
            {
                at = first.Count;
                first.Add(weights);
                forms.Add(SingleRow(weights) is { } row ? map.Form(row) : new LinearForm(map, weights));
            }

            of.Add(checked((ushort)at));
        }

        _forms = forms.ToImmutable();
        _of = of.MoveToImmutable();
        if (wanted.Any(w => w.Share != 0)) _scales = [.. wanted.Select(w => w.Share == 0 ? null : LinearForm.LevelOf(map, [.. w.Weights.Select(x => x == 0 ? 0 : w.Share)]))];
    }

    /// <summary>What was wanted.</summary>
    public ImmutableArray<FormWanted> Wanted { get; }

    /// <summary>How many different sums there are.</summary>
    public int Different => _forms.Length;

    /// <summary>Which of them one of those wanted is.</summary>
    public int Of(int wanted) => _of[wanted];

    /// <summary>The sum of one of those wanted.</summary>
    public LinearForm this[int wanted] => _forms[_of[wanted]];

    /// <summary>One of the different sums.</summary>
    public LinearForm Form(int different) => _forms[different];

    /// <summary>Coefficients of that part of the mass which a share is compared with; empty where it is no share.</summary>
    public ReadOnlySpan<double> Scale(int wanted) => _scales.IsDefault ? default : _scales[wanted];

    /// <summary>True where these are the sums that somebody wants, in this order.</summary>
    public bool Holds(ImmutableArray<FormWanted> wanted)
    {
        if (Wanted.Length != wanted.Length) return false;
        for (var i = 0; i < wanted.Length; i++)
            if (Wanted[i].Share != wanted[i].Share || !Wanted[i].Weights.AsSpan().SequenceEqual(wanted[i].Weights.AsSpan()))
                return false;
        return true;
    }

    private static int? SingleRow(ImmutableArray<double> weights)
    {
        int? single = null;
        for (var row = 0; row < weights.Length; row++)
        {
            if (weights[row] == 0) continue;
            if (weights[row] != 1 || single is not null) return null;
            single = row;
        }

        return single;
    }
}

/// <summary>A weighted sum that somebody wants.</summary>
/// <param name="Weights">Weight per row.</param>
/// <param name="Share">For a least share: what part of the mass of the rows it counts; 0 for all else.</param>
internal readonly record struct FormWanted(ImmutableArray<double> Weights, double Share);

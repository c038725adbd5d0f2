namespace Chamber.Core.Forecasts;

/// <summary>
/// For each milestone and each number of seeds still to come, the chance that enough of them are up when a share f of them is
/// expected to be: the distribution of an order statistic, P(Bin(r, f) ≥ k - u) (H. A. David, Order Statistics, 1970, equation 2.1.3).
/// </summary>
internal sealed class OrderTables
{
    private const int ShareNodes = 65;

    /// <summary>With more seeds to come than this, neighbouring numbers share a table.</summary>
    private const int GroupsMax = 24;

    private readonly int stride;
    private readonly double[][][] tables;
    private readonly double[][] mixed;

    public OrderTables(int up, int rest)
    {
        var milestones = Enum.GetValues<Milestone>();
        stride = (rest + GroupsMax) / GroupsMax;
        var groups = rest / stride + 1;
        tables = [.. milestones.Select(_ => new double[groups][])];
        mixed = [.. milestones.Select(_ => new double[ShareNodes])];
        for (var group = 0; group < groups; group++)
        {
            FillGroup(milestones, group, up, Math.Min(rest, group * stride + (stride - 1) / 2));
        }
    }

    /// <summary>Mixes the tables over how many are still to come.</summary>
    public void Mix(double[] more)
    {
        for (var m = 0; m < mixed.Length; m++)
        {
            var target = mixed[m];
            Array.Clear(target);
            for (var group = 0; group < tables[m].Length; group++)
            {
                var weight = 0.0;
                for (var r = group * stride; r < Math.Min(more.Length, (group + 1) * stride); r++)
                {
                    weight += more[r];
                }

                Add(target, tables[m][group], weight);
            }
        }
    }

    /// <summary>Adds the mixed chances at one share to the courses at one node.</summary>
    public void AddTo(double[][] courses, int node, double share)
    {
        var at = share * (ShareNodes - 1);
        var whole = Math.Min((int)at, ShareNodes - 2);
        var part = at - whole;
        for (var m = 0; m < mixed.Length; m++)
        {
            var table = mixed[m];
            courses[m][node] += table[whole] + part * (table[whole + 1] - table[whole]);
        }
    }

    private static void Add(double[] target, double[] table, double weight)
    {
        if (weight <= 0)
        {
            return;
        }

        for (var i = 0; i < target.Length; i++)
        {
            target[i] += weight * table[i];
        }
    }

    private void FillGroup(Milestone[] milestones, int group, int up, int more)
    {
        foreach (var milestone in milestones)
        {
            tables[(int)milestone][group] = new double[ShareNodes];
        }

        Span<double> own = more < 256 ? stackalloc double[more + 1] : new double[more + 1];
        for (var i = 0; i < ShareNodes; i++)
        {
            var share = i / (ShareNodes - 1.0);
            var (from, to, sum) = share is > 0 and < 1 ? RemainingCounts.Binomial(own, share) : (0, -1, 1);
            foreach (var milestone in milestones)
            {
                var needed = up + more == 0 ? int.MaxValue : milestone.Needed(up + more, up) - up;
                tables[(int)milestone][group][i] = share is > 0 and < 1
                    ? Tail(own, from, to, needed) / sum
                    : needed <= more * share ? 1 : 0;
            }
        }
    }

    private static double Tail(Span<double> chances, int from, int to, int needed)
    {
        var sum = 0.0;
        for (var r = Math.Max(from, needed); r <= to; r++)
        {
            sum += chances[r];
        }

        return sum;
    }
}

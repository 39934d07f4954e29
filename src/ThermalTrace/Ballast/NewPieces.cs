using System.Numerics;

namespace ThermalTrace.Ballast;

/// <summary>
/// Which new pieces, three at most, make the best set of steps together with what is owned: every choice of three masses is tried. Best is the least mean, over all masses that may be asked
/// for, of the squared distance to the nearest sum; of equals that with the least worst distance, then the fewest pieces. docs/models/stock.md eq. 1.
/// </summary>
internal sealed class NewPieces
{
    private const int MostCells = 1500;
    private const int MostSteps = 180, FineSteps = 30, CoarseSteps = 30; // 60 candidates, 38 000 choices of three, each some hundred words of bits
    private const double FinestCellG = 0.1;
    private const double Rounding = 1e-9;

    private readonly int[] _candidates;
    private readonly int _words;
    private readonly double _limitCells;

    // For each whole number of steps: the sums that hold new pieces of that mass, a bit a cell. The first is what is owned.
    private readonly ulong[][] _with;

    /// <summary>Prepares the search.</summary>
    /// <param name="sums">What is owned.</param>
    /// <param name="limitG">Masses asked for go up to this.</param>
    /// <param name="tubeMm">Length of the tube; infinite where there is none.</param>
    /// <param name="lengthPerG">Of the new pieces, mm/g.</param>
    public NewPieces(IReadOnlyList<StockSum> sums, double limitG, double tubeMm, double lengthPerG)
    {
        (CellG, StepG) = Grid(limitG);
        _limitCells = limitG / CellG;
        int cells = (int)Math.Floor(_limitCells + Rounding) + 1, steps = (int)Math.Floor(limitG / StepG + Rounding);
        _words = (cells + 63) / 64;
        int longest = lengthPerG > 0 ? (int)Math.Min((tubeMm + PieceKinds.SizeRoundingMm) / (lengthPerG * StepG), steps) : steps, coarse = Math.Max((steps - 1) / CoarseSteps, 1);
        // 0 is no piece. Small pieces fill gaps, and there a step matters; large ones bridge, and a few per cent of them do not.
        _candidates = [.. Enumerable.Range(0, steps + 1).Where(m => m <= longest && (m <= FineSteps || (m - FineSteps) % coarse == 0))];
        _with = new ulong[steps + 1][];
        for (int m = 0; m <= steps; m++)
        {
            ulong[] bits = _with[m] = new ulong[_words];
            foreach (StockSum sum in sums)
            {
                double mass = sum.MassG + m * StepG;
                if (mass > limitG + Rounding)
                {
                    break;
                }
                if (sum.LengthMm + m * StepG * lengthPerG <= tubeMm + PieceKinds.SizeRoundingMm)
                {
                    int cell = Math.Min((int)Math.Round(mass / CellG), cells - 1);
                    bits[cell / 64] |= 1UL << (cell % 64);
                }
            }
        }
    }

    /// <summary>Masses are looked at in whole numbers of this, g: 0.1 up to 150 g, coarser beyond.</summary>
    public double CellG { get; }

    /// <summary>Candidates are whole numbers of this, g: 1 up to 180 g, coarser beyond; the first thirty of them, then every so manieth, sixty in all.</summary>
    public double StepG { get; }

    /// <summary>Cell and step for a limit: at most <see cref="MostCells"/> and <see cref="MostSteps"/> of them, a step a whole number of cells.</summary>
    private static (double CellG, double StepG) Grid(double limitG)
    {
        double cell = Round(FinestCellG, limitG / MostCells), step = Round(1, limitG / MostSteps);
        return (cell, step);
    }

    /// <summary>The least of 1, 2, 5, 10, 20 … times a first one that is not below a bound.</summary>
    private static double Round(double first, double least)
    {
        double round = first;
        for (int i = 0; round < least - Rounding; i++)
        {
            round *= i % 3 == 1 ? 2.5 : 2;
        }
        return round;
    }

    /// <summary>Masses of the new pieces, g, rising; empty where none makes anything better.</summary>
    public double[] Best(CancellationToken cancel)
    {
        (double Square, double Worst) best = Misses(_with[0], double.PositiveInfinity);
        (int A, int B, int C) chosen = (0, 0, 0);
        ulong[] pair = new ulong[_words], three = new ulong[_words];
        // Fewer pieces come first, so that one more has to make something better.
        for (int i = 0; i < _candidates.Length; i++)
        {
            cancel.ThrowIfCancellationRequested();
            for (int j = i; j < _candidates.Length; j++)
            {
                (int a, int b) = (_candidates[i], _candidates[j]);
                Unite(pair, _with[0], a, b, a + b, 0);
                for (int k = j; k < _candidates.Length; k++)
                {
                    int c = _candidates[k];
                    Unite(three, pair, c, a + c, b + c, a + b + c);
                    (double square, double worst) = Misses(three, best.Square + Rounding);
                    if (square < best.Square - Rounding || (square <= best.Square + Rounding && worst < best.Worst - Rounding))
                    {
                        (best, chosen) = ((square, worst), (a, b, c));
                    }
                }
            }
        }
        return [.. new[] { chosen.A, chosen.B, chosen.C }.Where(m => m > 0).Select(m => m * StepG)];
    }

    private void Unite(ulong[] into, ulong[] from, int a, int b, int c, int d)
    {
        ulong[] first = With(a), second = With(b), third = With(c), fourth = With(d);
        for (int i = 0; i < into.Length; i++)
        {
            into[i] = from[i] | first[i] | second[i] | third[i] | fourth[i];
        }
    }

    /// <summary>Beyond the limit nothing is added to what is owned.</summary>
    private ulong[] With(int steps) => _with[steps < _with.Length ? steps : 0];

    /// <summary>Integral of the squared distance to the nearest sum, and the most distance, in cells: a stretch of d between two sums has d³/12, one of t beyond the last t³/3. Ends early above a bound.</summary>
    private (double Square, double Worst) Misses(ulong[] sums, double most)
    {
        double cubes = 0, bound = 12 * most, widest = 0;
        int last = 0;
        for (int i = 0; i < sums.Length && cubes <= bound; i++)
        {
            for (ulong word = sums[i]; word != 0; word &= word - 1)
            {
                int at = i * 64 + BitOperations.TrailingZeroCount(word);
                double apart = at - last;
                cubes += apart * apart * apart;
                widest = Math.Max(widest, apart);
                last = at;
            }
        }
        double beyond = Math.Max(_limitCells - last, 0);
        return (cubes / 12 + beyond * beyond * beyond / 3, Math.Max(widest / 2, beyond));
    }
}

namespace ThermalTrace.Tracks;

/// <summary>One axis as its filters take it.</summary>
/// <param name="Position">m, on the grid; empty where none was logged, NaN where missing.</param>
/// <param name="Velocity">m/s, likewise.</param>
/// <param name="StepS">Step of the grid, s.</param>
/// <param name="StartM">First known position; 0 without one.</param>
/// <param name="Jumped">Where the position cannot have been reached by flying.</param>
internal sealed record MotionAxis(double[] Position, double[] Velocity, double StepS, double StartM, bool[] Jumped)
{
    private const double LeastJumpM = 15, FastestMps = 45;

    /// <summary>Grid points.</summary>
    public int Count => Jumped.Length;

    /// <summary>Looks for jumps.</summary>
    public static MotionAxis Of(double[] position, double[] velocity, double stepS)
    {
        bool[] jumped = new bool[Math.Max(position.Length, velocity.Length)];
        int last = -1;
        double start = 0;
        for (int i = 0; i < position.Length; i++)
        {
            if (double.IsNaN(position[i]))
            {
                continue;
            }
            // A model carried back while the logger slept, or a receiver that finds itself elsewhere, has not flown there.
            jumped[i] = last >= 0 && Math.Abs(position[i] - position[last]) > LeastJumpM + FastestMps * (i - last) * stepS;
            start = last < 0 ? position[i] : start;
            last = i;
        }
        return new MotionAxis(position, velocity, stepS, start, jumped);
    }
}

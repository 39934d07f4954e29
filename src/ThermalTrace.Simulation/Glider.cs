using ThermalTrace.Units;

namespace ThermalTrace.Simulation;

/// <summary>What the pilot asks of the model during one step.</summary>
internal readonly record struct Controls
{
    /// <summary>Airspeed to trim for, m/s.</summary>
    public required double AirspeedMps { get; init; }

    /// <summary>Bank to roll to, rad, right is positive.</summary>
    public double BankRad { get; init; }

    /// <summary>Path angle to follow instead of a trimmed airspeed, rad; NaN for none. Launches fly these.</summary>
    public double PathAngleRad { get; init; }

    /// <summary>Motor or line pulls to hold this airspeed, m/s; NaN for none.</summary>
    public double PulledToMps { get; init; }

    /// <summary>Drag coefficient of brakes or flaps.</summary>
    public double BrakeDrag { get; init; }

    /// <summary>Gliding or circling on trim.</summary>
    public static Controls Trimmed(double airspeedMps, double bankRad, double brakeDrag = 0) => new()
    {
        AirspeedMps = airspeedMps,
        BankRad = bankRad,
        BrakeDrag = brakeDrag,
        PathAngleRad = double.NaN,
        PulledToMps = double.NaN,
    };

    /// <summary>Following a path angle, pulled or coasting.</summary>
    public static Controls Path(double pathAngleRad, double pulledToMps, double bankRad = 0) => new()
    {
        AirspeedMps = double.NaN,
        BankRad = bankRad,
        PathAngleRad = pathAngleRad,
        PulledToMps = pulledToMps,
    };
}

/// <summary>
/// A point mass in moving air. Its velocity through the air obeys, with A the horizontal acceleration of the air along
/// the path, V' = (T - D)/m - g sin γ - A·e; γ' = (L cos φ/m - g cos γ + A·u)/V; ψ' = (L sin φ/m - A·r)/(V cos γ).
/// So a gust along the path changes the airspeed and leaves the velocity over the ground. Vertical gusts are followed
/// with the lag of a wing in heave, 2 m/(ρ V S CLα); the work that a tilting lift vector could draw from them is left
/// out, because a real wing's unsteady lift and the pilot's corrections spend most of it.
/// </summary>
internal sealed class Glider
{
    /// <summary>Time between steps, s.</summary>
    public const double StepS = 0.05;

    private const double Gravity = PhysicalConstants.StandardGravityMps2;
    private const double PhugoidDamping = 1.6;
    private const double ElevatorLagS = 0.2;
    private const double RollLagS = 0.3;

    private readonly Model _model;
    private readonly Atmosphere _atmosphere;
    private readonly MovingAir _air;
    private readonly bool _dragless;
    private double _followedUpMps;

    public Glider(Model model, Atmosphere atmosphere, MovingAir air, bool dragless = false)
    {
        _model = model;
        _atmosphere = atmosphere;
        _air = air;
        _dragless = dragless;
    }

    public double EastM { get; private set; }
    public double NorthM { get; private set; }
    public double HeightM { get; private set; }
    public double AirspeedMps { get; private set; }
    public double PathAngleRad { get; private set; }
    public double HeadingRad { get; private set; }
    public double BankRad { get; private set; }
    public double LiftCoefficient { get; private set; }
    public double LoadFactor { get; private set; } = 1;
    public double DensityKgM3 { get; private set; }
    public AirSample Air { get; private set; }

    /// <summary>Velocity over the ground, m/s.</summary>
    public double GroundEastMps => AirspeedMps * Math.Cos(PathAngleRad) * Math.Sin(HeadingRad) + Air.EastMps;
    public double GroundNorthMps => AirspeedMps * Math.Cos(PathAngleRad) * Math.Cos(HeadingRad) + Air.NorthMps;
    public double ClimbMps => AirspeedMps * Math.Sin(PathAngleRad) + _followedUpMps;

    /// <summary>Puts the model in the air with a velocity over the ground; rad and m/s.</summary>
    public void Release(double timeS, double eastM, double northM, double heightM, double groundSpeedMps, double pathAngleRad, double headingRad)
    {
        (EastM, NorthM, HeightM) = (eastM, northM, heightM);
        Air = _air.At(eastM, northM, heightM, timeS);
        double level = groundSpeedMps * Math.Cos(pathAngleRad);
        double east = level * Math.Sin(headingRad) - Air.EastMps;
        double north = level * Math.Cos(headingRad) - Air.NorthMps;
        double up = groundSpeedMps * Math.Sin(pathAngleRad);
        AirspeedMps = Math.Sqrt(east * east + north * north + up * up);
        PathAngleRad = Math.Asin(up / AirspeedMps);
        HeadingRad = Math.Atan2(east, north);
        BankRad = 0;
        LiftCoefficient = 0.3;
        _followedUpMps = 0;
    }

    /// <summary>One step of <see cref="StepS"/> from <paramref name="timeS"/>.</summary>
    public void Step(double timeS, in Controls controls)
    {
        DensityKgM3 = _atmosphere.DensityKgM3(HeightM);
        double viscosity = Atmosphere.ViscosityPaS(_atmosphere.TemperatureK(HeightM));
        double reynolds = DensityKgM3 * AirspeedMps * _model.Airframe.MeanChordM / viscosity;
        double mass = _model.MassKg;
        double pressureArea = 0.5 * DensityKgM3 * _model.AreaM2;
        double maxLift = _model.Drag.MaxLiftAt(reynolds);

        double rollRate = Math.Clamp((controls.BankRad - BankRad) / RollLagS, -RollLimit, RollLimit);
        BankRad += rollRate * StepS;

        bool onPath = !double.IsNaN(controls.PathAngleRad);
        double pathRate = 0;
        if (onPath)
        {
            // Between zero lift, where the path bends by weight alone, and six times the weight.
            double ballistic = -Gravity * Math.Cos(PathAngleRad) / Math.Max(AirspeedMps, 2);
            pathRate = Math.Clamp((controls.PathAngleRad - PathAngleRad) / 0.2, ballistic, ballistic + 6 * Gravity / Math.Max(AirspeedMps, 2));
            LiftCoefficient = Math.Clamp(
                mass * (AirspeedMps * pathRate + Gravity * Math.Cos(PathAngleRad)) / (pressureArea * AirspeedMps * AirspeedMps * Math.Cos(BankRad)),
                -0.3, maxLift);
        }
        else
        {
            double trim = mass * Gravity / (Math.Cos(BankRad) * pressureArea * controls.AirspeedMps * controls.AirspeedMps);
            double settled = -(_model.Drag.Drag(Math.Min(trim, maxLift), reynolds) + controls.BrakeDrag) / Math.Max(trim, 0.05);
            double wanted = trim * (1 - PhugoidDamping * Math.Clamp(PathAngleRad - Math.Max(settled, -0.5), -0.6, 0.6));
            LiftCoefficient += (Math.Clamp(wanted, -0.1, maxLift) - LiftCoefficient) * (1 - Math.Exp(-StepS / ElevatorLagS));
        }

        double drag = _dragless ? 0 : _model.Drag.Drag(Math.Abs(LiftCoefficient), reynolds) + controls.BrakeDrag;
        double followLagS = mass / (pressureArea * Math.Max(AirspeedMps, 2) * _model.Drag.LiftSlope);
        double follow = 1 - Math.Exp(-StepS / followLagS);

        // The air at the end of the step, where inertia alone would bring the model.
        AirSample next = _air.At(EastM + GroundEastMps * StepS, NorthM + GroundNorthMps * StepS, HeightM + ClimbMps * StepS, timeS + StepS);
        double airAccelerationEast = (next.EastMps - Air.EastMps) / StepS;
        double airAccelerationNorth = (next.NorthMps - Air.NorthMps) / StepS;
        double pull = 0;
        if (!double.IsNaN(controls.PulledToMps))
        {
            double needed = (controls.PulledToMps - AirspeedMps) / 0.4 + Gravity * Math.Sin(PathAngleRad)
                + pressureArea * AirspeedMps * AirspeedMps * drag / mass;
            pull = Math.Clamp(needed, 0, 25);
        }

        Forces forces = new(pressureArea / mass * LiftCoefficient, pressureArea / mass * drag, pull, BankRad,
            airAccelerationEast, airAccelerationNorth, onPath ? pathRate : double.NaN);
        double rise = Integrate(forces, out double east, out double north);
        double upNow = Air.UpMps;
        double followedNext = _followedUpMps + ((upNow + next.UpMps) / 2 - _followedUpMps) * follow;
        LoadFactor = pressureArea * AirspeedMps * AirspeedMps * LiftCoefficient / (mass * Gravity)
            + (followedNext - _followedUpMps) / (StepS * Gravity);
        EastM += east + (Air.EastMps + next.EastMps) / 2 * StepS;
        NorthM += north + (Air.NorthMps + next.NorthMps) / 2 * StepS;
        HeightM += rise + (_followedUpMps + followedNext) / 2 * StepS;
        _followedUpMps = followedNext;
        Air = next;
    }

    private double RollLimit => 1.6 / Math.Sqrt(_model.Airframe.SpanM);

    /// <summary>Classical Runge–Kutta over airspeed, path angle and heading; returns the way through the air, m.</summary>
    private double Integrate(in Forces forces, out double eastM, out double northM)
    {
        Motion start = new(AirspeedMps, PathAngleRad, HeadingRad);
        Rates a = forces.At(start);
        Rates b = forces.At(start.After(a, StepS / 2));
        Rates c = forces.At(start.After(b, StepS / 2));
        Rates d = forces.At(start.After(c, StepS));
        AirspeedMps = Math.Max(1.0, AirspeedMps + StepS / 6 * (a.Speed + 2 * b.Speed + 2 * c.Speed + d.Speed));
        PathAngleRad = Math.Clamp(PathAngleRad + StepS / 6 * (a.Path + 2 * b.Path + 2 * c.Path + d.Path), -1.5, 1.5);
        HeadingRad += StepS / 6 * (a.Heading + 2 * b.Heading + 2 * c.Heading + d.Heading);
        eastM = StepS / 6 * (a.East + 2 * b.East + 2 * c.East + d.East);
        northM = StepS / 6 * (a.North + 2 * b.North + 2 * c.North + d.North);
        return StepS / 6 * (a.Up + 2 * b.Up + 2 * c.Up + d.Up);
    }

    private readonly record struct Motion(double Speed, double Path, double Heading)
    {
        public Motion After(in Rates r, double seconds) => new(Speed + r.Speed * seconds, Path + r.Path * seconds, Heading + r.Heading * seconds);
    }

    private readonly record struct Rates(double Speed, double Path, double Heading, double East, double North, double Up);

    /// <summary>Lift and drag per mass and squared airspeed, pull per mass, held over a step.</summary>
    private readonly record struct Forces(double Lift, double Drag, double Pull, double Bank, double AirEast, double AirNorth, double PathRate)
    {
        public Rates At(in Motion m)
        {
            double v = Math.Max(m.Speed, 1);
            (double sinPath, double cosPath) = Math.SinCos(m.Path);
            (double sinHeading, double cosHeading) = Math.SinCos(m.Heading);
            (double sinBank, double cosBank) = Math.SinCos(Bank);
            double along = AirEast * sinHeading + AirNorth * cosHeading;
            double across = AirEast * cosHeading - AirNorth * sinHeading;
            double speedRate = Pull - Drag * v * v - Gravity * sinPath - along * cosPath;
            double pathRate = double.IsNaN(PathRate)
                ? (Lift * v * v * cosBank - Gravity * cosPath + along * sinPath) / v
                : PathRate;
            double headingRate = (Lift * v * v * sinBank - across) / (v * Math.Max(cosPath, 0.2));
            return new Rates(speedRate, pathRate, headingRate, v * cosPath * sinHeading, v * cosPath * cosHeading, v * sinPath);
        }
    }
}

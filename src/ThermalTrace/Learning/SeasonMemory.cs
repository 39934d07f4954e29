using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Learning;

/// <summary>
/// A tuned model as bytes, so that a question in the field is answered without tuning hundreds of sessions again: its numbers, and what was
/// flown; the sessions' drag evidence stays in the logbook.
/// </summary>
internal static class SeasonMemory
{
    private const string Format = "thermaltrace.season/3";

    /// <summary>Writes.</summary>
    public static byte[] Write(SeasonModel model)
    {
        using MemoryStream stream = new();
        using BinaryWriter to = new(stream, Encoding.UTF8);
        to.Write(Format);
        to.Write(Version);
        to.Write(KeyOf(model.Airframe, model.Prediction));
        Write(to, model.Drag.Mean.ToArray());
        Write(to, model.Drag.Covariance.ToRowMajorArray());
        Write(to, model.Drag.BallastsG);
        Write(to, [.. model.Drag.Pieces.Select(p => (double)p)]);
        Write(to, [.. model.Habits.SelectMany(h => new[] { h.RadiusFactor, h.SearchLoss, h.GustLoss, h.LoadingPower })]);
        to.Write(model.Launches is not null);
        Write(to, model.Launches?.Numbers ?? []);
        to.Write(model.Launches?.Chosen ?? false);
        to.Write(model.Changes.Count);
        foreach (SeasonChange change in model.Changes)
        {
            to.Write(change.SessionId);
            to.Write(change.Since ?? "");
            Write(to, [change.Share.Value, change.Share.Low, change.Share.High, change.LogFactor]);
        }
        Write(to, model.Learned);
        to.Write(model.Sessions.Count);
        foreach (SeasonSession session in model.Sessions)
        {
            to.Write(session.Id);
            to.Write(session.Evidence.Date ?? "");
            to.Write(session.Evidence.Flights.Count);
            foreach (FlightFact f in session.Evidence.Flights)
            {
                to.Write(f.Log);
                to.Write((f.Counts ? 1 : 0) + (f.Spoiled ? 2 : 0));
                Write(to, [f.Number, Missing(f.BallastG), f.MassKg, Missing(f.CgMm), Missing(f.LaunchHeightM), f.AloftS, f.GlideS, Missing(f.GlideWayM), Missing(f.WindMps), Missing(f.WindErrorMps),
                    Missing(f.Edr), Missing(f.LoadFactorRms)]);
            }
            Write(to, [.. session.Evidence.Climbs.SelectMany(c => new[] { c.Flight, c.Seconds, c.ClimbMps, c.EstablishedS, Missing(c.GainMps), Missing(c.AirspeedMps), Missing(c.LoadFactor), c.HeightM, c.DensityKgM3 })]);
        }
        to.Flush();
        // A number with a bit turned over is still a number: only the hash tells.
        byte[] content = stream.ToArray();
        return [.. SHA256.HashData(content), .. content];
    }

    /// <summary>Reads; null where the bytes are of another airframe, another program or no such bytes: then tune anew.</summary>
    public static SeasonModel? Read(Airframe airframe, byte[] bytes)
    {
        try
        {
            if (bytes.Length < SHA256.HashSizeInBytes || !SHA256.HashData(bytes.AsSpan(SHA256.HashSizeInBytes)).AsSpan().SequenceEqual(bytes.AsSpan(0, SHA256.HashSizeInBytes)))
            {
                return null;
            }
            using MemoryStream stream = new(bytes, SHA256.HashSizeInBytes, bytes.Length - SHA256.HashSizeInBytes);
            using BinaryReader from = new(stream, Encoding.UTF8);
            Prediction prediction = Prediction.For(airframe);
            if (from.ReadString() != Format || from.ReadString() != Version || from.ReadString() != KeyOf(airframe, prediction))
            {
                return null;
            }
            double[] mean = Numbers(from), covariance = Numbers(from), ballasts = Numbers(from), pieces = Numbers(from), habits = Numbers(from);
            bool launched = from.ReadBoolean();
            double[] launches = Numbers(from);
            bool chosen = from.ReadBoolean();
            List<SeasonChange> changes = [];
            for (int left = from.ReadInt32(); left > 0; left--)
            {
                (string id, string since) = (from.ReadString(), from.ReadString());
                double[] n = Numbers(from);
                changes.Add(new SeasonChange(id, since.Length > 0 ? since : null, new Band(n[0], n[1], n[2]), n[3]));
            }
            LearnedPart learned = Learned(from);
            List<SeasonSession> sessions = [];
            DragBasis basis = DragBasis.Of(prediction);
            for (int left = from.ReadInt32(); left > 0; left--)
            {
                sessions.Add(Session(from, basis));
            }
            return new SeasonModel
            {
                Airframe = airframe,
                Prediction = prediction,
                Drag = new TunedDrag(Vector<double>.Build.DenseOfArray(mean), Matrix<double>.Build.DenseOfRowMajor(mean.Length, mean.Length, covariance), ballasts, [.. pieces.Select(p => (int)p)]),
                Habits = [.. habits.Chunk(4).Select(h => new ClimbHabit(h[0], h[1], h[2], h[3]))],
                Launches = launched ? LaunchHeights.From(launches, chosen) : null,
                Changes = changes,
                Climbs = [],
                Learned = learned,
                Sessions = sessions,
            };
        }
        catch (Exception broken) when (broken is EndOfStreamException or IOException or ArgumentException or FormatException or OverflowException or IndexOutOfRangeException)
        {
            // A memory is a convenience: whatever is wrong with it, the sessions themselves are there.
            return null;
        }
    }

    private static SeasonSession Session(BinaryReader from, DragBasis basis)
    {
        (string id, string date) = (from.ReadString(), from.ReadString());
        FlightFact[] flights = new FlightFact[from.ReadInt32()];
        for (int i = 0; i < flights.Length; i++)
        {
            string log = from.ReadString();
            int flags = from.ReadInt32();
            double[] n = Numbers(from);
            flights[i] = new FlightFact
            {
                Log = log,
                Number = (int)n[0],
                BallastG = Known(n[1]),
                MassKg = n[2],
                CgMm = Known(n[3]),
                Counts = (flags & 1) != 0,
                Spoiled = (flags & 2) != 0,
                LaunchHeightM = Known(n[4]),
                AloftS = n[5],
                GlideS = n[6],
                GlideWayM = Known(n[7]),
                WindMps = Known(n[8]),
                WindErrorMps = Known(n[9]),
                Edr = Known(n[10]),
                LoadFactorRms = Known(n[11]),
            };
        }
        return new SeasonSession(id, new SessionEvidence
        {
            Format = SessionEvidence.CurrentFormat,
            Terms = [],
            Information = [],
            Score = [],
            Rows = 0,
            Date = date.Length > 0 ? date : null,
            Basis = basis,
            Flights = flights,
            Climbs = [.. Numbers(from).Chunk(9).Select(c => new ClimbFact((int)c[0], c[1], c[2], c[3], Known(c[4]), Known(c[5]), Known(c[6]), c[7], c[8]))],
        });
    }

    private static string Version => typeof(SeasonMemory).Assembly.GetName().Version?.ToString() ?? "";

    /// <summary>What of the airframe the tuned numbers hang on.</summary>
    private static string KeyOf(Airframe airframe, Prediction prediction)
    {
        (DragBasis basis, DragCurve spread) = (DragBasis.Of(prediction), prediction.Spread);
        double[] numbers =
        [
            airframe.UnballastedMassG, basis.AreaM2, basis.AspectRatio, basis.ChordM, basis.ReferenceReynolds, basis.Cd0, basis.ReynoldsExponent, basis.ProfileRise, basis.LeastDragCl,
            basis.InverseSpanEfficiency, basis.StallRise, spread.Cd0, spread.ReynoldsExponent, spread.ProfileRise, spread.LeastDragCl, spread.InverseSpanEfficiency, spread.StallRise,
        ];
        return string.Join(' ', numbers.Select(n => n.ToString("R", CultureInfo.InvariantCulture)).Append(airframe.Launch?.ToString() ?? "-"));
    }

    private static void Write(BinaryWriter to, LearnedPart learned)
    {
        to.Write(learned.Kind);
        to.Write(learned.Why);
        Write(to, [Missing(learned.CrossValidatedErrorMps), Missing(learned.PhysicsOnlyErrorMps)]);
        to.Write(learned.Compared.Count);
        foreach (LearnerScore score in learned.Compared)
        {
            to.Write(score.Kind);
            Write(to, [score.ErrorMps, score.WorseBy, score.StandardError]);
        }
        to.Write(learned.Model is not null);
        if (learned.Model is { } model)
        {
            to.Write(model.Bytes.Length);
            to.Write(model.Bytes);
            Write(to, [.. model.Low.Select(v => (double)v)]);
            Write(to, [.. model.High.Select(v => (double)v)]);
            Write(to, [model.InsideOfBare, model.CgMm]);
        }
    }

    private static LearnedPart Learned(BinaryReader from)
    {
        (string kind, string why) = (from.ReadString(), from.ReadString());
        double[] errors = Numbers(from);
        LearnerScore[] compared = new LearnerScore[from.ReadInt32()];
        for (int i = 0; i < compared.Length; i++)
        {
            string name = from.ReadString();
            double[] n = Numbers(from);
            compared[i] = new LearnerScore(name, n[0], n[1], n[2]);
        }
        LearnedPart learned = new(kind, Known(errors[0]), Known(errors[1]), compared, why);
        if (!from.ReadBoolean())
        {
            return learned;
        }
        byte[] bytes = from.ReadBytes(from.ReadInt32());
        float[] Floats() => [.. Numbers(from).Select(v => (float)v)];
        (float[] low, float[] high) = (Floats(), Floats());
        double[] rest = Numbers(from);
        return learned with { Model = new TrainedModel(bytes, low, high, rest[0], rest[1]) };
    }

    private static double Missing(double? value) => value ?? double.NaN;

    private static double? Known(double value) => double.IsNaN(value) ? null : value;

    private static void Write(BinaryWriter to, IReadOnlyList<double> numbers)
    {
        to.Write(numbers.Count);
        foreach (double number in numbers)
        {
            to.Write(number);
        }
    }

    private static double[] Numbers(BinaryReader from)
    {
        int count = from.ReadInt32();
        if (count < 0 || count > (from.BaseStream.Length - from.BaseStream.Position) / sizeof(double))
        {
            throw new EndOfStreamException();
        }
        double[] numbers = new double[count];
        for (int i = 0; i < count; i++)
        {
            numbers[i] = from.ReadDouble();
        }
        return numbers;
    }
}

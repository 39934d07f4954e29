using System.Text;
using ThermalTrace.Calibration;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Phases;

/// <summary>Flights and kinds of simulated sessions unlike each other, against their truth; the calibration program counts over many more.</summary>
public class FlightFinderTests
{
    public static TheoryData<string, SimulationOptions, double> Sessions => new()
    {
        { "speeds held in weak lift", new() { Preset = "discus-1500", WindMps = 1.5, Edr = 0.04, LiftMps = 1.2, TestShare = 1, Flights = 3, Seed = 22901 }, 0.95 },
        { "motor restarts, 2 Hz", new() { Preset = "electric-3600", WindMps = 6, Edr = 0.12, LiftMps = 2.2, TestShare = 0.2, Flights = 2, RateHz = 2, Seed = 22902 }, 0.95 },
        { "winch, 1 Hz", new() { Preset = "winch-3000", WindMps = 4, Edr = 0.1, LiftMps = 1.8, TestShare = 0.4, Flights = 2, RateHz = 1, Seed = 22903 }, 0.95 },
        { "position without speed", new() { Preset = "electric-2000", WindMps = 2.5, Edr = 0.08, LiftMps = 2, TestShare = 0.4, Flights = 2, GroundSpeed = false, Seed = 22904 }, 0.92 },
        { "tow in wind", new() { Preset = "tow-4000", WindMps = 8, Edr = 0.15, LiftMps = 3, TestShare = 0.2, Flights = 2, Seed = 22905 }, 0.93 },
        { "height alone", new() { Preset = "discus-1500", WindMps = 4, Edr = 0.1, LiftMps = 2, TestShare = 0.3, Flights = 3, Gps = false, Seed = 22906 }, 0.90 },
    };

    [Theory]
    [MemberData(nameof(Sessions))]
    public void Flights_AreFoundEachOnce_AndTheirTimeIsOfItsKind(string name, SimulationOptions options, double least)
    {
        SimulatedSession session = Simulator.Run(options);
        Truth truth = Truth.Read(session.TruthJson);
        LaunchKind? launch = AirframeFile.Read(new StringReader(session.AirframeJson), "airframe.json", null).Launch;
        double right = 0, looked = 0;
        StringBuilder wrong = new();
        foreach (SimulatedFile file in session.Logs)
        {
            FlightLog log = LogImporter.Read(new MemoryStream(file.Bytes), file.FileName, []);
            IReadOnlyList<Flight> found = FlightFinder.Find(TrackBuilder.Build(log, 0, FlightSearch.PlaneOf(log), default), launch, []);
            TruthFlight[] flown = [.. truth.Flights.Where(f => f.Log == file.FileName)];
            Assert.Equal(flown.Length, found.Count);
            foreach ((TruthFlight real, Flight flight) in flown.Zip(found))
            {
                foreach (TruthSegment segment in real.Segments.Where(s => s.Kind != "ground"))
                {
                    for (double t = segment.StartS + 1.5; t < segment.EndS - 1.5; t += 0.5)
                    {
                        Segment? at = flight.Segments.FirstOrDefault(s => flight.Track.TimeS(s.First) <= t && t < flight.Track.TimeS(s.End));
                        bool agrees = string.Equals(at?.Kind.ToString(), segment.Kind, StringComparison.OrdinalIgnoreCase);
                        looked++;
                        right += agrees ? 1 : 0;
                        wrong.Append(agrees ? "" : FormattableString.Invariant($" {file.FileName}@{t:0}:{segment.Kind}/{at?.Kind}"));
                    }
                }
            }
        }
        Assert.True(right / looked >= least, FormattableString.Invariant($"{name}: {right / looked:0.000} of {looked / 2:0} s;{wrong}"));
    }
}

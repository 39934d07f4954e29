using System.Globalization;
using CsvHelper;

namespace ThermalTrace.Reports;

/// <summary>
/// segments.csv, glides.csv and polars.csv: RFC 4180, a header row, invariant numbers, empty where not known. Text that
/// a spreadsheet would take for a formula gets a leading apostrophe; numbers stay numbers.
/// </summary>
public static class ResultTables
{
    private static readonly CsvWriterOptions Options = CsvWriterOptions.Default with
    {
        NewLine = "\r\n",
        FormatProvider = CultureInfo.InvariantCulture,
        Injection = CsvInjection.Escape,
        InjectionCharacters = "=+-@\t\r\n",
        InjectionEscape = '\'',
    };

    /// <summary>One row a segment of a flight.</summary>
    public static void WriteSegments(TextWriter writer, ResultsDocument doc)
    {
        using CsvWriter csv = Start(writer, "log", "flight", "ballast_g", "camber", "spoiled", "segment", "kind", "start_s", "end_s",
            "duration_s", "height_change_m", "sink_mps", "probability");
        foreach (FlightEntry flight in doc.Flights)
        {
            for (int i = 0; i < flight.Segments.Count; i++)
            {
                SegmentEntry segment = flight.Segments[i];
                csv.WriteField(flight.Log);
                Whole(csv, flight.Number);
                Number(csv, flight.BallastG);
                csv.WriteField(flight.Camber);
                csv.WriteField(flight.Spoiled ? "true" : "false");
                Whole(csv, i + 1);
                csv.WriteField(segment.Kind);
                Number(csv, segment.StartS);
                Number(csv, segment.EndS);
                Number(csv, segment.EndS - segment.StartS);
                Number(csv, segment.HeightChangeM);
                Number(csv, segment.SinkMps);
                Number(csv, segment.Probability);
                csv.EndRecord();
            }
        }
    }

    /// <summary>One row a piece of glide behind the polars.</summary>
    public static void WriteGlides(TextWriter writer, ResultsDocument doc, SessionTraces traces)
    {
        using CsvWriter csv = Start(writer, "log", "flight", "ballast_g", "flying_mass_g", "start_s", "end_s", "duration_s",
            "airspeed_mps", "airspeed_standard_error_mps", "sink_mps", "sink_standard_error_mps", "bank_deg", "track_deg");
        Dictionary<(string Log, int Number), FlightEntry> flights = doc.Flights.DistinctBy(f => (f.Log, f.Number)).ToDictionary(f => (f.Log, f.Number));
        foreach (GlidePoint glide in traces.Glides)
        {
            csv.WriteField(glide.Log);
            Whole(csv, glide.Flight);
            Number(csv, glide.BallastG);
            Number(csv, flights.TryGetValue((glide.Log, glide.Flight), out FlightEntry? flight) ? flight.FlyingMassG : null);
            Number(csv, glide.StartS);
            Number(csv, glide.EndS);
            Number(csv, glide.EndS - glide.StartS);
            Number(csv, glide.AirspeedMps);
            Number(csv, glide.AirspeedStandardErrorMps);
            Number(csv, glide.SinkMps);
            Number(csv, glide.SinkStandardErrorMps);
            Number(csv, glide.BankDeg);
            Number(csv, glide.TrackDeg);
            csv.EndRecord();
        }
    }

    /// <summary>One row a point of a ballast's polar.</summary>
    public static void WritePolars(TextWriter writer, ResultsDocument doc)
    {
        using CsvWriter csv = Start(writer, "ballast_g", "flying_mass_g", "camber", "airspeed_mps", "sink_mps", "sink_low_mps",
            "sink_high_mps", "predicted_sink_mps", "glide_ratio", "flown");
        foreach (PolarEntry polar in doc.Polars)
        {
            foreach (CurvePoint point in polar.Curve)
            {
                Number(csv, polar.BallastG);
                Number(csv, polar.FlyingMassG);
                csv.WriteField(polar.Camber);
                Number(csv, point.AirspeedMps);
                Number(csv, point.SinkMps);
                Number(csv, point.LowMps);
                Number(csv, point.HighMps);
                Number(csv, point.PredictedMps);
                Number(csv, point.AirspeedMps / point.SinkMps);
                csv.WriteField(point.Flown ? "true" : "false");
                csv.EndRecord();
            }
        }
    }

    private static CsvWriter Start(TextWriter writer, params ReadOnlySpan<string> header)
    {
        CsvWriter csv = CsvWriter.Create(writer, Options, leaveOpen: true);
        csv.WriteHeader(header);
        return csv;
    }

    private static void Whole(CsvWriter csv, int value) => csv.WriteField(value, default, CultureInfo.InvariantCulture);

    private static void Number(CsvWriter csv, double? value)
    {
        double? known = value is { } number && double.IsFinite(number) ? RoundedNumberConverter.Rounded(number) : null;
        csv.WriteField(known, default);
    }
}

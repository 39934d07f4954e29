using System.Text.Json;
using ThermalTrace.Reports;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>A debrief's own results.json against the shape that other programs rely on.</summary>
public class ContractTests
{
    /// <summary>The document's fixed keys with a value of each one's type; of a list the first element stands for all.</summary>
    private const string Shape = """
        {
          "schema": "", "airframe": { "name": "", "wing_area_dm2": 0, "unballasted_mass_g": 0 },
          "logs": [ { "file": "", "sha256": "", "rows": 0, "rate_hz": 0, "channels": [ { "quantity": "", "column": "", "unit": "" } ],
                      "problems": [ { "line": 0, "text": "" } ] } ],
          "flights": [ { "log": "", "number": 0, "start_s": 0, "end_s": 0, "ballast_g": 0, "flying_mass_g": 0, "wing_loading_g_dm2": 0,
              "launch": { "start_s": 0, "end_s": 0, "height_m": 0 }, "launches": [ { "start_s": 0, "end_s": 0, "height_m": 0 } ],
              "segments": [ { "kind": "", "start_s": 0, "end_s": 0, "height_change_m": 0, "sink_mps": 0, "probability": 0 } ],
              "wind": { "east_mps": 0, "north_mps": 0, "speed_mps": 0, "from_deg": 0, "standard_error_mps": 0 },
              "turbulence": { "edr": 0, "low": 0, "high": 0 }, "ride": { "load_factor_rms": null, "energy_rate_rms_mps": 0 },
              "lift": { "climbs": 0, "climb_mps": 0, "lift_mps": 0 } } ],
          "polars": [ { "ballast_g": 0, "flying_mass_g": 0, "glides": 0, "flown_airspeed_mps": [ 0 ],
              "curve": [ { "airspeed_mps": 0, "sink_mps": 0, "low_mps": 0, "high_mps": 0, "predicted_mps": 0, "flown": true } ],
              "min_sink": { "sink_mps": { "value": 0, "low": 0, "high": 0 }, "airspeed_mps": { "value": 0, "low": 0, "high": 0 } },
              "best_glide": { "ratio": { "value": 0, "low": 0, "high": 0 }, "airspeed_mps": { "value": 0, "low": 0, "high": 0 } },
              "penetration": [ { "headwind_mps": 0, "airspeed_mps": 0, "glide_ratio": { "value": 0, "low": 0, "high": 0 } } ] } ],
          "model": { "parameters": [ { "name": "", "predicted": { "value": 0, "low": 0, "high": 0 }, "tuned": { "value": 0, "low": 0, "high": 0 } } ] },
          "comparison": { "measure": "", "conditions": { "wind_mps": 0, "lift_mps": 0, "thermal_radius_m": 0, "edr": 0, "air_sink_mps": 0 },
              "options": [ { "ballast_g": 0, "round_trip_climb_mps": { "value": 0, "low": 0, "high": 0 }, "climb_mps": { "value": 0, "low": 0, "high": 0 },
                  "return_airspeed_mps": 0, "return_glide_ratio": 0, "launch_height_m": { "value": 0, "low": 0, "high": 0 },
                  "still_air_time_s": { "value": 0, "low": 0, "high": 0 }, "flown": { "flights": 0, "climb_mps": 0 }, "support": "", "probability_best": 0 } ],
              "best_ballast_g": 0, "verdict": "", "why": "" },
          "evidence": { "format": "" }, "limits": [ "" ]
        }
        """;

    private static readonly string[] Kinds = ["ground", "launch", "glide", "climb", "landing"];
    private static readonly string[] Supports = ["measured", "interpolated", "extrapolated", "predicted"];

    private static readonly Lazy<JsonDocument> Written = new(() =>
    {
        using MemoryStream json = new();
        ResultsJson.Write(json, ShortSession.Document);
        return JsonDocument.Parse(json.ToArray());
    });

    private static JsonElement Root => Written.Value.RootElement;

    private static ResultsDocument Document => ShortSession.Document;

    [Fact]
    public void EveryKey_IsThereWithItsType_AndNoListIsNull()
    {
        using JsonDocument shape = JsonDocument.Parse(Shape);
        List<string> wrong = [];
        Compare(shape.RootElement, Root, "$", wrong);
        Assert.Empty(wrong);
        Assert.Equal("thermaltrace.results/1", Root.GetProperty("schema").GetString());
    }

    [Fact]
    public void ValueLowAndHigh_AreNullTogetherAndInOrder()
    {
        int known = 0;
        foreach (JsonElement node in Objects(Root).Where(o => o.TryGetProperty("low", out _)))
        {
            JsonElement value = node.TryGetProperty("value", out JsonElement v) ? v : node.GetProperty("edr");
            JsonElement low = node.GetProperty("low"), high = node.GetProperty("high");
            Assert.True(value.ValueKind == low.ValueKind && low.ValueKind == high.ValueKind, node.ToString());
            if (value.ValueKind == JsonValueKind.Number)
            {
                known++;
                Assert.True(low.GetDouble() <= value.GetDouble() && value.GetDouble() <= high.GetDouble(), node.ToString());
            }
        }
        Assert.True(known > 20, $"{known} intervals");
    }

    [Fact]
    public void Segments_AreInOrderTouchAndCoverTheFlight()
    {
        foreach (JsonElement flight in Root.GetProperty("flights").EnumerateArray())
        {
            double at = flight.GetProperty("start_s").GetDouble();
            foreach (JsonElement segment in flight.GetProperty("segments").EnumerateArray())
            {
                Assert.Equal(at, segment.GetProperty("start_s").GetDouble());
                at = segment.GetProperty("end_s").GetDouble();
                Assert.True(at > segment.GetProperty("start_s").GetDouble());
                Assert.Contains(segment.GetProperty("kind").GetString(), Kinds);
                Assert.InRange(segment.GetProperty("probability").GetDouble(), 0, 1);
            }
            Assert.Equal(flight.GetProperty("end_s").GetDouble(), at);
        }
    }

    [Fact]
    public void Launches_AreTheLaunchSegments_AndTheFirstStandsAlone()
    {
        Assert.All(Document.Flights, flight =>
        {
            Assert.Equal(flight.Segments.Where(s => s.Kind == "launch").Select(s => (s.StartS, s.EndS)), flight.Launches.Select(l => (l.StartS, l.EndS)));
            Assert.Equal(flight.Launches[0], flight.Launch);
            Assert.InRange(flight.Launch!.HeightM, 20, 80); // a throw of a 1.5 m model
        });
    }

    [Fact]
    public void Wind_ComesFromWhereItsComponentsSay()
    {
        Assert.All(Document.Flights, flight =>
        {
            (double east, double north) = (flight.Wind.EastMps!.Value, flight.Wind.NorthMps!.Value);
            Assert.Equal(Math.Sqrt(east * east + north * north), flight.Wind.SpeedMps!.Value, 1e-9);
            double from = Math.Atan2(-east, -north) * 180 / Math.PI;
            Assert.Equal(0, Math.IEEERemainder(from - flight.Wind.FromDeg!.Value, 360), 1e-6);
            Assert.InRange(flight.Wind.FromDeg.Value, 0, 360);
            Assert.True(flight.Wind.StandardErrorMps > 0);
        });
        Assert.Equal(Document.Flights.Average(f => f.Wind.SpeedMps!.Value), Document.Comparison.Conditions.WindMps!.Value, 1e-9);
    }

    [Fact]
    public void Curves_CoverWhatWasFlownAndGoOnToTheFastestSpeedUsed()
    {
        double fastestReturn = Document.Comparison.Options.Max(o => o.ReturnAirspeedMps!.Value);
        Assert.All(Document.Polars, polar =>
        {
            (double low, double high) = (polar.FlownAirspeedMps[0], polar.FlownAirspeedMps[1]);
            CurvePoint[] flown = [.. polar.Curve.Where(c => c.AirspeedMps >= low - 1e-9 && c.AirspeedMps <= high + 1e-9)];
            Assert.True(flown.Length >= 25);
            Assert.Equal(low, flown[0].AirspeedMps, 1e-9);
            Assert.Equal(high, flown[^1].AirspeedMps, 1e-9);
            Assert.All(flown, c => Assert.True(c.Flown));
            Assert.All(polar.Curve.Except(flown), c => Assert.False(c.Flown));
            Assert.Equal(polar.Curve.OrderBy(c => c.AirspeedMps), polar.Curve);
            Assert.True(polar.Curve[^1].AirspeedMps >= polar.Penetration.Max(p => p.AirspeedMps) - 1e-9);
            Assert.True(polar.Curve[^1].AirspeedMps >= fastestReturn - 1e-9);
            Assert.Equal(Enumerable.Range(0, polar.Penetration.Count).Select(w => (double)w), polar.Penetration.Select(p => p.HeadwindMps));
            Assert.Equal(polar.BestGlide.AirspeedMps.Value!.Value, polar.Penetration[0].AirspeedMps, 1e-6);
        });
    }

    [Fact]
    public void Options_AreEveryMassOfTheAirframeAndEveryMassFlown()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g", "day.csv,1,0", "day.csv,2,70", "day.csv,3,0", "day.csv,4,85")
            with
        { Airframe = ShortSession.Session.Airframe with { BallastOptionsG = [0, 20, 40, 70] } });
        Assert.Equal([0, 20, 40, 70, 85], document.Comparison.Options.Select(o => o.BallastG));
        Assert.Equal([2, 0, 0, 1, 1], document.Comparison.Options.Select(o => o.Flown.Flights));
        Assert.All(document.Comparison.Options, o => Assert.Contains(o.Support, Supports));
        Assert.Equal(1, document.Comparison.Options.Sum(o => o.ProbabilityBest!.Value), 1e-9);
        OptionEntry best = document.Comparison.Options.Single(o => o.BallastG == document.Comparison.BestBallastG);
        Assert.Equal(document.Comparison.Options.Max(o => o.RoundTripClimbMps.Value), best.RoundTripClimbMps.Value);
        Assert.Contains(document.Comparison.Verdict, (string[])["clear", "leaning", "no_difference"]);
        Assert.Equal("round_trip_climb", document.Comparison.Measure);
        Assert.NotEmpty(document.Comparison.Why);
    }

    [Fact]
    public void NothingAboveTheAirframesLimit_IsSuggested()
    {
        // Only the empty model is allowed; the heavier ones were flown all the same.
        double limit = ShortSession.Session.Airframe.UnballastedMassG + 10;
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Session with { Airframe = ShortSession.Session.Airframe with { MaxFlyingMassG = limit } });
        Assert.Equal(0, document.Comparison.BestBallastG);
        Assert.All(document.Comparison.Options.Where(o => o.FlyingMassG > limit), o => Assert.True(o.ProbabilityBest is null or 0));
        Assert.Contains(document.Limits, l => l.Contains("70 g would make", StringComparison.Ordinal));
        Assert.Equal(2, document.Polars.Count);
    }

    private static void Compare(JsonElement shape, JsonElement found, string path, List<string> wrong)
    {
        switch (shape.ValueKind)
        {
            case JsonValueKind.Object when found.ValueKind == JsonValueKind.Object:
                foreach (JsonProperty key in shape.EnumerateObject())
                {
                    if (found.TryGetProperty(key.Name, out JsonElement value))
                    {
                        Compare(key.Value, value, $"{path}.{key.Name}", wrong);
                    }
                    else
                    {
                        wrong.Add($"{path}.{key.Name} is missing");
                    }
                }
                break;
            case JsonValueKind.Array when found.ValueKind == JsonValueKind.Array:
                int i = 0;
                foreach (JsonElement element in found.EnumerateArray())
                {
                    Compare(shape[0], element, $"{path}[{i++}]", wrong);
                }
                break;
            case JsonValueKind.True when found.ValueKind == JsonValueKind.False:
            case JsonValueKind.Null when found.ValueKind is JsonValueKind.Null or JsonValueKind.Number:
            // What cannot be known is null; that objects and lists never are is what the two cases above hold.
            case JsonValueKind.Number when found.ValueKind == JsonValueKind.Null:
                break;
            default:
                if (shape.ValueKind != found.ValueKind)
                {
                    wrong.Add($"{path} is {found.ValueKind}, expected {shape.ValueKind}");
                }
                break;
        }
    }

    private static IEnumerable<JsonElement> Objects(JsonElement node) => node.ValueKind switch
    {
        JsonValueKind.Object => node.EnumerateObject().SelectMany(p => Objects(p.Value)).Prepend(node),
        JsonValueKind.Array => node.EnumerateArray().SelectMany(Objects),
        _ => [],
    };
}

using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using ThermalTrace.Reports;
using ThermalTrace.Tests.Support;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Reports;

public sealed partial class ResultsJsonTests
{
    public static TheoryData<string> Cases => [.. ExampleSession.All.Keys];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Document_WrittenReadAndWrittenAgain_GivesTheSameBytes(string name)
    {
        byte[] first = Bytes(ExampleSession.All[name].Document());

        ResultsDocument read = ResultsJson.Read(new MemoryStream(first));

        Assert.Equal(Encoding.UTF8.GetString(first), Encoding.UTF8.GetString(Bytes(read)));
        Assert.Equal(ExampleSession.All[name].Document().Airframe, read.Airframe);
    }

    [Fact]
    public void Names_AreThoseOfTheContract()
    {
        // Typed from the contract's example of results.json; "[]" stands for each entry of a list.
        string[] contract =
        [
            "schema", "airframe.name", "airframe.wing_area_dm2", "airframe.unballasted_mass_g",
            "logs[].file", "logs[].sha256", "logs[].rows", "logs[].rate_hz", "logs[].channels[].quantity", "logs[].channels[].column", "logs[].channels[].unit",
            "logs[].problems[].line", "logs[].problems[].text",
            "flights[].log", "flights[].number", "flights[].start_s", "flights[].end_s", "flights[].ballast_g", "flights[].flying_mass_g", "flights[].wing_loading_g_dm2",
            "flights[].launch.start_s", "flights[].launch.end_s", "flights[].launch.height_m",
            "flights[].launches[].start_s", "flights[].launches[].end_s", "flights[].launches[].height_m",
            "flights[].segments[].kind", "flights[].segments[].start_s", "flights[].segments[].end_s", "flights[].segments[].height_change_m", "flights[].segments[].sink_mps", "flights[].segments[].probability",
            "flights[].wind.east_mps", "flights[].wind.north_mps", "flights[].wind.speed_mps", "flights[].wind.from_deg", "flights[].wind.standard_error_mps",
            "flights[].turbulence.edr", "flights[].turbulence.low", "flights[].turbulence.high",
            "flights[].ride.load_factor_rms", "flights[].ride.energy_rate_rms_mps",
            "flights[].lift.climbs", "flights[].lift.climb_mps", "flights[].lift.lift_mps",
            "polars[].ballast_g", "polars[].flying_mass_g", "polars[].glides", "polars[].flown_airspeed_mps",
            "polars[].curve[].airspeed_mps", "polars[].curve[].sink_mps", "polars[].curve[].low_mps", "polars[].curve[].high_mps", "polars[].curve[].predicted_mps", "polars[].curve[].flown",
            "polars[].min_sink.sink_mps.value", "polars[].min_sink.sink_mps.low", "polars[].min_sink.sink_mps.high", "polars[].min_sink.airspeed_mps.value",
            "polars[].best_glide.ratio.value", "polars[].best_glide.airspeed_mps.value",
            "polars[].penetration[].headwind_mps", "polars[].penetration[].airspeed_mps", "polars[].penetration[].glide_ratio.value",
            "model.parameters[].name", "model.parameters[].predicted.value", "model.parameters[].tuned.value",
            "comparison.measure", "comparison.conditions.wind_mps", "comparison.conditions.lift_mps", "comparison.conditions.thermal_radius_m", "comparison.conditions.edr", "comparison.conditions.air_sink_mps",
            "comparison.conditions.lift_mps_low", "comparison.conditions.lift_mps_high", "comparison.conditions.thermal_radius_m_low", "comparison.conditions.thermal_radius_m_high",
            "comparison.options[].ballast_g", "comparison.options[].round_trip_climb_mps.value", "comparison.options[].climb_mps.value", "comparison.options[].return_airspeed_mps", "comparison.options[].return_glide_ratio",
            "comparison.options[].launch_height_m.value", "comparison.options[].still_air_time_s.value", "comparison.options[].flown.flights", "comparison.options[].flown.climb_mps", "comparison.options[].support", "comparison.options[].probability_best",
            "comparison.best_ballast_g", "comparison.verdict", "comparison.why", "evidence.format", "limits",
        ];

        HashSet<string> written = Paths(ExampleSession.Plain.Document());

        Assert.Empty(contract.Except(written));
    }

    [SharedFact]
    public void Names_InTheContractsOwnText_AreAllWritten()
    {
        string contract = File.ReadAllText(Path.Combine(SharedFolder.Path!, "contract.md"));
        string example = Between(contract, "## results.json", "```\n");
        HashSet<string> written = [.. Paths(ExampleSession.Plain.Document()).SelectMany(p => p.Replace("[]", "", StringComparison.Ordinal).Split('.'))];

        string[] names = [.. Key().Matches(example).Select(m => m.Groups[1].Value).Distinct()];

        Assert.True(names.Length > 60, "the example was not found in the contract");
        Assert.Empty(names.Except(written));
    }

    [Fact]
    public void Nulls_StandWhereNothingIsKnown_AndTogetherInAnInterval()
    {
        ResultsDocument doc = ExampleSession.NoGps.Document();
        OptionEntry half = doc.Comparison.Options[0] with { RoundTripClimbMps = new Interval(0.3, double.NaN, 0.4), ProbabilityBest = double.NaN };
        doc = doc with { Comparison = doc.Comparison with { Options = [half] } };

        JsonElement root = JsonDocument.Parse(Bytes(doc)).RootElement;

        JsonElement flight = root.GetProperty("flights")[0];
        Assert.Equal(JsonValueKind.Null, flight.GetProperty("wind").GetProperty("speed_mps").ValueKind);
        Assert.Equal(JsonValueKind.Null, flight.GetProperty("ride").GetProperty("load_factor_rms").ValueKind);
        JsonElement option = root.GetProperty("comparison").GetProperty("options")[0];
        Assert.Equal("{\"value\":null,\"low\":null,\"high\":null}", Regex.Replace(option.GetProperty("round_trip_climb_mps").GetRawText(), @"\s", ""));
        Assert.Equal(JsonValueKind.Null, option.GetProperty("probability_best").ValueKind);
        Assert.Equal(JsonValueKind.Array, root.GetProperty("polars").ValueKind);
    }

    [Theory]
    [InlineData(0.123456789, "0.123457")]
    [InlineData(86_399.123456, "86399.123")]
    [InlineData(-0.0, "0")]
    [InlineData(1e-9, "1E-09")]
    [InlineData(12, "12")]
    [InlineData(double.NaN, "null")]
    [InlineData(double.NegativeInfinity, "null")]
    public void Number_IsRoundedToWhatItMeans(double value, string written)
    {
        ResultsDocument doc = ExampleSession.OneFlight.Document();
        doc = doc with { Logs = [doc.Logs[0] with { RateHz = value }] };

        Assert.Equal(written, JsonDocument.Parse(Bytes(doc)).RootElement.GetProperty("logs")[0].GetProperty("rate_hz").GetRawText());
    }

    [Fact]
    public void Evidence_KeepsEveryDigit()
    {
        ResultsDocument read = ResultsJson.Read(new MemoryStream(Bytes(ExampleSession.Plain.Document())));

        Assert.Equal(ExampleSession.Plain.Document().Evidence.Information, read.Evidence.Information);
        Assert.Equal(1.23456789012345, read.Evidence.Score[0]);
    }

    [Fact]
    public void File_IsPlainUtf8_EndedByOneLineFeed_TheSameEveryTime()
    {
        byte[] bytes = Bytes(ExampleSession.Hostile.Document());

        Assert.Equal((byte)'{', bytes[0]);
        Assert.Equal((byte)'\n', bytes[^1]);
        Assert.DoesNotContain((byte)'\r', bytes);
        Assert.Contains("مرحبا", Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        Assert.DoesNotContain("<script", Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        Assert.Equal(bytes, Bytes(ExampleSession.Hostile.Document()));
    }

    [Theory]
    [InlineData("", "line 1")]
    [InlineData("{\n  \"schema\": nonsense", "line 2")]
    [InlineData("[]", "not a result document")]
    [InlineData("{\"schema\":\"thermaltrace.results/1\"}", "program")]
    [InlineData("null", "expected \"thermaltrace.results/1\"")]
    public void Read_WhatIsNoResult_SaysWhere(string text, string expected)
    {
        var error = Assert.Throws<UnusableInputException>(() => ResultsJson.Read(new MemoryStream(Encoding.UTF8.GetBytes(text))));

        Assert.Contains(expected, error.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', error.Message);
    }

    [Fact]
    public void Read_OtherSchemaOrNullList_IsRefused()
    {
        string text = Encoding.UTF8.GetString(Bytes(ExampleSession.OneFlight.Document()));

        Assert.Throws<UnusableInputException>(() => Read(text.Replace("thermaltrace.results/1", "thermaltrace.results/9", StringComparison.Ordinal)));
        Assert.Throws<UnusableInputException>(() => Read(Regex.Replace(text, "\"limits\": \\[[^\\]]*\\]", "\"limits\": null")));
    }

    [Fact]
    public void Read_KeysAddedLater_ArePassedOver()
    {
        string text = Encoding.UTF8.GetString(Bytes(ExampleSession.OneFlight.Document()));

        ResultsDocument read = Read(text.Replace("\"program\":", "\"added_later\": {\"a\": [1]}, \"program\":", StringComparison.Ordinal)
            .Replace("\"low\":", "\"spread\": 1, \"low\":", StringComparison.Ordinal));

        Assert.Equal(text, Encoding.UTF8.GetString(Bytes(read)));
    }

    private static ResultsDocument Read(string text) => ResultsJson.Read(new MemoryStream(Encoding.UTF8.GetBytes(text)));

    internal static byte[] Bytes(ResultsDocument doc)
    {
        using var stream = new MemoryStream();
        ResultsJson.Write(stream, doc);
        return stream.ToArray();
    }

    private static HashSet<string> Paths(ResultsDocument doc)
    {
        var paths = new HashSet<string>();
        Walk(JsonDocument.Parse(Bytes(doc)).RootElement, "");
        return paths;

        void Walk(JsonElement element, string path)
        {
            paths.Add(path);
            if (element.ValueKind == JsonValueKind.Object)
            {
                foreach (JsonProperty property in element.EnumerateObject())
                {
                    Walk(property.Value, path.Length == 0 ? property.Name : path + "." + property.Name);
                }
            }
            else if (element.ValueKind == JsonValueKind.Array)
            {
                foreach (JsonElement entry in element.EnumerateArray())
                {
                    Walk(entry, path + "[]");
                }
            }
        }
    }

    private static string Between(string text, string after, string until)
    {
        string rest = text[text.IndexOf(after, StringComparison.Ordinal)..];
        rest = rest[(rest.IndexOf("```jsonc", StringComparison.Ordinal) + 8)..];
        return rest[..rest.IndexOf(until, StringComparison.Ordinal)];
    }

    [GeneratedRegex("\"([a-z0-9_]+)\":")]
    private static partial Regex Key();
}

using System.Text;
using CsCheck;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Sessions;

/// <summary>columns.csv as a page writes it, and the columns that it shows to choose from.</summary>
public sealed class ColumnsFileTextTests
{
    [Fact]
    public void Rows_WrittenAndRead_AreTheSame() =>
        Gen.Select(Gen.Bool, Gen.String[Gen.Char[' ', '\u2FFF'], 1, 12].Where(IsName), Gen.Int[0, ColumnsFile.KnownQuantities.Count - 1], Gen.Bool).Array[1, 8].Sample(rows =>
        {
            IReadOnlyList<ColumnNote> notes = [];
            foreach ((bool log, string column, int quantity, bool unit) in rows)
            {
                Quantity known = ColumnsFile.KnownQuantities[quantity];
                string? one = unit ? ColumnsFile.UnitExamples(known).Split(", ")[0] : null;
                notes = ColumnsFile.With(notes, log ? "log 1.csv" : null, column.Trim(), (known, string.IsNullOrEmpty(one) || ColumnsFile.UnitComplaint(known, one) is not null ? null : one));
            }
            string text = ColumnsFile.Text(notes, null)!;
            Assert.Equal(notes.Select(n => n with { Line = 0 }), ColumnsFile.Read(new StringReader(text), "columns.csv").Select(n => n with { Line = 0 }));
        });

    [Theory]
    [InlineData("=1+1")]
    [InlineData("a,\"b\"")]
    [InlineData("-5")]
    [InlineData("@x")]
    [InlineData("Höhe 🪁 [m]")]
    public void OddColumn_ComesBack(string column) =>
        Assert.Equal(column, Assert.Single(ColumnsFile.Read(new StringReader(ColumnsFile.Text(ColumnsFile.With([], null, column, (Quantity.Altitude, "ft")), null)!), "columns.csv")).Column);

    [Fact]
    public void Edit_KeepsRemarks_AndTheLastRowTakesTheFileWithIt()
    {
        const string earlier = "# mine\ncolumn,quantity\nh,altitude\n# below\nv,climb_rate\n";
        IReadOnlyList<ColumnNote> notes = ColumnsFile.Read(new StringReader(earlier), "columns.csv");
        Assert.Equal("# mine\ncolumn,quantity,unit\nh,altitude,ft\n# below\nv,climb_rate,\n", ColumnsFile.Text(ColumnsFile.With(notes, null, "h", (Quantity.Altitude, "ft")), earlier));
        IReadOnlyList<ColumnNote> none = ColumnsFile.With(ColumnsFile.With(notes, null, "h", null), null, "v", null);
        Assert.Equal("# mine\ncolumn,quantity\n# below\n", ColumnsFile.Text(none, earlier));
        Assert.Null(ColumnsFile.Text(none, "column,quantity\nh,altitude\n"));
    }

    [Theory]
    [InlineData("time;wert;Höhe\n1;2,5;100\n2;;101\n3;2,5;102\n", "time|wert|Höhe", "2,5")]
    [InlineData("# logger 7\na\tb\n1\t2\n3\t4\n", "a|b", "2,4")]
    [InlineData("B0101015130000N01130000EA0010000200\n", "", "")]
    [InlineData("<gpx></gpx>", "", "")]
    [InlineData("", "", "")]
    [InlineData("only words here", "", "")]
    public void Columns_AreSeenWithTheirFirstValues(string text, string names, string second)
    {
        IReadOnlyList<LogColumn> columns = LogColumns.Peek(new MemoryStream(Encoding.UTF8.GetBytes(text)), "x.csv");
        Assert.Equal(names, string.Join('|', columns.Select(c => c.Name)));
        Assert.Equal(second, columns.Count > 1 ? string.Join(',', columns[1].Values) : "");
    }

    [Fact]
    public void Columns_OfAnyBytes_ThrowNothing() =>
        Gen.Byte.Array[0, 3000].Sample(bytes => LogColumns.Peek(new MemoryStream(bytes), "x.csv").Count <= 200);

    private static bool IsName(string text) => text.Trim().Length > 0 && !text.Trim().StartsWith('\'') && !text.Trim().StartsWith('#') && text.All(c => !char.IsControl(c));
}

using System.Reflection;
using System.Reflection.Emit;

namespace ThermalTrace.Tests;

/// <summary>A stage of the library knows the stages before it and never one after: signatures, fields and code alike.</summary>
public class StageOrderTests
{
    private static readonly string[] Stages =
        ["Units", "Logs", "Sessions", "Numerics", "Tracks", "Phases", "Air", "Polars", "Decisions", "Learning", "Ballast", "Advice", "Reports", "Logbook"];

    private const BindingFlags Everything = BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Static
        | BindingFlags.Instance | BindingFlags.DeclaredOnly;

    private static readonly Assembly Library = typeof(Debrief).Assembly;

    private static readonly Dictionary<short, OpCode> OpCodesByValue = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(field => (OpCode)field.GetValue(null)!).ToDictionary(code => code.Value);

    [Fact]
    public void Stage_UsesNoTypeOfALaterStage()
    {
        SortedSet<string> breaches = new(StringComparer.Ordinal);
        foreach (Type type in Library.GetTypes().Where(type => StageOf(type) >= 0))
        {
            foreach (Type used in TypesUsedBy(type).Where(used => StageOf(used) > StageOf(type)))
            {
                breaches.Add($"{type.FullName} uses {used.FullName}");
            }
        }
        Assert.Empty(breaches);
    }

    [Fact]
    public void Stage_OfEveryTypeOfTheLibrary_IsOneOfTheList() =>
        Assert.DoesNotContain(Library.GetTypes(),
            type => type.Namespace?.StartsWith("ThermalTrace.", StringComparison.Ordinal) == true && StageOf(type) < 0);

    [Fact]
    public void Simulator_SharesNoCodeWithTheLibraryItTests() =>
        Assert.DoesNotContain(typeof(global::ThermalTrace.Simulation.Simulator).Assembly.GetReferencedAssemblies(), name => name.Name == Library.GetName().Name);

    [Fact]
    public void Projects_KnowTheOnesBeforeThem_AndNeverOneAfter()
    {
        Assembly jobs = typeof(DebriefJob).Assembly, pages = typeof(global::ThermalTrace.Pages.Serving.PagesServer).Assembly;
        static string[] Named(Assembly assembly) => [.. assembly.GetReferencedAssemblies().Select(name => name.Name!)];
        Assert.DoesNotContain(Named(Library), name => name.StartsWith("ThermalTrace", StringComparison.Ordinal) || name.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal));
        Assert.Equal(["ThermalTrace.Core"], Named(jobs).Where(name => name.StartsWith("ThermalTrace", StringComparison.Ordinal)));
        Assert.Equal(["ThermalTrace.Core", "ThermalTrace.Jobs"], Named(pages).Where(name => name.StartsWith("ThermalTrace", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        // Pages hold no computation: neither the libraries for it, nor a stage that estimates.
        Assert.DoesNotContain(Named(pages), name => name is "MathNet.Numerics" or "ScottPlot" or "Microsoft.ML");
    }

    [Fact]
    public void Library_TouchesNeitherFilesNorConsoleNorClock_ButForTheSessionFolder()
    {
        // A session is a folder: the two types that read it are the library's one edge, so that every program reads it alike.
        // The logbook looks whether its file is there before it opens the database.
        string[] folderReaders = ["ThermalTrace.Sessions.SessionFolder", "ThermalTrace.Sessions.FolderFiles", "ThermalTrace.Logbook.LogbookFile"];
        string[] edges = ["System.Console", "System.IO.File", "System.IO.Directory", "System.IO.FileStream", "System.Diagnostics.Process", "System.Diagnostics.Stopwatch"];
        SortedSet<string> breaches = new(StringComparer.Ordinal);
        foreach (Type type in Library.GetTypes().Where(type => !folderReaders.Contains(type.FullName!.Split('+')[0])))
        {
            breaches.UnionWith(MethodsOf(type).Where(method => method.GetMethodBody() is not null)
                .SelectMany(method => MembersNamedIn(method, method.GetMethodBody()!))
                .Where(member => edges.Contains(member.DeclaringType?.FullName)
                    || (member.DeclaringType?.Name is "DateTime" or "DateTimeOffset" && member.Name is "get_Now" or "get_UtcNow" or "get_Today"))
                .Select(member => $"{type.FullName} uses {member.DeclaringType!.Name}.{member.Name}"));
        }
        Assert.Empty(breaches);
    }

    // Code reached only by a call inside a method is seen too: no field or signature here names Assert.
    [Fact]
    public void TypesUsed_ByAMethodsCode_AreFound() =>
        Assert.Contains(typeof(Assert), TypesUsedBy(typeof(StageOrderTests)));

    private static int StageOf(Type type) => type.Assembly != Library || type.Namespace is null ? -1
        : Array.FindIndex(Stages, stage => (type.Namespace + ".").StartsWith($"ThermalTrace.{stage}.", StringComparison.Ordinal));

    private static IEnumerable<Type> TypesUsedBy(Type type)
    {
        List<Type?> used = [type.BaseType, .. type.GetInterfaces()];
        foreach (FieldInfo field in type.GetFields(Everything))
        {
            used.Add(field.FieldType);
        }
        foreach (MethodBase method in MethodsOf(type))
        {
            used.AddRange(method.GetParameters().Select(parameter => parameter.ParameterType));
            used.Add((method as MethodInfo)?.ReturnType);
            if (method.GetMethodBody() is { } body)
            {
                used.AddRange(body.LocalVariables.Select(local => local.LocalType));
                used.AddRange(MembersNamedIn(method, body).SelectMany(TypesOf));
            }
        }
        return used.OfType<Type>().SelectMany(Parts).Distinct();
    }

    private static IEnumerable<MethodBase> MethodsOf(Type type) =>
        type.GetMethods(Everything).Concat<MethodBase>(type.GetConstructors(Everything));

    private static IEnumerable<Type?> TypesOf(MemberInfo member) => member is Type type ? [type]
        : [member.DeclaringType, (member as MethodInfo)?.ReturnType, .. (member as MethodInfo)?.GetGenericArguments() ?? []];

    private static IEnumerable<Type> Parts(Type type) => type.HasElementType ? Parts(type.GetElementType()!)
        : type.IsGenericType ? [type, .. type.GetGenericArguments().SelectMany(Parts)] : [type];

    /// <summary>Walks the method's instructions and resolves the tokens in them.</summary>
    private static IEnumerable<MemberInfo> MembersNamedIn(MethodBase method, MethodBody body)
    {
        byte[] code = body.GetILAsByteArray()!;
        Type[] typeArguments = method.DeclaringType!.IsGenericType ? method.DeclaringType.GetGenericArguments() : [];
        Type[] methodArguments = method.IsGenericMethod ? method.GetGenericArguments() : [];
        for (int at = 0; at < code.Length;)
        {
            short value = code[at++];
            if (value == 0xFE)
            {
                value = unchecked((short)(0xFE00 | code[at++]));
            }
            OpCode instruction = OpCodesByValue[value];
            if (instruction.OperandType is OperandType.InlineMethod or OperandType.InlineField or OperandType.InlineType or OperandType.InlineTok)
            {
                yield return method.Module.ResolveMember(BitConverter.ToInt32(code, at), typeArguments, methodArguments)!;
            }
            at += instruction.OperandType switch
            {
                OperandType.InlineNone => 0,
                OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
                OperandType.InlineVar => 2,
                OperandType.InlineI8 or OperandType.InlineR => 8,
                OperandType.InlineSwitch => 4 + 4 * BitConverter.ToInt32(code, at),
                _ => 4,
            };
        }
    }
}

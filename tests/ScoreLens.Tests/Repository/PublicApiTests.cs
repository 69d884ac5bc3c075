using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text;
using ScoreLens.Marking;
using ScoreLens.Pages;
using ScoreLens.Reharmonising;
using Xunit;

namespace ScoreLens.Tests.Repository;

/// <summary>The public surface of the packages is what PublicApi.txt says: it changes on purpose, never by the way.</summary>
public sealed class PublicApiTests
{
    private static readonly string Listing = Path.Combine(Places.Root, "tests", "ScoreLens.Tests", "Repository", "PublicApi.txt");

    private const BindingFlags Declared = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;

    private static readonly Assembly[] Packages =
        [typeof(CueAnalysis).Assembly, typeof(CuePage).Assembly, typeof(Marker).Assembly, typeof(Reharmoniser).Assembly];

    [Fact]
    public void The_public_surface_is_the_approved_one()
    {
        var actual = string.Join('\n', Packages.Select(PublicSurface.Of));
        if (Environment.GetEnvironmentVariable("SCORELENS_APPROVE") == "1") File.WriteAllText(Listing, actual);
        var approved = File.ReadAllText(Listing).ReplaceLineEndings("\n");
        var added = actual.Split('\n').Except(approved.Split('\n')).ToList();
        var gone = approved.Split('\n').Except(actual.Split('\n')).ToList();
        Assert.True(
            actual == approved,
            $"The public surface changed. If it was meant, run this test with SCORELENS_APPROVE=1 and commit "
                + $"PublicApi.txt.\nnew:\n{string.Join('\n', added)}\ngone:\n{string.Join('\n', gone)}");
    }

    [Theory]
    [InlineData("Found", "static string? Found(string name, out int? at, IReadOnlyList<string?>? others = null)")]
    [InlineData("Name", "required string Name { get; init; }")]
    [InlineData("Next", "ScoreLens.Tests.Repository.PublicApiTests.Sample? Next { get; set; }")]
    [InlineData("Count", "static int Count { get; }")]
    [InlineData("Most", "const double Most = 0.5")]
    [InlineData("Items", "(string? Text, int Number)[] Items { get; }")]
    public void The_listing_tells_nullability_init_and_defaults(string member, string line) =>
        Assert.Contains(line, PublicSurface.Members(typeof(Sample)).Where(m => m.Contains(member, StringComparison.Ordinal)));

    [Fact]
    public void Nothing_that_is_public_can_be_changed_for_others()
    {
        var set = Packages.SelectMany(p => p.GetExportedTypes()).SelectMany(t => t.GetProperties(Declared))
            .Where(p => p.SetMethod is { IsPublic: true } set && !PublicSurface.IsInit(set));
        Assert.Empty(set.Select(p => $"{p.DeclaringType!.Name}.{p.Name}"));
        var fields = Packages.SelectMany(p => p.GetExportedTypes()).Where(t => !t.IsEnum).SelectMany(t => t.GetFields(Declared))
            .Where(f => !f.IsLiteral && !f.IsInitOnly);
        Assert.Empty(fields.Select(f => $"{f.DeclaringType!.Name}.{f.Name}"));
    }

    /// <summary>What the listing is tried on.</summary>
    internal sealed class Sample
    {
        public const double Most = 0.5;

        public static int Count => 1;

        public required string Name { get; init; }

        public Sample? Next { get; set; }

        public (string? Text, int Number)[] Items { get; } = [];

        public static string? Found(string name, out int? at, IReadOnlyList<string?>? others = null)
        {
            at = others?.Count;
            return name.Length == 0 ? null : name;
        }
    }
}

/// <summary>The public types and members of an assembly as C# declares them, one a line, in a fixed order.</summary>
internal static class PublicSurface
{
    private static readonly Dictionary<Type, string> Keywords = new()
    {
        [typeof(bool)] = "bool",
        [typeof(byte)] = "byte",
        [typeof(char)] = "char",
        [typeof(double)] = "double",
        [typeof(int)] = "int",
        [typeof(long)] = "long",
        [typeof(object)] = "object",
        [typeof(string)] = "string",
        [typeof(void)] = "void",
    };

    /// <summary>The listing of an assembly.</summary>
    public static string Of(Assembly assembly)
    {
        var text = new StringBuilder($"assembly {assembly.GetName().Name}\n");
        foreach (var type in assembly.GetExportedTypes().OrderBy(t => t.FullName, StringComparer.Ordinal))
        {
            text.Append(Kind(type)).Append(' ').Append(Name(type, null)).Append('\n');
            var members = Members(type).Select(m => $"{type.Namespace}.{ShortName(type)}: {m}").Order(StringComparer.Ordinal);
            foreach (var member in members) text.Append("  ").Append(member).Append('\n');
        }

        return text.ToString();
    }

    /// <summary>The public members that a type declares, without those that every record has.</summary>
    public static IEnumerable<string> Members(Type type)
    {
        const BindingFlags declared = BindingFlags.Public | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;
        if (type.IsEnum) return Enum.GetNames(type);
        var nullability = new NullabilityInfoContext();
        return type.GetMembers(declared).Where(m => !IsMadeByCompiler(m)).Select(m => m switch
        {
            ConstructorInfo constructor => $"new({Parameters(constructor, nullability)})",
            MethodInfo method => $"{(method.IsStatic ? "static " : "")}{Name(method.ReturnParameter, nullability)} "
                + $"{method.Name}{TypeParameters(method)}({Parameters(method, nullability)})",
            PropertyInfo property => Property(property, nullability),
            FieldInfo field => Field(field, nullability),
            _ => m.ToString()!,
        });
    }

    /// <summary>Whether a setter can only be called while the object is made.</summary>
    public static bool IsInit(MethodInfo setter) => setter.ReturnParameter.GetRequiredCustomModifiers().Contains(typeof(IsExternalInit));

    private static string Property(PropertyInfo property, NullabilityInfoContext nullability)
    {
        var required = property.IsDefined(typeof(RequiredMemberAttribute)) ? "required " : "";
        var scope = property.GetMethod?.IsStatic == true ? "static " : "";
        var type = Name(property.PropertyType, nullability.Create(property), TupleNames(property));
        var set = property.SetMethod is not { IsPublic: true } setter ? "" : IsInit(setter) ? " init;" : " set;";
        return $"{required}{scope}{type} {property.Name} {{ get;{set} }}";
    }

    private static string Field(FieldInfo field, NullabilityInfoContext nullability)
    {
        var type = Name(field.FieldType, nullability.Create(field), TupleNames(field));
        return field.IsLiteral ? $"const {type} {field.Name} = {Value(field.GetRawConstantValue())}"
            : $"{(field.IsStatic ? "static " : "")}{(field.IsInitOnly ? "readonly " : "")}{type} {field.Name}";
    }

    // What every record has, and the methods behind properties.
    private static bool IsMadeByCompiler(MemberInfo member) => member switch
    {
        MethodInfo { IsSpecialName: true } method => !method.Name.StartsWith("op_", StringComparison.Ordinal)
            || method.Name is "op_Equality" or "op_Inequality",
        MethodInfo { Name: "ToString" or "GetHashCode" or "Equals" or "Deconstruct" or "<Clone>$" or "PrintMembers" } => true,
        Type => true,
        _ => false,
    };

    private static string Kind(Type type) => type switch
    {
        { IsEnum: true } => "enum",
        { IsValueType: true } => type.IsDefined(typeof(IsReadOnlyAttribute)) ? "readonly struct" : "struct",
        { IsInterface: true } => "interface",
        { IsAbstract: true, IsSealed: true } => "static class",
        { IsAbstract: true } => "abstract class",
        { IsSealed: true } => "sealed class",
        _ => "class",
    };

    private static string Parameters(MethodBase method, NullabilityInfoContext nullability) =>
        string.Join(", ", method.GetParameters().Select(p => $"{(p.IsOut ? "out " : "")}{Name(p, nullability)} {p.Name}{Default(p)}"));

    private static string Name(ParameterInfo parameter, NullabilityInfoContext nullability) =>
        Name(parameter.ParameterType, nullability.Create(parameter), TupleNames(parameter));

    private static string Default(ParameterInfo parameter) => !parameter.HasDefaultValue ? ""
        : parameter.ParameterType is { IsEnum: true } type ? $" = {Enum.GetName(type, parameter.DefaultValue!)}"
        : parameter is { DefaultValue: null, ParameterType.IsValueType: true }
            && Nullable.GetUnderlyingType(parameter.ParameterType) is null ? " = default" : $" = {Value(parameter.DefaultValue)}";

    private static string Value(object? value) => value switch
    {
        null => "null",
        bool truth => truth ? "true" : "false",
        string text => $"\"{text}\"",
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };

    private static string TypeParameters(MethodInfo method) =>
        method.IsGenericMethodDefinition ? $"<{string.Join(", ", method.GetGenericArguments().Select(t => t.Name))}>" : "";

    private static string ShortName(Type type) => type.DeclaringType is { } outer ? $"{ShortName(outer)}.{type.Name}" : type.Name;

    private static Queue<string?>? TupleNames(ICustomAttributeProvider member) =>
        member.GetCustomAttributes(typeof(TupleElementNamesAttribute), false) is [TupleElementNamesAttribute names]
            ? new Queue<string?>(names.TransformNames) : null;

    private static string Name(Type type, NullabilityInfo? nullability, Queue<string?>? tupleNames = null)
    {
        if (type.IsByRef) return Name(type.GetElementType()!, nullability?.ElementType ?? nullability, tupleNames);
        if (Nullable.GetUnderlyingType(type) is { } value) return Name(value, null, tupleNames) + "?";
        var mark = !type.IsValueType && nullability is { ReadState: NullabilityState.Nullable } ? "?" : "";
        if (type.IsArray) return $"{Name(type.GetElementType()!, nullability?.ElementType, tupleNames)}[]{mark}";
        if (Keywords.TryGetValue(type, out var keyword)) return keyword + mark;
        if (type.IsGenericParameter || (type.Namespace == "System" && !type.IsGenericType)) return type.Name + mark;
        if (!type.IsGenericType) return $"{type.Namespace}.{ShortName(type)}{mark}";
        var arguments = type.GetGenericArguments();
        // The names of a tuple's elements are told for the whole member, outer ones first.
        string?[] names = type.FullName?.StartsWith("System.ValueTuple`", StringComparison.Ordinal) == true && tupleNames is not null
            ? [.. arguments.Select(_ => tupleNames.Dequeue())] : [];
        var inner = nullability?.GenericTypeArguments ?? [];
        var of = arguments.Select((a, i) => Name(a, i < inner.Length ? inner[i] : null, tupleNames)).ToArray();
        return names.Length > 0 ? $"({string.Join(", ", of.Zip(names, (o, n) => n is null ? o : $"{o} {n}"))})"
            : $"{type.Name.Split('`')[0]}<{string.Join(", ", of)}>{mark}";
    }
}
